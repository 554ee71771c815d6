"""Write a drawing as DXF: millimetres at 1:1, layers by meaning, exact circles, arcs and ellipses.

The version is that of release 2000 (AC1015): the oldest that knows units, line weights, ellipses and light
polylines, and the one that most machines read.
"""

from __future__ import annotations

from functools import cache
from io import StringIO
from math import cos, degrees, dist, hypot, isclose, sin, tan, tau
from typing import Any

import ezdxf
from ezdxf import units
from ezdxf.colors import aci2rgb
from ezdxf.enums import TextEntityAlignment

from plangen.drawing.sheet.lettering import NO_BREAK_SPACE, cap_height
from plangen.drawing.sheet.look import colour, line_look, rgb
from plangen.drawing.sheet.model import Arc, Drawing, Fill, Mark, Meaning, Stroke, Text, Xy
from plangen.drawing.writers.curves import Axes, axes, is_flat, is_full
from plangen.drawing.writers.layers import layer

OUTLINE = "outline"  # the kind of a group whose strokes follow each other round one closed shape
_STYLE = "Lettering"
_INK = 7  # the colour that shows black on white and white on black
_JOINED = 1e-3  # mm within which one stroke ends where the next begins
_ALIGN = {
    "start": TextEntityAlignment.LEFT,
    "middle": TextEntityAlignment.CENTER,
    "end": TextEntityAlignment.RIGHT,
}


def dxf_bytes(drawing: Drawing) -> bytes:
    """Give the drawing as a DXF file; the same drawing always gives the same bytes.

    Strokes become CIRCLE, ARC, ELLIPSE, LINE or LWPOLYLINE, and those of a group of kind ``outline`` one
    closed LWPOLYLINE with bulges where they follow each other round it. Fills become solid HATCHes. Links
    are left out.
    """
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True  # no clock and no random mark in the file
    try:
        document = ezdxf.new("R2000", units=units.MM)
        _Page(document, drawing).write()
        stream = StringIO()
        document.write(stream)
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before
    return stream.getvalue().encode(document.output_encoding, errors="dxfreplace")


class _Page:
    """Puts marks into the model space of a document, each on its layer."""

    def __init__(self, document: Any, drawing: Drawing) -> None:
        self._document = document
        self._space = document.modelspace()
        self._drawing = drawing

    def write(self) -> None:
        """Write every mark, in the drawing's order; an outline stands where its first stroke does."""
        header = self._document.header
        header["$INSUNITS"], header["$MEASUREMENT"], header["$LTSCALE"] = units.MM, 1, 1.0
        header["$EXTMIN"], header["$EXTMAX"] = (0, 0, 0), (self._drawing.width, self._drawing.height, 0)
        header["$LWDISPLAY"] = 1
        self._document.styles.new(_STYLE, dxfattribs={"font": "SourceSansPro-Regular.ttf"})
        outlines = {group.key for group in self._drawing.groups if group.kind == OUTLINE}
        done: set[str] = set()
        for mark in self._drawing.marks:
            if isinstance(mark, Stroke) and mark.group in outlines:
                if mark.group in done:
                    continue
                strokes = [m for m in self._drawing.marks if isinstance(m, Stroke) and m.group == mark.group]
                if (vertices := _bulged(strokes)) is not None:
                    done.add(mark.group)
                    self._space.add_lwpolyline(vertices, "xyb", close=True, dxfattribs=self._on(mark))
                    continue
            self._mark(mark)

    def _mark(self, mark: Mark) -> None:
        if isinstance(mark, Stroke):
            self._stroke(mark)
        elif isinstance(mark, Fill):
            self._fill(mark)
        elif isinstance(mark, Text):
            self._text(mark)

    def _on(self, mark: Mark) -> dict[str, Any]:
        """The attributes that put an entity on its mark's layer, which is made at its first use."""
        name = layer(mark)
        if name not in self._document.layers:
            made = self._document.layers.add(name, color=_INK)
            if isinstance(mark, Stroke):
                look = line_look(mark.meaning, self._drawing.standard)
                made.dxf.lineweight = round(look.width * 100)
                made.dxf.linetype = self._line_type(mark.meaning, look.dash)
                made.dxf.color = _number_of(look.colour)
            elif isinstance(mark, Fill):
                made.dxf.color = _number_of(colour(mark.tone))
        return {"layer": name}

    def _line_type(self, meaning: Meaning, dash: tuple[float, ...]) -> str:
        if not dash:
            return "Continuous"
        name = meaning.value.upper().replace(" ", "_")
        if name not in self._document.linetypes:
            lengths = [length if index % 2 == 0 else -length for index, length in enumerate(dash)]
            self._document.linetypes.add(name, [sum(dash), *lengths], description=f"{meaning.value} line")
        return name

    def _stroke(self, stroke: Stroke) -> None:
        on = self._on(stroke)
        if stroke.arc is not None and not is_flat(stroke.arc):
            self._arc(stroke.arc, on)
            if stroke.closed and not is_full(stroke.arc):
                self._space.add_line(stroke.arc.at(stroke.arc.end), stroke.arc.at(stroke.arc.start), on)
        elif len(stroke.points) == 2 and not stroke.closed:
            self._space.add_line(*stroke.points, dxfattribs=on)
        elif len(stroke.points) > 1:
            self._space.add_lwpolyline(stroke.points, "xy", close=stroke.closed, dxfattribs=on)

    def _arc(self, arc: Arc, on: dict[str, Any]) -> None:
        shape = axes(arc)
        start, end = _way(arc, shape)
        if isclose(shape.large, shape.small, rel_tol=1e-9, abs_tol=1e-7):
            if is_full(arc):
                self._space.add_circle(arc.centre, shape.large, on)
                return
            first, last = (degrees(angle + shape.turn) % 360 for angle in (start, end))
            self._space.add_arc(arc.centre, shape.large, first, last, dxfattribs=on)
            return
        major = (shape.large * cos(shape.turn), shape.large * sin(shape.turn))
        if is_full(arc):
            start, end = 0.0, tau
        self._space.add_ellipse(arc.centre, major, shape.small / shape.large, start, end, on)

    def _fill(self, fill: Fill) -> None:
        loops = [loop for loop in fill.loops if len(loop) > 2]
        if loops:
            hatch = self._space.add_hatch(color=256, dxfattribs=self._on(fill))
            for loop in loops:
                hatch.paths.add_polyline_path(loop, is_closed=True)

    def _text(self, text: Text) -> None:
        attributes = self._on(text) | {"style": _STYLE, "rotation": text.angle}
        words = text.text.replace(NO_BREAK_SPACE, " ")
        entity = self._space.add_text(words, height=cap_height(text.size), dxfattribs=attributes)
        entity.set_placement(text.at, align=_ALIGN[text.anchor])


@cache
def _number_of(hexadecimal: str) -> int:
    """Give the number, of the 255 colours that this version knows, of the one nearest to a colour."""
    if hexadecimal == "#000000":
        return _INK
    wanted = tuple(255 * part for part in rgb(hexadecimal))
    return min(range(1, 256), key=lambda number: (dist(aci2rgb(number), wanted), number))


def _way(arc: Arc, shape: Axes) -> tuple[float, float]:
    """Give the angles at which an arc starts and ends on its ellipse's own axes, run anticlockwise."""
    if shape.anticlockwise:
        return arc.start + shape.lead, arc.end + shape.lead
    return -(arc.end + shape.lead), -(arc.start + shape.lead)


def _bulged(strokes: list[Stroke]) -> list[tuple[float, float, float]] | None:
    """Give the vertices (x, y, bulge) of the closed shape that strokes make; None where they make none.

    The bulge of a vertex is the tangent of a quarter of the angle that the arc to the next one spans,
    positive anticlockwise. An ellipse has none, so a shape with one stays in pieces.
    """
    pieces = []
    for stroke in strokes:
        if stroke.arc is None:
            pieces.append((stroke.points, 0.0))
            continue
        shape = axes(stroke.arc)
        if not isclose(shape.large, shape.small, rel_tol=1e-9, abs_tol=1e-7) or is_full(stroke.arc):
            return None
        bulge = tan((stroke.arc.end - stroke.arc.start) / 4) * (1 if shape.anticlockwise else -1)
        pieces.append(((stroke.arc.at(stroke.arc.start), stroke.arc.at(stroke.arc.end)), bulge))
    if len(pieces) == 1 and strokes[0].closed:
        return [(x, y, 0.0) for x, y in strokes[0].points]
    chained = _chained(pieces)
    if chained is None:
        return None
    return [
        (*point, bulge if len(points) == 2 else 0.0) for points, bulge in chained for point in points[:-1]
    ]


def _chained(
    pieces: list[tuple[tuple[Xy, ...], float]],
) -> list[tuple[tuple[Xy, ...], float]] | None:
    """Put pieces end to end as given, turning those that run backward; None where they do not meet."""
    if len(pieces) < 2:
        return None
    first, second = pieces[0][0], pieces[1][0]
    if not (_meet(first[-1], second[0]) or _meet(first[-1], second[-1])):
        pieces = [(first[::-1], -pieces[0][1]), *pieces[1:]]
    chain = [pieces[0]]
    for points, bulge in pieces[1:]:
        end = chain[-1][0][-1]
        if _meet(end, points[0]):
            chain.append((points, bulge))
        elif _meet(end, points[-1]):
            chain.append((points[::-1], -bulge))
        else:
            return None
    return chain if _meet(chain[-1][0][-1], chain[0][0][0]) else None


def _meet(one: Xy, two: Xy) -> bool:
    return hypot(one[0] - two[0], one[1] - two[1]) < _JOINED
