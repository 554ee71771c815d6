"""A text of a drawing as SVG: real text that keeps its place and its width in any typeface.

Fractions are set as small figures, raised and lowered, round a turned slash, each where the booklet's own
fraction glyphs have it, so that they look right in a reader that does not have the typeface and still read
``3 13/16``.
"""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, radians, sin
from typing import Any

from plangen.drawing.sheet.lettering import fraction_shape, set_runs, slash_box, text_width
from plangen.drawing.sheet.look import colour
from plangen.drawing.sheet.model import Text, Weight
from plangen.drawing.writers.svg_elements import element
from plangen.drawing.writers.svg_names import number, safe, slug

FAMILY = "'Source Sans Pro', 'Source Sans 3', sans-serif"
_WEIGHTS = {Weight.REGULAR: "400", Weight.SEMIBOLD: "600", Weight.BOLD: "700"}


def text_element(mark: Text, height: float) -> Any:
    """Give the ``text`` element of a text on a sheet of a height in millimetres."""
    x, y = mark.at[0], height - mark.at[1]
    runs = set_runs(mark.text)
    plain = all(kind == "plain" for kind, _, _ in runs)
    names = {"x": number(x), "y": number(y), "font-size": number(mark.size)}
    if mark.role:
        names["data-role"] = slug(mark.role)
    if not plain or mark.anchor != "start":
        names["text-anchor"] = mark.anchor if plain else "start"
    if mark.weight is not Weight.REGULAR:
        names["font-weight"] = _WEIGHTS[mark.weight]
    names["fill"] = colour(mark.tone)
    if mark.angle:
        names["transform"] = f"rotate({number(-mark.angle)} {number(x)} {number(y)})"
    if "  " in mark.text:
        names["xml:space"] = "preserve"
    length = text_width(mark.text, mark.size, mark.weight)
    if plain:
        return element("text", names | _held(mark.text, length), safe(mark.text))
    whole = element("text", names)
    at = x - {"start": 0.0, "middle": length / 2, "end": length}[mark.anchor]
    for kind, words, signs in runs:
        width = text_width(signs, mark.size, mark.weight)
        whole.add(element("tspan", _placed(kind, words, at, y, width, mark), safe(words)))
        at += width
    return whole


def _placed(kind: str, words: str, x: float, y: float, width: float, mark: Text) -> dict[str, str]:
    """Say where a run stands, and how large."""
    shape, size = fraction_shape(mark.weight), mark.size
    if kind == "plain":
        return {"x": number(x), "y": number(y)} | _held(words, width)
    if kind in ("top", "bottom"):
        base = y - size * (shape.rise if kind == "top" else shape.drop)
        step = width / len(words)  # each figure by itself, or another typeface sets them closer
        middles = " ".join(number(x + step * (index + 0.5)) for index in range(len(words)))
        small = {"text-anchor": "middle", "font-size": number(size * shape.figure)}
        return {"x": middles, "y": number(base)} | small
    return _bar(x + width / 2, y - size * shape.bar_up, mark) if kind == "bar" else {}


def _bar(x: float, y: float, mark: Text) -> dict[str, str]:
    """Place a slash so that its middle is at x, y, as long as the bar and leaning as far."""
    shape = fraction_shape(mark.weight)
    left, low, right, high = slash_box(mark.weight)
    wide, tall = right - left, high - low
    size = mark.size * hypot(shape.bar_wide, shape.bar_high) / hypot(wide, tall)
    lean = degrees(atan2(shape.bar_wide, shape.bar_high) - atan2(wide, tall))
    middle_x, middle_y = (left + right) / 2 * size, -(low + high) / 2 * size
    c, s = cos(radians(lean)), sin(radians(lean))
    from_x, from_y = middle_x * c - middle_y * s, middle_x * s + middle_y * c
    return {
        "x": number(x - from_x),
        "y": number(y - from_y),
        "font-size": number(size),
        "rotate": number(lean),
    }


def _held(words: str, width: float) -> dict[str, str]:
    """Let a reader that has another typeface stretch or squeeze the run to its place."""
    if not words.strip() or width <= 0:
        return {}
    return {"textLength": number(width), "lengthAdjust": "spacingAndGlyphs"}
