"""Leader notes: holes, radii, chamfers and angles in the maker's words, equal ones said once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from plangen.design.model import Part
from plangen.drawing.part_sheets.figures import MULTIPLY, bit, figure, times
from plangen.drawing.part_sheets.shapes import Shape, looks
from plangen.joinery.cuts import Arc, PrismCut
from plangen.joinery.operation import Feature, Form
from plangen.joinery.space import Axis, Side
from plangen.units import Length, LengthStyle

NoteKind: TypeAlias = Literal["hole", "radius", "edge", "remark"]


@dataclass(frozen=True, slots=True)
class Note:
    """Words at a leader. ``shapes`` are all that it speaks of; any of them may carry the leader.

    ``side`` is where the tool enters: a view of another side says so in the note. ``looks`` are the axes one
    may look along to see it, best first. ``radius`` is the arc's, for a radius.
    """

    kind: NoteKind
    text: str
    side: Side
    looks: tuple[Axis, ...]
    shapes: tuple[int, ...]
    radius: Length | None = None


def notes_of(part: Part, shapes: tuple[Shape, ...], style: LengthStyle) -> tuple[Note, ...]:
    """Give the notes of a part, identical ones merged, in the order of the shapes."""
    holes: dict[tuple[str, str, Side], list[int]] = {}
    edges: dict[tuple[str, Side], list[int]] = {}
    radii: dict[tuple[Length, Axis], list[int]] = {}
    remarks: dict[tuple[str, Side], list[int]] = {}
    for number, shape in enumerate(shapes):
        feature = shape.feature
        if feature.form is Form.HOLE:
            holes.setdefault((*_hole_words(feature, style), shape.side), []).append(number)
        elif feature.form is Form.EDGE:
            edges.setdefault((_edge_words(shape, style), shape.side), []).append(number)
        else:
            for radius in feature.radii:
                radii.setdefault((radius, shape.side.axis), []).append(number)
            words = _remark(feature, style)
            if words:
                remarks.setdefault((words, shape.side), []).append(number)
    found = [
        Note("hole", _counted_holes(len(numbers), *words), side, (side.axis,), tuple(numbers))
        for (*words, side), numbers in holes.items()
    ]
    for (radius, axis), numbers in radii.items():
        text = times(_arcs(shapes, numbers, radius), f"R\u00a0{figure(radius, style)}")
        found.append(Note("radius", text, shapes[numbers[0]].side, (axis,), tuple(numbers), radius))
    for (words, side), numbers in edges.items():
        look = _edge_looks(shapes[numbers[0]], part)
        found.append(Note("edge", times(len(numbers), words), side, look, tuple(numbers)))
    for (words, side), numbers in remarks.items():
        found.append(
            Note("remark", times(len(numbers), words), side, (side.axis, *_others(side)), tuple(numbers))
        )
    return tuple(sorted(found, key=lambda note: (note.shapes, note.kind, note.text)))


def _arcs(shapes: tuple[Shape, ...], numbers: list[int], radius: Length) -> int:
    """Count the arcs of a radius that the shapes' outlines have."""
    cuts = {
        (place, cut): cut
        for number in numbers
        for place, cut in enumerate(shapes[number].operation.cuts)
        if isinstance(cut, PrismCut)
    }
    arcs = [
        segment
        for cut in cuts.values()
        for loop in cut.loops
        for segment in loop.segments
        if isinstance(segment, Arc) and segment.radius == radius
    ]
    return max(len(arcs), 1)


def _others(side: Side) -> tuple[Axis, ...]:
    return tuple(axis for axis in Axis if axis is not side.axis)


def _hole_words(feature: Feature, style: LengthStyle) -> tuple[str, str]:
    """Say the diameter, and the rest of the note."""
    assert feature.diameter is not None, "a hole without a diameter never gets here"
    size = bit(feature.diameter, style)
    rest = "\u00a0through" if feature.depth is None else f"{MULTIPLY}{figure(feature.depth, style)}\u00a0deep"
    if feature.counterbore:
        wide, deep = feature.counterbore
        rest += f", counterbore {bit(wide, style)}{MULTIPLY}{figure(deep, style)}\u00a0deep"
    if feature.countersink:
        rest += ", countersink"
    if feature.plugged:
        rest += ", plug"
    if feature.note:
        rest += f"; {feature.note.text(style, unit=style.system == 'both')}"
    return size, rest


def _counted_holes(number: int, size: str, rest: str) -> str:
    return f"{number}\u00a0holes {size}{rest}" if number > 1 else f"Hole {size}{rest}"


def _edge_words(shape: Shape, style: LengthStyle) -> str:
    feature = shape.feature
    if feature.note:
        return feature.note.text(style, unit=style.system == "both")
    title = shape.operation.title.lower()
    if feature.radii:
        return f"{title} R\u00a0{figure(feature.radii[0], style)}"
    sizes = sorted(span.high - span.low for span in dict(feature.spans).values())
    if len(sizes) == 3 and sizes[0] != sizes[1]:
        return f"{title} {figure(sizes[0], style)}{MULTIPLY}{figure(sizes[1], style)}"
    size = feature.depth or sizes[0]
    return f"{title} {figure(size, style)}"


def _edge_looks(shape: Shape, part: Part) -> tuple[Axis, ...]:
    """Choose the look along the edge, where a chamfer or round-over shows its shape."""
    given = dict(shape.feature.spans)
    if len(given) < 3:
        return looks(shape, part, shape.side.axis)
    return tuple(sorted(given, key=lambda axis: given[axis].low - given[axis].high))


def _remark(feature: Feature, style: LengthStyle) -> str:
    words = feature.note.text(style, unit=style.system == "both")
    if feature.angle_degrees is None:
        return words
    angle = f"{feature.angle_degrees:.1f}".rstrip("0").rstrip(".")
    angle = f"({angle}°)" if feature.corners else f"{angle}°"
    return f"{words} {angle}" if words else angle
