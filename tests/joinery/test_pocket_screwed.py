"""Pocket screws: where the pocket lies, how it leans, what is left around it."""

from __future__ import annotations

import math

import pytest

from plangen.handbook import pocket_screws
from plangen.joinery.cuts import BoreCut
from plangen.joinery.operation import Operation
from plangen.joinery.space import Side
from plangen.units import inches, millimetres
from tests.design.small import faults, kinds, length, line_at, project, said, solve, taken, work
from tests.joinery.boards import railed_sides

HARDWARE = """
pocket screw: {kind: pocket screw, gauge: 7, length: 1-1/4in, head: pan}
long screw: {kind: pocket screw, gauge: 7, length: 2-1/2in, head: pan}
short screw: {kind: pocket screw, gauge: 7, length: 1/2in, head: pan}
nameless: {kind: pocket screw}
"""
# A rail 4 in wide on edge between two sides 10 in deep, its back flush with theirs.
PARTS = railed_sides("9in")
THIN = PARTS.replace("  width: 4in\n", "  width: 4in\n  thickness: 1/4in\n")
KEYS = "from: rail, into: side, with: pocket screw, face: back"


def pocketed(keys: str = KEYS, parts: str = PARTS) -> str:
    return project(parts, f"- pocket-screwed: {{{keys}}}", hardware=HARDWARE)


def bores(operation: Operation) -> list[BoreCut]:
    assert all(isinstance(cut, BoreCut) for cut in operation.cuts)
    return [cut for cut in operation.cuts if isinstance(cut, BoreCut)]


class TestGeometry:
    def test_the_screw_leaves_the_middle_of_the_end(self) -> None:
        rail = solve(pocketed()).part("rail")
        pockets = work(rail, "pocket hole")
        assert len(pockets) == 4
        for operation in pockets:
            wide, narrow = bores(operation)
            # Follow the slant from the mouth to the plane of the end that it comes to.
            end = 0.0 if wide.way[0] < 0 else 14.5 * 25.4
            along = (end - float(wide.mouth.across)) / wide.way[0]
            assert float(wide.mouth.deep) + along * wide.way[1] == pytest.approx(0.375 * 25.4, abs=1e-4)
            # The narrow hole is bored back along it, and meets the floor of the wide one.
            assert narrow.mouth.floats() == pytest.approx((end, 0.375 * 25.4, float(wide.mouth.up)))
            assert narrow.way == pytest.approx([-way for way in wide.way])
            assert float(wide.depth + narrow.depth) == pytest.approx(along, abs=1e-4)

    def test_it_leans_fifteen_degrees_to_the_face(self) -> None:
        # common practice, no source
        cut = bores(work(solve(pocketed()).part("rail"), "pocket hole")[0])[0]
        assert math.degrees(math.asin(abs(cut.way[1]))) == pytest.approx(15)
        assert cut.way[1] < 0  # into the wood from the back
        assert cut.way[2] == 0

    def test_half_the_screw_stays_in_each_piece(self) -> None:
        wide = work(solve(pocketed()).part("rail"), "pocket hole")[0].features[0]
        assert wide.counterbore is not None
        # From mouth to end it is 3/8 in / sin 15 = 1.449 in; 5/8 in of that is left under the head.
        assert float(wide.counterbore[1].inches) == pytest.approx(0.375 / math.sin(math.radians(15)) - 0.625)
        assert wide.counterbore[0] == length("3/8")
        assert wide.diameter == length("5/32")  # No. 7: 0.151 in, ASME B18.6.1; the next 1/64 in

    def test_its_mouth_lies_so_far_from_the_end(self) -> None:
        wide = work(solve(pocketed()).part("rail"), "pocket hole")[0].features[0]
        across = dict(wide.spans)[next(axis for axis, _ in wide.spans if axis.word == "across")]
        assert float(across.low.inches) == pytest.approx(0.375 / math.tan(math.radians(15)), abs=1e-6)
        assert wide.side is Side.BACK

    def test_the_wood_it_takes(self) -> None:
        # The wide hole by itself: a slanted cylinder whose middle line is as long as the pocket has
        # the volume of a straight one, for the face cuts it through its middle.
        rail = solve(pocketed()).part("rail")
        pocket = 0.375 / math.sin(math.radians(15)) - 0.625
        wide = math.pi * (3 / 16) ** 2 * pocket
        narrow = math.pi * (5 / 64) ** 2 * 0.625
        # The solids' facets lie around the true circle, and take a little more.
        assert 4 * (wide + narrow) < taken(rail) < 4 * (wide + narrow) * 1.02

    def test_said_as_it_is_set_on_the_guide(self) -> None:
        text = said(work(solve(pocketed()).part("rail"), "pocket hole")[0])
        assert text.startswith("Bore a pocket hole in the back face at 15° to that face, 3/8 in across and ")

    def test_screws_are_bought_for_both_ends(self) -> None:
        (joint,) = solve(pocketed()).joints
        assert [(use.item, use.number) for use in joint.hardware] == [("pocket screw", 4)]
        assert joint.glue is None
        assert not work(solve(pocketed()).part("side"), "lead hole")


class TestWrong:
    def test_a_pocket_that_breaks_through(self) -> None:
        # Half of 1/2 in stays in, so the pocket ends 1/8 - 1/4 x sin 15 = 0.060 in below the face in its
        # middle, and 3/16 x cos 15 = 0.181 in lower at its rim: 0.009 in short of the far face.
        text = pocketed(KEYS.replace("pocket screw", "short screw"), THIN)
        findings = faults(text)
        assert {item.kind for item in findings} == {"pocket-breaks-out"}
        assert line_at(text, findings[0]).startswith("with: short screw")
        assert "breaks through rail" in findings[0].message
        assert findings[0].remedy == "such thin stock is better dowelled or glued"

    def test_stock_too_thin_for_any_pocket(self) -> None:
        # From mouth to end it is 1/8 in / sin 15 = 0.483 in, less than half of the screw.
        findings = faults(pocketed(parts=THIN))
        assert {item.kind for item in findings} == {"pocket-breaks-out"}
        assert "leaves no length for a pocket" in findings[0].message

    def test_a_long_screw_comes_out_of_the_other_piece(self) -> None:
        text = pocketed(KEYS.replace("pocket screw", "long screw"))
        finding = faults(text)[0]
        assert finding.kind == "screw-too-long"
        # 1-1/4 in of it enter, 1.21 in square to a side of 3/4 in
        assert "1 1/4" in finding.remedy.replace("\u00a0", " ")

    @pytest.mark.parametrize(
        ("keys", "kind"),
        [
            ("from: rail, into: side, with: pocket screw, face: top", "wrong-side"),
            ("from: side, into: rail, with: pocket screw, face: outside", "pocket-face"),
            ("from: rail, into: side, with: nameless, face: back", "screw-size"),
            ("from: rail, into: side, with: bolt, face: back", "undefined-name"),
        ],
    )
    def test_other_wrong_uses(self, keys: str, kind: str) -> None:
        assert set(kinds(pocketed(keys))) == {kind}

    def test_a_rail_shorter_than_its_pocket(self) -> None:
        short = PARTS.replace("across at 8in", "across at 1-1/2in")
        assert set(kinds(pocketed(parts=short))) == {"pocket-off-part"}


def test_the_usual_screws() -> None:
    # common practice, no source: 1/2 in stock 1 in, 3/4 in stock 1-1/4 in, 1-1/2 in stock 2-1/2 in
    usual = {"1/2": "1", "3/4": "1-1/4", "1-1/2": "2-1/2"}
    for stock, screw in usual.items():
        assert pocket_screws.screw_length(length(stock)) == length(screw)
    assert pocket_screws.screw_length(millimetres(18)) == inches("5/4")
    assert pocket_screws.screw_length(length("3/8")) is None
