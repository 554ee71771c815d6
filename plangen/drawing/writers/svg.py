"""Write a drawing as SVG: groups named by meaning, exact arcs, real text, sizes in millimetres."""

from __future__ import annotations

from collections import Counter
from itertools import takewhile
from typing import Any
from xml.etree.ElementTree import tostring

import svgwrite

from plangen.drawing.sheet.look import colour, dashes, line_look
from plangen.drawing.sheet.model import Drawing, Fill, Group, Link, Mark, Standard, Stroke, Text, Xy
from plangen.drawing.writers.curves import is_flat, stroke_length, svg_arc
from plangen.drawing.writers.layers import layer
from plangen.drawing.writers.svg_elements import element
from plangen.drawing.writers.svg_names import Ids, number, safe, slug
from plangen.drawing.writers.svg_text import FAMILY, text_element


def svg_bytes(drawing: Drawing) -> bytes:
    """Give the drawing as an SVG file.

    Marks are painted in the drawing's order. Marks of a ``Group`` stand in an element ``g`` with the group's
    key as id, its kind as class, its data as ``data-`` attributes and its title; a group whose key begins
    with the key of another and a slash stands inside that one, and one that is left and entered again
    continues in a second element with ``data-continues``. Groups without marks come last. Within a group each
    run of one layer is a ``g`` whose class is the layer and whose id numbers the run. A link leads to an
    anchor of the same name.
    """
    size = (f"{number(drawing.width)}mm", f"{number(drawing.height)}mm")
    sheet = svgwrite.Drawing(size=size, debug=False)
    sheet.elements.remove(sheet.defs)  # nothing is defined to be used twice
    sheet["viewBox"] = f"0 0 {number(drawing.width)} {number(drawing.height)}"
    _explain(sheet, drawing)
    _Sheet(sheet, drawing).write()
    xml = sheet.get_xml()
    _break_lines(xml)
    return ('<?xml version="1.0" encoding="UTF-8"?>\n' + tostring(xml, encoding="unicode") + "\n").encode()


def _explain(sheet: Any, drawing: Drawing) -> None:
    """Say to readers that read aloud what the picture is."""
    # An image is one thing to them; what has links or named groups is walked through.
    walked = drawing.groups or any(isinstance(mark, Link) for mark in drawing.marks)
    sheet["role"] = "graphics-document document" if walked else "img"
    named = []
    for name, words in (("title", drawing.title), ("desc", drawing.description)):
        if words:
            sheet.add(element(name, {"id": f"drawing-{name}"}, safe(words)))
            named.append(f"drawing-{name}")
    if named:
        sheet["aria-labelledby"] = " ".join(named)


def _break_lines(xml: Any) -> None:
    """Give every element a line of its own; within a text a line break would be a space."""
    if xml.tag in ("svg", "g") and len(xml):
        xml.text = "\n"
        for child in xml:
            child.tail = "\n"
            _break_lines(child)


class _Sheet:
    """Puts marks into elements, opening and closing groups as they come."""

    def __init__(self, root: Any, drawing: Drawing) -> None:
        self._drawing = drawing
        self._groups = {group.key: group for group in drawing.groups}
        self._ids = Ids(("drawing-title", "drawing-desc"))
        self._first: dict[str, str] = {}  # the id of each group that was opened
        self._open: list[tuple[str, Any]] = [("", root)]
        self._runs: Counter[str] = Counter()

    def write(self) -> None:
        """Write every mark."""
        run, name = None, ""
        for mark in self._drawing.marks:
            changed = self._enter("" if isinstance(mark, Link) else mark.group)
            if run is None or changed or layer(mark) != name:
                name = layer(mark)
                self._runs[name] += 1
                names = {"id": self._ids.give(f"{name}-{self._runs[name]}"), "class": name}
                run = element("g", names | _dress(mark, self._drawing.standard))
                self._open[-1][1].add(run)
            run.add(_drawn(mark, self._drawing))
        for key in self._groups:
            if key not in self._first:
                self._enter(key)  # what has no mark of its own is said all the same

    def _enter(self, key: str) -> bool:
        """Close and open groups until the one of the key is open; tell whether anything changed."""
        chain = [other for other in self._groups if other == key or key.startswith(other + "/")]
        if key and key not in self._groups:
            chain.append(key)
        chain = ["", *sorted(chain, key=len)]
        present = [name for name, _ in self._open]
        if present == chain:
            return False
        pairs = zip(present, chain, strict=False)
        del self._open[sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], pairs)) :]
        for name in chain[len(self._open) :]:
            opened = self._open[-1][1].add(element("g", self._named(name)))
            title = self._groups[name].title if name in self._groups else ""
            if title:
                opened.add(element("title", {}, safe(title)))
            self._open.append((name, opened))
        return True

    def _named(self, key: str) -> dict[str, str]:
        group = self._groups.get(key) or Group(key, "group")
        names = {"id": self._ids.give(slug(key)), "class": slug(group.kind), "role": "graphics-object"}
        if key in self._first:
            names["data-continues"] = self._first[key]
        self._first.setdefault(key, names["id"])
        names |= {f"data-{slug(name)}": safe(value) for name, value in group.data}
        return names


def _dress(mark: Mark, standard: Standard) -> dict[str, str]:
    if isinstance(mark, Stroke):
        look = line_look(mark.meaning, standard)
        dress = {"fill": "none", "stroke": look.colour, "stroke-width": number(look.width)}
        if look.dash and not look.fitted:
            dress["stroke-dasharray"] = _dashes(look.dash)
        if look.round:
            dress |= {"stroke-linecap": "round", "stroke-linejoin": "round"}
        return dress
    if isinstance(mark, Fill):
        return {"fill": colour(mark.tone), "fill-rule": "evenodd"}
    return {"font-family": FAMILY, "style": "font-kerning:none"} if isinstance(mark, Text) else {}


def _drawn(mark: Mark, drawing: Drawing) -> Any:
    height = drawing.height
    if isinstance(mark, Stroke):
        path = element("path", {"d": _stroke_path(mark, height)})
        look = line_look(mark.meaning, drawing.standard)
        if look.fitted and (fitted := dashes(look, stroke_length(mark))):
            path["stroke-dasharray"] = _dashes(fitted)
        return path
    if isinstance(mark, Fill):
        return element("path", {"d": " ".join(_path(loop, True, height) for loop in mark.loops)})
    return text_element(mark, height) if isinstance(mark, Text) else _link(mark, height)


def _stroke_path(stroke: Stroke, height: float) -> str:
    if stroke.arc is None or is_flat(stroke.arc):
        return _path(stroke.points, stroke.closed, height)
    return svg_arc(stroke.arc, height) + (" Z" if stroke.closed else "")


def _path(points: tuple[Xy, ...], closed: bool, height: float) -> str:
    steps = [
        f"{'L' if index else 'M'}{number(x)} {number(height - y)}" for index, (x, y) in enumerate(points)
    ]
    return " ".join(steps) + (" Z" if closed else "")


def _dashes(lengths: tuple[float, ...]) -> str:
    return " ".join(number(length) for length in lengths)


def _link(mark: Link, height: float) -> Any:
    (low_x, low_y), (high_x, high_y) = mark.low, mark.high
    anchor = element("a", {"xlink:href": f"#{safe(mark.target)}", "target": "_self"})
    box = {"x": number(low_x), "y": number(height - high_y)}
    box |= {"width": number(high_x - low_x), "height": number(high_y - low_y), "fill-opacity": "0"}
    anchor.add(element("rect", box))
    return anchor
