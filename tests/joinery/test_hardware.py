"""Kinds of hardware: what must be typed, what is usual, and what each cuts where it is fitted."""

from __future__ import annotations

from fractions import Fraction

import pytest

from plangen.handbook.hinges import number_for_mass, usual_number
from plangen.joinery.hardware import HARDWARE_KINDS
from plangen.joinery.operation import Repeat
from plangen.joinery.space import Axis, Side
from plangen.units import LengthStyle, inches
from tests.design.small import (
    box_cut,
    kinds,
    length,
    line_at,
    one,
    project,
    rounds,
    solve,
    the_fault,
    work,
)

LEG = """
leg:
  stock: post
  runs: up
  thick: across
  place: {{left: 0, front: 0, back: 1-3/4in, bottom: 0, top: 20in}}
  fit:
    - {fit}
"""
TOP = """
top:
  stock: pine
  runs: across
  thick: up
  place: {{left: 0, right: 20in, front: 0, back: 10in, bottom: 0}}
  fit:
    - {fit}
"""
POST = "post: {kind: solid, species: red oak, rough: 8/4, thickness: 1-3/4in}"
CASTER = "caster: {kind: stem caster, height: 3in, stem: 7/16in, stem length: 1-1/2in}"
PLATE = (
    "plate: {kind: plate caster, height: 3in, plate length: 3in, plate width: 2in, "
    "screws: {number: 4, inset: 1/4in, length: 1/2in}}"
)
# One sound row of every kind.
ROWS = {
    "butt hinge": "length: 2in, leaf: 3/4in, thickness: 1/16in",
    "hinge": "length: 2in, leaf: 3/4in, thickness: 1/16in",
    "continuous hinge": "length: 2ft, leaf: 3/4in, thickness: 1/16in",
    "drawer slide": "length: 16in",
    "stem caster": "height: 3in, stem: 7/16in, stem length: 1-1/2in",
    "plate caster": "height: 3in, plate length: 3in, plate width: 2in",
    "leveler": "thread: 5/16-18, bore: 3/8in, depth: 1in, least: 3/4in, most: 1-1/2in",
    "threaded insert": "thread: 1/4-20, bore: 3/8in, depth: 1/2in",
    "T-nut": "thread: 1/4-20, bore: 5/16in",
    "t-nut": "bore: 5/16in",
    "barrel nut": "diameter: 10mm, length: 14mm",
    "washer": "bore: 9/32in, diameter: 5/8in",
    "pull": "centres: 4in, bore: 3/16in",
    "figure-eight fastener": "diameter: 3/4in, thickness: 1/8in",
    "table button": "length: 1-1/2in, width: 1in, thickness: 3/4in, tongue: 3/8in",
    "angle bracket": "length: 2in, height: 2in, width: 5/8in, thickness: 1/8in",
    "cleat plate": "length: 6in, width: 1in, height: 1/4in",
    "wall anchor": "diameter: 8mm, length: 40mm",
    "anti-tip strap": "length: 10in",
    "magnet": "diameter: 3/8in, thickness: 1/8in",
    "catch": "length: 2in, width: 5/8in, height: 1/2in",
    "lid stay": "length: 10in, opens: 80deg",
    "edge banding": "width: 7/8in, thickness: 1/32in",
    "mains outlet plate": (
        "plate length: 4-1/2in, plate width: 3in, body length: 3in, body width: 2in, body depth: 1/2in"
    ),
}


def leg(fit: str, hardware: str = CASTER) -> str:
    return project(LEG.format(fit=fit), stock=POST, hardware=hardware)


def top(fit: str, hardware: str = PLATE) -> str:
    return project(TOP.format(fit=fit), hardware=hardware)


def test_every_kind_has_a_row_here() -> None:
    assert set(ROWS) == set(HARDWARE_KINDS)


@pytest.mark.parametrize("kind", ROWS)
def test_a_sound_row_has_a_title_and_a_size(kind: str) -> None:
    design = solve(top("thing: {number: 2}", f"thing: {{kind: {kind}, {ROWS[kind]}}}"))
    item = design.hardware["thing"]
    assert item.title == HARDWARE_KINDS[kind].title
    assert item.size.text(LengthStyle("inch")).strip()
    assert design.fits[0].hardware.number == 2


@pytest.mark.parametrize("kind", [kind for kind in ROWS if HARDWARE_KINDS[kind].needs])
def test_what_must_be_typed_is_asked_for_by_name(kind: str) -> None:
    text = top("thing: {number: 2}", f"thing: {{kind: {kind}}}")
    fault = the_fault(text, "missing-key")
    for key in HARDWARE_KINDS[kind].needs:
        assert f"`{key}: …`" in fault.remedy


@pytest.mark.parametrize(
    ("row", "key"),
    [
        ("kind: butt hinge, length: 2in, leaf: 1/16in, thickness: 1/16in", "leaf"),
        ("kind: butt hinge, length: 2in, leaf: 1in, thickness: 1/16in, closed: 1/10in", "closed"),
        ("kind: stem caster, height: 3in, stem: 7/16in, stem length: 2in, depth: 1in", "depth"),
        ("kind: leveler, least: 2in, most: 1in", "most"),
        ("kind: leveler, least: 2in", "least"),
        ("kind: magnet, diameter: 1in, thickness: 1/8in, bore: 1/2in", "bore"),
    ],
)
def test_sizes_that_cannot_be(row: str, key: str) -> None:
    text = top("thing: {number: 2}", f"thing: {{{row}}}")
    assert line_at(text, the_fault(text, "hardware-size")).startswith(f"{key}: ")


def test_a_key_of_another_kind_is_refused() -> None:
    assert kinds(
        top("thing: {number: 2}", "thing: {kind: magnet, diameter: 1in, thickness: 1in, leaf: 2in}")
    ) == ["unknown-key"]


def test_an_unknown_kind_is_a_plain_thing() -> None:
    design = solve(top("felt: {number: 4}", "felt: {kind: felt pad, diameter: 1in}"))
    assert (design.hardware["felt"].title, design.hardware["felt"].ware) == ("Felt pad", None)


def test_a_size_of_any_kind_may_be_asked_for() -> None:
    text = project(
        TOP.format(fit="caster: {number: 4}").replace("right: 20in", "right: caster.stem length * 10"),
        hardware=CASTER,
    )
    assert solve(text).part("top").length == length("15")


class TestFits:
    def test_a_stem_goes_up_the_end_grain_a_little_deeper_than_it_is_long(self) -> None:
        (cut,) = rounds(one(solve(leg("caster: {face: bottom, at: middle}")).part("leg"), "hole"))
        assert (cut.side, cut.diameter, cut.depth) == (Side.BOTTOM, length("7/16"), length("1-5/8"))
        assert (cut.mouth.across, cut.mouth.deep, cut.mouth.up) == (length("7/8"), length("7/8"), length("0"))

    def test_a_socket_wider_than_the_leg(self) -> None:
        text = leg("caster: {face: bottom, at: middle}", CASTER.replace("stem: 7/16in", "stem: 1-3/4in"))
        assert the_fault(text, "hole-too-wide").place is not None

    def test_a_socket_that_breaks_out_of_the_leg(self) -> None:
        text = leg("caster: {face: bottom, from left: 1/8in, from front: 1in}")
        assert kinds(text) == ["hole-off-part"]

    def test_corners_make_a_grid_of_four(self) -> None:
        design = solve(top("plate: {face: bottom, at: corners, from edges: 2in}"))
        fit, screws = design.fits
        assert (fit.hardware.number, screws.hardware.item, screws.hardware.number) == (4, "plate screw", 16)
        leads = work(design.part("top"), "lead hole")
        # 3 in by 2 in, its holes 1/4 in from the edges: 1-1/4 in and 3/4 in either way from its middle.
        first = leads[0].features[0]
        assert first.repeat == (Repeat(Axis.ACROSS, 2, length("16")), Repeat(Axis.DEEP, 2, length("6")))
        places = {(cut.mouth.across, cut.mouth.deep) for lead in leads for cut in rounds(lead)}
        assert len(places) == 16
        assert {across for across, _ in places} == {length(at) for at in ("3/4", "3-1/4", "16-3/4", "19-1/4")}
        assert {deep for _, deep in places} == {length(at) for at in ("1-1/4", "2-3/4", "7-1/4", "8-3/4")}

    def test_a_quarter_turn_swaps_length_and_width(self) -> None:
        design = solve(top("plate: {face: bottom, at: middle, turned: yes}"))
        places = [rounds(lead)[0].mouth for lead in work(design.part("top"), "lead hole")]
        assert {mouth.across for mouth in places} == {length("9-1/4"), length("10-3/4")}

    def test_ends_lie_on_the_middle_line(self) -> None:
        pull = "pull: {kind: pull, centres: 3in, bore: 3/16in}"
        holes = work(solve(top("pull: {face: top, at: ends, from edges: 4in}", pull)).part("top"), "hole")
        places = {(cut.mouth.across, cut.mouth.deep) for hole in holes for cut in rounds(hole)}
        assert places == {(length(at), length("5")) for at in ("2-1/2", "5-1/2", "14-1/2", "17-1/2")}

    def test_a_grid_and_each(self) -> None:
        magnet = "magnet: {kind: magnet, diameter: 3/8in, thickness: 1/8in}"
        design = solve(top("magnet: {face: top, grid: {along: 4, over: 2}, each: 2}", magnet))
        (cut,) = {(cut.diameter, cut.depth) for cut in rounds(one(design.part("top"), "hole"))}
        assert cut == (length("3/8"), length("1/8"))
        assert design.fits[0].hardware.number == 16
        assert len(design.fits[0].hardware.spots) == 8

    def test_a_pocket_for_a_body_that_goes_right_through(self) -> None:
        row = ROWS["mains outlet plate"].replace("body depth: 1/2in", "body depth: 3/4in")
        text = top("outlet: {face: top, at: middle}", f"outlet: {{kind: mains outlet plate, {row}}}")
        operation = one(solve(text).part("top"), "let in")
        box = box_cut(operation)
        assert (box.size(Axis.ACROSS), box.size(Axis.DEEP), box.size(Axis.UP)) == (
            length("3"),
            length("2"),
            length("3/4"),
        )
        assert operation.features[0].depth is None
        assert "mains wiring" in operation.cautions

    @pytest.mark.parametrize(
        ("fit", "kind"),
        [
            ("plate: {face: bottom, at: corners}", "missing-key"),
            ("plate: {face: bottom, at: corners, from edges: 5in}", "row"),
            ("plate: {face: bottom, at: middle, from edges: 2in}", "idle-key"),
            ("plate: {face: bottom, at: middle, row: {number: 2, going: along}}", "over-located"),
            ("plate: {face: bottom, at: middle, from left: 2in}", "idle-key"),
            ("plate: {face: bottom, along: centre}", "missing-key"),
            ("plate: {face: bottom, at: corners, from edges: 1/2in}", "hole-off-part"),
        ],
    )
    def test_what_cannot_be_fitted(self, fit: str, kind: str) -> None:
        assert kinds(top(fit)) == [kind]

    def test_screws_that_come_through(self) -> None:
        # 3/4 in of wood, and 2 mm stay beyond the tip: common practice, no source.
        fits = "plate: {face: bottom, at: middle}"
        long = PLATE.replace("length: 1/2in", "length: 20.32mm")
        assert kinds(top(fits, long)) == ["screw-too-long"]
        assert (
            kinds(top(fits, long.replace("plate width: 2in", "plate width: 2in, plate thickness: 3.3mm")))
            == []
        )


@pytest.mark.parametrize(("height", "number"), [(20, 2), (40, 2), (41, 3), (60, 3), (61, 4), (80, 4)])
def test_hinges_by_height(height: int, number: int) -> None:
    """Two up to 40 in, one more for each further 20 in: common practice, no source."""
    assert usual_number(inches(height)) == number


@pytest.mark.parametrize(("mass", "number"), [(1, 2), (7, 2), (Fraction("7.1"), 3), (14, 4)])
def test_hinges_by_weight(mass: Fraction, number: int) -> None:
    """A pair for each 7 kg: common practice, no source."""
    assert number_for_mass(Fraction(mass)) == number


def test_a_fit_carries_the_cautions_of_its_hardware() -> None:
    strap = "strap: {kind: anti-tip strap, length: 10in, screws: 2}"
    strapped, screws = solve(top("strap: {number: 2}", strap)).fits
    assert strapped.cautions == ("tip over",)
    assert (screws.hardware.item, screws.hardware.number) == ("strap screw", 4)


@pytest.mark.parametrize(("units", "size"), [("inch", "No. 6 × 5/8 in"), ("mm", "3.5 mm × 16 mm")])
def test_the_usual_screw_is_sold_where_the_project_is_made(units: str, size: str) -> None:
    row = "catch: {kind: catch, length: 50mm, width: 15mm, height: 12mm, screws: 2}"
    text = project(TOP.format(fit="catch: {number: 1}"), hardware=row, units=units)
    screw = solve(text).hardware["catch screw"]
    assert screw.title == "Wood screw, for the catch"
    assert screw.size.text(LengthStyle(units)).replace("\u00a0", " ") in (
        size,
        size.replace(" in", "").replace(" mm", ""),
    )


def test_a_listed_row_of_screws_takes_the_place_of_the_brought_one() -> None:
    rows = (
        "catch: {kind: catch, length: 2in, width: 1in, height: 1/2in, screws: 2}\n"
        "catch screw: {kind: wood screw, gauge: 4, length: 1/2in, title: Brass screw}"
    )
    design = solve(top("catch: {number: 3}", rows))
    assert design.hardware["catch screw"].title == "Brass screw"
    assert [fit.hardware.number for fit in design.fits] == [3, 6]
