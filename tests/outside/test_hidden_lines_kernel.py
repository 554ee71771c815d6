"""The visible lines of many scenes against those of a solid modeller with true faces.

Lines of both are compared as drawn: their length where overlaps count once, and how far any point of one is
from the nearest line of the other.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

import numpy as np
import pytest

from plangen.design.model import Part
from plangen.drawing.hidden_lines import Body, View, isometric, orthographic, pictorial, project
from plangen.joinery.cuts import Arc, BoreCut, Line, Loop
from plangen.joinery.operation import Operation
from plangen.joinery.space import Axis, Side
from plangen.solids import part_solid, transform
from tests.hidden_lines.scenes import UNTURNED, Array, about_across, about_up
from tests.outside.kernel_lines import far_points, fine, kernel_lines, length, placed, true_shape
from tests.solids.making import box_cut, hole, mm, operation, pair, part, point, polygon, prism
from tests.whole.test_examples import checked

MOST_LENGTH = 1e-3  # of the kernel's
MOST_APART = 0.05  # mm
# Where a disc or the mouth of a hole hides a line, it ends at a chord, up to 0.1 mm inside the circle.
CHORDS = 0.08
HIDDEN_BY_CHORDS = ("leaning hole", "peg in hole", "tilted")
EASE = 0.0002  # mm by which the kernel's pegs are thinner, so that they do not touch their holes all round

VIEWS: dict[str, View] = {
    "front": orthographic(Side.FRONT),
    "right": orthographic(Side.RIGHT),
    "top": orthographic(Side.TOP),
    "isometric": isometric(),
    "pictorial": pictorial(),
    "from the right": pictorial(-28.0, 24.0),
}


@dataclass(frozen=True)
class Piece:
    """A part and where one of it stands."""

    part: Part
    body: Body


def piece(
    size: tuple[float, float, float],
    at: tuple[float, float, float],
    *operations: Operation,
    turn: Array = UNTURNED,
) -> Piece:
    made = part(tuple(Fraction(value) for value in size), *operations)  # type: ignore[arg-type]
    return stood(made, at, turn)


def stood(made: Part, at: tuple[float, float, float], turn: Array = UNTURNED) -> Piece:
    return Piece(made, Body(part_solid(made).mesh, turn, np.array(at, dtype=float), f"{at}"))


def disc(radius: int) -> Loop:
    size = 2 * radius
    return Loop(
        pair(size, radius),
        (Arc(pair(0, radius), mm(radius), True), Arc(pair(size, radius), mm(radius), True)),
    )


def round_part(radius: int, height: int, axis: Axis = Axis.UP) -> Part:
    size = 2 * radius
    square = polygon((0, 0), (size, 0), (size, size), (0, size))
    sizes = [size, size, size]
    sizes[axis.value] = height
    return part((sizes[0], sizes[1], sizes[2]), operation(prism(axis, 0, height, square, disc(radius))))


def scooped(deep: int, wide: int) -> Operation:
    """A scoop out of the lower edge of a rail, round at both ends."""
    loop = Loop(
        pair(30, 0),
        (
            Line(pair(30 + wide, 0)),
            Arc(pair(30 + wide - deep, deep), mm(deep), True),
            Line(pair(30 + deep, deep)),
            Arc(pair(30, 0), mm(deep), True),
        ),
    )
    return operation(prism(Axis.DEEP, 0, 18, loop))


def rounded(radius: int) -> Operation:
    loop = Loop(
        pair(0, 0), (Line(pair(radius, 0)), Arc(pair(0, radius), mm(radius), False), Line(pair(0, 0)))
    )
    return operation(prism(Axis.UP, 0, 20, loop))


def bored(slope: float) -> Operation:
    way = (math.sin(math.radians(slope)), 0.0, -math.cos(math.radians(slope)))
    return operation(BoreCut(point(60, 40, 20), way, mm(16), mm(15)))


def plain() -> list[Piece]:
    return [piece((200, 90, 18), (0, 0, 0))]


def dadoed() -> list[Piece]:
    cuts = (box_cut((40, 0, 10), (58, 90, 18)), box_cut((120, 0, 12), (138, 90, 18)))
    return [piece((200, 90, 18), (0, 0, 0), operation(*cuts))]


def dadoes_beside_each_other() -> list[Piece]:
    """Their floors are one face without a line between."""
    cuts = (box_cut((40, 0, 10), (58, 90, 18)), box_cut((58, 0, 10), (80, 90, 18)))
    return [piece((200, 90, 18), (0, 0, 0), operation(*cuts))]


def rabbet_and_dado() -> list[Piece]:
    cuts = (box_cut((0, 80, 8), (200, 90, 18)), box_cut((90, 0, 10), (110, 90, 18)))
    return [piece((200, 90, 18), (0, 0, 0), operation(*cuts))]


def stopped_groove() -> list[Piece]:
    return [piece((200, 90, 18), (0, 0, 0), operation(box_cut((20, 40, 10), (180, 50, 18))))]


def mortised() -> list[Piece]:
    cuts = (box_cut((40, 30, 0), (70, 42, 30)), box_cut((40, 30, 120), (70, 42, 150)))
    return [
        piece((45, 90, 160), (0, 0, 0), operation(box_cut((0, 30, 60), (25, 50, 100)))),
        piece((80, 90, 160), (100, 0, 0), operation(*cuts)),
    ]


def holes() -> list[Piece]:
    cuts = (
        hole((50, 45, 18), Side.TOP, 30, 18),
        hole((110, 45, 18), Side.TOP, 24, 9),
        hole((160, 0, 9), Side.FRONT, 10, 40),
        hole((200, 30, 9), Side.RIGHT, 8, 22),
    )
    return [piece((200, 90, 18), (0, 0, 0), *(operation(cut) for cut in cuts))]


def counterbored() -> list[Piece]:
    cuts = (hole((60, 45, 40), Side.TOP, 40, 8), hole((60, 45, 40), Side.TOP, 16, 40))
    deep = (hole((150, 45, 40), Side.TOP, 36, 12), hole((150, 45, 40), Side.TOP, 12, 26))
    return [piece((200, 90, 40), (0, 0, 0), operation(*cuts), operation(*deep))]


def hole_in_a_dado() -> list[Piece]:
    cuts = (box_cut((60, 0, 10), (100, 90, 18)), hole((80, 45, 10), Side.TOP, 14, 6))
    return [piece((200, 90, 18), (0, 0, 0), *(operation(cut) for cut in cuts))]


def leaning_hole() -> list[Piece]:
    return [piece((120, 80, 20), (0, 0, 0), bored(18.0))]


def scooped_rail() -> list[Piece]:
    return [piece((240, 18, 90), (0, 0, 0), scooped(25, 180))]


def rounded_corner() -> list[Piece]:
    return [piece((160, 120, 20), (0, 0, 0), rounded(48))]


def pegs() -> list[Piece]:
    """Standing, lying and leaning; none of their chords turns away where the cylinder does."""
    return [
        stood(round_part(12, 80), (0, 0, 0)),
        stood(round_part(15, 90, Axis.DEEP), (60, 0, 0)),
        stood(round_part(9, 120), (120, 0, 0), about_across(17.0) @ about_up(5.0)),
    ]


def side_by_side() -> list[Piece]:
    return [piece((50, 40, 30), (0, 0, 0)), piece((70, 40, 30), (50, 0, 0)), piece((50, 40, 20), (50, 40, 0))]


def shelf_in_dado(out: float = 0.0) -> list[Piece]:
    groove = operation(box_cut((12, 0, 60), (20, 120, 78)))
    return [piece((20, 120, 160), (0, 0, 0), groove), piece((150, 120, 18), (12, -out, 60))]


def mortise_and_tenon(out: float = 0.0) -> list[Piece]:
    leg = piece((45, 45, 200), (0, 0, 0), operation(box_cut((15, 14, 120), (45, 30, 170))))
    cheeks = (
        box_cut((0, 0, 0), (30, 6, 70)),
        box_cut((0, 22, 0), (30, 30, 70)),
        box_cut((0, 0, 0), (30, 30, 10)),
        box_cut((0, 0, 60), (30, 30, 70)),
    )
    return [leg, piece((200, 30, 70), (15 + out, 8, 110), operation(*cheeks))]


def peg_in_hole(turn: float = 0.0, high: int = 50, out: float = 0.0) -> list[Piece]:
    plate = piece((100, 60, 20), (0, 0, 0), operation(hole((50, 30, 20), Side.TOP, 24, 14)))
    way = about_up(turn)
    x, y, _ = np.array([50, 30, 0]) - way @ np.array([12.0, 12.0, 0.0])
    return [plate, stood(round_part(12, high), (x, y, 6 + out), way)]


def plates_over_each_other() -> list[Piece]:
    return [
        piece((100, 60, 20), (0, 0, 20 * k), operation(hole((50, 30, 20), Side.TOP, 24, 20)))
        for k in range(3)
    ]


def behind_a_pierced_wall() -> list[Piece]:
    wall = operation(hole((60, 0, 40), Side.FRONT, 50, 18), hole((140, 0, 40), Side.FRONT, 30, 8))
    return [
        piece((200, 18, 90), (0, 0, 0), wall),
        piece((180, 30, 30), (10, 60, 25)),
        stood(round_part(10, 200), (50, 120, -20)),
    ]


def tilted() -> list[Piece]:
    turn = about_across(12.0) @ about_up(31.0)
    cut = operation(box_cut((40, 0, 10), (58, 90, 18)), hole((110, 45, 18), Side.TOP, 24, 9))
    return [piece((200, 90, 18), (0, 0, 0), cut, turn=turn), piece((60, 60, 60), (60, -90, 10))]


def large_arc() -> list[Piece]:
    """A rail hollowed by an arc of 1,600 mm radius."""
    half = Fraction(400)
    rise = Fraction(1600) - Fraction(math.sqrt(1600**2 - 400**2)).limit_denominator(10**6)
    loop = Loop(pair(0, 0), (Line(pair(800, 0)), Arc(pair(0, 0), mm(Fraction(1600)), True)))
    assert 50 < rise < 51
    assert half > rise
    return [piece((800, 20, 90), (0, 0, 0), operation(prism(Axis.DEEP, 0, 20, loop)))]


SCENES: dict[str, Callable[[], list[Piece]]] = {
    "plain": plain,
    "dadoed": dadoed,
    "dadoes beside each other": dadoes_beside_each_other,
    "rabbet and dado": rabbet_and_dado,
    "stopped groove": stopped_groove,
    "mortised": mortised,
    "holes": holes,
    "counterbored": counterbored,
    "hole in a dado": hole_in_a_dado,
    "leaning hole": leaning_hole,
    "scooped rail": scooped_rail,
    "rounded corner": rounded_corner,
    "pegs": pegs,
    "side by side": side_by_side,
    "shelf in dado": shelf_in_dado,
    "shelf drawn out": lambda: shelf_in_dado(200.0),
    "mortise and tenon": mortise_and_tenon,
    "tenon half drawn out": lambda: mortise_and_tenon(18.0),
    "peg in hole": peg_in_hole,
    "peg turned in its hole": lambda: peg_in_hole(7.0),
    "peg sunk in its hole": lambda: peg_in_hole(0.0, 9),
    "peg half drawn out": lambda: peg_in_hole(3.0, 50, 8.0),
    "plates over each other": plates_over_each_other,
    "behind a pierced wall": behind_a_pierced_wall,
    "tilted": tilted,
    "large arc": large_arc,
}


def compare(pieces: Sequence[Piece], view: View, most: float = MOST_APART) -> None:
    ours = [fine(edge) for edge in project([piece.body for piece in pieces], view).visible]
    shapes = {id(piece.part): true_shape(piece.part, EASE) for piece in pieces}
    theirs = kernel_lines([placed(shapes[id(piece.part)], piece.body) for piece in pieces], view).lines
    for lines, others, whose in ((ours, theirs, "ours"), (theirs, ours, "the kernel's")):
        far = [item for item in far_points(lines, others) if item[0] > most]
        assert not far, (whose, len(far), max(far))
    assert length(ours) == pytest.approx(length(theirs), rel=MOST_LENGTH)


@pytest.mark.parametrize("view", ["isometric", "from the right", "front", "top"])
@pytest.mark.parametrize("name", list(SCENES))
def test_small_scenes(name: str, view: str) -> None:
    compare(SCENES[name](), VIEWS[view], CHORDS if name in HIDDEN_BY_CHORDS else MOST_APART)


@cache
def pieces_of(name: str) -> list[Piece]:
    """A whole project as it stands."""
    made = checked(name)
    return [
        Piece(part, Body(made.solids.parts[part.key].mesh, *transform(copy), copy.name))
        for part in made.design.parts
        for copy in part.copies
    ]


@pytest.mark.parametrize("view", ["front", "pictorial"])
@pytest.mark.parametrize("name", ["step-stool", "wall-cabinet"])
def test_whole_projects(name: str, view: str) -> None:
    compare(pieces_of(name), VIEWS[view], CHORDS)
