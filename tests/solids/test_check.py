"""What is said of cuts that miss, parts cut away or in pieces, and copies in each other's room."""

from __future__ import annotations

import pytest

from plangen.design.model import Design
from plangen.findings import Finding, Findings
from plangen.joinery.space import Side
from plangen.solids import build_solids, check_interference, check_solids, find_interference
from tests.sample_design import sample_design
from tests.solids.making import box_cut, design, hole, operation, part


def found(made: Design) -> list[Finding]:
    findings = Findings()
    solids = build_solids(made)
    check_solids(made, solids, findings)
    check_interference(made, solids, findings)
    return list(findings)


def test_the_sample_design_is_sound() -> None:
    assert found(sample_design()) == []


def test_a_hole_beside_its_part() -> None:
    (finding,) = found(
        design(part((600, 200, 19), operation(hole((700, 100, 19), Side.TOP, 8, 19), title="Hole")))
    )
    assert finding.kind == "cut-off-part"
    assert "its middle lies outside the part across" in finding.message
    assert finding.place is not None
    assert finding.place.line == 7


def test_a_box_that_only_touches_its_part() -> None:
    (finding,) = found(design(part((600, 200, 19), operation(box_cut((0, 0, 19), (600, 200, 25))))))
    assert finding.kind == "cut-off-part"


def test_one_of_two_holes_of_one_operation_off_the_part() -> None:
    two = operation(
        hole((30, 100, 19), Side.TOP, 8, 19), hole((630, 100, 19), Side.TOP, 8, 19), title="Holes"
    )
    (finding,) = found(design(part((600, 200, 19), two)))
    assert finding.kind == "cut-off-part"


def test_a_hole_half_over_the_edge_is_a_warning() -> None:
    (finding,) = found(
        design(part((600, 200, 19), operation(hole((300, 2, 19), Side.TOP, 8, 10), title="Hole")))
    )
    assert (finding.kind, finding.severity.value) == ("hole-breaks-edge", "warning")
    assert finding.message.endswith("breaks out at the front")


def test_a_hole_wider_than_the_part_breaks_out_at_both_sides() -> None:
    wide = operation(hole((300, 40, 19), Side.TOP, 90, 10), title="Hole")
    (finding,) = [one for one in found(design(part((600, 80, 19), wide))) if one.kind == "hole-breaks-edge"]
    assert finding.message.endswith("breaks out at the front and back")


def test_a_hole_that_just_touches_the_edge_is_not() -> None:
    assert found(design(part((600, 200, 19), operation(hole((300, 4, 19), Side.TOP, 8, 10))))) == []


def test_a_hole_where_a_notch_took_the_wood() -> None:
    made = part(
        (600, 200, 19),
        operation(box_cut((0, 0, 0), (100, 100, 19)), title="Notch", line=5),
        operation(hole((50, 50, 19), Side.TOP, 8, 19), title="Hole", line=9),
    )
    (finding,) = found(design(made))
    assert (finding.kind, finding.severity.value) == ("cut-in-air", "warning")
    assert finding.place is not None
    assert finding.place.line == 9


def test_a_part_cut_away_names_the_cut_that_did_it() -> None:
    made = part(
        (600, 200, 19),
        operation(box_cut((0, 0, 0), (300, 200, 19)), line=4),
        operation(box_cut((300, 0, 0), (600, 200, 19)), line=8),
    )
    (finding,) = found(design(made))
    assert finding.kind == "part-cut-away"
    assert finding.place is not None
    assert finding.place.line == 8


def test_a_part_sawn_in_two() -> None:
    made = part((600, 200, 19), operation(box_cut((200, 0, 0), (210, 200, 19)), line=4))
    (finding,) = found(design(made))
    assert finding.kind == "part-in-pieces"
    assert "2 separate pieces" in finding.message


def test_a_hollow_is_not_a_piece() -> None:
    assert found(design(part((60, 60, 60), operation(box_cut((20, 20, 20), (40, 40, 40)))))) == []


def test_copies_that_touch_do_not_collide() -> None:
    assert found(design(part((60, 20, 10), at=((0, 0, 0), (60, 0, 0), (0, 20, 0), (0, 0, 10))))) == []


def test_copies_that_overlap() -> None:
    made = design(part((60, 20, 10), at=((0, 0, 0), (54, 0, 0))))
    (clash,) = find_interference(made, build_solids(made))
    assert (clash.one, clash.two) == ("board 1", "board 2")
    assert clash.volume == pytest.approx(6 * 20 * 10)
    assert clash.depth == pytest.approx(6.0)
    (finding,) = found(made)
    assert finding.kind == "parts-collide"
    assert "'board 1' and 'board 2'" in finding.message
    assert "overlap by 15/64 in across" in finding.message
    assert finding.also[0][0].line == 21


def test_a_tongue_in_its_groove_does_not_collide_but_a_longer_one_does() -> None:
    grooved = part((60, 20, 100), operation(box_cut((50, 0, 40), (60, 20, 52))), key="post")
    for reach, clashes in ((50, 0), (48, 1)):
        shelf = part((200, 20, 12), key="shelf", at=((reach, 0, 40),))
        made = design(grooved, shelf)
        assert len(find_interference(made, build_solids(made))) == clashes
