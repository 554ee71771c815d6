"""What holds of every picture: arcs are exact, nothing is lost, where the scene stands changes nothing."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.drawing.hidden_lines import Body, isometric, orthographic, pictorial, project
from plangen.joinery.space import Side
from tests.hidden_lines.scenes import about_across, about_up, board, peg, sample_bodies, tidy
from tests.solids.making import hole, operation


def drilled(tag: str = "plate") -> Body:
    cuts = (hole((40, 30, 20), Side.TOP, 24, 12), hole((90, 30, 20), Side.TOP, 20, 20))
    return board((140, 60, 20), (0, 0, 0), tag, *(operation(cut) for cut in cuts))


def on_paper(bodies: list[Body], view: object) -> float:
    seen = project(bodies, view).visible  # type: ignore[arg-type]
    return sum(math.dist(a, b) for edge in seen for a, b in zip(edge.points, edge.points[1:], strict=False))


def test_isometric_shortens_all_three_axes_alike() -> None:
    """By sqrt(2/3) = 0.816 (ISO 5456-3:1996, 5.1, from memory), 30 degrees above the level at both sides."""
    matrix = isometric().matrix[:2]
    assert np.linalg.norm(matrix, axis=0) == pytest.approx([0.8165] * 3, abs=1e-4)
    across, deep = matrix[:, 0], matrix[:, 1]
    assert abs(math.degrees(math.atan2(across[1], across[0]))) == pytest.approx(30.0)
    assert abs(math.degrees(math.atan2(deep[1], abs(deep[0])))) == pytest.approx(30.0)


@given(st.floats(-80, 80), st.floats(8, 80), st.floats(0, 40))
@settings(max_examples=25, deadline=None)
def test_arcs_lie_on_their_points(yaw: float, pitch: float, lean: float) -> None:
    turn = about_across(lean)
    bodies = [drilled(), peg(12, 50, (200, 0, 0), "peg")]
    bodies = [Body(body.mesh, turn @ body.turn, turn @ body.move, body.tag) for body in bodies]
    seen = project(bodies, pictorial(yaw, pitch), hidden=True)
    arcs = [edge for edge in (*seen.visible, *seen.hidden) if edge.arc is not None]
    assert arcs
    for edge in arcs:
        arc = edge.arc
        assert arc is not None
        assert 0.0 < arc.end - arc.start <= math.tau + 1e-9
        for k, point in enumerate(edge.points):
            angle = arc.start + (arc.end - arc.start) * k / (len(edge.points) - 1)
            assert math.dist(point, arc.at(angle)) < 1e-6


@given(st.floats(-170, 170), st.floats(-70, 70), st.floats(-3000, 3000))
@settings(max_examples=15, deadline=None)
def test_moving_the_scene_changes_nothing(yaw: float, pitch: float, far: float) -> None:
    bodies, view = [drilled(), peg(12, 50, (40, 30, 8), "peg")], pictorial(yaw, pitch)
    moved = [Body(body.mesh, body.turn, body.move + far, body.tag) for body in bodies]
    assert on_paper(moved, view) == pytest.approx(on_paper(bodies, view), abs=0.2)


@given(st.floats(-170, 170), st.floats(-60, 60))
@settings(max_examples=15, deadline=None)
def test_seen_and_hidden_together_are_all_lines(yaw: float, pitch: float) -> None:
    """A box alone has twelve edges, whichever of them are seen."""
    view = pictorial(yaw, pitch)
    found = project([board((60, 20, 10), (0, 0, 0), "a")], view, hidden=True)
    drawn = sum(math.dist(*edge.points) for edge in (*found.visible, *found.hidden))
    sides = np.linalg.norm(view.matrix[:2] * [60, 20, 10], axis=0)
    if sides.min() > 1.0 and abs(np.array(view.toward)).min() > 0.02:  # no edges over each other
        assert drawn == pytest.approx(4 * sides.sum(), abs=0.1)


@given(st.floats(-25, 25), st.floats(-25, 25), st.floats(0, 360))
@settings(max_examples=15, deadline=None)
def test_nothing_is_seen_behind_a_wall(yaw: float, pitch: float, turn: float) -> None:
    wall = board((2000, 20, 2000), (-1000, -200, -1000), "wall")
    behind = [drilled(), peg(12, 50, (40, 30, 8), "peg", turn)]
    behind = [Body(b.mesh, about_up(turn) @ b.turn, about_up(turn) @ b.move, b.tag) for b in behind]
    assert {edge.tag for edge in project([wall, *behind], pictorial(yaw, pitch)).visible} == {"wall"}


def test_a_peg_sunk_in_its_hole_is_seen_through_the_mouth_alone() -> None:
    seen = project([drilled(), peg(12, 8, (40, 30, 8), "peg")], pictorial(30.0, 60.0)).visible
    rings = [edge for edge in seen if edge.tag == "peg" and edge.arc is not None]
    assert rings
    assert all(edge.arc is not None and edge.arc.end - edge.arc.start < math.tau - 0.1 for edge in rings)


def test_a_blind_hole_is_not_seen_from_behind() -> None:
    found = project([drilled()], orthographic(Side.BOTTOM), hidden=True)
    assert len([edge for edge in found.visible if edge.arc is not None]) == 1  # the hole that goes through
    assert len([edge for edge in found.hidden if edge.arc is not None]) == 1


def test_two_thousand_pieces_are_drawn() -> None:
    one = board((90, 40, 20), (0, 0, 0), "a")
    bodies = [
        Body(one.mesh, one.turn, np.array([100.0 * (k % 50), 50.0 * (k // 50), 0.0]), f"{k}")
        for k in range(2000)
    ]
    seen = project(bodies, orthographic(Side.TOP)).visible
    assert len(seen) == 4 * 2000
    assert tidy(project(sample_bodies(), isometric()).visible)
