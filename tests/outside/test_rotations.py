"""Angles and turns against a general library of rotations, ``trimesh.transformations``."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from trimesh.transformations import angle_between_vectors, rotation_matrix

from plangen.joinery.angles import compound_mitre, leaning, plane_of, resultant, settings_of
from plangen.joinery.space import Axis, Side, Stance, turn_about

steady = settings(max_examples=100, deadline=None, derandomize=True)
angles = st.floats(-179, 179)
leans = st.floats(0.5, 40)
parts = st.floats(-1, 1)
ways = st.tuples(parts, parts, parts).filter(lambda way: math.hypot(*way) > 0.1)
points = st.tuples(*[st.floats(-2000, 2000)] * 3)


def turn(degrees: float, way: object, point: object = None) -> np.ndarray:
    """The library's turn, 4 by 4."""
    return np.asarray(rotation_matrix(math.radians(degrees), way, point))


def turned(degrees: float, way: object, vector: object) -> np.ndarray:
    """A direction turned by the library."""
    return turn(degrees, way)[:3, :3] @ np.asarray(vector, dtype=float)


def matrix(stance: Stance) -> np.ndarray:
    return np.vstack([np.column_stack([stance.rows, stance.move]), [0, 0, 0, 1]])


def out_of(side: Side) -> np.ndarray:
    """The unit vector that a side faces."""
    return np.eye(3)[side.axis.value] * side.sign


@steady
@given(way=ways, degrees=angles, through=points)
def test_a_turn_about_a_line(way: tuple[float, ...], degrees: float, through: tuple[float, ...]) -> None:
    ours = matrix(turn_about(way, degrees, through))  # type: ignore[arg-type]
    assert ours == pytest.approx(turn(degrees, way, through), abs=1e-8)


@steady
@given(ways=st.tuples(ways, ways), degrees=st.tuples(angles, angles), through=st.tuples(points, points))
def test_turns_one_after_another_and_undone(ways, degrees, through) -> None:  # type: ignore[no-untyped-def]
    first, second = (turn_about(*each) for each in zip(ways, degrees, through, strict=True))
    theirs = turn(degrees[1], ways[1], through[1]) @ turn(degrees[0], ways[0], through[0])
    assert matrix(second.after(first)) == pytest.approx(theirs, abs=1e-7)
    assert matrix(second.back()) == pytest.approx(
        np.linalg.inv(turn(degrees[1], ways[1], through[1])), abs=1e-7
    )


@steady
@given(slope=st.floats(0, 90), sides=st.integers(3, 12))
def test_the_saw_settings_of_a_hopper_are_those_of_its_mitre_planes(slope: float, sides: int) -> None:
    """A side is stood up by turning it about its lower edge; its neighbour is that turned about plumb."""
    along = np.array([1.0, 0.0, 0.0])
    face = turned(slope, along, [0.0, 0.0, 1.0])
    width = turned(slope, along, [0.0, 1.0, 0.0])
    other = turned(360 / sides, [0.0, 0.0, 1.0], along)
    # The two meet in the plane that mirrors one side into the next.
    mirror = (along + other) / np.linalg.norm(along + other)
    assert angle_between_vectors(mirror, along) == pytest.approx(math.pi / sides)
    mitre = math.degrees(math.atan2(abs(mirror @ width), abs(mirror @ along)))
    tilt = 90 - math.degrees(math.acos(min(1.0, abs(mirror @ face)))) if slope else 0.0
    assert compound_mitre(slope, sides) == pytest.approx((mitre, tilt), abs=1e-6)


@steady
@given(first=leans, second=leans)
def test_a_leg_leans_by_its_resultant_square_to_its_sight_line(first: float, second: float) -> None:
    """Turned from plumb by the resultant, in the upright plane at the sight angle, a leg shows both leans."""
    lean = resultant(first, second)
    to = turned(lean.sight, [0.0, 0.0, 1.0], [1.0, 0.0, 0.0])  # from the first direction to the second
    leg = turned(lean.resultant, np.cross([0.0, 0.0, -1.0], to), [0.0, 0.0, -1.0])
    assert math.degrees(math.atan2(leg[0], -leg[2])) == pytest.approx(first)
    assert math.degrees(math.atan2(leg[1], -leg[2])) == pytest.approx(second)
    ours = leaning(Side.BOTTOM, {Side.RIGHT: first, Side.BACK: second})
    assert ours == pytest.approx(tuple(leg), abs=1e-9)
    # Along the sight line the leg stands plumb: what is seen of it has no sideways part.
    across = np.cross(to, [0.0, 0.0, 1.0])
    assert leg @ across == pytest.approx(0, abs=1e-9)


@steady
@given(
    sides=st.permutations(list(Axis)),
    high=st.tuples(st.booleans(), st.booleans(), st.booleans()),
    mitre=st.floats(1, 60),
    tilt=st.floats(1, 50),
)
def test_a_saw_set_to_mitre_and_tilt_cuts_the_plane(sides, high, mitre, tilt) -> None:  # type: ignore[no-untyped-def]
    """A square cut turned about the face, then tilted about the blade's line on the table."""
    end, edge, face = (Side.of(axis, up) for axis, up in zip(sides, high, strict=True))
    about = np.cross(out_of(end), -out_of(edge))  # from the end away from the edge that stays long
    normal = turned(mitre, about, out_of(end))
    line = np.cross(normal, out_of(face))
    normal = turned(-tilt, line, normal)
    ours = plane_of(end, edge, face, mitre, tilt)
    assert ours == pytest.approx(tuple(normal), abs=1e-9)
    back = settings_of(ours, end, face.axis)
    assert (back.mitre, back.tilt) == pytest.approx((mitre, tilt))
    assert (back.edge, back.face) == (edge, face)
