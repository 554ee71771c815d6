"""Panels with too little room in their grooves, and screws that let wide wood move."""

from __future__ import annotations

from fractions import Fraction

import pytest

from plangen.checks.wood_movement import panels_have_room, wide_wood_may_move
from plangen.findings import Finding, Findings, Severity
from plangen.solids import build_solids
from tests.design.small import line_at, project, solve

# A panel of red oak between stiles that are 12 in apart; its grain runs up.
FRAME = """
stile:
  stock: oak
  runs: up
  thick: deep
  width: 2in
  place:
    left stile: {left: 0, back: 3/4in, bottom: 0, top: 20in}
    right stile: {same as: left stile, left: 14in}
panel:
  stock: board
  runs: up
  thick: deep
  place:
    left: left stile.right
    right: right stile.left
    bottom: 0
    top: 20in
    deep: centred at 3/8in
"""
STOCK = """
oak: {kind: solid, species: red oak, rough: 4/4, thickness: 3/4in}
board: {kind: solid, species: red oak, rough: 4/4, thickness: 1/4in}
"""
BATTEN = """
batten:
  stock: oak
  runs: deep
  thick: up
  place: {left: 4in, right: 6in, front: 1in, back: 19in, top: 0}
top:
  stock: oak
  runs: across
  thick: up
  place: {left: 0, right: 30in, front: 0, back: 20in, bottom: 0}
"""
SCREW = "screw: {kind: wood screw, gauge: 8, length: 1-1/4in, head: pan}"


def panel(joint: str, change: str = "4%") -> str:
    text = project(FRAME, f"- {joint}", stock=STOCK)
    return text.replace("shop: {", f"shop: {{moisture change: {change}, ")


def found(text: str, check: object) -> list[Finding]:
    findings, design = Findings(), solve(text)
    check(design, build_solids(design), findings)  # type: ignore[operator]
    return list(findings)


@pytest.mark.parametrize("kind", ["frame and panel: {panel: panel", "groove: {for: panel, floating: yes"])
def test_a_gap_under_what_the_table_asks_is_told(kind: str) -> None:
    # Wood Handbook, FPL-GTR-190 (2010), Eq. 13-2; Table 13-5, "Red oak, commercial", C_T = 0.00369:
    # the panel is 12 + 2 x (3/8 - 1/16) = 12-5/8 in wide and moves 0.186 in at 4 %, 0.093 in an edge.
    assert float(Fraction(101, 8) * Fraction(369, 100000) * 4 / 2) == pytest.approx(0.0932, abs=1e-4)
    text = panel(f"{kind}, in: stile, depth: 3/8in, gap: 1/16in}}")
    (finding,) = found(text, panels_have_room)
    assert (finding.kind, finding.severity) == ("panel-no-room", Severity.WARNING)
    assert line_at(text, finding).startswith(kind[:6])
    message = finding.message.replace("\u00a0", " ")
    assert "has 1/16 in at each edge" in message
    assert "grow by 3/16 in when its moisture changes by 4 %" in message


@pytest.mark.parametrize(("gap", "change"), [("3/32in", "4%"), ("1/16in", "2%")])
def test_enough_room_is_not_told(gap: str, change: str) -> None:
    # 12-9/16 in wide: 0.0927 in an edge, less than 3/32 in = 0.0938 in; at 2 % half of it
    text = panel(f"frame and panel: {{panel: panel, in: stile, depth: 3/8in, gap: {gap}}}", change)
    assert not found(text, panels_have_room)


def test_the_gap_that_is_not_typed_is_enough() -> None:
    assert not found(panel("frame and panel: {panel: panel, in: stile, depth: 3/8in}"), panels_have_room)


def test_a_glued_panel_is_not_measured_but_warned_of_elsewhere() -> None:
    text = panel("groove: {in: stile, for: panel, depth: 3/8in, gap: 1/32in, glue: wood glue}")
    assert not found(text, panels_have_room)


@pytest.mark.parametrize(("keys", "told"), [("", True), (", slotted: yes", False)])
def test_slotted_screws_hold_nothing_fast(keys: str, told: bool) -> None:
    text = project(
        BATTEN,
        f"- screwed: {{through: batten, into: top, with: screw, per joint: 3{keys}}}",
        stock=STOCK,
        hardware=SCREW,
    )
    assert [item.kind for item in found(text, wide_wood_may_move)] == (["wood-movement"] if told else [])
