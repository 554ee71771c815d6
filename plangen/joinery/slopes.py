"""Slopes of dovetails: a ratio such as ``1:8``, or the angle of a router bit."""

from __future__ import annotations

import math
import re
from fractions import Fraction

from plangen.expressions import Text, parse_expression
from plangen.findings import Place
from plangen.joinery.piece import Bench

# The grid on which a ratio worked out from an angle lies.
_GRID = 10**9
_RATIO = re.compile(r"\s*([0-9]{1,3})\s*:\s*([0-9]{1,3})\s*")

# Between a slope that holds nothing and one whose corners break off.
STEEPEST = Fraction(1, 2)


def slope_ratio(text: Text | None, usual: Fraction, place: Place, bench: Bench) -> Fraction | None:
    """How far a side goes sideways for each unit of its height.

    ``1:8`` is exact; degrees, as on a router bit, count from square and are put on a grid. None, with a
    finding, for what is no slope. Raises ProjectError for a text that cannot be read.
    """
    if text is None:
        return usual
    found = _RATIO.fullmatch(text)
    if found is not None:
        ratio = Fraction(int(found[1]), int(found[2])) if int(found[2]) else Fraction(0)
    else:
        degrees = parse_expression(text).angle(bench.scope)
        ratio = Fraction(0)
        if 0 < degrees < 45:
            ratio = Fraction(round(math.tan(math.radians(float(degrees))) * _GRID), _GRID)
    if 0 < ratio <= STEEPEST:
        return ratio
    bench.findings.error(
        "bad-slope",
        f"`{text}` is no slope for a dovetail",
        place,
        "write `1:8` for hardwood, `1:6` for softwood, or the angle of the bit, such as `14deg`",
    )
    return None


def degrees_of(ratio: Fraction) -> float:
    """The angle of a slope, counted from square."""
    return math.degrees(math.atan(float(ratio)))


def slope_words(text: Text | None, ratio: Fraction) -> str:
    """How the slope is said: as typed, else as a ratio."""
    if text is not None:
        return str(text).strip().replace("deg", "°")
    return f"{ratio.numerator}:{ratio.denominator}"
