"""Lines of small scenes worked out by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from plangen.drawing.hidden_lines import (
    Body,
    isometric,
    orthographic,
    pictorial,
    project,
    projected_box,
)
from plangen.joinery.cuts import Arc, Curve, Line, Loop
from plangen.joinery.space import Axis, Side
from plangen.solids.outline import facets_of_circle
from tests.hidden_lines.scenes import (
    about_across,
    about_up,
    along,
    board,
    distance_to_lines,
    peg,
    sample_bodies,
    tidy,
    turned,
)
from tests.solids.making import box_cut, hole, mm, operation, pair, prism

FRONT, TOP, RIGHT = (orthographic(side) for side in (Side.FRONT, Side.TOP, Side.RIGHT))


def length(edges: object) -> float:
    return sum(math.dist(a, b) for e in edges for a, b in zip(e.points, e.points[1:], strict=False))  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    "view", [*(orthographic(s) for s in Side), pictorial(), pictorial(-32, 20), isometric()]
)
def test_views_are_square_and_right_handed(view: object) -> None:
    matrix = view.matrix  # type: ignore[attr-defined]
    assert matrix @ matrix.T == pytest.approx(np.eye(3), abs=1e-12)
    assert np.cross(matrix[0], matrix[1]) == pytest.approx(matrix[2], abs=1e-12)


def test_square_views_are_laid_out_in_third_angle() -> None:
    """A mark at the low left front of a piece: where each view shows it (common practice, no source)."""
    mark, whole = board((1, 1, 1), (0, 0, 0), "mark"), board((100, 40, 60), (0, 0, 0), "whole")
    wanted = {
        Side.FRONT: ("low", "low"),
        Side.BACK: ("high", "low"),
        Side.RIGHT: ("low", "low"),
        Side.LEFT: ("high", "low"),
        Side.TOP: ("low", "low"),
        Side.BOTTOM: ("low", "high"),
    }
    for side, (x_end, y_end) in wanted.items():
        x0, y0, x1, y1 = projected_box([mark], orthographic(side))
        a0, b0, a1, b1 = projected_box([whole], orthographic(side))
        assert x0 == a0 if x_end == "low" else x1 == a1, side
        assert y0 == b0 if y_end == "low" else y1 == b1, side


def test_pictorial_shows_the_left_side_for_a_positive_yaw() -> None:
    assert pictorial(32, 20).toward[0] < 0 < pictorial(-32, 20).toward[0]
    assert pictorial(0, 0).matrix == pytest.approx(FRONT.matrix)
    iso = isometric().matrix
    assert np.linalg.norm(iso[:2], axis=0) == pytest.approx(np.full(3, math.sqrt(2 / 3)))


def test_a_box_from_the_front_is_four_lines() -> None:
    seen = project([board((60, 20, 10), (5, 0, 0), "a")], FRONT, hidden=True)
    assert tidy(seen.visible) == [
        ((5, 0), (5, 10)),
        ((5, 0), (65, 0)),
        ((5, 10), (65, 10)),
        ((65, 0), (65, 10)),
    ]
    assert seen.hidden == ()
    assert {edge.kind for edge in seen.visible} == {"edge"}


def test_a_box_seen_pictorially_shows_nine_lines_and_hides_three() -> None:
    seen = project([board((60, 20, 10), (0, 0, 0), "a")], pictorial(), hidden=True)
    assert (len(seen.visible), len(seen.hidden)) == (9, 3)


def test_a_box_before_another() -> None:
    before, behind = board((60, 20, 10), (0, 0, 0), "before"), board((60, 20, 20), (40, 30, 5), "behind")
    seen = project([before, behind], FRONT, hidden=True)
    assert tidy(e for e in seen.visible if e.tag == "before") == [
        ((0, 0), (0, 10)),
        ((0, 0), (60, 0)),
        ((0, 10), (60, 10)),
        ((60, 0), (60, 10)),
    ]
    assert tidy(e for e in seen.visible if e.tag == "behind") == [
        ((40, 10), (40, 25)),
        ((40, 25), (100, 25)),
        ((60, 5), (100, 5)),
        ((100, 5), (100, 25)),
    ]
    assert tidy(seen.hidden) == [((40, 5), (40, 10)), ((40, 5), (60, 5))]


def test_boards_that_touch_share_one_line_with_the_later_tag() -> None:
    left, right = board((50, 20, 30), (0, 0, 0), "left"), board((40, 20, 30), (50, 0, 0), "right")
    for bodies, winner in (([left, right], "right"), ([right, left], "left")):
        seen = project(bodies, FRONT).visible
        shared = [e.tag for e in seen if tidy([e]) == [((50, 0), (50, 30))]]
        assert shared == [winner]
        assert length(seen) == pytest.approx(2 * 90 + 3 * 30)


def test_collinear_edges_of_one_tag_are_one_line() -> None:
    a, b = board((50, 20, 30), (0, 0, 0), "same"), board((40, 20, 30), (50, 0, 0), "same")
    assert tidy(project([a, b], FRONT).visible) == [
        ((0, 0), (0, 30)),
        ((0, 0), (90, 0)),
        ((0, 30), (90, 30)),
        ((50, 0), (50, 30)),
        ((90, 0), (90, 30)),
    ]


def test_cuts_that_leave_one_plane_leave_no_line_in_it() -> None:
    """Two dadoes side by side of one depth have one floor."""
    twice = operation(box_cut((20, 0, 6), (30, 40, 10)), box_cut((30, 0, 6), (45, 40, 10)))
    seen = project([board((100, 40, 10), (0, 0, 0), "a", twice)], TOP).visible
    assert tidy(seen) == [
        ((0, 0), (0, 40)),
        ((0, 0), (100, 0)),
        ((0, 40), (100, 40)),
        ((20, 0), (20, 40)),
        ((45, 0), (45, 40)),
        ((100, 0), (100, 40)),
    ]


def test_a_dado_seen_through_its_board_is_hidden() -> None:
    cut = operation(box_cut((20, 0, 6), (30, 40, 10)))
    seen = project([board((100, 40, 10), (0, 0, 0), "a", cut)], orthographic(Side.BOTTOM), hidden=True)
    assert tidy(seen.hidden) == [((20, -40), (20, 0)), ((30, -40), (30, 0))]


def test_a_shelf_in_its_dado_draws_one_line_at_the_mouth() -> None:
    post = board((20, 60, 100), (0, 0, 0), "post", operation(box_cut((12, 0, 40), (20, 60, 52))))
    shelf = board((80, 60, 12), (12, 0, 40), "shelf")
    seen = project([post, shelf], pictorial(-32, 20)).visible
    # The top of the shelf meets the post along the mouth's upper edge: from deep 0 to 60 at (20, 52).
    view = pictorial(-32, 20).matrix[:2]
    a, b = view @ [20, 0, 52], view @ [20, 60, 52]
    wanted = [(tuple(np.round(a, 2)), tuple(np.round(b, 2)))]
    assert [line for line in tidy(seen) if line in wanted or (line[1], line[0]) in wanted] != []
    assert len(tidy(seen)) == len(set(tidy(seen)))
    # and the end of the shelf inside the dado shows only at its front
    inside = view @ [12, 30, 52]
    assert all(math.dist(inside, p) > 0.5 for e in seen for p in e.points)


@pytest.mark.parametrize("turn", [0.0, 7.0, 45.0])
@pytest.mark.parametrize("view", [TOP, pictorial()])
def test_a_flush_plug_draws_one_circle(turn: float, view: object) -> None:
    """Even where the plug's chords do not match those of its hole."""
    plate = board((100, 60, 20), (0, 0, 0), "plate", operation(hole((50, 30, 20), Side.TOP, 24, 20)))
    plug = peg(12, 20, (50, 30, 0), "plug", turn)
    seen = project([plate, plug], view).visible  # type: ignore[arg-type]
    rounds = [e for e in seen if len(e.points) > 2]
    assert len(rounds) == 1
    assert rounds[0].points[0] == rounds[0].points[-1]
    assert rounds[0].tag == "plug"
    assert len(seen) == (5 if view is TOP else 10)


def test_circles_over_each_other_draw_once() -> None:
    plates = [
        board((100, 60, 20), (0, 0, 20 * k), f"plate {k}", operation(hole((50, 30, 20), Side.TOP, 24, 20)))
        for k in range(3)
    ]
    seen = project(plates, TOP, hidden=True)
    (ring,) = [e for e in seen.visible if len(e.points) > 2]
    assert ring.tag == "plate 2"
    assert len(ring.points) == facets_of_circle(12.0) + 1
    assert seen.hidden == ()


def test_a_standing_peg_has_two_silhouettes() -> None:
    seen = project([peg(12, 50, (0, 0, 0), "peg")], FRONT).visible
    assert tidy(e for e in seen if e.kind == "silhouette") == [((-12, 0), (-12, 50)), ((12, 0), (12, 50))]
    assert tidy(e for e in seen if e.kind == "edge") == [((-12, 0), (12, 0)), ((-12, 50), (12, 50))]


def test_a_scooped_foot_is_one_arc_and_tangent_joints_draw_nothing() -> None:
    """A round-over: the arc runs into both faces without a line."""
    corner = Loop(pair(0, 0), (Line(pair(30, 0)), Arc(pair(0, 30), mm(30), False), Line(pair(0, 0))))
    rounded = board((100, 100, 20), (0, 0, 0), "a", operation(prism(Axis.UP, 0, 20, corner)))
    flat = project([rounded], TOP).visible
    (arc,) = [e for e in flat if len(e.points) > 2]
    assert len(arc.points) == facets_of_circle(30.0) // 4 + 1
    assert len(flat) == 5
    raised = project([rounded], pictorial()).visible
    # no uprights where the round runs into the flat faces
    view = pictorial().matrix[:2]
    for x, y in ((30, 0), (0, 30)):
        foot, head = (tuple(np.round(view @ [x, y, z], 2)) for z in (0, 20))
        assert (foot, head) not in tidy(raised)
        assert (head, foot) not in tidy(raised)


def test_a_smooth_curve_is_one_line() -> None:
    wave = Loop(
        pair(0, 0),
        (Line(pair(120, 0)), Curve((pair(90, 15), pair(60, 5), pair(30, 15), pair(0, 0)))),
    )
    rail = board((120, 19, 60), (0, 0, 0), "rail", operation(prism(Axis.DEEP, 0, 19, wave)))
    seen = project([rail], FRONT).visible
    assert len([e for e in seen if len(e.points) > 2]) == 1
    assert len(seen) == 4
    twin = board((120, 19, 60), (0, 19, 0), "rail", operation(prism(Axis.DEEP, 0, 19, wave)))
    assert tidy(project([rail, twin], FRONT).visible) == tidy(seen)


def test_rims() -> None:
    plate = board(
        (100, 60, 20),
        (0, 0, 0),
        "plate",
        operation(hole((30, 30, 20), Side.TOP, 8, 20)),
        operation(hole((70, 30, 20), Side.TOP, 24, 20)),
    )
    kinds = sorted(e.kind for e in project([plate], TOP).visible if len(e.points) > 2)
    assert kinds == ["edge", "rim"]


def test_a_tiny_tilt_loses_nothing() -> None:
    """A tilt of a millionth of a radian: faces nearly edge on have lost lines before."""
    plain = project(sample_bodies(), FRONT).visible
    tilted = turned(sample_bodies(), about_across(math.degrees(1e-6)))
    assert length(project(tilted, FRONT).visible) == pytest.approx(length(plain), abs=0.5)


def test_a_mirrored_scene_gives_a_mirrored_picture() -> None:
    """The open case is its own mirror image about the middle of its width."""
    middle = 24 * 25.4 / 2
    for view in (FRONT, TOP, orthographic(Side.BACK)):
        seen = project(sample_bodies(), view, hidden=True)
        at = -middle if view.right[0] < 0 else middle
        assert tidy(seen.visible) == tidy(seen.visible, mirror_at=at)
        assert tidy(seen.hidden) == tidy(seen.hidden, mirror_at=at)
    centred = [Body(b.mesh, b.turn, b.move - [middle, 0.0, 0.0], "case") for b in sample_bodies(60)]
    left, right = (project(centred, pictorial(yaw, 20), hidden=True) for yaw in (32, -32))
    for one, two in ((left.visible, right.visible), (left.hidden, right.hidden)):
        flipped = [replace(edge, points=tuple((-x, y) for x, y in edge.points)) for edge in two]
        assert (len(one), length(one)) == (len(two), pytest.approx(length(two), abs=0.2))
        # every corner and middle of either lies on a line of the other, save fragments under 0.05 mm
        for some, others in ((one, flipped), (flipped, one)):
            corners = np.array([point for edge in some for point in edge.points])
            assert distance_to_lines(corners, others).max() < 0.06
            assert distance_to_lines(along(some, 5.0), others).max() < 0.06


def test_a_quarter_turn_brings_the_front_to_the_right() -> None:
    front = project(sample_bodies(60), FRONT, hidden=True)
    side = project(turned(sample_bodies(60), about_up(90)), RIGHT, hidden=True)
    assert tidy(front.visible) == tidy(side.visible)
    assert tidy(front.hidden) == tidy(side.hidden)


def test_the_same_scene_gives_the_same_lines() -> None:
    one, two = (project(sample_bodies(60), pictorial(), hidden=True) for _ in range(2))
    assert one == two


def test_an_empty_scene_and_an_empty_body() -> None:
    assert project([], FRONT).visible == ()
    with pytest.raises(ValueError, match="nothing"):
        projected_box([], FRONT)


def test_an_open_mesh_is_refused() -> None:
    whole = board((10, 10, 10), (0, 0, 0), "a")
    mesh = type(whole.mesh)(
        whole.mesh.vertices, whole.mesh.triangles[1:], whole.mesh.labels[1:], whole.mesh.surfaces
    )
    with pytest.raises(ValueError, match="closed"):
        project([Body(mesh, whole.turn, whole.move, "a")], FRONT)
