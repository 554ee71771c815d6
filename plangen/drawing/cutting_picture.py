"""One board or sheet on the paper: its pieces, its cuts, its readings, and every text clear of every line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import shapely
from shapely.geometry import LineString, box

from plangen.drawing.cutting_ground import Ground
from plangen.drawing.cutting_marks import DISC, corners, disc, lines_of, pill, pill_half, steps
from plangen.drawing.cutting_rows import callout_marks, caption, heading, outer_marks
from plangen.drawing.cutting_text import SMALL, Rect, Written, overlap, size_lines, write_inside, write_plain
from plangen.drawing.sheet.measure import DESCENT_SHARE, FIGURE_SHARE, FRACTION_SHARE
from plangen.drawing.sheet.model import Fill, Mark, Meaning, Stroke, Tone, Xy
from plangen.takeoff.model import OffCut, Placed, SawCut

HATCH_STEP = 1.7
FRAME = 0.9  # mm that the frame of an off-cut stands inside it
_EDGE = 0.13  # mm from the middle of a cut's line to its paper
_FROM_END = 0.8  # mm from a number to the end of its line
_CLEAR, _OVER = 0.4, 2.3  # mm that a number keeps from texts, and reaches over the edge of the board
_INK = SMALL * (FRACTION_SHARE - FIGURE_SHARE)  # mm that fractions reach beyond the room of their text
_LEAST_FRAMED = 3.6  # mm: narrower off-cuts are too narrow for a frame that is seen as one


def draw(ground: Ground) -> list[Mark]:
    """Draw everything, lines before texts."""
    board, diagram = ground.board, ground.diagram
    marks: list[Mark] = [Fill((corners(board),), Tone.PAPER)]
    marks += [Fill((corners(ground.rect(piece)),), Tone.STOCK) for piece in diagram.pieces]
    marks += _hatch(ground)
    marks += _frames(ground)
    for cut in diagram.cuts:
        marks.append(Stroke(ground.line(cut), Meaning.CUT if cut.by == "bench" else Meaning.HAND_CUT))
    marks.append(Stroke(corners(board), Meaning.VISIBLE, closed=True))
    callouts, taken = callout_marks(ground)
    marks += callouts
    marks += outer_marks(ground)
    marks += _labels(ground, taken)
    marks += _inner_numbers(ground, taken)
    marks += heading(ground)
    marks += caption(ground)
    return marks


def _hatch(ground: Ground) -> Iterator[Stroke]:
    """Hatch what is neither a piece nor worth keeping; kerfs are too thin to hatch."""
    items: list[Placed | OffCut] = [*ground.diagram.pieces, *ground.diagram.off_cuts]
    kept = [box(*ground.rect(item)) for item in items]
    waste = box(*ground.board).difference(shapely.union_all(kept)).buffer(-0.2, join_style="mitre")
    low_x, low_y, high_x, high_y = ground.board
    reach = high_y - low_y
    number = int((high_x - low_x + reach) / HATCH_STEP)
    for index in range(1, number + 1):
        x = low_x - reach + index * HATCH_STEP
        for line in lines_of(LineString([(x, low_y), (x + reach, high_y)]).intersection(waste)):
            yield Stroke(line, Meaning.HATCH)


def _frames(ground: Ground) -> Iterator[Stroke]:
    """Draw a frame of dots into every off-cut that is kept."""
    for off_cut in ground.diagram.off_cuts:
        area = ground.rect(off_cut)
        if min(area[2] - area[0], area[3] - area[1]) >= _LEAST_FRAMED:
            yield Stroke(corners(_within(area, FRAME)), Meaning.KEEP, closed=True)


def _within(area: Rect, by: float) -> Rect:
    return area[0] + by, area[1] + by, area[2] - by, area[3] - by


def _labels(ground: Ground, taken: list[Rect]) -> Iterator[Mark]:
    """Write mark and size into every piece that can hold them, then sizes into off-cuts.

    The room of each is added to ``taken``. Where a leader leaves no room beside it, it is broken.
    """
    for piece in ground.diagram.pieces:
        if ground.too_small(piece):
            continue
        target, area, size = f"part:{piece.part}", ground.rect(piece), ground.size(piece)
        written = write_inside(piece.mark, size, target, area, taken)
        if written is None:
            written = write_inside(piece.mark, size, target, area, ())
            if written is not None:
                yield Fill((corners(_behind(written.room, area)),), Tone.STOCK)
        if written is not None:
            yield from written.marks
            taken.append(_within(written.room, -_INK))
    for off_cut in ground.diagram.off_cuts:
        noted = _off_cut_note(ground, off_cut, taken)
        if noted is not None:
            yield from noted.marks
            taken.append(_within(noted.room, -_INK))


def _off_cut_note(ground: Ground, off_cut: OffCut, taken: Sequence[Rect]) -> Written | None:
    sizes = size_lines(off_cut.width, off_cut.length, ground.style)
    area = _within(ground.rect(off_cut), FRAME)
    for lines, tones in (
        (("keep", *sizes), (Tone.SECONDARY, *[Tone.INK] * len(sizes))),
        (sizes, [Tone.INK] * len(sizes)),
        (("keep",), (Tone.SECONDARY,)),
    ):
        written = write_plain(lines, tones, area, taken)
        if written is not None:
            return written
    return None


def _behind(room: Rect, area: Rect) -> Rect:
    """Give the ground of a text within its piece: its room, and what its ink reaches beyond that."""
    down, up = SMALL * DESCENT_SHARE, SMALL * (FRACTION_SHARE - FIGURE_SHARE)
    low, right = max(area[1] + _EDGE, room[1] - down), min(area[2] - _EDGE, room[2] + down)
    return max(area[0] + _EDGE, room[0] - 0.4), low, right, min(area[3] - _EDGE, room[3] + up)


def _inner_numbers(ground: Ground, taken: Sequence[Rect]) -> list[Mark]:
    """Number the cuts inside, each on its own line, in a disc or where that has no room in a bar."""
    marks: list[Mark] = []
    rooms = list(taken)
    # Short lines leave the least choice, so they choose first.
    for cut in sorted(ground.inner_cuts, key=lambda cut: (cut.high - cut.low, cut.number)):
        wide, high = pill_half(cut.number)
        for half, make, clear, air in (
            ((DISC, DISC), disc, True, _FROM_END),
            ((wide, high), pill, True, _FROM_END),
            ((wide, high), pill, False, 0.0),
            ((wide, high), pill, False, -0.8 * high),
        ):
            centre = _number_place(ground, cut, half, rooms, clear, air)
            if centre is not None:
                marks += make(centre, cut.number)
                rooms.append(_round(centre, *half))
                break
    return marks


def _number_place(
    ground: Ground, cut: SawCut, half: tuple[float, float], taken: Sequence[Rect], clear: bool, air: float
) -> Xy | None:
    """Choose a place on the cut's line, near its far end, that hides no text and no other number.

    ``clear`` asks that it hides no other cut either; ``air`` mm lie between it and the ends of the line, less
    than none where it may hide the line's end and what runs along there.
    """
    (x, y), (end_x, end_y) = ground.line(cut)
    others = [_box(ground.line(one)) for one in ground.diagram.cuts if one is not cut] if clear else []
    reach = (half[0] if cut.along == "x" else half[1]) + air
    ends = (end_x - reach, x + reach) if cut.along == "x" else (end_y - reach, y + reach)
    for along in steps(*ends, 2.0 if clear else 0.5):
        centre = (along, y) if cut.along == "x" else (x, along)
        room = _round(centre, half[0] + _CLEAR, half[1] + _CLEAR)
        if _fits(room, ground) and not any(overlap(room, other) for other in (*taken, *others)):
            return centre
    return None


def _fits(room: Rect, ground: Ground) -> bool:
    """Say whether a number stays off what stands round the board; it may just look over its long edges."""
    _, low, _, high = ground.board
    right = ground.board[2] if ground.rips else ground.room
    return room[0] >= 0.0 and room[2] <= right and room[1] >= low - _OVER and room[3] <= high + _OVER


def _box(line: tuple[Xy, Xy]) -> Rect:
    (x, y), (end_x, end_y) = line
    return x, y, end_x + 0.01, end_y + 0.01


def _round(centre: Xy, half_x: float, half_y: float) -> Rect:
    return centre[0] - half_x, centre[1] - half_y, centre[0] + half_x, centre[1] + half_y
