"""Write a drawing as SVG: groups named by meaning, real text, sizes in millimetres."""

from __future__ import annotations

from collections import Counter
from itertools import groupby
from typing import Any

import svgwrite
from svgwrite.container import Group
from svgwrite.text import TSpan

from plangen.drawing.sheet.lettering import READ_BACK, set_fractions
from plangen.drawing.sheet.look import colour, line_look
from plangen.drawing.sheet.model import Drawing, Fill, Link, Mark, Stroke, Text, Weight, Xy

_WEIGHTS = {Weight.REGULAR: "400", Weight.SEMIBOLD: "600", Weight.BOLD: "700"}
_FAMILY = "'Source Sans Pro', 'Source Sans 3', sans-serif"


def svg_bytes(drawing: Drawing) -> bytes:
    """Give the drawing as an SVG file.

    Marks are painted in the drawing's order; each run of one meaning is a group whose class is the
    meaning and whose id numbers the run. A link leads to an anchor of the same name.
    """
    size = (f"{_number(drawing.width)}mm", f"{_number(drawing.height)}mm")
    sheet = svgwrite.Drawing(size=size, debug=False)
    sheet.viewbox(0, 0, _number(drawing.width), _number(drawing.height))
    sheet.set_desc(title=drawing.title or None, desc=drawing.description or None)
    sheet["role"] = "img"
    runs: Counter[str] = Counter()
    for name, marks in groupby(drawing.marks, key=_name):
        runs[name] += 1
        group = Group(id=f"{name}-{runs[name]}", class_=name, debug=False)
        sheet.add(group)
        _dress(group, name, marks_list := list(marks))
        for mark in marks_list:
            group.add(_element(sheet, mark, drawing.height))
    text: str = sheet.tostring()
    return ('<?xml version="1.0" encoding="utf-8"?>\n' + text + "\n").encode()


def _name(mark: Mark) -> str:
    if isinstance(mark, Stroke):
        return mark.meaning.value.replace(" ", "-")
    if isinstance(mark, Fill):
        return "tone-" + mark.tone.value.replace(" ", "-")
    return "text" if isinstance(mark, Text) else "link"


def _dress(group: Any, name: str, marks: list[Mark]) -> None:
    first = marks[0]
    if isinstance(first, Stroke):
        look = line_look(first.meaning)
        group.update({"fill": "none", "stroke": look.colour, "stroke-width": _number(look.width)})
        if look.dash:
            group["stroke-dasharray"] = " ".join(_number(length) for length in look.dash)
        if look.round:
            group.update({"stroke-linecap": "round", "stroke-linejoin": "round"})
    elif isinstance(first, Fill):
        group.update({"fill": colour(first.tone), "fill-rule": "evenodd"})
    elif name == "text":
        group["font-family"] = _FAMILY


def _element(sheet: Any, mark: Mark, height: float) -> Any:
    if isinstance(mark, Stroke):
        return sheet.path(d=_path(mark.points, mark.closed, height))
    if isinstance(mark, Fill):
        return sheet.path(d=" ".join(_path(loop, True, height) for loop in mark.loops))
    if isinstance(mark, Text):
        return _text(sheet, mark, height)
    return _link(sheet, mark, height)


def _path(points: tuple[Xy, ...], closed: bool, height: float) -> str:
    steps = [
        f"{'L' if index else 'M'}{_number(x)} {_number(height - y)}" for index, (x, y) in enumerate(points)
    ]
    return " ".join(steps) + (" Z" if closed else "")


def _text(sheet: Any, mark: Text, height: float) -> Any:
    x, y = _number(mark.at[0]), _number(height - mark.at[1])
    element = sheet.text("", insert=(x, y))
    element.update(
        {
            "font-size": _number(mark.size),
            "text-anchor": mark.anchor,
            "font-weight": _WEIGHTS[mark.weight],
            "fill": colour(mark.tone),
        }
    )
    if mark.angle:
        element["transform"] = f"rotate({_number(-mark.angle)} {x} {y})"
    for fraction, signs in groupby(set_fractions(mark.text), key=lambda sign: ord(sign) in READ_BACK):
        span = TSpan("".join(READ_BACK.get(ord(sign), sign) for sign in signs), debug=False)
        if fraction:
            span["style"] = "font-feature-settings: 'frac'"
        element.add(span)
    return element


def _link(sheet: Any, mark: Link, height: float) -> Any:
    anchor = sheet.a(href=f"#{mark.target}", target="_self")
    low, high = mark.low, mark.high
    box = sheet.rect(
        insert=(_number(low[0]), _number(height - high[1])),
        size=(_number(high[0] - low[0]), _number(high[1] - low[1])),
    )
    box["fill-opacity"] = "0"
    anchor.add(box)
    return anchor


def _number(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
