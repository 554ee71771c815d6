"""What each view says, and the views finished: dimensions first, then notes, each worked out once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from plangen.design.model import Part
from plangen.drawing.dimension_lines import DimensionLook
from plangen.drawing.part_sheets.captions import caption
from plangen.drawing.part_sheets.marked import grouped, view_key
from plangen.drawing.part_sheets.notes import Note
from plangen.drawing.part_sheets.noting import add_notes
from plangen.drawing.part_sheets.picture import Outlines, Picture, Stretches, rulers
from plangen.drawing.part_sheets.placing import ANY_ROOM, Placed, View, place_dimensions
from plangen.drawing.part_sheets.plan import Dimension, PartPlan
from plangen.drawing.part_sheets.shapes import Shape
from plangen.drawing.part_sheets.sights import Arrangement, Sight
from plangen.drawing.part_sheets.viewlines import banding_marks, centre_marks, edges, sight_lines
from plangen.drawing.scales import Scale
from plangen.drawing.sheet.model import Xy
from plangen.joinery.space import Axis
from plangen.units import LengthStyle

_WAYS = {"right": "right", "left": "left", "above": "up", "below": "down"}
_OPPOSITE = {"right": "left", "left": "right", "above": "below", "below": "above"}


@dataclass
class Viewer:
    """Makes the views of one part; a view that is asked for again at the same scale is not made again.

    A ``lenient`` one lets texts and lines clash where there is no other way.
    """

    plan: PartPlan
    outlines: Outlines
    style: LengthStyle
    look: DimensionLook
    lenient: bool = False
    _known: dict[object, Placed] = field(default_factory=dict)

    def dimensioned(
        self, arrangement: Arrangement, sight: Sight, scale: Scale, left_out: Stretches,
        room: Xy = ANY_ROOM,
    ) -> Placed:  # fmt: skip
        """Place the dimensions that a view of the arrangement says, in a room (width, height)."""
        here = tuple(
            dimension
            for dimension in self.plan.dimensions
            if arrangement.showing(dimension.axis, self._looks(dimension)) == sight
        )
        crowded = tuple(_WAYS[other.station] for other in arrangement.sights if other.station != "middle")
        if sight.station != "middle":
            crowded = (_WAYS[_OPPOSITE[sight.station]],)
        key = (sight, scale, left_out, here, crowded, room)
        if key not in self._known:
            across, upward = rulers(self.plan.part, sight, scale.factor, left_out)
            picture = Picture(self.plan.part, sight, across, upward, self.outlines.seen_from(sight))
            notes = self._notes(arrangement, sight)
            numbers = {n for item in here for n in item.shapes} | {n for note in notes for n in note.shapes}
            told = [self.plan.shapes[n] for n in sorted(numbers)]
            lines = (
                *edges(picture, self._wanting_hidden(told, sight)),
                *centre_marks(self.plan, picture),
                *sight_lines(self.plan, picture),
                *banding_marks(self.plan, picture),
            )
            self._known[key] = place_dimensions(
                self.plan, picture, grouped(lines, view_key(sight)), here, self.style, self.look,
                crowded, room, lenient=self.lenient,
            )  # fmt: skip
        return self._known[key]

    def finished(
        self, arrangement: Arrangement, placed: Placed, note_width: float, room: Xy = ANY_ROOM
    ) -> View | None:
        """Add the notes that a view says, their lines broken at ``note_width`` mm; None without room."""
        return add_notes(placed, self._notes(arrangement, placed.picture.sight), note_width, room)

    def _notes(self, arrangement: Arrangement, sight: Sight) -> tuple[Note, ...]:
        return tuple(
            _from_where(self.plan.part, note, sight)
            for note in self.plan.notes
            if _note_sight(arrangement, note) == sight
        )

    def _looks(self, dimension: Dimension) -> tuple[Axis, ...]:
        """Give the looks of a dimension; the blank's own sizes go to the face, the thickness to an end."""
        part = self.plan.part
        blank = tuple(axis for axis in (part.thick, part.runs, part.wide) if axis is not dimension.axis)
        return dimension.looks or blank

    def _wanting_hidden(self, told: Iterable[Shape], sight: Sight) -> list[Shape]:
        """Choose the shapes whose hidden edges help: what the view speaks of, and what is cut from behind."""
        chosen = list(told)
        behind = sight.side.opposite
        chosen += [shape for shape in self.plan.shapes if shape.side is behind and shape not in chosen]
        return chosen


def _note_sight(arrangement: Arrangement, note: Note) -> Sight:
    for look in note.looks:
        for sight in arrangement.sights:
            if sight.is_along(look):
                return sight
    return arrangement.sights[0]


def _from_where(part: Part, note: Note, sight: Sight) -> Note:
    """Say in a note that the work is done from a side that the view does not show."""
    if note.kind == "mark":
        here = note.side is sight.side
        return note if here else replace(note, text=f"{note.text}, on the {caption(part, note.side).lower()}")
    if note.kind != "hole" or note.both or note.side is sight.side or note.text.endswith("through"):
        return note
    return replace(note, text=f"{note.text}, from the {caption(part, note.side).lower()}")
