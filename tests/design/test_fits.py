"""Hardware on one part: where each piece goes, how many are bought, and what cannot be fitted."""

from __future__ import annotations

import pytest

from plangen.joinery.operation import Repeat
from plangen.joinery.space import Axis, Side
from tests.design.small import kinds, length, line_at, one, project, rounds, solve, the_fault, work

RAIL = """
rail:
  stock: pine
  runs: across
  thick: deep
  width: 4in
{fit}  place: {{left: 0, right: 20in, front: 0, bottom: 0}}
"""
HARDWARE = """
peg: {kind: shaker peg, diameter: 1/2in, depth: 5/8in}
wall screw: {kind: wood screw, gauge: 12, length: 3in, head: flat}
knob: {kind: knob}
"""


def fitted(keys: str, hardware: str = "peg") -> str:
    return project(RAIL.format(fit=f"  fit:\n    - {hardware}: {{{keys}}}\n"), hardware=HARDWARE)


def lefts(text: str) -> list[float]:
    part = solve(text).part("rail")
    return [round(cut.mouth.floats()[0] / 25.4, 6) for cut in rounds(one(part, "hole"))]


class TestRows:
    @pytest.mark.parametrize(
        ("row", "expected"),
        [
            ("number: 5, going: along", [2, 6, 10, 14, 18]),  # half gap unless said
            ("number: 5, going: along, ends: half gap", [2, 6, 10, 14, 18]),
            ("number: 4, going: along, ends: gap", [4, 8, 12, 16]),
            ("number: 3, going: along, ends: 1in", [1, 10, 19]),
            ("number: 1, going: along", [10]),
            ("number: 3, going: along, pitch: 4in", [6, 10, 14]),
            ("number: 3, going: along, pitch: 4in, first: 1in", [1, 5, 9]),
        ],
    )
    def test_where_they_stand(self, row: str, expected: list[float]) -> None:
        assert lefts(fitted(f"face: front, row: {{{row}}}, from top: 1in")) == expected

    def test_the_bore_is_the_hardware_s(self) -> None:
        design = solve(fitted("face: front, row: {number: 5, going: along}, from top: own.width / 2"))
        operation = one(design.part("rail"), "hole")
        assert {(cut.diameter, cut.depth, cut.side) for cut in rounds(operation)} == {
            (length("1/2"), length("5/8"), Side.FRONT)
        }
        assert {cut.mouth.up for cut in rounds(operation)} == {length("2")}
        assert operation.features[0].repeat == (Repeat(Axis.ACROSS, 5, length("4")),)
        assert operation.joint == "peg"

    def test_all_are_bought(self) -> None:
        (fit,) = solve(fitted("face: front, row: {number: 5, going: along}, from top: 1in")).fits
        assert (fit.name, fit.hardware.item, fit.hardware.number) == ("peg", "peg", 5)
        assert [copy for copy, _, _ in fit.hardware.spots] == ["rail"] * 5
        assert fit.hardware.spots[0][1] == tuple(float(length(n)) for n in ("2", "0", "3"))

    def test_a_row_over_the_width(self) -> None:
        design = solve(fitted("face: front, row: {number: 2, going: over}, from left: 3in"))
        assert [cut.mouth.up for cut in rounds(one(design.part("rail"), "hole"))] == [
            length("1"),
            length("3"),
        ]

    @pytest.mark.parametrize(
        ("row", "kind"),
        [
            ("number: 0, going: along", "row"),
            ("number: 500, going: along", "row"),
            ("number: 3, going: along, pitch: 0", "row"),
            ("number: 3, going: along, pitch: 4in, ends: gap", "row"),
            ("number: 3, going: along, first: 2in", "row"),
            ("number: 1, going: along, ends: 2in", "row"),
            ("number: 3, going: along, ends: 10in", "row"),
            ("number: 3, going: along, ends: flush", "hole-off-part"),
            ("number: 9, going: along, pitch: 4in", "hole-off-part"),
            ("number: 3, going: along, ends: wide", "undefined-name"),
        ],
    )
    def test_rows_that_cannot_be(self, row: str, kind: str) -> None:
        assert kinds(fitted(f"face: front, row: {{{row}}}, from top: 1in")) == [kind]


class TestSingle:
    def test_a_screw_gets_its_clearance_hole_through(self) -> None:
        design = solve(fitted("face: front, from left: 3in, from top: 1in", "wall screw"))
        operation = one(design.part("rail"), "hole")
        (cut,) = rounds(operation)
        # No. 12: the shank drill of the charts named in handbook/screws.py is 7/32 in.
        assert (cut.diameter, cut.depth) == (length("7/32"), length("3/4"))
        assert operation.features[0].countersink
        assert operation.features[0].depth is None

    @pytest.mark.parametrize(
        ("keys", "hardware", "kind", "at"),
        [
            ("face: front, from top: 1in", "peg", "missing-key", "{"),
            (
                "face: front, from left: 1in, from right: 2in, from top: 1in",
                "peg",
                "over-located",
                "from right",
            ),
            ("face: front, from left: 1in, from front: 1in, from top: 1in", "peg", "idle-key", "from front"),
            ("face: front, from left: 1in, from top: 1in", "knob", "fitting-size", "{"),
            ("face: front, from left: 1in, from top: 1in, bore: 0", "knob", "zero-size", "bore"),
            ("face: front, from left: 1in, from top: 1in, depth: 2in", "peg", "hole-too-deep", "depth"),
            ("face: front, from left: 30in, from top: 1in", "peg", "hole-off-part", "{"),
            ("from left: 1in", "peg", "missing-key", "{"),
            ("face: left, row: {number: 2, going: along}, from top: 1in", "peg", "row", "{number"),
            ("number: 2, part: side", "peg", "undefined-name", "side"),
        ],
    )
    def test_what_cannot_be_fitted(self, keys: str, hardware: str, kind: str, at: str) -> None:
        text = fitted(keys, hardware)
        assert line_at(text, the_fault(text, kind)).startswith(at)

    def test_hardware_that_is_not_listed(self) -> None:
        assert kinds(fitted("number: 2", "peeg")) == ["undefined-name"]


SHELVES = """
shelf:
  stock: pine
  runs: across
  thick: up
{fit}  place:
    low shelf: {{left: 0, right: 20in, front: 0, back: 8in, bottom: 0}}
    high shelf: {{same as: low shelf, bottom: 10in}}
"""


class TestCounts:
    def test_without_a_face_the_number_is_all_there_are(self) -> None:
        (fit,) = solve(
            project(
                SHELVES.format(fit=""), fit="- peg: {part: shelf, name: pins, number: 8}", hardware=HARDWARE
            )
        ).fits
        assert (fit.hardware.number, fit.hardware.spots, fit.copies) == (8, (), ("low shelf", "high shelf"))

    def test_with_a_face_every_copy_has_its_own(self) -> None:
        fit = "  fit:\n    - peg: {face: front, row: {number: 3, going: along}, from top: 3/8in}\n"
        design = solve(project(SHELVES.format(fit=fit), hardware=HARDWARE))
        (made,) = design.fits
        assert made.hardware.number == 6
        assert [copy for copy, _, _ in made.hardware.spots] == ["low shelf"] * 3 + ["high shelf"] * 3
        assert {at[2] for copy, at, _ in made.hardware.spots if copy == "high shelf"} == {
            float(length("10-3/8"))
        }

    def test_a_number_beside_a_face_is_checked(self) -> None:
        keys = "face: front, row: {number: 3, going: along}, from top: 3/8in"
        fit = f"  fit:\n    - peg: {{{keys}, number: 6}}\n"
        solve(project(SHELVES.format(fit=fit), hardware=HARDWARE))
        text = project(SHELVES.format(fit=fit.replace("number: 6", "number: 3")), hardware=HARDWARE)
        wrong = the_fault(text.replace("{number: 6", "{number: 3"), "contacts")
        assert "has 6 places, not 3" in wrong.message

    def test_holes_in_one_copy_of_several_are_refused(self) -> None:
        text = project(
            SHELVES.format(fit=""),
            fit="- peg: {part: low shelf, face: front, from left: 2in, from top: 3/8in}",
            hardware=HARDWARE,
        )
        assert line_at(text, the_fault(text, "copies-differ")).startswith("face")

    def test_a_number_on_one_copy_is_fine(self) -> None:
        (fit,) = solve(
            project(SHELVES.format(fit=""), fit="- peg: {part: low shelf, number: 4}", hardware=HARDWARE)
        ).fits
        assert (fit.hardware.number, fit.copies) == (4, ("low shelf",))

    def test_names_of_fits(self) -> None:
        text = project(
            SHELVES.format(fit=""),
            fit="- peg: {part: shelf, number: 4}\n- peg: {part: shelf, number: 2}\n"
            "- peg: {part: shelf, name: more, number: 1}",
            hardware=HARDWARE,
        )
        assert [fit.name for fit in solve(text).fits] == ["peg", "peg 2", "more"]
        assert kinds(text.replace("name: more", "name: peg 2")) == ["name-clash"]

    def test_a_fit_under_one_part_names_no_other(self) -> None:
        text = project(
            RAIL.format(fit="  fit:\n    - peg: {part: low shelf, number: 2}\n") + SHELVES.format(fit=""),
            hardware=HARDWARE,
        )
        assert kinds(text) == ["fit-elsewhere"]

    def test_a_part_like_another_has_its_fits_too(self) -> None:
        fit = "  fit:\n    - peg: {face: front, row: {number: 3, going: along}, from top: 1in}\n"
        more = "other rail:\n  like: rail\n  place: {same as: rail, bottom: 10in}\n"
        design = solve(project(RAIL.format(fit=fit) + more, hardware=HARDWARE))
        assert [(item.name, item.hardware.number) for item in design.fits] == [("peg", 3), ("peg 2", 3)]
        assert all(len(work(part, "hole")) == 1 for part in design.parts)


class TestPlaces:
    """Hardware that bores nothing still has its places: they are marked, drawn and stood on."""

    CASTER = "caster: {kind: plate caster, height: 3in, plate length: 2in, plate width: 1-1/2in}"

    def standing(self, keys: str) -> str:
        deck = RAIL.replace("thick: deep", "thick: up").replace("width: 4in", "width: 10in")
        deck = deck.replace("bottom: 0", "bottom: 3in").format(fit=f"  fit:\n    - caster: {{{keys}}}\n")
        return project(deck, hardware=self.CASTER)

    def test_what_is_only_screwed_on_is_marked_where_it_goes(self) -> None:
        design = solve(self.standing("face: bottom, at: corners, from edges: 2in, from ends: 3in"))
        mark = one(design.part("rail"), "mark")
        assert not mark.cuts
        (feature,) = mark.features
        assert feature.repeat == (Repeat(Axis.ACROSS, 2, length("14")), Repeat(Axis.DEEP, 2, length("6")))
        assert (feature.span(Axis.ACROSS).low, feature.span(Axis.DEEP).low) == (length("3"), length("2"))
        (fit,) = design.fits
        where = [(round(at[0] / 25.4, 6), round(at[1] / 25.4, 6), side) for _, at, side in fit.hardware.spots]
        assert sorted(where) == [(x, y, Side.BOTTOM) for x in (3.0, 17.0) for y in (2.0, 8.0)]

    @pytest.mark.parametrize("keys", ["face: bottom, at: middle", "number: 1"])
    def test_it_stands_on_its_casters(self, keys: str) -> None:
        overall = solve(self.standing(keys)).overall
        assert overall.low.up == length("0")
        assert overall.size(Axis.UP) == length("3") + length("3/4")

    def test_a_knob_needs_its_bore(self) -> None:
        text = project(
            RAIL.format(fit="  fit:\n    - knob: {face: front, at: middle}\n"),
            hardware="knob: {kind: knob, diameter: 1in}",
        )
        assert the_fault(text, "fitting-size")  # not a hole as wide as the knob


def test_more_holes_than_a_part_can_have() -> None:
    pegs = "".join(
        f"    - peg: {{name: p{k}, face: front, row: {{number: 200, going: along}}, from top: 1in}}\n"
        for k in range(11)
    )
    text = project(RAIL.format(fit=f"  fit:\n{pegs}"), hardware=HARDWARE)
    assert "2,000" in the_fault(text, "too-many-cuts").message


def test_a_pack_of_none_is_refused() -> None:
    text = project(RAIL.format(fit=""), hardware="knob: {kind: knob, diameter: 1in, price: 2 USD, pack: 0}")
    assert the_fault(text, "zero-size").message == "`knob` is sold in packs of 0"


@pytest.mark.parametrize(
    ("long", "words"),
    [("13/16in", "would come through rail"), ("23/32in", "leave too little of rail beyond their tips")],
)
def test_screws_that_come_through_and_those_that_nearly_do(long: str, words: str) -> None:
    screws = f"screws: {{number: 2, length: {long}}}"
    strap = f"peg: {{kind: cleat plate, length: 3in, width: 1in, height: 1/4in, {screws}}}"
    text = project(RAIL.format(fit="  fit:\n    - peg: {face: front, at: middle}\n"), hardware=strap)
    message = the_fault(text, "screw-too-long").message
    assert words in message
    assert ("must stay" in message) is (long == "23/32in")
