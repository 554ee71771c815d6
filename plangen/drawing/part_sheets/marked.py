"""What a part sheet says, in words that a program can read too: the groups that its marks belong to.

Every feature's edges, centres and corners are named as a reader of the drawing would name them ("left edge
of dado 1"), and a dimension says between which of them it stands. No group holds a length: those are
printed, and whoever wants one has to read the text inside the group.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from plangen.drawing.part_sheets.captions import caption
from plangen.drawing.part_sheets.marked_shapes import feature_data
from plangen.drawing.part_sheets.naming import SEVERAL, Names
from plangen.drawing.part_sheets.notes import Note
from plangen.drawing.part_sheets.plan import Dimension, Pair, PartPlan
from plangen.drawing.part_sheets.sights import Sight
from plangen.drawing.sheet.model import Fill, Group, Link, Mark, Text
from plangen.joinery.space import Axis, Side

BETWEEN = " | "  # between the stretches of one dimension


def grouped(marks: Iterable[Mark], key: str) -> tuple[Mark, ...]:
    """Put marks into a group."""
    return tuple(mark if isinstance(mark, Link) else replace(mark, group=key) for mark in marks)


def view_key(sight: Sight) -> str:
    """Name the group of a view's own lines."""
    return f"view-{sight.side.word}"


def dimension_key(plan: PartPlan, dimension: Dimension) -> str:
    """Name the group of a dimension; an overall size keeps its name from whichever end it is drawn."""
    if dimension.kind == "overall":
        return f"overall-{dimension.axis.word}"
    return f"measure-{plan.dimensions.index(dimension) + 1}"


def note_key(plan: PartPlan, note: Note) -> str:
    """Name the group of a note, whatever the view adds to its words."""
    same = (note.kind, note.shapes, note.radius)
    number = next(n for n, one in enumerate(plan.notes, 1) if (one.kind, one.shapes, one.radius) == same)
    return f"note-{number}"


def grouped_run(plan: PartPlan, item: Sequence[Dimension], marks: Sequence[Mark]) -> tuple[Mark, ...]:
    """Put the marks of dimensions that run from one datum into their groups.

    Each value has one arrow, in their order, then its extension line and its text; the line, the ring and
    the zero that all of them share are the datum's.
    """
    keys = [dimension_key(plan, dimension) for dimension in item]
    shared = f"datum-{keys[-1]}"
    arrows = iter(keys)
    said = -1  # figures so far, the zero among them
    found: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Fill):
            key = next(arrows)
        elif isinstance(mark, Text):
            said += mark.role == "dimension"
            key = keys[said - 1] if said else shared
        else:
            key = keys[said] if 0 <= said < len(keys) else shared
        found += grouped((mark,), key)
    order = {key: place for place, key in enumerate((shared, *keys))}
    return tuple(sorted(found, key=lambda mark: order[mark.group] if not isinstance(mark, Link) else 0))


@dataclass(frozen=True)
class Sayings:
    """The groups of one part's sheet."""

    plan: PartPlan

    @cached_property
    def names(self) -> Names:
        """What the features and their edges are called."""
        return Names(self.plan)

    def groups(self, sights: Sequence[Sight], marks: Iterable[Mark]) -> tuple[Group, ...]:
        """Give the part, the views, every feature, and what the marks say about them."""
        used = Counter(mark.group for mark in marks if not isinstance(mark, Link))
        said = (*self._dimensions(), *self._notes())
        datums = tuple(self._datums(used))
        return (
            self._part(),
            *(self._view(sight) for sight in sights),
            *(self._feature(number) for number in range(len(self.plan.shapes))),
            *(group for group in said if used[group.key]),
            *datums,
        )

    def _part(self) -> Group:
        part = self.plan.part
        data = (
            ("grain-runs", part.runs.word),
            ("width-runs", part.wide.word),
            ("thickness-runs", part.thick.word),
        )
        return Group("part", "part", part.title, data)

    def _view(self, sight: Sight) -> Group:
        data = (("looks-at", sight.side.word), ("to-the-right", sight.right.word), ("upward", sight.up.word))
        return Group(view_key(sight), "view", caption(self.plan.part, sight.side), data)

    def _feature(self, number: int) -> Group:
        shape, part = self.plan.shapes[number], self.plan.part
        name = self.names.of(number)
        title = f"{name[0].upper()}{name[1:]}, {caption(part, shape.side).lower()}"
        data = (("name", name), *feature_data(self.names, number))
        return Group(f"feature-{number + 1}", "feature", title, data)

    def _dimensions(self) -> Iterator[Group]:
        for dimension in self.plan.dimensions:
            axis = dimension.axis
            start, end = dimension.pairs[0]
            towards = Side.of(axis, end > start).word
            data = [("axis", axis.word), ("says", dimension.kind), ("towards", towards)]
            data += _stretches(self.names, axis, dimension.pairs, "from", "to")
            if dimension.kind == "row":
                data.append(("steps", str(len(dimension.pairs))))
            if dimension.echoes:
                data += _stretches(self.names, axis, dimension.echoes, "also-from", "also-to")
            ends = (dimension.pairs[0][0], dimension.pairs[-1][1])
            title = " to ".join(next(iter(self.names.at(axis, end)), "") for end in ends)
            yield Group(dimension_key(self.plan, dimension), "dimension", title, tuple(data))

    def _notes(self) -> Iterator[Group]:
        for note in self.plan.notes:
            features = " ".join(f"feature-{number + 1}" for number in note.shapes)
            title = SEVERAL.join(self.names.of(number) for number in note.shapes)
            yield Group(
                note_key(self.plan, note), "note", title, (("says", note.kind), ("features", features))
            )

    def _datums(self, used: Counter[str]) -> Iterator[Group]:
        for key in sorted(key for key in used if key.startswith("datum-")):
            yield Group(key, "datum", "where running dimensions start")


def _stretches(
    names: Names, axis: Axis, pairs: Sequence[Pair], start: str, end: str
) -> list[tuple[str, str]]:
    return [
        (key, BETWEEN.join(SEVERAL.join(names.at(axis, pair[index])) for pair in pairs))
        for index, key in ((0, start), (1, end))
    ]
