"""Where everything of one cutting diagram stands on the paper, before anything is drawn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from plangen.drawing.cutting_callouts import AIR, NEAR, Above, above
from plangen.drawing.cutting_marks import DISC
from plangen.drawing.cutting_text import (
    LARGE,
    LEADING,
    RING,
    SMALL,
    Rect,
    block_size,
    length_lines,
    ring_half,
    size_lines,
    spread,
    write_inside,
)
from plangen.drawing.sheet.fit import fitted_lines
from plangen.drawing.sheet.lettering import text_width
from plangen.drawing.sheet.model import Weight, Xy
from plangen.takeoff.model import CuttingDiagram, OffCut, Placed, SawCut
from plangen.takeoff.saw_settings import SawSetting, saw_settings
from plangen.units import Length, LengthStyle

HEAD = 8.0  # mm of one line of heading
GRAIN, ARROW = "grain", 12.0  # its word, and the length of its arrow in mm
STEM = 2.6  # mm that the number of a cut stands off
CALLOUT = 11.0  # a row for marks that find no room inside, and its leaders' bends
BOX, BOX_STEP, BOX_ROW = 4.2, 6.0, 6.4  # mm: a box to tick, from one to the next, and a row of them
BETWEEN_READINGS = 2.0  # mm, as they stand beside each other
_PILL_AIR = 0.8  # mm from ring to ring where sizes find no room beside them


@dataclass(frozen=True, slots=True)
class Readings:
    """Tape readings under a board: which cuts have one, where, and how they are set."""

    cuts: tuple[SawCut, ...]
    centres: tuple[float, ...]
    size: float
    angle: float
    height: float  # mm that they take


@dataclass(frozen=True, slots=True)
class Small:
    """Equal pieces that are too small to be written in: columns of one or more, beside each other."""

    columns: tuple[tuple[Placed, ...], ...]

    @property
    def one(self) -> Placed:
        """The first of them."""
        return self.columns[0][0]

    @property
    def pieces(self) -> tuple[Placed, ...]:
        """All of them."""
        return tuple(piece for column in self.columns for piece in column)


@dataclass(frozen=True, slots=True)
class Callouts:
    """What stands over a board: numbers of cuts, and marks of small pieces, sized or not."""

    cuts: tuple[SawCut, ...]
    groups: tuple[Small, ...]
    places: Above
    sized: bool


def right_room(diagram: CuttingDiagram, style: LengthStyle) -> float:
    """Give the room in mm that numbers and readings to the right of a board take."""
    widths = [block_size(length_lines(cut.position, style), LARGE)[0] for cut in outer_rips(diagram)]
    return STEM + 2 * DISC + 1.2 + max(widths) + 0.2 if widths else 0.0


def rips_fit(diagram: CuttingDiagram, style: LengthStyle, scale: float) -> bool:
    """Say whether the rips of the whole board can be numbered beside it without running past its corners."""
    high = max(2 * DISC, block_size(length_lines(diagram.width, style), LARGE)[1]) + 0.6
    return len(outer_rips(diagram)) * high <= float(diagram.width) * scale + 2 * DISC


def outer_crosscuts(diagram: CuttingDiagram) -> list[SawCut]:
    """Give the crosscuts that can be marked out on the whole board: nothing wanted lies beside their ends."""
    low = min((piece.y for piece in diagram.pieces), default=diagram.width)
    high = max((piece.y + piece.width for piece in diagram.pieces), default=diagram.width)
    found = [cut for cut in diagram.cuts if cut.along == "y" and cut.low <= low and high <= cut.high]
    return sorted(found, key=lambda cut: cut.position)


def outer_rips(diagram: CuttingDiagram) -> list[SawCut]:
    """Give the rips that can be marked out on the whole board."""
    low = min((piece.x for piece in diagram.pieces), default=diagram.length)
    found = [
        cut for cut in diagram.cuts if cut.along == "x" and cut.high == diagram.length and cut.low <= low
    ]
    return sorted(found, key=lambda cut: cut.position)


@dataclass(frozen=True)
class Ground:
    """One diagram on the paper, for all boards that are cut alike; ``top`` is the upper edge of its block."""

    alike: tuple[CuttingDiagram, ...]
    style: LengthStyle
    scale: float
    room: float
    top: float
    kerf: Length
    ticked: bool = False  # with a box to tick for each board

    @property
    def diagram(self) -> CuttingDiagram:
        """The first of the boards, which is drawn."""
        return self.alike[0]

    @cached_property
    def settings(self) -> tuple[SawSetting, ...]:
        """What the saw is set to."""
        return saw_settings(self.diagram)

    # the heading

    @cached_property
    def name(self) -> str:
        """The boards by their numbers: ``Board 1``, ``Boards 2 to 4``, ``Boards 1, 3``."""
        noun = self.diagram.kind.capitalize()
        numbers = [one.number for one in self.alike]
        if len(numbers) == 1:
            return f"{noun} {numbers[0]}"
        if all(b - a == 1 for a, b in pairwise(numbers)):
            return f"{noun}s {numbers[0]} {'and' if len(numbers) == 2 else 'to'} {numbers[-1]}"
        return f"{noun}s {', '.join(map(str, numbers))}"

    @cached_property
    def title(self) -> tuple[str, ...]:
        """What to buy and how many, in as many lines as it needs between the name and the grain's arrow."""
        title = self.diagram.title.text(self.style, unit=self.style.system == "both")
        if len(self.alike) > 1:
            title = f"{title}: cut {len(self.alike)} like this"
        taken = self.title_from + text_width(GRAIN, SMALL) + ARROW + 4.0
        return fitted_lines(title, self.room - taken, SMALL)[1]

    @property
    def name_from(self) -> float:
        """Where the name begins: after its box, where there is one."""
        return BOX + 1.8 if self.ticked and len(self.alike) == 1 else 0.0

    @property
    def title_from(self) -> float:
        """Where the title begins."""
        return self.name_from + text_width(self.name, LARGE, Weight.SEMIBOLD) + 3.5

    @cached_property
    def boxes(self) -> list[tuple[int, int]]:
        """Row and place in its row of the box of each board, where there are several to tick."""
        if not self.ticked or len(self.alike) == 1:
            return []
        in_row = int((self.room - BOX) // BOX_STEP) + 1
        return [divmod(number, in_row) for number in range(len(self.alike))]

    @property
    def head(self) -> float:
        """The height in mm of the heading."""
        rows = self.boxes[-1][0] + 1 if self.boxes else 0
        return HEAD + (len(self.title) - 1) * SMALL * LEADING + rows * BOX_ROW

    # the board

    @cached_property
    def board(self) -> Rect:
        """The board on the paper; a row for small pieces stands over it only where there are some."""
        over = 2 * DISC + STEM if self.callouts.cuts else STEM
        row = CALLOUT if self.callouts.groups else 0.0
        high = self.top - self.head - over - row
        low = high - float(self.diagram.width) * self.scale
        return 0.0, low, self._long, high

    @property
    def _long(self) -> float:
        return float(self.diagram.length) * self.scale

    def at(self, x: Length, y: Length) -> Xy:
        """Give the place on the paper of a point of the board."""
        return float(x) * self.scale, self.board[1] + float(y) * self.scale

    def rect(self, item: Placed | OffCut) -> Rect:
        """Give the place on the paper of a piece or an off-cut."""
        return (*self.at(item.x, item.y), *self.at(item.x + item.length, item.y + item.width))

    def middle(self, cut: SawCut) -> float:
        """Give the coordinate on the paper of the middle of the kerf."""
        along = self._along(cut)
        return along if cut.along == "y" else self.board[1] + along

    def _along(self, cut: SawCut) -> float:
        end = self.diagram.length if cut.along == "y" else self.diagram.width
        kerf = min(float(self.kerf), float(end - cut.position))
        return (float(cut.position) + kerf / 2) * self.scale

    def line(self, cut: SawCut) -> tuple[Xy, Xy]:
        """Give the line of a cut."""
        at, base = self.middle(cut), self.board[1]
        low, high = float(cut.low) * self.scale, float(cut.high) * self.scale
        if cut.along == "y":
            return (at, base + low), (at, base + high)
        return (low, at), (high, at)

    def size(self, piece: Placed) -> tuple[str, ...]:
        """Print the size of a piece, and that it is spare."""
        *lines, last = size_lines(piece.width, piece.length, self.style)
        return (*lines, f"{last}, spare" if piece.spare else last)

    # what stands round it

    @cached_property
    def rips(self) -> list[SawCut]:
        """The rips that are numbered beside the board: all that cross it, or none of too many."""
        across = self._long + right_room(self.diagram, self.style)
        if across > self.room + 0.01 or not rips_fit(self.diagram, self.style, self.scale):
            return []
        return outer_rips(self.diagram)

    @property
    def _edge(self) -> float:
        """How far right what stands over and under the board may reach."""
        return self._long if self.rips else self.room

    @cached_property
    def inner_cuts(self) -> list[SawCut]:
        """The cuts that are numbered on their own lines."""
        outer = {cut.number for cut in (*outer_crosscuts(self.diagram), *self.rips)}
        return [cut for cut in self.diagram.cuts if cut.number not in outer]

    def _fewer(self) -> Iterator[list[SawCut]]:
        """Give the crosscuts of the whole board, then the first and last of each setting, then fewer yet."""
        cuts = outer_crosscuts(self.diagram)
        yield cuts
        ends = {number for one in self.settings for number in (one.numbers[0], one.numbers[-1])}
        some = [cut for cut in cuts if cut.number in ends]
        while len(some) > 1:
            yield some
            some = some[::2]
        yield some

    @cached_property
    def readings(self) -> Readings:
        """The tape readings: as large as they find room under the board, upright where there are many."""
        tried = Readings((), (), LARGE, 0.0, self._reading_height(LARGE))
        for cuts in self._fewer():
            blocks = [block_size(length_lines(cut.position, self.style), 1.0) for cut in cuts]
            for size, angle in ((LARGE, 0.0), (SMALL, 0.0), (SMALL, 90.0)):
                widths = [size * (high if angle else wide) for wide, high in blocks]
                gap = 1.0 if angle else BETWEEN_READINGS
                if sum(widths) + gap * (len(cuts) - 1) > self._edge:
                    continue
                wanted = [self._along(cut) for cut in cuts]
                centres = spread(wanted, [wide / 2 for wide in widths], gap, 0.0, self._edge)
                tall = max((size * wide for wide, _ in blocks), default=0.0)
                height = STEM + 1.2 + tall + 0.6 if angle else self._reading_height(size)
                return Readings(tuple(cuts), tuple(centres), size, angle, height)
        return tried

    def _reading_height(self, size: float) -> float:
        return STEM + 1.2 + block_size(["0"] * (2 if self.style.system == "both" else 1), size)[1]

    @cached_property
    def callouts(self) -> Callouts:
        """The numbers over the board and the marks of small pieces, as many as find room there."""
        columns = self._columns
        together = self._beside(columns)
        named = ((columns, True), (together, True), (columns, False), (together, False))
        nameless: tuple[tuple[tuple[Small, ...], bool], ...] = (((), False),)
        for ways in (named, nameless):
            for cuts in self._fewer():
                for groups, sized in ways:
                    places = self._over(cuts, groups, sized)
                    if places is not None:
                        return Callouts(tuple(cuts), groups, places, sized)
        return Callouts((), (), Above((), (), ()), False)

    def _over(self, cuts: Sequence[SawCut], groups: Sequence[Small], sized: bool) -> Above | None:
        """Place numbers and leaders; None where they do not find room."""
        if len(cuts) * (2 * DISC + AIR) + len(groups) * AIR > self._edge + AIR:
            return None
        if not self._in_a_row(groups, sized):
            return None
        spans = []
        for group in groups:
            column = group.columns[0]
            low, high = max(one.x for one in column), min(one.x + one.length for one in column)
            spans.append((float(low) * self.scale + 0.4, float(high) * self.scale - 0.4))
        if any(low >= high for low, high in spans):
            return None
        places = above([self._along(cut) for cut in cuts], spans, 0.0, self._edge)
        feet = sorted(places.feet)
        if any(b - a < NEAR - 1e-6 for a, b in pairwise(feet)) or self._crossing(groups, places.feet):
            return None
        return places

    def _crossing(self, groups: Sequence[Small], feet: Sequence[float]) -> bool:
        """Say whether a line from piece to piece of a row would cross the leader of another row."""
        ends = [min(one.y + one.width / 2 for one in group.columns[0]) for group in groups]
        for group, foot in zip(groups, feet, strict=True):
            start, last = group.columns[0][0], group.columns[-1][0]
            reach = foot + float(last.x - start.x) * self.scale
            levels = [one.y + one.width / 2 for one in group.columns[0]] if len(group.columns) > 1 else []
            for other, other_foot, end in zip(groups, feet, ends, strict=True):
                if other is not group and foot < other_foot < reach and any(end < y for y in levels):
                    return True
        return False

    def _in_a_row(self, groups: Sequence[Small], sized: bool) -> bool:
        gap = 2.0 if sized else _PILL_AIR
        return sum(2 * self.half(group, sized) + gap for group in groups) - gap <= self._edge

    def half(self, group: Small, sized: bool) -> float:
        """Give half the width in mm of a callout."""
        ring = ring_half(group.one.mark, RING)
        return ring + 0.6 + text_width(self.words(group), SMALL) / 2 if sized else ring

    def words(self, group: Small) -> str:
        """Say the size of small pieces, their number, and how many of them are spare."""
        words = " ".join(size_lines(group.one.width, group.one.length, self.style))
        number, spare = len(group.pieces), sum(piece.spare for piece in group.pieces)
        if number > 1:
            return f"{words}, {number} pieces" + (f", {spare} spare" if spare else "")
        return f"{words}, spare" if spare else words

    def centres(self) -> list[float]:
        """Give the middles of the callouts, which stand in the order of their slots."""
        found = self.callouts
        order = sorted(range(len(found.groups)), key=lambda index: found.places.slots[index])
        halves = [self.half(found.groups[index], found.sized) for index in order]
        wanted = [found.places.slots[index] for index in order]
        places = spread(wanted, halves, 2.0 if found.sized else _PILL_AIR, 0.0, self._edge)
        return [place for _, place in sorted(zip(order, places, strict=True))]

    def too_small(self, piece: Placed) -> bool:
        """Say whether a piece can certainly not hold its mark and size."""
        area = (0.0, 0.0, float(piece.length) * self.scale, float(piece.width) * self.scale)
        return write_inside(piece.mark, self.size(piece), "", area, ()) is None

    @cached_property
    def unnamed(self) -> tuple[Placed, ...]:
        """The pieces that find room for their marks neither inside nor over the board."""
        named = {id(piece) for group in self.callouts.groups for piece in group.pieces}
        return tuple(one for one in self.diagram.pieces if self.too_small(one) and id(one) not in named)

    @cached_property
    def _columns(self) -> tuple[Small, ...]:
        """The pieces that are too small to be written in: equal ones that lie above each other together."""
        groups: dict[tuple[str, Length, Length, Length], list[Placed]] = {}
        for piece in self.diagram.pieces:
            if self.too_small(piece):
                groups.setdefault((piece.part, piece.x, piece.length, piece.width), []).append(piece)
        return tuple(Small((tuple(group),)) for group in groups.values())

    def _beside(self, columns: Sequence[Small]) -> tuple[Small, ...]:
        """Join columns of equal pieces beside each other, with no more than a saw cut between them."""
        joined: list[list[tuple[Placed, ...]]] = []
        for group in columns:
            [column] = group.columns
            for row in joined:
                last, one = row[-1][0], column[0]
                same = (last.part, last.length, last.width) == (one.part, one.length, one.width)
                level = [piece.y for piece in row[-1]] == [piece.y for piece in column]
                if same and level and abs(one.x - last.x - last.length) <= self.kerf:
                    row.append(column)
                    break
            else:
                joined.append([column])
        return tuple(Small(tuple(row)) for row in joined)
