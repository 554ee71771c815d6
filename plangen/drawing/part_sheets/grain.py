"""The arrow that shows on the principal view which way the grain runs, where nothing else is."""

from __future__ import annotations

from functools import cache
from math import hypot

import numpy as np

from plangen.drawing.dimension_lines import arrowhead
from plangen.drawing.part_sheets.ground import Ground, Trace, trace
from plangen.drawing.part_sheets.pictorial import shifted
from plangen.drawing.part_sheets.picture import Picture
from plangen.drawing.sheet.lettering import LEAST_SIZE
from plangen.drawing.sheet.model import Mark, Meaning, Stroke, Text, Xy

LENGTH = 12.0  # mm on the paper
HEAD = (2.2, 0.9)  # mm
WORD, SIZE = "grain", LEAST_SIZE  # mm of type size
CLEAR = 1.2  # mm kept free at the edges of the view
COLUMNS, ROWS = 21, 13  # places tried across and up the view


def put_grain(picture: Picture, ground: Ground) -> bool:
    """Put the arrow on a view that shows the length, over nothing at all; False where there is no such place.

    Of the free places the one nearest to a quarter in from the low left corner is taken, where few notes
    stand.
    """
    runs = picture.part.runs
    if picture.sight.is_along(runs):
        return False
    across = picture.sight.is_across(runs)
    stamp = _traced(across)
    low_x, low_y, high_x, high_y = stamp.box
    xs = np.linspace(CLEAR - low_x, picture.width - CLEAR - high_x, COLUMNS)
    ys = np.linspace(CLEAR - low_y, picture.height - CLEAR - high_y, ROWS)
    if xs[0] > xs[-1] or ys[0] > ys[-1]:
        return False
    wish = (picture.width / 4, picture.height / 4)
    places = sorted(
        ((float(x), float(y)) for x in xs for y in ys),
        key=lambda at: (round(hypot(at[0] - wish[0], at[1] - wish[1]), 6), at),
    )
    tried = stamp.moved(np.array(places))
    for number in np.nonzero(ground.clashes(tried) == 0)[0]:
        if not any(ground.crossings(tried.at(slice(number, number + 1)))):
            x, y = places[number]
            ground.put(shifted(_drawn(across), x, y))
            return True
    return False


def _drawn(across: bool) -> tuple[Mark, ...]:
    """Draw a line with a head at both ends, its middle at the origin, and the word above or beside it."""
    reach = LENGTH / 2
    way: Xy = (1.0, 0.0) if across else (0.0, 1.0)
    tips = ((-reach * way[0], -reach * way[1]), (reach * way[0], reach * way[1]))
    words = (
        Text((0.0, 2.0), WORD, SIZE, "middle", role="grain")
        if across
        else Text((1.8, -SIZE * 0.3), WORD, SIZE, role="grain")
    )
    return (
        Stroke(tips, Meaning.LEADER),
        arrowhead(tips[0], (-way[0], -way[1]), HEAD),
        arrowhead(tips[1], way, HEAD),
        words,
    )


@cache
def _traced(across: bool) -> Trace:
    return trace(_drawn(across))
