"""The rulers beside a pattern: 4 in and 100 mm, across and upward, so that a wrong print shows both ways."""

from __future__ import annotations

from collections.abc import Iterator

from plangen.drawing.sheet.model import Mark, Meaning, Stroke, Text, Xy

RULER_ROOM = 18.0  # mm left of and below the frame
INCHES, SIXTEENTHS = 4, 4  # a tick every quarter inch
MILLIMETRES = 100
SIZE = 4.6  # mm of type size, 13 pt
LINE = 9.0  # mm from the frame to a ruler's line


def rulers_along(corner: Xy) -> Iterator[Mark]:
    """Draw both rulers of a frame from its low left corner: inches towards the frame, mm away from it."""
    for upward in (False, True):
        yield from _ruler(corner, upward)


def _ruler(corner: Xy, upward: bool) -> Iterator[Mark]:
    def at(along: float, out: float) -> Xy:
        """Place a point ``along`` the ruler and ``out`` from its line, away from the frame."""
        if upward:
            return (corner[0] - LINE - out, corner[1] + along)
        return (corner[0] + along, corner[1] - LINE - out)

    yield Stroke((at(0.0, 0.0), at(INCHES * 25.4, 0.0)), Meaning.DIMENSION)
    for step in range(INCHES * SIXTEENTHS + 1):
        along = step * 25.4 / SIXTEENTHS
        whole = step % SIXTEENTHS == 0
        yield Stroke((at(along, 0.0), at(along, -(3.4 if whole else 1.8))), Meaning.DIMENSION)
        if whole and step:
            unit = "\u00a0in" if step == INCHES * SIXTEENTHS else ""
            yield _figure(at, along, f"{step // SIXTEENTHS}{unit}", -4.2, upward)
    for step in range(0, MILLIMETRES + 1, 5):
        yield Stroke((at(step, 0.0), at(step, 3.0 if step % 10 == 0 else 1.6)), Meaning.DIMENSION)
        if step in (50, 100):
            yield _figure(at, step, f"{step}\u00a0mm" if step == 100 else str(step), 3.8, upward)


def _figure(at: object, along: float, words: str, out: float, upward: bool) -> Text:
    x, y = at(along, out)  # type: ignore[operator]
    height = SIZE * 0.65
    if upward:  # read from the right
        base = x + height if out < 0 else x
        return Text((base, y), words, SIZE, "middle", angle=90.0, role="ruler")
    base = y if out < 0 else y - height
    return Text((x, base), words, SIZE, "middle", role="ruler")
