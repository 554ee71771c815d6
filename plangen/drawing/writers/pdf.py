"""Paint a drawing on a page of a PDF: raw operators, live text, links."""

from __future__ import annotations

from collections.abc import Container
from math import cos, radians, sin
from typing import Any

from plangen.drawing.sheet.lettering import set_fractions, text_width
from plangen.drawing.sheet.look import LineLook, colour, dashes, line_look, rgb
from plangen.drawing.sheet.model import Drawing, Fill, Link, Stroke, Text, Xy
from plangen.drawing.writers.curves import cubics, stroke_length
from plangen.drawing.writers.pdf_fonts import font_name, register_fonts

POINTS_PER_MM = 72 / 25.4


def paint(drawing: Drawing, canvas: Any, x: float, y: float, targets: Container[str] | None = None) -> None:
    """Paint the drawing with its low left corner at (x, y), in points of the canvas' present frame.

    Links lead to bookmarks of the same file; with ``targets`` only to those, so that a page can be shown
    by itself.
    """
    register_fonts()
    k = POINTS_PER_MM
    operators = [f"q {k:.6f} 0 0 {k:.6f} {x:.2f} {y:.2f} cm"]
    present: LineLook | None = None
    for mark in drawing.marks:
        if isinstance(mark, Stroke):
            look = line_look(mark.meaning, drawing.standard)
            if look != present:
                operators.append(_pen(look))
                present = look
            if look.fitted:
                operators.append(_dashes(dashes(look, stroke_length(mark))))
            operators.append(_stroke(mark) + " S")
        elif isinstance(mark, Fill):
            red, green, blue = rgb(colour(mark.tone))
            loops = " ".join(_path(loop, True) for loop in mark.loops if len(loop) > 2)
            if loops:
                operators.append(f"{red:.3f} {green:.3f} {blue:.3f} rg {loops} f*")
        elif isinstance(mark, Text):
            operators.append(_text(mark, canvas))
    operators.append("Q")
    canvas._code.append("\n".join(operators))
    for mark in drawing.marks:
        if isinstance(mark, Link) and (targets is None or mark.target in targets):
            low, high = mark.low, mark.high
            box = (x + low[0] * k, y + low[1] * k, x + high[0] * k, y + high[1] * k)
            canvas.linkRect("", mark.target, box, relative=1, thickness=0, Border="[0 0 0]")


def _pen(look: LineLook) -> str:
    ends = 1 if look.round else 0
    red, green, blue = rgb(look.colour)
    colour_ = f"{red:.3f} {green:.3f} {blue:.3f} RG"
    return f"{look.width:g} w {_dashes(look.dash)} {ends} J {ends} j {colour_}"


def _dashes(lengths: tuple[float, ...]) -> str:
    return f"[{' '.join(f'{length:.2f}' for length in lengths)}] 0 d"


def _stroke(stroke: Stroke) -> str:
    if stroke.arc is None:
        return _path(stroke.points, stroke.closed)
    (x, y), curves = cubics(stroke.arc)
    steps = [f"{x:.4f} {y:.4f} m"]
    steps += [" ".join(f"{px:.4f} {py:.4f}" for px, py in curve) + " c" for curve in curves]
    return " ".join([*steps, "h"] if stroke.closed else steps)


def _path(points: tuple[Xy, ...], closed: bool) -> str:
    steps = [f"{px:.2f} {py:.2f} {'l' if index else 'm'}" for index, (px, py) in enumerate(points)]
    if closed:
        steps.append("h")
    return " ".join(steps)


def _text(text: Text, canvas: Any) -> str:
    length = text_width(text.text, text.size, text.weight)
    back = {"start": 0.0, "middle": length / 2, "end": length}[text.anchor]
    c, s = cos(radians(text.angle)), sin(radians(text.angle))
    red, green, blue = rgb(colour(text.tone))
    run = canvas.beginText()
    run.setFont(font_name(text.weight), text.size)
    run.setTextTransform(c, s, -s, c, text.at[0] - back * c, text.at[1] - back * s)
    run.textOut(set_fractions(text.text))
    return f"{red:.3f} {green:.3f} {blue:.3f} rg {run.getCode()}"
