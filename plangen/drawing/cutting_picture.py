"""One board or sheet on the paper: its pieces, its cuts, its readings, and every text clear of every line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely.geometry import LineString, box

from plangen.drawing.cutting_callouts import Above, above
from plangen.drawing.cutting_marks import DISC, corners, disc, grain_arrow, lines_of, square, steps
from plangen.drawing.cutting_text import (
    FIGURE,
    LARGE,
    LEADING,
    RING,
    SMALL,
    Rect,
    Written,
    block_size,
    length_lines,
    overlap,
    ring_half,
    ring_letter,
    size_lines,
    spread,
    text_block,
    write_inside,
    write_plain,
)
from plangen.drawing.dimension_lines import circle
from plangen.drawing.labels import DOT, balloon
from plangen.drawing.sheet.fit import fitted_lines
from plangen.drawing.sheet.lettering import text_width
from plangen.drawing.sheet.measure import DESCENT_SHARE, FIGURE_SHARE, FRACTION_SHARE
from plangen.drawing.sheet.model import Fill, Mark, Meaning, Stroke, Text, Tone, Weight, Xy
from plangen.takeoff.model import CuttingDiagram, OffCut, Placed, SawCut
from plangen.units import Length, LengthStyle

HEAD, CAPTION, BETWEEN = 8.0, 8.0, 9.0  # mm: the heading, the line under the readings, between two diagrams
GRAIN, ARROW = "grain", 12.0  # its word, and the length of its arrow in mm
STEM = 2.6  # mm that the number of a cut stands off
CALLOUT = 11.0  # a row for marks that find no room inside, and its leaders' bends
HATCH_STEP = 1.7
_EDGE = 0.13  # mm from the middle of a cut's line to its paper


def reading_height(style: LengthStyle) -> float:
    """Give the room in mm that the tape readings under a board take."""
    return STEM + 1.2 + block_size(["0"] * (2 if style.system == "both" else 1), LARGE)[1]


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
    return [cut for cut in diagram.cuts if cut.along == "y" and cut.high == diagram.width and cut.low <= low]


def outer_rips(diagram: CuttingDiagram) -> list[SawCut]:
    """Give the rips that can be marked out on the whole board."""
    low = min((piece.x for piece in diagram.pieces), default=diagram.length)
    return [cut for cut in diagram.cuts if cut.along == "x" and cut.high == diagram.length and cut.low <= low]


@dataclass(frozen=True)
class Picture:
    """One diagram on the paper; ``top`` is the upper edge of its block."""

    diagram: CuttingDiagram
    style: LengthStyle
    scale: float
    room: float
    top: float
    kerf: Length

    @cached_property
    def board(self) -> Rect:
        """The board on the paper; a row for small pieces stands over it only where there are some."""
        discs = 2 * DISC + STEM if outer_crosscuts(self.diagram) else STEM
        row = CALLOUT if any(self._too_small(piece) for piece in self.diagram.pieces) else 0.0
        high = self.top - self._head - discs - row
        low = high - float(self.diagram.width) * self.scale
        return 0.0, low, float(self.diagram.length) * self.scale, high

    @cached_property
    def _title(self) -> tuple[str, ...]:
        """What to buy, in as many lines as it needs between the name of the board and the grain's arrow."""
        title = self.diagram.title.text(self.style, unit=self.style.system == "both")
        taken = self._title_from + text_width(GRAIN, SMALL) + ARROW + 4.0
        return fitted_lines(title, self.room - taken, SMALL)[1]

    @property
    def _name(self) -> str:
        return f"{self.diagram.kind.capitalize()} {self.diagram.number}"

    @property
    def _title_from(self) -> float:
        return text_width(self._name, LARGE, Weight.SEMIBOLD) + 3.5

    @property
    def _head(self) -> float:
        return HEAD + (len(self._title) - 1) * SMALL * LEADING

    def _too_small(self, piece: Placed) -> bool:
        """Say whether a piece can certainly not hold its mark and size."""
        area = (0.0, 0.0, float(piece.length) * self.scale, float(piece.width) * self.scale)
        return write_inside(piece.mark, self._size(piece), "", area, ()) is None

    def _size(self, piece: Placed) -> tuple[str, ...]:
        return size_lines(piece.width, piece.length, self.style)

    def at(self, x: Length, y: Length) -> Xy:
        """Give the place on the paper of a point of the board."""
        return float(x) * self.scale, self.board[1] + float(y) * self.scale

    def rect(self, item: Placed | OffCut) -> Rect:
        """Give the place on the paper of a piece or an off-cut."""
        return (*self.at(item.x, item.y), *self.at(item.x + item.length, item.y + item.width))

    def marks(self) -> list[Mark]:
        """Draw everything, lines before texts."""
        board, diagram = self.board, self.diagram
        marks: list[Mark] = [Fill((corners(board),), Tone.PAPER)]
        marks += [Fill((corners(self.rect(piece)),), Tone.STOCK) for piece in diagram.pieces]
        marks += self._hatch()
        marks += [Stroke(line, Meaning.CUT) for line in self._cut_lines()]
        marks.append(Stroke(corners(board), Meaning.VISIBLE, closed=True))
        callouts, taken = self._callouts()
        marks += callouts
        marks += self._outer_marks()
        marks += self._labels(taken)
        discs = self._inner_discs(taken)
        marks += discs
        marks += self._heading(not discs)
        return marks

    def _hatch(self) -> Iterator[Stroke]:
        """Hatch what is neither a piece nor worth keeping; kerfs are too thin to hatch."""
        items: list[Placed | OffCut] = [*self.diagram.pieces, *self.diagram.off_cuts]
        kept = [box(*self.rect(item)) for item in items]
        waste = box(*self.board).difference(shapely.union_all(kept)).buffer(-0.2, join_style="mitre")
        low_x, low_y, high_x, high_y = self.board
        reach = high_y - low_y
        steps = int((high_x - low_x + reach) / HATCH_STEP)
        for index in range(1, steps + 1):
            x = low_x - reach + index * HATCH_STEP
            for line in lines_of(LineString([(x, low_y), (x + reach, high_y)]).intersection(waste)):
                yield Stroke(line, Meaning.HATCH)

    def _middle(self, cut: SawCut) -> float:
        """Give the coordinate on the paper of the middle of the kerf."""
        kerf = min(float(self.kerf), float(self._end(cut) - cut.position))
        middle = (float(cut.position) + kerf / 2) * self.scale
        return middle if cut.along == "y" else self.board[1] + middle

    def _end(self, cut: SawCut) -> Length:
        return self.diagram.length if cut.along == "y" else self.diagram.width

    def _cut_lines(self) -> Iterator[tuple[Xy, ...]]:
        for cut in self.diagram.cuts:
            at = self._middle(cut)
            low, high = float(cut.low) * self.scale, float(cut.high) * self.scale
            if cut.along == "y":
                yield (at, self.board[1] + low), (at, self.board[1] + high)
            else:
                yield (low, at), (high, at)

    def _rips(self) -> list[SawCut]:
        """Give the rips that are numbered beside the board: all that cross it, or none of too many."""
        across = self.board[2] + right_room(self.diagram, self.style)
        if across > self.room + 0.01 or not rips_fit(self.diagram, self.style, self.scale):
            return []
        return outer_rips(self.diagram)

    def _inner_cuts(self) -> list[SawCut]:
        outer = {cut.number for cut in (*outer_crosscuts(self.diagram), *self._rips())}
        return [cut for cut in self.diagram.cuts if cut.number not in outer]

    def _inner_discs(self, taken: Sequence[Rect]) -> list[Mark]:
        """Number the cuts inside, each on its own line; none at all where one of them has no room."""
        marks: list[Mark] = []
        rooms = list(taken)
        for cut in self._inner_cuts():
            centre = self._disc_place(cut, rooms)
            if centre is None:
                return []
            marks += disc(centre, cut.number)
            rooms.append(square(centre, DISC + 0.2))
        return marks

    def _disc_place(self, cut: SawCut, taken: Sequence[Rect]) -> Xy | None:
        """Choose a place on the cut's line, near its far end, that hides no text and no other cut."""
        line, low, high = self._middle(cut), float(cut.low) * self.scale, float(cut.high) * self.scale
        base = self.board[1]
        others = [
            (
                min(start[0], end[0]),
                min(start[1], end[1]),
                max(start[0], end[0]) + 0.01,
                max(start[1], end[1]) + 0.01,
            )
            for number, (start, end) in enumerate(self._cut_lines())
            if self.diagram.cuts[number] is not cut
        ]
        for along in steps(high - DISC - 0.8, low + DISC + 0.8):
            centre = (along, line) if cut.along == "x" else (line, base + along)
            room = square(centre, DISC)
            if not any(overlap(room, other) for other in (*taken, *others)):
                return centre
        return None

    def _outer_marks(self) -> Iterator[Mark]:
        """Number above and read below the crosscuts of the whole board; rips to the right of it."""
        board = self.board
        crosscuts = outer_crosscuts(self.diagram)
        wanted = [self._middle(cut) for cut in crosscuts]
        edge = board[2] if self._rips() else self.room
        row = board[3] + STEM + DISC
        for cut, x, centre in zip(crosscuts, wanted, self._above.discs, strict=True):
            yield Stroke(((x, board[3]), (centre, row)), Meaning.LEADER)
            yield from disc((centre, row), cut.number)
        blocks = [length_lines(cut.position, self.style) for cut in crosscuts]
        halves = [block_size(lines, LARGE)[0] / 2 for lines in blocks]
        below = board[1] - STEM
        for lines, x, centre in zip(blocks, wanted, spread(wanted, halves, 2.0, 0.0, edge), strict=True):
            _, high = block_size(lines, LARGE)
            yield Stroke(((x, board[1]), (x if abs(centre - x) < 0.5 else centre, below)), Meaning.LEADER)
            yield from text_block(lines, (centre, below - 1.0 - high / 2), LARGE, role="dimension")
        yield from self._outer_rip_marks()

    def _outer_rip_marks(self) -> Iterator[Mark]:
        board, rips = self.board, self._rips()
        wanted = [self._middle(cut) for cut in rips]
        blocks = [length_lines(cut.position, self.style) for cut in rips]
        halves = [max(DISC, block_size(lines, LARGE)[1] / 2) for lines in blocks]
        low, high = board[1] - DISC, board[3] + DISC
        for cut, lines, y, centre in zip(
            rips, blocks, wanted, spread(wanted, halves, 0.6, low, high), strict=True
        ):
            x = board[2] + STEM + DISC
            yield Stroke(((board[2], y), (x, centre)), Meaning.LEADER)
            yield from disc((x, centre), cut.number)
            wide, _ = block_size(lines, LARGE)
            yield from text_block(lines, (x + DISC + 1.2 + wide / 2, centre), LARGE, role="dimension")

    def _labels(self, taken: list[Rect]) -> Iterator[Mark]:
        """Write mark and size into every piece that can hold them, then sizes into off-cuts.

        The room of each is added to ``taken``. Where a leader leaves no room beside it, it is broken.
        """
        for piece in self.diagram.pieces:
            if self._too_small(piece):
                continue
            target, area = f"part:{piece.part}", self.rect(piece)
            written = write_inside(piece.mark, self._size(piece), target, area, taken)
            if written is None:
                written = write_inside(piece.mark, self._size(piece), target, area, ())
                if written is not None:
                    yield Fill((corners(_behind(written.room, area)),), Tone.STOCK)
            if written is not None:
                yield from written.marks
                taken.append(written.room)
        for off_cut in self.diagram.off_cuts:
            noted = self._off_cut_note(off_cut, taken)
            if noted is not None:
                yield from noted.marks
                taken.append(noted.room)

    def _off_cut_note(self, off_cut: OffCut, taken: Sequence[Rect]) -> Written | None:
        sizes = size_lines(off_cut.width, off_cut.length, self.style)
        for lines, tones in (
            (("off-cut", *sizes), (Tone.SECONDARY, *[Tone.INK] * len(sizes))),
            (sizes, [Tone.INK] * len(sizes)),
            (("off-cut",), (Tone.SECONDARY,)),
        ):
            written = write_plain(lines, tones, self.rect(off_cut), taken)
            if written is not None:
                return written
        return None

    def _callouts(self) -> tuple[list[Mark], list[Rect]]:
        """Write small pieces in a row above the cut numbers, each with a leader to its own piece.

        Equal ones above each other share a leader with a dot in each. Returns the room that the leaders
        take on the board as well.
        """
        board = self.board
        row = self.top - self._head - RING
        bend = board[3] + (2 * DISC + STEM if self._above.discs else STEM) + 0.8
        entries: list[tuple[float, float, list[Rect], Placed, str]] = []
        for group, x, slot in zip(self._small_groups, self._above.feet, self._above.slots, strict=True):
            words = " ".join(self._size(group[0]))
            words = f"{words}, {len(group)} pieces" if len(group) > 1 else words
            entries.append((x, slot, [self.rect(piece) for piece in group], group[0], words))
        entries.sort(key=lambda entry: entry[0])
        rings = [ring_half(piece.mark, RING) for *_, piece, _ in entries]
        halves = [
            ring + 0.6 + text_width(text, SMALL) / 2 for ring, (*_, text) in zip(rings, entries, strict=True)
        ]
        room = board[2] if self._rips() else self.room
        sized = sum(2 * half + 2.0 for half in halves) - 2.0 <= room
        halves = halves if sized else rings
        centres = spread([entry[1] for entry in entries], halves, 2.0 if sized else 0.8, 0.0, room)
        marks: list[Mark] = []
        taken: list[Rect] = []
        for (x, slot, rects, piece, text), half, radius, centre in zip(
            entries, halves, rings, centres, strict=True
        ):
            ring = centre - half + radius
            foot = min((rect[1] + rect[3]) / 2 for rect in rects)
            way = [(slot, bend)] if slot == x else [(slot, bend), (slot, board[3] + STEM), (x, board[3])]
            marks.append(Stroke(((ring, row - RING), *way, (x, foot)), Meaning.LEADER))
            marks += [Fill((circle((x, (rect[1] + rect[3]) / 2), DOT, 20),), Tone.INK) for rect in rects]
            letter = ring_letter(piece.mark, RING)
            marks += balloon((ring, row), piece.mark, target=f"part:{piece.part}", radius=RING, size=letter)
            if sized:
                at = (ring + radius + 1.2, row - SMALL * FIGURE / 2)
                marks.append(Text(at, text, SMALL, role="size"))
            taken.append((x - 0.3, foot - 0.3, x + 0.3, board[3]))
        return marks, taken

    @cached_property
    def _small_groups(self) -> list[list[Placed]]:
        """Group the pieces that are too small to be written in: equal ones that lie above each other."""
        groups: list[list[Placed]] = []
        for piece in self.diagram.pieces:
            if not self._too_small(piece):
                continue
            for group in groups:
                one = group[0]
                if (one.part, one.x, one.length, one.width) == (
                    piece.part,
                    piece.x,
                    piece.length,
                    piece.width,
                ):
                    group.append(piece)
                    break
            else:
                groups.append([piece])
        return groups

    @cached_property
    def _above(self) -> Above:
        """Where the numbers of the crosscuts stand above the board, and the leaders between them."""
        cuts = [self._middle(cut) for cut in outer_crosscuts(self.diagram)]
        pieces = []
        for group in self._small_groups:
            rects = [self.rect(piece) for piece in group]
            pieces.append((max(rect[0] for rect in rects) + 0.4, min(rect[2] for rect in rects) - 0.4))
        return above(cuts, pieces, 0.0, self.board[2] if self._rips() else self.room)

    def _heading(self, unnumbered: bool) -> Iterator[Mark]:
        """Name the board, say what to buy, show which way the grain runs, and what becomes of it."""
        base = self.top - LARGE * FIGURE - 0.5
        yield Text((0.0, base), self._name, LARGE, weight=Weight.SEMIBOLD, role="title")
        for number, line in enumerate(self._title):
            at = (self._title_from, base - number * SMALL * LEADING)
            yield Text(at, line, SMALL, tone=Tone.SECONDARY, role="note")
        left = self.room - text_width(GRAIN, SMALL)
        yield Text((self.room, base), GRAIN, SMALL, "end", tone=Tone.SECONDARY, role="note")
        yield from grain_arrow((left - ARROW - 2.0, base + SMALL * 0.24), ARROW)
        under = self.board[1] - reading_height(self.style) - CAPTION + 1.5
        used = f"{round(100 * self.diagram.used)} % becomes parts."
        yield Text((0.0, under), used, SMALL, weight=Weight.SEMIBOLD, role="note")
        start = text_width(used + " ", SMALL, Weight.SEMIBOLD)
        order = "Numbered cuts first, then those straight through each piece. "
        if not unnumbered or len(self._inner_cuts()) < 2:
            order = ""
        for words in (order + self._kept(True), order + self._kept(False), order):
            if words and start + text_width(words, SMALL) <= self.room:
                yield Text((start, under), words.rstrip(), SMALL, role="note")
                break

    def _kept(self, sizes: bool) -> str:
        kept = self.diagram.off_cuts
        if not kept:
            return ""
        if not sizes:
            return "Keep the off-cut." if len(kept) == 1 else f"Keep the {len(kept)} off-cuts."
        listed = ", ".join(" ".join(size_lines(item.width, item.length, self.style)) for item in kept)
        return f"Keep the {'off-cut' if len(kept) == 1 else 'off-cuts'}: {listed}."


def _behind(room: Rect, area: Rect) -> Rect:
    """Give the ground of a text within its piece: its room, and what its ink reaches beyond that."""
    down, up = SMALL * DESCENT_SHARE, SMALL * (FRACTION_SHARE - FIGURE_SHARE)
    low, right = max(area[1] + _EDGE, room[1] - down), min(area[2] - _EDGE, room[2] + down)
    return max(area[0] + _EDGE, room[0] - 0.4), low, right, min(area[3] - _EDGE, room[3] + up)
