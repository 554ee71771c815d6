"""Each check finds its planted fault, says the numbers that matter, and leaves sound work alone."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from plangen.checks.holes_cross import holes_keep_apart
from plangen.checks.shelf_sag import LIMIT, POUND_PER_FOOT, sag_of
from plangen.findings import Findings, Severity
from plangen.joinery.space import Side
from plangen.solids import build_solids
from plangen.units import inches, millimetres
from tests.checks.planting import EXAMPLES, OAK_TABLE, SHELF, found, line_of, only
from tests.solids.making import design, hole, operation, part

ERROR, WARNING = Severity.ERROR, Severity.WARNING
CLEATS = "with: cleat screw, per joint: 2, from ends: 30mm"


def shown(text: str) -> str:
    """A message with plain spaces."""
    return text.replace("\u00a0", " ")


@pytest.mark.parametrize(
    "project", [*EXAMPLES.values(), OAK_TABLE, SHELF], ids=[*EXAMPLES, "oak table", "shelf"]
)
def test_sound_work_is_left_alone(project: str) -> None:
    assert [finding.message for finding in found(project)] == []


# holes


def test_screws_driven_at_the_same_places_both_ways_meet() -> None:
    finding = only(found(OAK_TABLE, (CLEATS, "with: cleat screw, per joint: 3")), "holes-cross", ERROR)
    assert "inside `cleat`" in finding.message
    assert "`top screws`" in finding.message
    assert "`cleat screws`" in finding.message
    assert "pass 0 mm apart" in shown(finding.message)
    assert finding.place is not None
    assert finding.place.line == line_of(OAK_TABLE, "name: top screws")


def test_an_opening_over_a_screw_hole_is_an_error() -> None:
    opening = "      - hole: {face: inside, from back: 3/8in, from top: 3in, diameter: 5/8in}\n"
    slip = ("    thick: across\n", "    thick: across\n    cut:\n" + opening)
    finding = only(found(SHELF, slip), "holes-cross", ERROR)
    assert "`rail screws`" in finding.message
    assert "inside `side`" in finding.message


def test_a_hole_of_the_maker_in_a_housing_is_only_a_warning() -> None:
    opening = "      - hole: {face: inside, from back: 2in, from bottom: 2-1/4in, diameter: 1/4in}\n"
    slip = ("    thick: across\n", "    thick: across\n    cut:\n" + opening)
    finding = only(found(SHELF, slip), "holes-cross", WARNING)
    assert "dado of `housings`" in finding.message


def test_a_screw_of_another_pair_in_a_housing_is_an_error() -> None:
    cleat = """  cleat:
    stock: pine
    runs: deep
    thick: across
    width: 2in
    length: 4in
    place:
      left cleat: {left: left side.left - pine.thickness, deep: centred at depth / 2, bottom: 1-3/8in}
      right cleat: {mirror of: left cleat, plane: across at width / 2}
"""
    screwed = "  - screwed: {name: cleat screws, through: cleat, into: side, with: screw}\n"
    slips = (
        ("joints:\n", cleat + "joints:\n"),
        ("expect:\n", screwed + "expect:\n"),
        ("length: 1-1/2in, head: flat", "length: 1-3/8in, head: flat"),
    )
    finding = only(found(SHELF, *slips), "holes-cross", ERROR)
    assert "lead hole of `cleat screws`) runs into the dado of `housings` in `side`" in finding.message


@pytest.mark.parametrize(("depth", "meets"), [(29, False), (31, True)])
def test_holes_bored_towards_each_other_meet_only_where_they_reach(depth: int, meets: bool) -> None:
    one = operation(hole((50, 0, 20), Side.FRONT, 8, depth), title="Hole", line=3)
    two = operation(hole((50, 60, 20), Side.BACK, 8, 30), title="Dowel hole", line=4)
    made = design(part((100, 60, 40), one, replace(two, joint="dowels")))
    findings = Findings()
    holes_keep_apart(made, build_solids(made), findings)
    assert bool(len(findings)) is meets


def test_a_hole_bored_wider_at_its_mouth_in_a_second_entry_is_one_hole() -> None:
    one = operation(hole((50, 0, 20), Side.FRONT, 8, 60), title="Hole", line=3)
    two = operation(hole((50, 0, 20), Side.FRONT, 16, 10), title="Hole", line=4)
    made = design(part((100, 60, 40), one, two))
    findings = Findings()
    holes_keep_apart(made, build_solids(made), findings)
    assert not len(findings)


# joints cut away


def test_a_taper_through_a_shoulder_is_an_error_at_the_taper() -> None:
    finding = only(found(OAK_TABLE, ("taper start: 140mm", "taper start: 400mm")), "joint-cut-away", ERROR)
    assert "taper on `leg`" in finding.message
    assert "`stretcher joints`" in finding.message
    assert finding.place is not None
    assert finding.place.line == line_of(OAK_TABLE, "- taper: {edge: back")


@pytest.mark.parametrize(
    ("deep", "severity", "share"), [("1in", ERROR, "17%"), ("1/2in", WARNING, "8.3%"), ("1/16in", None, "")]
)
def test_a_notch_counts_by_its_share_of_the_contact(deep: str, severity: Severity | None, share: str) -> None:
    # The shelf is 6 in deep: 1 in of its end is 17 %, 1/2 in is 8.3 %, 1/16 in is 1 %.
    notch = f"    cut:\n      - notch: {{at: [front, left], across: 1in, deep: {deep}}}\n"
    findings = found(SHELF, ("    place:\n      lower shelf", f"{notch}    place:\n      lower shelf"))
    if severity is None:
        assert not [one for one in findings if one.kind == "joint-cut-away"]
    else:
        assert f" {share} of the face" in only(findings, "joint-cut-away", severity).message


@pytest.mark.parametrize(("size", "told"), [("1/8in", False), ("5/16in", True)])
def test_edges_may_take_a_quarter_of_a_contact(size: str, told: bool) -> None:
    # The rail is 3/4 in by 2-1/2 in. Four chamfers of 5/16 in take 2 × 0.0977 in2 of 1.875 in2, a tenth;
    # on a rail of 3/4 in they take 0.195 of 0.5625 in2, which is 35 %.
    cut = f"    cut:\n      - chamfer: {{edges: long, size: {size}}}\n"
    slips = [("    width: 2-1/2in\n", f"    width: 2-1/2in\n{cut}")]
    assert not [one for one in found(SHELF, *slips) if "`rail screws` needs" in one.message]
    slips = [(old, new.replace("width: 2-1/2in", "width: 3/4in")) for old, new in slips]
    slips.append(("per joint: 2}", "per joint: 1}"))
    findings = [one for one in found(SHELF, *slips) if "`rail screws` needs" in one.message]
    assert bool(findings) is told
    assert all(one.severity is WARNING and "35% of the face" in one.message for one in findings)


# movement across the grain


def test_a_batten_across_a_wide_top_is_told_with_its_movement() -> None:
    findings = found(BATTEN % {"runs": "deep", "pins": DEEP_PINS, "shop": "{kerf: 3mm}"})
    finding = only(findings, "wood-movement", WARNING)
    # White oak, tangential, 0.00365 for each 1 %: Wood Handbook, FPL-GTR-190 (2010), Table 13-5.
    assert float(Fraction(365, 100000) * 4 * 280) == pytest.approx(4.088)
    assert "over 280 mm, where it moves 4 mm when its moisture changes by 4 %" in shown(finding.message)
    assert "slotted" in finding.remedy


def test_the_change_of_moisture_is_the_shops() -> None:
    findings = found(BATTEN % {"runs": "deep", "pins": DEEP_PINS, "shop": "{moisture change: 8%}"})
    message = shown(only(findings, "wood-movement", WARNING).message)
    assert "moves 8 mm when its moisture changes by 8 %" in message


def test_a_batten_along_the_grain_may_stay() -> None:
    pins = "left: 100mm, right: 300mm, front: 10mm, back: 50mm"
    findings = found(BATTEN % {"runs": "across", "pins": pins, "shop": "{kerf: 3mm}"})
    assert not [one for one in findings if one.kind == "wood-movement"]


def test_a_short_batten_may_stay() -> None:
    pins = "left: 100mm, right: 140mm, front: 10mm, back: 105mm"
    findings = found(BATTEN % {"runs": "deep", "pins": pins, "shop": "{kerf: 3mm}"})
    assert not [one for one in findings if one.kind == "wood-movement"]


DEEP_PINS = "left: 100mm, right: 140mm, front: 10mm, back: 290mm"
BATTEN = """plangen: 1
project: {title: Board, units: mm}
shop: %(shop)s
stock:
  oak: {kind: solid, species: white oak, rough: 4/4, thickness: 20mm, widths: 200mm, lengths: [2000mm]}
hardware:
  screw: {kind: wood screw, diameter: 4mm, length: 35mm, head: flat}
parts:
  board:
    stock: oak
    runs: across
    thick: up
    glue up: {boards: 2}
    place: {left: 0mm, right: 500mm, front: 0mm, back: 300mm, bottom: 20mm}
  batten:
    stock: oak
    runs: %(runs)s
    thick: up
    place: {%(pins)s, bottom: 0mm}
joints:
  - screwed: {name: batten screws, through: batten, into: board, with: screw}
"""


# edges


@pytest.mark.parametrize(("size", "wrong"), [("17mm", False), ("18mm", True)])
def test_two_entries_may_not_take_the_whole_edge_between_them(size: str, wrong: bool) -> None:
    # The top is 20 mm thick, and its other edge has a chamfer of 2 mm.
    findings = found(
        OAK_TABLE, ("{edges: around bottom, size: 6mm}", f"{{edges: around bottom, size: {size}}}")
    )
    if not wrong:
        assert not findings
        return
    finding = only(findings, "edge-too-big", ERROR)
    assert "(2 mm) and the chamfer (18 mm) of `top`" in shown(finding.message)
    assert finding.place is not None
    assert finding.place.line == line_of(OAK_TABLE, "- chamfer: {edges: around bottom")


# sag


def test_the_sag_of_a_beam_is_that_of_the_books() -> None:
    # Loose at both ends, evenly loaded: 5/384 of W L^3 / E I (Wood Handbook, FPL-GTR-190, Table 9-1, from
    # memory). Worked by hand: 300 N/m over 1 m, 200 mm by 20 mm, 10 GPa: I = 400 000/3 mm4,
    # 5 × 0.3 × 10^12 / (384 × 10^4 × 400 000/3) = 2.9296875 mm.
    sag = sag_of(millimetres(1000), millimetres(200), millimetres(20), Fraction(10000), Fraction(3, 10))
    assert float(sag) == pytest.approx(2.9296875, abs=1e-12)
    # Twice the span sags sixteen times as far, twice the thickness an eighth.
    assert sag_of(millimetres(2000), millimetres(200), millimetres(40), Fraction(10000), Fraction(3, 10)) == (
        sag * 2
    )


def test_the_load_and_the_limit_are_what_they_say() -> None:
    # 1 lbf = 4.4482216152605 N, exact by the definitions of the pound (1959) and of g (CGPM, 1901).
    assert float(POUND_PER_FOOT) == pytest.approx(4.4482216152605 / 304.8, rel=1e-14)
    assert Fraction(1, 384) == LIMIT


def test_a_long_shelf_sags_and_a_short_one_does_not() -> None:
    # Eastern white pine, 1.24 million psi (Wood Handbook, Table 5-3a, from memory), 3/4 in by 6 in,
    # on 46-1/2 in: I = 0.2109 in4; 5 × (20/12) × 46.5^4 / (384 × 1.24e6 × 0.2109) = 0.388 in,
    # against 46.5/384 = 0.121 in.
    finding = next(one for one in found(SHELF, ("width: 24in", "width: 48in")) if one.kind == "shelf-sag")
    assert finding.severity is WARNING
    said = shown(finding.message)
    assert "sag about 25/64 in" in said
    assert "span of 46 1/2 in (an estimate); more than 1/8 in" in said
    assert not [one for one in found(SHELF) if one.kind == "shelf-sag"]


def test_a_shelf_with_a_rail_under_it_is_not_judged() -> None:
    """The upper shelf has the rail glued along it; only the lower one is free."""
    findings = found(SHELF, ("width: 24in", "width: 48in"))
    assert [one.message.split("`")[1] for one in findings if one.kind == "shelf-sag"] == ["lower shelf"]


# tipping


@pytest.mark.parametrize(
    ("height", "hardware", "told"),
    [("36in", "", True), ("18in", "", False), ("36in", "  wall anchor: {kind: wall anchor}\n", False)],
)
def test_what_is_tall_and_shallow_is_to_be_anchored(height: str, hardware: str, told: bool) -> None:
    slips = [("hardware:\n", "hardware:\n" + hardware)]
    if height != "16in":
        slips += [("height: 16in", f"height: {height}"), ("  - clear = 7-1/2in\n", "  - depth = 6in\n")]
    findings = found(SHELF, *slips)
    warned = [shown(one.message) for one in findings if one.kind == "tip-over"]
    assert bool(warned) is told
    if told:
        assert "36 in tall on a foot only 6 in deep" in warned[0]
        assert inches(6) < inches(36) / 3
