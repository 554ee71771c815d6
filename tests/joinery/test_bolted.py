"""Bolts, what holds them, and knock-down joints: where the holes lie, how far they go, wrong uses."""

from __future__ import annotations

import pytest

from plangen.handbook import bolts
from plangen.joinery.cuts import RoundCut
from plangen.joinery.space import Side
from plangen.units import inches, millimetres
from tests.design.small import faults, kinds, length, line_at, project, rounds, solve, work
from tests.joinery.together import overlap

HARDWARE = """
bolt: {kind: bolt, diameter: 1/4in, length: 2-1/2in}
short: {kind: bolt, diameter: 1/4in, length: 1in}
long: {kind: bolt, diameter: 1/4in, length: 16in}
through bolt: {kind: bolt, diameter: 1/4in, length: 15-1/2in}
odd: {kind: bolt, diameter: 0.3in, length: 3in}
barrel: {kind: barrel nut, diameter: 3/8in, length: 1/2in, bore: 3/8in}
long barrel: {kind: barrel nut, diameter: 3/8in, length: 3/4in, bore: 3/8in}
insert: {kind: threaded insert, bore: 3/8in, depth: 5/8in}
deep insert: {kind: threaded insert, bore: 3/8in, depth: 15in}
tee: {kind: T-nut, bore: 5/16in, depth: 3/8in}
nut: {kind: nut, diameter: 1/4in}
washer: {kind: washer, diameter: 5/8in, bore: 9/32in}
dowel: {kind: dowel, diameter: 1/4in, length: 1in}
thick dowel: {kind: dowel, diameter: 3/4in, length: 1in}
"""
# A rail 4 in wide on edge, 14-1/2 in long, from a side 10 in deep.
PARTS = """
side:
  stock: pine
  runs: up
  thick: across
  place: {left: 0, front: 0, back: 10in, bottom: 0, top: 20in}
rail:
  stock: pine
  runs: across
  thick: deep
  width: 4in
  place: {left: side.right, right: 15-1/4in, back: 10in, top: 19in}
"""


def bolted(keys: str, kind: str = "bolted") -> str:
    roles = "through: side, into: rail" if kind == "bolted" else "between: [side, rail]"
    return project(PARTS, f"- {kind}: {{{roles}, {keys}}}", hardware=HARDWARE)


def hole(text: str, part: str, kind: str) -> RoundCut:
    """The lowest hole of a kind."""
    return next(cut for operation in work(solve(text).part(part), kind) for cut in rounds(operation))


BARREL = "with: bolt, nut: barrel, washer: washer, face: back, per joint: 2"


class TestBarrelNut:
    def test_the_nut_lies_where_the_bolt_fills_it(self) -> None:
        # 2-1/2 in less a washer of 1/16 and 3/4 in of wood: 1-11/16 in enter. The nut's middle lies half
        # its 3/8 in short of the tip, at 1-1/2 in; its hole reaches 1/4 in past the middle of the rail.
        cross = hole(bolted(BARREL), "rail", "barrel nut hole")
        assert cross.mouth.floats() == pytest.approx((1.5 * 25.4, 0.75 * 25.4, 1 * 25.4))
        assert (cross.side, cross.diameter, cross.depth) == (Side.BACK, length("3/8"), length("5/8"))

    def test_the_bolt_s_hole_is_longer_than_what_enters(self) -> None:
        bore = hole(bolted(BARREL), "rail", "bolt hole")
        # 1-11/16 in and 3 mm, up to the next 1/16 in
        assert (bore.side, bore.diameter, bore.depth) == (Side.LEFT, length("9/32"), length("1-13/16"))

    def test_what_is_bought(self) -> None:
        (joint,) = solve(bolted(BARREL)).joints
        assert [(use.item, use.number) for use in joint.hardware] == [
            ("bolt", 2),
            ("barrel", 2),
            ("washer", 2),
        ]
        assert joint.glue is None
        nuts = joint.hardware[1].spots
        assert [(copy, side) for copy, _, side in nuts] == [("rail", Side.BACK)] * 2

    def test_a_sunk_head_reaches_farther(self) -> None:
        cross = hole(bolted(f"{BARREL}, sunk: 1/4in"), "rail", "barrel nut hole")
        assert cross.mouth.across == length("1-3/4")
        counterbore = rounds(work(solve(bolted(f"{BARREL}, sunk: 1/4in")).part("side"), "bolt hole")[0])[1]
        assert (counterbore.diameter, counterbore.depth) == (length("5/8"), length("1/4"))  # over the washer

    def test_it_hides_where_it_is_told(self) -> None:
        assert hole(bolted(BARREL.replace("back", "front")), "rail", "barrel nut hole").side is Side.FRONT

    @pytest.mark.parametrize(
        ("keys", "kind", "at"),
        [
            (BARREL.replace("with: bolt", "with: short"), "bolt-too-short", "with: short"),
            (BARREL.replace("with: bolt", "with: long"), "bolt-too-long", "with: long"),
            (BARREL.replace("barrel", "long barrel"), "barrel-nut-off-part", "nut: long barrel"),
            (BARREL.replace("face: back, ", ""), "missing-key", "{through"),
            (BARREL.replace("face: back", "face: left"), "wrong-side", "face: left"),
            (BARREL.replace("with: bolt", "with: odd"), "bolt-size", "with: odd"),
            (BARREL.replace("nut: barrel", "nut: dowel"), "no-nut", "nut: dowel"),
            (BARREL.replace("nut: barrel", "nut: no such"), "undefined-name", "no such"),
            (f"{BARREL}, sunk: 5/8in", "counterbore-too-deep", "sunk: 5/8in"),
            (f"{BARREL}, glue: wood glue", "glued-apart", "glue: wood glue"),
        ],
    )
    def test_wrong_uses(self, keys: str, kind: str, at: str) -> None:
        text = bolted(keys)
        (finding,) = faults(text)
        assert finding.kind == kind
        assert line_at(text, finding).startswith(at)

    def test_lengths_are_told_as_the_project_measures(self) -> None:
        (finding,) = faults(bolted(BARREL.replace("with: bolt", "with: short")))
        # 3/4 in of wood, a washer of 1/16 and a nut of 3/8 in: 1-3/16 in
        assert "is 1 in long, and has to reach through 1 3/16 in" in finding.message.replace("\u00a0", " ")


class TestOtherHolders:
    def test_an_insert_lies_in_the_end(self) -> None:
        text = bolted("with: short, nut: insert, per joint: 1, sunk: 1/4in")
        bore = hole(text, "rail", "insert hole")
        assert (bore.side, bore.diameter, bore.depth) == (Side.LEFT, length("3/8"), length("5/8"))
        assert not work(solve(text).part("rail"), "bolt hole")

    def test_an_insert_deeper_than_its_part(self) -> None:
        text = bolted("with: bolt, nut: deep insert, per joint: 1")
        (finding,) = faults(text)
        assert (finding.kind, finding.part) == ("insert-too-deep", "rail")
        assert line_at(text, finding).startswith("nut: deep insert")

    def test_a_bolt_longer_than_its_insert(self) -> None:
        assert kinds(bolted("with: bolt, nut: insert, per joint: 1")) == ["bolt-too-long"]

    def test_a_nut_behind_both(self) -> None:
        text = bolted("with: through bolt, nut: nut, per joint: 1")
        bore = hole(text, "rail", "bolt hole")
        assert bore.depth == length("14-1/2")
        assert work(solve(text).part("rail"), "bolt hole")[0].features[0].depth is None
        # 3/4 + 14-1/2 in and the nut's 7/32 in are 15-15/32 in: 15-1/4 in would not do
        (finding,) = faults(text.replace("length: 15-1/2in", "length: 15-1/4in"))
        assert finding.kind == "bolt-too-short"

    def test_a_t_nut_in_the_far_end(self) -> None:
        text = bolted("with: through bolt, nut: tee, per joint: 1")
        bore, barrel = rounds(work(solve(text).part("rail"), "T-nut hole")[0])
        assert (bore.side, bore.diameter) == (Side.RIGHT, length("9/32"))
        assert (barrel.diameter, barrel.depth) == (length("5/16"), length("3/8"))


class TestKnockDown:
    KEYS = "with: bolt, nut: barrel, face: back, align: dowel"

    def test_one_bolt_and_a_dowel_on_each_side_of_it(self) -> None:
        design = solve(bolted(self.KEYS, "knock-down"))
        rail = design.part("rail")
        dowels = [cut for operation in work(rail, "dowel hole") for cut in rounds(operation)]
        left = sorted(float(cut.mouth.up.inches) for cut in dowels if cut.side is Side.LEFT)
        assert left == [1, 3]
        assert {float(cut.mouth.up.inches) for op in work(rail, "bolt hole") for cut in rounds(op)} == {2}
        # Half of 1 in and 1/16 in
        assert {cut.depth for cut in dowels} == {length("9/16")}
        (joint,) = design.joints
        assert [(use.item, use.number) for use in joint.hardware] == [
            ("bolt", 1),
            ("barrel", 1),
            ("dowel", 2),
        ]
        assert (joint.glue, joint.glue_area) == (None, 0)
        assert overlap(design) == pytest.approx(0, abs=1e-6)

    @pytest.mark.parametrize(
        ("keys", "kind"),
        [
            (f"{KEYS}, glue: wood glue", "glued-apart"),
            (KEYS.replace("align: dowel", "align: thick dowel"), "dowel-too-thick"),
            (KEYS.replace("align: dowel", "align: nothing"), "undefined-name"),
            (f"{KEYS}, per joint: 8, from ends: 3/8in", "fasteners"),
        ],
    )
    def test_wrong_uses(self, keys: str, kind: str) -> None:
        assert set(kinds(bolted(keys, "knock-down"))) == {kind}


class TestHandbook:
    # From memory of the tables: ISO 273 (medium), ISO 4032, ISO 4014, ISO 4762 and ISO 7089.
    def test_m8(self) -> None:
        bolt = bolts.find_bolt(millimetres(8))
        assert bolt is not None
        assert (bolt.hole, bolt.nut, bolt.washer) == tuple(map(millimetres, ("9", "6.8", "16")))
        assert (bolt.flats, bolt.head, bolt.socket) == tuple(map(millimetres, ("13", "5.3", "13")))

    def test_across_flats_of_inch_heads(self) -> None:
        # ASME B18.2.1: 1/4 - 7/16, 5/16 - 1/2, 3/8 - 9/16, 1/2 - 3/4 in
        flats = {"1/4": "7/16", "5/16": "1/2", "3/8": "9/16", "1/2": "3/4"}
        for size, across in flats.items():
            bolt = bolts.find_bolt(inches(size))
            assert bolt is not None
            assert bolt.flats == inches(across)

    def test_every_bolt_passes_its_hole_and_stands_on_its_washer(self) -> None:
        for bolt in bolts.BOLTS:
            assert bolt.diameter < bolt.hole < bolt.washer
            assert bolts.drilled_hole(bolt) - bolt.hole <= millimetres("1/2")
            assert bolts.drilled_hole(bolt) >= bolt.hole
            for metric in (True, False):
                room = bolts.counterbore(bolt, metric=metric)
                assert room is not None
                assert room >= bolt.washer

    def test_a_metric_hole_is_drilled_by_half_millimetres(self) -> None:
        bolt = bolts.find_bolt(millimetres(6))
        assert bolt is not None
        assert bolts.drilled_hole(bolt) == millimetres(7)  # 6.6 after ISO 273

    def test_no_such_bolt(self) -> None:
        assert bolts.find_bolt(millimetres(7)) is None
