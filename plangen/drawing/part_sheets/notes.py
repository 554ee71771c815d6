"""Leader notes: holes, radii, chamfers and angles in the maker's words, equal ones said once."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from plangen.design.model import Part
from plangen.drawing.part_sheets.captions import caption
from plangen.drawing.part_sheets.figures import MULTIPLY, NO_BREAK_SPACE, bit, figure, radius_figure, times
from plangen.drawing.part_sheets.shapes import Shape, looks
from plangen.drawing.part_sheets.slanted import saw_settings
from plangen.joinery.angles import degrees_text, lean_of
from plangen.joinery.cuts import Arc, PrismCut
from plangen.joinery.operation import Feature, Form
from plangen.joinery.space import Axis, Side
from plangen.units import Length, LengthStyle

NoteKind: TypeAlias = Literal["hole", "radius", "edge", "remark", "mark"]


@dataclass(frozen=True, slots=True)
class Note:
    """Words at a leader. ``shapes`` are all that it speaks of; any of them may carry the leader.

    ``side`` is where the tool enters: a view of another side says so in the note, unless the work is done
    from ``both`` sides alike. ``looks`` are the axes one
    may look along to see it, best first. ``radius`` is the arc's, for a radius.
    """

    kind: NoteKind
    text: str
    side: Side
    looks: tuple[Axis, ...]
    shapes: tuple[int, ...]
    radius: Length | None = None
    both: bool = False


def notes_of(part: Part, shapes: tuple[Shape, ...], style: LengthStyle) -> tuple[Note, ...]:
    """Give the notes of a part, identical ones merged, in the order of the shapes."""
    holes: dict[tuple[str, str, Side], list[int]] = {}
    edges: dict[str, list[int]] = {}
    radii: dict[tuple[Length, Axis], list[int]] = {}
    remarks: dict[tuple[str, Side], list[int]] = {}
    rounds: dict[tuple[str, Axis], list[int]] = {}
    for number, shape in enumerate(shapes):
        feature = shape.feature
        if feature.form is Form.HOLE:
            holes.setdefault((*_hole_words(feature, part, style), shape.side), []).append(number)
        elif feature.form is Form.EDGE:
            edges.setdefault(_edge_words(shape, style), []).append(number)
        elif feature.form is Form.ROUND:
            rounds.setdefault((_round_words(feature, style), shape.side.axis), []).append(number)
        elif feature.form is Form.PLANE:
            remarks.setdefault((_saw_words(shape, part), shape.side), []).append(number)
        else:
            for radius in feature.radii:
                radii.setdefault((radius, shape.side.axis), []).append(number)
            words = _remark(feature, style)
            if words:
                remarks.setdefault((words, shape.side), []).append(number)
    found = _hole_notes(part, shapes, holes)
    for (radius, axis), numbers in radii.items():
        text = times(_arcs(shapes, numbers, radius), f"R\u00a0{radius_figure(radius, style)}")
        found.append(Note("radius", text, shapes[numbers[0]].side, (axis,), tuple(numbers), radius))
    for words, numbers in edges.items():
        first = shapes[numbers[0]]
        found.append(
            Note("edge", times(len(numbers), words), first.side, _edge_looks(first, part), tuple(numbers))
        )
    for (words, axis), numbers in rounds.items():
        side = shapes[numbers[0]].side
        found.append(Note("edge", times(len(numbers), words), side, (*_others(side), axis), tuple(numbers)))
    for (words, side), numbers in remarks.items():
        kind: NoteKind = "mark" if shapes[numbers[0]].feature.form is Form.MARK else "remark"
        found.append(
            Note(kind, times(len(numbers), words), side, (side.axis, *_others(side)), tuple(numbers))
        )
    if style.system == "both":
        found = [replace(note, text=_breakable(note.text)) for note in found if note.kind != "radius"] + [
            note for note in found if note.kind == "radius"
        ]
    return tuple(sorted(found, key=lambda note: (note.shapes, note.kind, note.text)))


def _breakable(text: str) -> str:
    """Let a note with figures of two systems break before a sign and after a parenthesis."""
    return text.replace(MULTIPLY, f" ×{NO_BREAK_SPACE}").replace(f"){NO_BREAK_SPACE}", ") ")


def _hole_notes(
    part: Part, shapes: tuple[Shape, ...], holes: dict[tuple[str, str, Side], list[int]]
) -> list[Note]:
    """Note equal holes together; those that lie opposite each other are noted once, "in each end"."""
    found: list[Note] = []
    done: set[tuple[str, str, Side]] = set()
    for (size, rest, side), numbers in holes.items():
        if (size, rest, side) in done:
            continue
        other = (size, rest, side.opposite)
        mirrored = holes.get(other, [])
        both = _places(shapes, numbers) == _places(shapes, mirrored)
        text = _counted_holes(len(numbers), size, rest)
        if both:
            done.add(other)
            text = f"{text}, in each {_pair_word(part, side)}"
            numbers = [*numbers, *mirrored]
        found.append(Note("hole", text, side, (side.axis,), tuple(numbers), both=both))
    return found


def _places(shapes: tuple[Shape, ...], numbers: list[int]) -> list[tuple[Length, ...]]:
    """Give where holes lie on their face, sorted."""
    return sorted(
        tuple(shapes[n].span(axis).low for axis in Axis if axis is not shapes[n].side.axis) for n in numbers
    )


def _pair_word(part: Part, side: Side) -> str:
    if side.axis is part.runs:
        return "end"
    return "edge" if side.axis is part.wide else "face"


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


def _hole_words(feature: Feature, part: Part, style: LengthStyle) -> tuple[str, str]:
    """Say the diameter, and the rest of the note."""
    assert feature.diameter is not None, "a hole without a diameter never gets here"
    size = bit(feature.diameter, style)
    if feature.depth is None:
        size, rest = _with_unit(size, style), ",\u00a0through"
    else:
        rest = f"{MULTIPLY}{figure(feature.depth, style)}\u00a0deep"
        rest += " along the hole" if feature.way is not None else ""
    if feature.counterbore:
        wide, deep = feature.counterbore
        rest += f", counterbore {bit(wide, style)}{MULTIPLY}{figure(deep, style)}\u00a0deep"
    if feature.countersink:
        rest += ", countersink"
    if feature.way is not None:
        rest += _lean_words(feature, part)
    if feature.plugged:
        rest += ", plug"
    if feature.note:
        rest += f"; {feature.note.text(style, unit=style.system == 'both')}"
    return size, rest


def _lean_words(feature: Feature, part: Part) -> str:
    """Say how far a hole leans and along which sight line; the view has the arrow that shows the way."""
    assert feature.way is not None, "only a hole that leans gets here"
    lean, first, _ = lean_of(feature.way, feature.side)
    words = f", tilted {degrees_text(lean.resultant)} as the arrow points"
    if not lean.sight:
        return words
    edges = part.runs if feature.side.axis is not part.runs else part.wide
    sight = lean.sight if first.axis is edges else 90.0 - lean.sight
    along = "long edges" if edges is part.runs else "faces"
    return f"{words}, sight line {degrees_text(sight)} to the {along}"


def _round_words(feature: Feature, style: LengthStyle) -> str:
    """Say a diameter with its sign: ``⌀ 1 1/4``."""
    assert feature.diameter is not None, "what is round has a diameter when it gets here"
    words = f"⌀{NO_BREAK_SPACE}{figure(feature.diameter, style)}"
    if feature.note:
        words += f"; {feature.note.text(style, unit=style.system == 'both')}"
    return words


def _saw_words(shape: Shape, part: Part) -> str:
    """Say both settings of the saw, and the corner that stays longest."""
    saw = saw_settings(shape.feature, part)
    settings = []
    if saw.edge is not None:
        settings.append(f"mitre {degrees_text(saw.mitre)}")
    if saw.face is not None:
        settings.append(f"blade tilted {degrees_text(saw.tilt)}")
    if not settings:
        return "sawn square"
    longest = [side for side in (saw.edge, saw.face) if side is not None]
    if shape.slant is not None and shape.slant.round:
        return f"{', '.join(settings)}; longest at the {' '.join(side.word for side in longest)}"
    if len(longest) == 2:
        return f"{', '.join(settings)}; longest at the {longest[0].word} {longest[1].word} edge"
    return f"{settings[0]}; longest at the {caption(part, longest[0]).lower()}"


def _counted_holes(number: int, size: str, rest: str) -> str:
    return f"{number}\u00a0{'holes' if number > 1 else 'hole'} {size}{rest}"


def _with_unit(size: str, style: LengthStyle) -> str:
    """Name the unit of a diameter that stands alone: ``1 hole 1`` reads like a count."""
    if size.endswith("mm"):
        return size
    inch, space, metric = size.partition(f"{NO_BREAK_SPACE}(")
    return f"{inch}{NO_BREAK_SPACE}{style.unit_word}{space}{metric}"


def _edge_words(shape: Shape, style: LengthStyle) -> str:
    feature = shape.feature
    if feature.note:
        return feature.note.text(style, unit=style.system == "both")
    title = shape.operation.title.lower()
    if feature.radii:
        return f"{title} R\u00a0{radius_figure(feature.radii[0], style)}"
    sizes = sorted(span.high - span.low for span in dict(feature.spans).values())
    if len(sizes) == 3 and sizes[0] != sizes[1]:
        return f"{title} {figure(sizes[0], style)}{MULTIPLY}{figure(sizes[1], style)}"
    size = feature.depth or sizes[0]
    return f"{title} {figure(size, style)}"


def _edge_looks(shape: Shape, part: Part) -> tuple[Axis, ...]:
    """Choose the look along the edge, where a chamfer or round-over shows its shape; for banding the face."""
    if shape.operation.adds:
        return (part.thick, *(axis for axis in Axis if axis not in (part.thick, shape.side.axis)))
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
