"""Several of the same from one entry: a row, a grid, and the same again at the mirror place."""

from __future__ import annotations

from dataclasses import dataclass, replace

from plangen.expressions import Entry, Text
from plangen.joinery.cuts import BoreCut, BoxCut, Cut, PlaneCut, RoundCut, plane_axes
from plangen.joinery.fields import RowOf
from plangen.joinery.operation import Operation, Repeat
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.shapes import points_of
from plangen.joinery.space import AXIS_WORDS, ORIGIN, Axis, Box, Point, Side
from plangen.joinery.transform import Transform, mirroring, transform_operation
from plangen.units import ZERO, Length

MOST = 500  # of one entry


class InRows(Entry):
    """``along`` (the way the part runs) and ``over`` (square to it) make a row or a grid.

    It grows away from the sides that the first is measured from. ``mirrored: across`` makes the same
    again at the mirror place of the part's middle; a list mirrors in each direction.
    """

    along: RowOf | None = None
    over: RowOf | None = None
    mirrored: list[Text] | Text | None = None


@dataclass(frozen=True, slots=True)
class Rows:
    """Where the further ones lie: ``shifts`` from the first, which is among them; ``low`` the lowest."""

    shifts: tuple[Point, ...]
    low: Point
    repeat: tuple[Repeat, ...]

    def keep_apart(self, entry: InRows, box: Box, piece: Piece, bench: Bench, noun: str) -> bool:
        """Report a row whose cuts run into each other."""
        for repeat in self.repeat:
            if repeat.pitch <= box.size(repeat.axis):
                bench.findings.error(
                    "row",
                    f"the {noun}s of the row run into each other: they are as far apart as they are large",
                    entry.place,
                    "make the pitch larger than the cut",
                    part=piece.part,
                )
                return False
        return True

    def on_part(self, entry: InRows, box: Box, face: Side, piece: Piece, bench: Bench, noun: str) -> bool:
        """Report a row that runs off the face."""
        for shift in self.shifts:
            there = box.shifted(shift)
            for axis in Axis:
                low, high = piece.finished.low.at(axis), piece.finished.high.at(axis)
                if axis is face.axis or low <= there.low.at(axis) <= there.high.at(axis) <= high:
                    continue
                bench.findings.error(
                    f"{noun.replace(' ', '-')}-off-part",
                    f"a {noun} of the row leaves {piece.part}: {axis.word} it is off the {piece.call(face)}",
                    entry.place,
                    "check the number and the pitch of the row",
                    part=piece.part,
                )
                return False
        return True


def rows_of(
    entry: InRows, face: Side, datum: dict[Axis, Side], piece: Piece, bench: Bench, noun: str
) -> Rows | None:
    """Give the rows of an entry on a face; None, with a finding, when they cannot be.

    ``datum`` names the side that the first is measured from along each axis of the face.
    """
    lateral = [axis for axis in Axis if axis is not face.axis]
    along = piece.runs if piece.runs in lateral else lateral[0]
    over = next(axis for axis in lateral if axis is not along)
    rows: dict[Axis, tuple[int, Length]] = {}
    for row, axis in ((entry.along, along), (entry.over, over)):
        if row is None or row.number == 1:
            continue
        pitch = row.pitch.length(bench.scope) if row.pitch is not None else ZERO
        if row.number < 1 or pitch <= ZERO:
            bench.findings.error(
                "row",
                "a row needs a number of at least 1 and a pitch above zero",
                row.place if row.pitch is None or row.number < 1 else row.place_of("pitch"),
                f"for five {noun}s 32 mm apart: `{{number: 5, pitch: 32mm}}`",
                part=piece.part,
            )
            return None
        rows[axis] = (row.number, pitch * -datum[axis].sign)
    number = 1
    for count, _ in rows.values():
        number *= count
    if number > MOST:
        bench.findings.error(
            "row",
            f"{number} {noun}s are more than {MOST}",
            entry.place,
            "check the numbers of the rows",
            part=piece.part,
        )
        return None
    shifts, low, repeat = [ORIGIN], ORIGIN, []
    for axis in lateral:
        if axis not in rows:
            continue
        count, step = rows[axis]
        shifts = [shift.moved(axis, step * index) for shift in shifts for index in range(count)]
        low = low.moved(axis, min(ZERO, step * (count - 1)))
        repeat.append(Repeat(axis, count, abs(step)))
    return Rows(tuple(shifts), low, tuple(repeat))


def mirrored(entry: InRows, operation: Operation, piece: Piece, bench: Bench, noun: str) -> Operation | None:
    """Give an operation with the same again at the mirror places; None, with a finding, if they meet."""
    words = entry.mirrored
    for word in [] if words is None else [words] if isinstance(words, Text) else words:
        axis = AXIS_WORDS.get(str(word))
        if axis is None or axis is operation.side.axis:
            allowed = [one.word for one in Axis if one is not operation.side.axis]
            bench.findings.error(
                "unknown-word",
                f"`{word}` is no direction in which {noun}s of this face can be mirrored",
                word.place,
                f"write `{allowed[0]}` or `{allowed[1]}`",
                part=piece.part,
            )
            return None
        middle = Transform(
            mirroring(axis), ORIGIN.with_(axis, piece.finished.low.at(axis) + piece.finished.high.at(axis))
        )
        there = transform_operation(operation, middle)
        if any(_overlap(one, two) for one in operation.cuts for two in there.cuts):
            bench.findings.error(
                "row",
                f"the mirrored {noun} would lie on the first",
                word.place,
                f"move the {noun} away from the middle, or take `mirrored` out",
                part=piece.part,
            )
            return None
        operation = replace(
            operation,
            cuts=(*operation.cuts, *there.cuts),
            features=(*operation.features, *there.features),
        )
    return operation


def _overlap(one: Cut, two: Cut) -> bool:
    first, second = _bounds(one), _bounds(two)
    return all(first[axis][0] < second[axis][1] and second[axis][0] < first[axis][1] for axis in Axis)


def _bounds(cut: Cut) -> dict[Axis, tuple[float, float]]:
    """The room that a cut takes along each axis, mm; a bore's as if it were square to its face."""
    assert not isinstance(cut, PlaneCut), "planes come one to an end"
    if isinstance(cut, BoxCut):
        return {axis: (float(cut.box.low.at(axis)), float(cut.box.high.at(axis))) for axis in Axis}
    if isinstance(cut, RoundCut | BoreCut):
        radius = float(cut.diameter) / 2
        return {
            axis: (float(cut.mouth.at(axis)) - radius, float(cut.mouth.at(axis)) + radius) for axis in Axis
        }
    points = points_of(cut.loops[0])
    found = {cut.axis: (float(cut.low), float(cut.high))}
    for index, axis in enumerate(plane_axes(cut.axis)):
        values = [point[index] for point in points]
        found[axis] = (min(values), max(values))
    return found
