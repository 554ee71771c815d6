"""Saw settings and sight lines, against a published table and against turns worked out by matrices here."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plangen.joinery.angles import (
    SawSettings,
    compound_mitre,
    degrees_text,
    lean_of,
    leaning,
    plane_of,
    resultant,
    settings_of,
)
from plangen.joinery.space import Axis, Direction, Side

Vector = tuple[float, float, float]
Matrix = tuple[Vector, Vector, Vector]


def about(axis: Axis, degrees: float) -> Matrix:
    """The turn about an axis of the frame, anticlockwise when the axis points at the eye."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    rows = [[float(row == column) for column in range(3)] for row in range(3)]
    one, two = ((1, 2), (2, 0), (0, 1))[axis.value]
    rows[one][one], rows[one][two], rows[two][one], rows[two][two] = c, -s, s, c
    return tuple(tuple(row) for row in rows)  # type: ignore[return-value]


def times(matrix: Matrix, vector: Vector) -> Vector:
    return tuple(sum(row[k] * vector[k] for k in range(3)) for row in matrix)  # type: ignore[return-value]


def between(one: Vector, two: Vector) -> float:
    """The angle between two unit vectors in degrees."""
    return math.degrees(math.acos(max(-1.0, min(1.0, sum(a * b for a, b in zip(one, two, strict=True))))))


# Operator's manual of a 10 in compound mitre saw, model 315.21212, page 24, chart "Cutting compound
# miters": pitch of the side, number of sides, mitre M and bevel B in degrees.
CHART = [
    (5, 4, 44.89, 3.53),
    (10, 5, 35.58, 5.86),
    (15, 6, 29.15, 7.44),
    (20, 7, 24.35, 8.53),
    (25, 8, 20.58, 9.31),
    (30, 4, 40.89, 20.70),
    (30, 9, 17.50, 9.85),
    (35, 10, 14.90, 10.21),
    (40, 6, 23.86, 18.75),
    (45, 4, 35.26, 30.00),
    (45, 8, 16.32, 15.70),
    (50, 5, 25.03, 26.76),
]


class TestCompoundMitre:
    @pytest.mark.parametrize(("slope", "sides", "mitre", "bevel"), CHART)
    def test_the_settings_are_those_of_a_saw_manual(
        self, slope: float, sides: int, mitre: float, bevel: float
    ) -> None:
        found = compound_mitre(slope, sides)
        assert found == (pytest.approx(mitre, abs=0.0075), pytest.approx(bevel, abs=0.0075))

    def test_crown_moulding_lies_at_its_spring_angle(self) -> None:
        # Operator's manual of a compound mitre saw, "Cutting crown molding": 52/38° moulding flat on
        # the table, mitre 31.62°, bevel 33.85°. Its face stands 52° from level against the ceiling.
        assert compound_mitre(52, 4) == (pytest.approx(31.62, abs=0.01), pytest.approx(33.86, abs=0.015))

    def test_level_sides_are_mitred_and_upright_ones_are_bevelled(self) -> None:
        assert compound_mitre(0, 6) == (pytest.approx(30), pytest.approx(0))
        assert compound_mitre(90, 6) == (pytest.approx(0, abs=1e-9), pytest.approx(30))

    def test_two_sides_make_no_shape(self) -> None:
        with pytest.raises(ValueError, match="three sides"):
            compound_mitre(30, 2)

    @given(st.floats(1, 89), st.integers(3, 16))
    def test_two_neighbours_meet_in_one_plane(self, slope: float, sides: int) -> None:
        """Tip a board up by the slope and turn it round the shape: its end then faces its neighbour's."""
        mitre, tilt = compound_mitre(slope, sides)
        # The board lies along across, its lower edge at the front and its outside on top stay long.
        right = plane_of(Side.RIGHT, Side.FRONT, Side.TOP, mitre, tilt)
        left = plane_of(Side.LEFT, Side.FRONT, Side.TOP, mitre, tilt)
        tipped = [times(about(Axis.ACROSS, slope), normal) for normal in (right, left)]
        next_one = times(about(Axis.UP, 360 / sides), tipped[1])
        assert between(tipped[0], tuple(-part for part in next_one)) < 1e-4  # type: ignore[arg-type]


class TestSettings:
    @given(st.floats(0.1, 75), st.floats(0.1, 75), st.sampled_from([Side.LEFT, Side.RIGHT]))
    def test_a_plane_gives_back_the_settings_that_made_it(self, mitre: float, tilt: float, end: Side) -> None:
        normal = plane_of(end, Side.BACK, Side.TOP, mitre, tilt)
        found = settings_of(normal, end, Axis.UP)
        assert (found.mitre, found.tilt) == (pytest.approx(mitre), pytest.approx(tilt))
        assert (found.edge, found.face) == (Side.BACK, Side.TOP)

    @given(st.floats(0, 75), st.floats(0, 75))
    def test_the_plane_is_a_square_cut_turned_and_then_tilted(self, mitre: float, tilt: float) -> None:
        """By matrices: the blade tilts about the line it leaves on the table, which turns with it."""
        square: Vector = (1.0, 0.0, 0.0)
        tilted = times(about(Axis.DEEP, tilt), square)  # the normal sinks: the top stays long
        turned = times(about(Axis.UP, -mitre), tilted)  # and swings to the front: the back stays long
        assert between(turned, plane_of(Side.RIGHT, Side.BACK, Side.TOP, mitre, tilt)) < 1e-4

    def test_a_cut_that_is_square_one_way_says_so(self) -> None:
        found = settings_of(plane_of(Side.TOP, Side.FRONT, Side.LEFT, 8.0, 0.0), Side.TOP, Axis.ACROSS)
        assert found == SawSettings(pytest.approx(8.0), 0.0, Side.FRONT, None)  # type: ignore[arg-type]

    def test_a_plane_that_does_not_close_the_end_is_refused(self) -> None:
        with pytest.raises(ValueError, match="close"):
            settings_of((0.0, 1.0, 0.0), Side.RIGHT, Axis.UP)


class TestLean:
    @given(st.floats(0.5, 45), st.floats(0.5, 45))
    def test_the_resultant_is_the_true_angle_and_the_sight_line_its_way(
        self, first: float, second: float
    ) -> None:
        """A line that is seen to lean so far from the front and from the side, measured in space."""
        line: Direction = (math.tan(math.radians(first)), math.tan(math.radians(second)), 1.0)
        size = math.sqrt(sum(part * part for part in line))
        lean = resultant(first, second)
        assert between((line[0] / size, line[1] / size, 1 / size), (0.0, 0.0, 1.0)) == pytest.approx(
            lean.resultant, abs=1e-5
        )
        # Turned so that the sight line points at the eye, nothing of the lean is seen sideways.
        seen = times(about(Axis.UP, -lean.sight), line)
        assert seen[1] == pytest.approx(0.0, abs=1e-9)
        assert seen[0] > 0

    def test_equal_leans_are_sighted_at_half_a_right_angle(self) -> None:
        lean = resultant(10, 10)
        assert lean.sight == pytest.approx(45)
        assert lean.resultant == pytest.approx(
            math.degrees(math.atan(math.sqrt(2) * math.tan(math.radians(10))))
        )

    @given(
        st.floats(1, 45),
        st.floats(1, 45),
        st.sampled_from([Side.LEFT, Side.RIGHT]),
        st.sampled_from([Side.FRONT, Side.BACK]),
        st.sampled_from([Side.TOP, Side.BOTTOM]),
    )
    def test_a_hole_is_read_back_as_it_was_typed(
        self, one: float, two: float, side: Side, other: Side, face: Side
    ) -> None:
        way = leaning(face.opposite, {side: one, other: two})
        lean, first, second = lean_of(way, face)
        expected = resultant(one, two)
        assert (first, second) == (side, other)
        assert lean.resultant == pytest.approx(expected.resultant)
        assert lean.sight == pytest.approx(expected.sight)

    def test_a_hole_that_leans_one_way_is_sighted_that_way(self) -> None:
        lean, first, _ = lean_of(leaning(Side.BOTTOM, {Side.BACK: 12.0}), Side.TOP)
        assert (first, lean.sight) == (Side.BACK, 0.0)
        assert lean.resultant == pytest.approx(12)


@pytest.mark.parametrize(("degrees", "shown"), [(33.857, "33.9°"), (8.0, "8°"), (7.96, "8°"), (0.04, "0°")])
def test_angles_print_to_a_tenth(degrees: float, shown: str) -> None:
    assert degrees_text(degrees) == shown
