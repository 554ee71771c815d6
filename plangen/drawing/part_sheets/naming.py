"""What a part's features, and their edges, centres and corners, are called on its sheet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from plangen.drawing.part_sheets.plan import PartPlan
from plangen.drawing.part_sheets.shapes import Shape
from plangen.joinery.cuts import plane_axes
from plangen.joinery.operation import Form
from plangen.joinery.space import Axis, Side
from plangen.units import ZERO, Length

SEVERAL = "; "  # between names of one place


def side_name(side: Side) -> str:
    """Name a side of the part, as an end of its dimensions."""
    return f"{side.word} side"


class Names:
    """The names of everything that a dimension of one part may stand between.

    A feature is called by its kind and its number among those of the kind, in the order of the shapes.
    Names that stand for one coordinate are told together: the sides of the part first.
    """

    def __init__(self, plan: PartPlan) -> None:
        self.plan = plan
        counts: Counter[str] = Counter()
        self._names: list[str] = []
        for shape in plan.shapes:
            counts[shape.operation.kind] += 1
            self._names.append(f"{shape.operation.kind} {counts[shape.operation.kind]}")
        self._told = {
            (dimension.axis, end)
            for dimension in plan.dimensions
            if dimension.kind != "reference"
            for pair in dimension.pairs
            for end in pair
        }
        self._at: dict[Axis, dict[Length, list[str]]] = {}
        self._own: dict[tuple[int, Axis, Length], str] = {}
        for axis in Axis:
            table: dict[Length, list[str]] = {
                plan.part.blank.side(side): [side_name(side)] for side in Side if side.axis is axis
            }
            for number in range(len(plan.shapes)):
                for value, name in self._places(number, axis):
                    table.setdefault(value, []).append(name)
                    self._own.setdefault((number, axis, value), name)
            self._at[axis] = table

    def of(self, number: int) -> str:
        """Name a feature: ``dado 1``."""
        return self._names[number]

    def at(self, axis: Axis, value: Length) -> tuple[str, ...]:
        """Give every name of a coordinate; empty where nothing is there."""
        return tuple(self._at[axis].get(value, ()))

    def bound(self, number: int, axis: Axis, value: Length) -> str:
        """Name a coordinate that a feature ends at: a side of the part, its own edge, or another's.

        What lies outside the part is named ``beyond`` its side; empty where no dimension reaches.
        """
        size = self.plan.part.blank.size(axis)
        if value < ZERO or value > size:
            return f"beyond the {side_name(Side.of(axis, value > ZERO))}"
        if value in (ZERO, size):
            return side_name(Side.of(axis, value > ZERO))
        if (axis, value) not in self._told:
            return ""
        return self._own.get((number, axis, value)) or next(iter(self.at(axis, value)), "")

    def radius_note(self, number: int, radius: Length) -> str:
        """Name the note that tells a radius of a feature; empty where none does."""
        for place, note in enumerate(self.plan.notes, 1):
            if note.radius == radius and number in note.shapes:
                return f"note-{place}"
        return ""

    def _places(self, number: int, axis: Axis) -> Iterator[tuple[Length, str]]:
        """Give the places of one shape along an axis, the plain ones before those that only bound it."""
        shape, name = self.plan.shapes[number], self._names[number]
        form, span = shape.feature.form, shape.span(axis)
        if form is Form.OUTLINE:
            yield from self._corners(shape, name, axis)
            yield from self._edges(shape, f"limit of {name}", axis)
        elif form in (Form.HOLE, Form.MARK) and axis is not shape.side.axis:
            yield span.low, f"centre of {name}"
        elif form is Form.PLANE:
            yield from _saw_cut(shape, name, axis)
        elif form is Form.ROUND and axis is not shape.side.axis:
            yield (span.low + span.high) / 2, f"middle of {name}"
        elif form not in (Form.HOLE, Form.MARK):
            yield from self._edges(shape, f"edge of {name}", axis)

    def _edges(self, shape: Shape, words: str, axis: Axis) -> Iterator[tuple[Length, str]]:
        span = shape.span(axis)
        for value, high in ((span.low, False), (span.high, True)):
            if ZERO < value < self.plan.part.blank.size(axis):
                yield value, f"{Side.of(axis, high).word} {words}"

    def _corners(self, shape: Shape, name: str, axis: Axis) -> Iterator[tuple[Length, str]]:
        if axis is shape.side.axis:
            return
        index = plane_axes(shape.side.axis).index(axis)
        for count, corner in enumerate(shape.corners, 1):
            yield corner[index], f"corner {count} of {name}"


def _saw_cut(shape: Shape, name: str, axis: Axis) -> Iterator[tuple[Length, str]]:
    if axis is shape.side.axis and shape.slant is not None:
        yield shape.slant.tip, f"tip of {name}"
        for _, heel, look in shape.slant.falls:
            yield heel, f"heel of {name} seen {look.word}"
