"""A text of a drawing as SVG: real text that keeps its place and its width in any typeface.

Fractions are set as small figures, raised and lowered, round a turned slash, each where the booklet's own
fraction glyphs have it, so that they look right in a reader that does not have the typeface and still read
``3 13/16``.
"""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, radians, sin
from typing import Any
from xml.etree.ElementTree import Element, SubElement

from plangen.drawing.sheet.lettering import fraction_shape, set_runs, slash_box, text_width
from plangen.drawing.sheet.look import colour
from plangen.drawing.sheet.model import Text, Weight
from plangen.drawing.writers.svg_names import number, safe, slug

FAMILY = "'Source Sans Pro', 'Source Sans 3', sans-serif"
_WEIGHTS = {Weight.REGULAR: "400", Weight.SEMIBOLD: "600", Weight.BOLD: "700"}


def text_element(mark: Text, height: float) -> Element:
    """Give the ``text`` element of a text on a sheet of a height in millimetres."""
    x, y = mark.at[0], height - mark.at[1]
    element = Element("text", {"x": number(x), "y": number(y), "font-size": number(mark.size)})
    if mark.role:
        element.set("data-role", slug(mark.role))
    if mark.anchor != "start":
        element.set("text-anchor", mark.anchor)
    if mark.weight is not Weight.REGULAR:
        element.set("font-weight", _WEIGHTS[mark.weight])
    element.set("fill", colour(mark.tone))
    if mark.angle:
        element.set("transform", f"rotate({number(-mark.angle)} {number(x)} {number(y)})")
    if "  " in mark.text:
        element.set("xml:space", "preserve")
    runs = set_runs(mark.text)
    if all(kind == "plain" for kind, _, _ in runs):
        element.text = safe(mark.text)
        _hold(element, text_width(mark.text, mark.size, mark.weight))
        return element
    element.set("text-anchor", "start")
    length = text_width(mark.text, mark.size, mark.weight)
    at = x - {"start": 0.0, "middle": length / 2, "end": length}[mark.anchor]
    for kind, words, signs in runs:
        width = text_width(signs, mark.size, mark.weight)
        _run(element, kind, safe(words), at, y, width, mark)
        at += width
    return element


def _run(element: Element, kind: str, words: str, x: float, y: float, width: float, mark: Text) -> None:
    shape, size = fraction_shape(mark.weight), mark.size
    span = SubElement(element, "tspan")
    span.text = words
    if kind == "plain":
        span.attrib.update(x=number(x), y=number(y))
        _hold(span, width)
    elif kind in ("top", "bottom"):
        base = y - size * (shape.rise if kind == "top" else shape.drop)
        small = {"text-anchor": "middle", "font-size": number(size * shape.figure)}
        step = width / len(words)  # each figure by itself, or another typeface sets them closer
        middles = " ".join(number(x + step * (index + 0.5)) for index in range(len(words)))
        span.attrib.update(x=middles, y=number(base), **small)
    elif kind == "bar":
        span.attrib.update(_bar(x + width / 2, y - size * shape.bar_up, mark))


def _bar(x: float, y: float, mark: Text) -> dict[str, Any]:
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


def _hold(element: Element, width: float) -> None:
    """Let a reader that has another typeface stretch or squeeze the run to its place."""
    if element.text and element.text.strip() and width > 0:
        element.set("textLength", number(width))
        element.set("lengthAdjust", "spacingAndGlyphs")
