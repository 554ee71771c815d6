"""A whole small project, a shelf for a hall, against sizes worked on paper; and what settings move in it."""

from __future__ import annotations

import pytest

from plangen.description import apply_settings, read_description
from plangen.design.build import make_design
from plangen.findings import Findings, ProjectError
from plangen.units import Length
from tests.design.small import attempt, length, sizes, solve, taken

TEXT = """\
plangen: 1
project: {title: Hall Shelf, code: HS-2, revision: A, units: inch, level: First project}
shop: {glue: {wood glue: {open time: 10}}}
sizes:
  width: 30in
  height: 21in
  depth: 7in
  housing: 1/4in
  top down: 1-1/2in
  clear: (upper shelf.bottom - bottom shelf.top - middle shelf.thickness) / 2
stock:
  pine: {kind: solid, species: eastern white pine, rough: 4/4, thickness: 3/4in, widths: 8in to 10in}
hardware:
  screw: {kind: wood screw, gauge: 8, length: 1-1/4in, head: flat}
  peg: {kind: shaker peg, diameter: 1/2in, depth: 5/8in}
  plug: {kind: plug, diameter: 3/8in, stock: pine}
parts:
  side:
    stock: pine
    runs: up
    thick: across
    cut:
      - taper: {edge: front, from top: height / 2, to bottom: 4-1/2in}
    place:
      left side: {left: 0, front: 0, back: depth, bottom: 0, top: height}
      right side: {mirror of: left side, plane: across at width / 2}
  shelf:
    stock: pine
    runs: across
    thick: up
    width: 3-3/4in
    place:
      bottom shelf: {left: left side.right, right: right side.left, back: depth - pine.thickness, bottom: 1in}
      middle shelf: {same as: bottom shelf, up: centred between bottom shelf and upper shelf}
  upper shelf:
    stock: pine
    runs: across
    thick: up
    place:
      upper shelf: {left: left side.right, right: right side.left, front: 0, back: depth - pine.thickness,
                    top: height - top down}
  peg rail:
    stock: pine
    runs: across
    thick: deep
    width: 4in
    place: {left: left side.right, right: right side.left, back: depth, top: upper shelf.bottom}
    fit:
      - peg: {face: front, row: {number: 5, going: along, ends: half gap}, from top: own.width / 2}
joints:
  - dado: {name: housings, in: side, for: [shelf, upper shelf], depth: housing, stopped: {front: 1/2in},
           glue: wood glue, contacts: 6}
  - screwed: {through: side, into: peg rail, with: screw, per joint: 2, plug: plug, glue: wood glue}
expect:
  - bottom shelf.length = 29in
  - bottom shelf.shoulder length = 28-1/2in
  - peg rail.length = 28-1/2in
  - clear = 8-1/8in
"""


def with_settings(*settings: str) -> dict[str, tuple[Length, Length, Length]]:
    findings = Findings()
    description = read_description(TEXT.split("expect:")[0].encode(), "project.yaml", findings)
    assert description is not None
    solved = make_design(apply_settings(description, settings), findings)
    assert solved is not None, list(findings)
    return {part.key: sizes(part) for part in solved.design.parts}


DESIGN = solve(TEXT)


def test_its_facts_hold() -> None:
    assert [fact.holds for fact in DESIGN.facts] == [True] * 4


def test_the_cut_list() -> None:
    found = {part.key: sizes(part) for part in DESIGN.parts}
    thick = length("3/4")
    assert found == {
        "side left": (length("21"), length("7"), thick),
        "side right": (length("21"), length("7"), thick),
        "shelf": (length("29"), length("3-3/4"), thick),
        "upper shelf": (length("29"), length("6-1/4"), thick),
        "peg rail": (length("28-1/2"), length("4"), thick),
    }


def test_the_clear_height() -> None:
    # 19-1/2 to the top of the upper shelf, so 18-3/4 to its bottom; 1-3/4 to the top of the bottom shelf.
    # 17 in less the middle shelf is 16-1/4, and half of it 8-1/8.
    assert DESIGN.sizes["clear"] == length("8-1/8")
    assert DESIGN.copies["middle shelf"].shoulders.low.up == length("9-7/8")


def test_a_side_loses_three_stopped_dadoes_and_a_taper() -> None:
    side = DESIGN.part("side left")
    kinds = [operation.kind for operation in side.operations]
    assert kinds == ["dado", "dado", "dado", "screw hole", "screw hole", "taper"]
    assert sum(use.number for joint in DESIGN.joints for use in joint.hardware) == 8  # 4 screws, 4 plugs
    assert DESIGN.fits[0].hardware.number == 5
    # Narrow shelves stand from 2-1/2 to 6-1/4: 3-1/4 of dado each; the upper one 5-3/4. The taper is
    # 10-1/2 long and 2-1/2 deep; it misses the dadoes, which begin 3 in from the front.
    dadoes = (3.25 * 2 + 5.75) * 0.75 * 0.25
    taper = 10.5 * 2.5 / 2 * 0.75
    holes = 2 * 3.14159 * (0.1875**2 * 0.25 + (11 / 128) ** 2 * 0.5)
    assert taken(side) == pytest.approx(dadoes + taper + holes, rel=0.005)


def test_the_overall_box() -> None:
    assert [DESIGN.overall.high.across, DESIGN.overall.high.deep, DESIGN.overall.high.up] == [
        length("30"),
        length("7"),
        length("21"),
    ]


def changed(*settings: str) -> set[str]:
    base, new = with_settings(), with_settings(*settings)
    return {
        f"{key} {measure}"
        for key in base
        for measure, one, two in zip(("length", "width", "thickness"), base[key], new[key], strict=True)
        if one != two
    }


@pytest.mark.parametrize(
    ("setting", "moved"),
    [
        ("width=32in", {"shelf length", "upper shelf length", "peg rail length"}),
        ("height=24in", {"side left length", "side right length"}),
        ("depth=8in", {"side left width", "side right width", "upper shelf width"}),
        ("housing=3/8in", {"shelf length", "upper shelf length"}),
        ("top down=2in", set()),
    ],
)
def test_a_setting_moves_exactly_what_depends_on_it(setting: str, moved: set[str]) -> None:
    assert changed(setting) == moved


def test_another_thickness_of_the_stock_moves_every_part() -> None:
    new = with_settings("pine.thickness=18mm")
    assert new["peg rail"][0] == length("30") - Length(length("1").mm * 36 / length("1").mm)
    assert {thickness.mm for _, _, thickness in new.values()} == {18}


def test_a_fact_that_no_longer_holds_is_an_error_with_what_was_found() -> None:
    solved, findings = attempt(TEXT.replace("width: 30in", "width: 31in"))
    assert solved is None
    told = [item for item in findings if item.kind == "fact-fails"]
    assert len(told) == 3
    assert "`peg rail.length = 28-1/2in` does not hold" in told[-1].message


def test_a_fact_within_a_tolerance() -> None:
    solve(TEXT + "  - clear = 8in within 1/8in\n")
    _, findings = attempt(TEXT + "  - clear = 8in within 1/16in\n")
    assert [item.kind for item in findings] == ["fact-fails"]


def test_prose_may_ask_for_any_value() -> None:
    solved, _ = attempt(TEXT)
    assert solved is not None
    assert Length(solved.resolve("bottom shelf.length").value) == length("29")
    assert Length(solved.resolve("2 * housing").value) == length("1/2")
    with pytest.raises(ProjectError):
        solved.resolve("botom shelf.length")
