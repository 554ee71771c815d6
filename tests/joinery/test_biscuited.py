"""Biscuits: slots of the blade's own curve in both pieces, counted as hardware."""

from __future__ import annotations

import math

import pytest

from plangen.joinery.joints.biscuited import SIZES, slot_depth, slot_length
from plangen.joinery.space import Axis, Side
from plangen.units import millimetres
from tests.design.small import faults, line_at, project, said, solve, the_fault, work
from tests.joinery.boards import shelved
from tests.joinery.together import filled, overlap, removed

HARDWARE = "biscuit: {kind: biscuit, title: Biscuit no. 20}"


def biscuited(keys: str, hardware: str = HARDWARE) -> str:
    parts = shelved()
    joint = f"- biscuited: {{between: [side, shelf], with: biscuit, {keys}}}"
    return project(parts, joint, hardware=hardware)


@pytest.mark.parametrize(("size", "length", "width"), [("0", 47, 15), ("10", 53, 19), ("20", 56, 23)])
def test_the_sizes_as_published(size: str, length: int, width: int) -> None:
    # Encyclopedia article "Biscuit joiner" and a trade article, nominal sizes in millimetres.
    biscuit = SIZES[size]
    assert (biscuit.length, biscuit.width, biscuit.thickness) == (
        millimetres(length), millimetres(width), millimetres(4),
    )  # fmt: skip
    assert slot_length(biscuit) > biscuit.length


def segment(depth: float, radius: float = 50) -> float:
    """The area of a segment of a circle, from its height."""
    return radius**2 * math.acos((radius - depth) / radius) - (radius - depth) * math.sqrt(
        2 * radius * depth - depth**2
    )


class TestShelf:
    design = solve(biscuited("per joint: 2, from ends: 2in, contacts: 2"))

    def test_slots_face_each_other_at_the_same_places(self) -> None:
        for part, sides in (("side", {Side.RIGHT}), ("shelf", {Side.LEFT, Side.RIGHT})):
            found = work(self.design.part(part), "biscuit slot")
            assert {operation.side for operation in found} == sides
            middles = {
                round(float(f.span(Axis.DEEP).low + f.span(Axis.DEEP).high) / 2 / 25.4, 6)
                for operation in found
                for f in operation.features
            }
            assert middles == {2, 8}

    def test_each_slot_is_half_the_biscuit_deep_and_a_millimetre(self) -> None:
        (feature,) = work(self.design.part("side"), "biscuit slot")[0].features
        assert feature.depth == slot_depth(SIZES["20"]) == millimetres("12.5")
        span = feature.span(Axis.UP)
        assert span.high - span.low == millimetres(4)

    def test_the_slots_are_segments_of_the_blades_circle(self) -> None:
        # Solids have chords for arcs: a segment this flat loses less than a hundredth.
        one = segment(12.5) * 4 / 25.4**3
        assert removed(self.design, "left side") == pytest.approx(2 * one, rel=1e-2)
        assert removed(self.design, "shelf") == pytest.approx(4 * one, rel=1e-2)
        assert overlap(self.design) == pytest.approx(0, abs=1e-9)
        assert filled(self.design) == pytest.approx((2 * 10 * 20 + 14.5 * 10) * 0.75 - 8 * one, rel=1e-4)

    def test_biscuits_are_counted(self) -> None:
        (joint,) = self.design.joints
        assert [(use.item, use.number) for use in joint.hardware] == [("biscuit", 4)]
        assert joint.glue == "wood glue"

    def test_nothing_is_added(self) -> None:
        assert self.design.part("shelf").length.inches == 14.5


def test_at_most_so_far_apart() -> None:
    design = solve(biscuited("every: 3in, from ends: 2in, size: 0"))
    assert design.joints[0].hardware[0].number == 2 * 3


@pytest.mark.parametrize(
    ("keys", "kind", "at"),
    [
        ("size: 30", "biscuit-size", "size"),
        ("per joint: 6", "fasteners", "per joint"),
        ("per joint: 2, from ends: 1/2in", "fasteners", "from ends"),
    ],
)
def test_what_cannot_be_cut(keys: str, kind: str, at: str) -> None:
    text = biscuited(keys)
    wrong = faults(text)
    assert {item.kind for item in wrong} == {kind}
    assert line_at(text, wrong[0]).startswith(at)


@pytest.mark.parametrize(("thickness", "fits"), [("7mm", False), ("12mm", False), ("13mm", True)])
def test_a_biscuit_larger_than_the_wood(thickness: str, fits: bool) -> None:
    # A 20 goes 12.5 mm into the face of the side, which must be thicker; its slot wants 8 mm of edge.
    parts = shelved().replace("stock: pine", "stock: thin")
    text = project(
        parts,
        "- biscuited: {between: [side, shelf], with: biscuit}",
        hardware=HARDWARE,
        stock=f"thin: {{kind: solid, species: eastern white pine, rough: 4/4, thickness: {thickness}}}",
    )
    assert {item.kind for item in faults(text)} == (set() if fits else {"biscuit-too-big"})


def test_a_contact_shorter_than_a_slot() -> None:
    text = biscuited("per joint: 1").replace(
        "front: 0, back: 10in, bottom: 6in", "front: 0, back: 2in, bottom: 6in"
    )
    assert {item.kind for item in faults(text)} == {"biscuit-too-big"}
    smaller = text.replace("per joint: 1", "per joint: 1, size: 0")
    assert {item.kind for item in faults(smaller)} == {"biscuit-too-big"}


def test_the_hardware_must_be_known() -> None:
    text = biscuited("per joint: 2", hardware="other: {kind: biscuit}")
    assert line_at(text, the_fault(text, "undefined-name")).startswith("biscuit")


def test_the_sentence_says_where_the_middle_is() -> None:
    design = solve(biscuited("per joint: 2, from ends: 2in"))
    # The shelf is 6 in up and 3/4 thick.
    assert said(work(design.part("side"), "biscuit slot")[0]) == (
        "Cut a slot for a no. 20 biscuit in the inside face, its middle 6 3/8 in from the bottom end "
        "and 2 in from the front edge."
    )
