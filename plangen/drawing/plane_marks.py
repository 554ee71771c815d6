"""How a view shows where a section is cut: a chain line with wide ends, arrows the way one looks, letters.

Ends, arrows and letters as in ISO 128-44 and ASME Y14.3 (both from memory); their lengths are this
project's own. All lengths are millimetres on the paper.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely

from plangen.drawing.cutting_plane import CuttingPlane
from plangen.drawing.hidden_lines import View
from plangen.drawing.scene import Placing
from plangen.drawing.sheet.measure import FIGURE_SHARE, text_corners, text_length
from plangen.drawing.sheet.model import Fill, Group, Mark, Meaning, Stroke, Text, Tone, Weight, Xy
from plangen.joinery.space import Box, Side

REACH = 5.6  # mm from an outline to the outer end of a mark
LETTER = 3.5 / FIGURE_SHARE  # type size: letters 3.5 mm high
PARENT = {Side.RIGHT: Side.FRONT, Side.FRONT: Side.RIGHT, Side.TOP: Side.RIGHT}  # the view that shows a plane
_START = 1.2  # mm from an outline to the wide end
_ARROW = (5.0, 2.4, 0.9)  # mm: length, length of its head, width of its head
_AIR = 0.7  # mm round a letter


@dataclass(frozen=True, slots=True)
class _End:
    """One end of the line: where it leaves the outline, the way outward and the way one looks (unit)."""

    edge: Xy
    out: Xy
    look: Xy


def plane_marks(
    planes: Sequence[CuttingPlane],
    parent: Side,
    view: View,
    placing: Placing,
    box: Box,
    before: Sequence[Mark] = (),
) -> tuple[list[Mark], list[Group]]:
    """Mark the planes that show in a square view as lines; ``box`` is the whole piece, ``parent`` its view.

    Each is a group of its own with the section's name, ``section-A``. Letters keep clear of each other and
    of the marks ``before``.
    """
    marks: list[Mark] = []
    groups: list[Group] = []
    ends: list[tuple[CuttingPlane, _End]] = []
    for plane in planes:
        if PARENT[plane.side] is not parent:
            continue
        key = f"section-{plane.letter}"
        groups.append(Group(key, "cutting plane", f"Section {plane.name}", (("letter", plane.letter),)))
        one, two = _ends(plane, view, placing, box)
        marks.append(Stroke((_past(one, 0.0), _past(two, 0.0)), Meaning.CENTRE, group=key))
        for end in (one, two):
            marks += _end_marks(end, key)
            ends.append((plane, end))
    for plane, end in ends:
        marks.append(_letter(end, plane.letter, f"section-{plane.letter}", (*before, *marks)))
    return marks, groups


def _ends(plane: CuttingPlane, view: View, placing: Placing, box: Box) -> tuple[_End, _End]:
    toward = plane.view.toward
    look = (-_dot(toward, view.right), -_dot(toward, view.up))
    corners = [
        (_dot(corner.floats(), view.right), _dot(corner.floats(), view.up)) for corner in (box.low, box.high)
    ]
    at = tuple(
        float(plane.at) * component for component in (plane.side.sign * -look[0], plane.side.sign * -look[1])
    )
    if abs(look[0]) > 0.5:  # an upright line
        low, high = sorted(y for _, y in corners)
        points = ((at[0], low), (at[0], high))
        ways: tuple[Xy, Xy] = ((0.0, -1.0), (0.0, 1.0))
    else:
        low, high = sorted(x for x, _ in corners)
        points = ((low, at[1]), (high, at[1]))
        ways = ((-1.0, 0.0), (1.0, 0.0))
    one, two = (_End(placing.point(point), way, look) for point, way in zip(points, ways, strict=True))
    return one, two


def _end_marks(end: _End, key: str) -> Iterator[Mark]:
    tip = _past(end, REACH - 0.8)
    yield Stroke((_past(end, _START), tip), Meaning.CUTTING_PLANE, group=key)
    length, head, width = _ARROW
    point = _along(tip, end.look, length)
    neck = _along(point, end.look, -head)
    side = (-end.look[1] * width / 2, end.look[0] * width / 2)
    yield Stroke((tip, neck), Meaning.LEADER, group=key)
    yield Fill(
        ((point, (neck[0] + side[0], neck[1] + side[1]), (neck[0] - side[0], neck[1] - side[1])),), Tone.INK,
        key,
    )  # fmt: skip


def _letter(end: _End, letter: str, key: str, before: Sequence[Mark]) -> Text:
    """Set the letter behind the line, else past the arrow, wherever no other mark is in its way."""
    tip = _past(end, REACH - 0.8)
    half = text_length(letter, LETTER, Weight.SEMIBOLD) / 2
    tall = LETTER * FIGURE_SHARE
    upright = abs(end.look[0]) > 0.5
    reach = (half if upright else tall / 2) + 1.1
    inward = (tall / 2 if upright else half) - 0.4  # so that it reaches no farther out than the arrow
    taken = [_area(mark).buffer(_AIR) for mark in before]
    options = []
    past = _ARROW[0] + reach
    for along in (-reach, past, -reach - 2.5, past + 2.5, -reach - 5.0, past + 5.0):
        x, y = _along(_along(tip, end.look, along), end.out, -inward)
        options.append(
            Text((x, y - tall / 2), letter, LETTER, "middle", Weight.SEMIBOLD, role="section", group=key)
        )
    clear = (one for one in options if not any(area.intersects(_area(one)) for area in taken))
    return next(clear, options[0])


def _area(mark: Mark) -> shapely.Geometry:
    if isinstance(mark, Text):
        return shapely.Polygon(text_corners(mark))
    if isinstance(mark, Stroke):
        return shapely.LineString(mark.points)
    if isinstance(mark, Fill):
        return shapely.Polygon(mark.loops[0])
    return shapely.box(*mark.low, *mark.high)


def _past(end: _End, far: float) -> Xy:
    return _along(end.edge, end.out, far)


def _along(point: Xy, way: Xy, far: float) -> Xy:
    return (point[0] + way[0] * far, point[1] + way[1] * far)


def _dot(one: Sequence[float], two: Sequence[float]) -> float:
    return float(sum(a * b for a, b in zip(one, two, strict=True)))
