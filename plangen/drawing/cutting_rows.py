"""What stands round a board: its heading, numbers and readings of its cuts, marks of small pieces."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from plangen.drawing.cutting_ground import (
    ARROW,
    BOX,
    BOX_ROW,
    BOX_STEP,
    GRAIN,
    STEM,
    Ground,
)
from plangen.drawing.cutting_marks import DISC, disc, grain_arrow, tick_box
from plangen.drawing.cutting_text import (
    FIGURE,
    LARGE,
    LEADING,
    RING,
    SMALL,
    Rect,
    block_size,
    length_lines,
    ring_half,
    ring_letter,
    size_lines,
    spread,
    text_block,
)
from plangen.drawing.dimension_lines import circle
from plangen.drawing.labels import DOT, balloon
from plangen.drawing.sheet.lettering import text_width
from plangen.drawing.sheet.model import Fill, Mark, Meaning, Stroke, Text, Tone, Weight
from plangen.drawing.title_block import scale_bar

CAPTION = 8.0  # mm of the first line under the readings
BAR, BAR_ROOM = 38.0, 56.0  # mm: the longest scale bar, and what it takes with its figures


def heading(ground: Ground) -> Iterator[Mark]:
    """Name the boards, say what to buy, show which way the grain runs; a box to tick for each board."""
    base = ground.top - LARGE * FIGURE - 0.5
    middle = base + LARGE * FIGURE / 2
    if ground.name_from:
        yield tick_box((0.0, middle - BOX / 2 - 0.3), BOX)
    yield Text((ground.name_from, base), ground.name, LARGE, weight=Weight.SEMIBOLD, role="title")
    for number, line in enumerate(ground.title):
        at = (ground.title_from, base - number * SMALL * LEADING)
        yield Text(at, line, SMALL, tone=Tone.SECONDARY, role="note")
    left = ground.room - text_width(GRAIN, SMALL)
    yield Text((ground.room, base), GRAIN, SMALL, "end", tone=Tone.SECONDARY, role="note")
    yield from grain_arrow((left - ARROW - 2.0, base + SMALL * 0.24), ARROW)
    rows = ground.boxes[-1][0] + 1 if ground.boxes else 0
    for row, place in ground.boxes:
        low = ground.top - ground.head + (rows - 1 - row) * BOX_ROW + (BOX_ROW - BOX) / 2
        yield tick_box((place * BOX_STEP, low), BOX)


def caption_height(ground: Ground) -> float:
    """Give the height in mm of the words under the readings."""
    return CAPTION + (len(_caption(ground)) - 1) * SMALL * LEADING


def caption(ground: Ground) -> Iterator[Mark]:
    """Say what becomes of the wood beside a bar that proves the scale."""
    top = ground.board[1] - ground.readings.height
    base = top - CAPTION + 1.5
    used, *_ = lines = _caption(ground)
    share, rest = _share(ground), used.removeprefix(_share(ground))
    yield Text((0.0, base), share, SMALL, weight=Weight.SEMIBOLD, role="note")
    if rest:
        start = text_width(share + " ", SMALL, Weight.SEMIBOLD)
        yield Text((start, base), rest.strip(), SMALL, role="note")
    for number, line in enumerate(lines[1:], start=1):
        yield Text((0.0, base - number * SMALL * LEADING), line, SMALL, role="note")
    yield from scale_bar(
        (ground.room - BAR_ROOM + 4.0, top - CAPTION + 0.3), ground.scale, ground.style.system, longest=BAR
    )


def _share(ground: Ground) -> str:
    return f"{round(100 * ground.diagram.used)} % becomes parts."


def _caption(ground: Ground) -> list[str]:
    """Give the lines under a board; the first begins with its share."""
    share = _share(ground)
    room = ground.room - BAR_ROOM
    left = room - text_width(share + " ", SMALL, Weight.SEMIBOLD)
    lines, line = [], ""
    for word in " ".join(_sentences(ground)).split(" "):
        longer = f"{line} {word}".strip()
        if line and text_width(longer, SMALL) > left:
            lines.append(line)
            line, left = word, room
        else:
            line = longer
    lines.append(line)
    return [f"{share} {lines[0]}".strip(), *lines[1:]]


def _sentences(ground: Ground) -> Iterator[str]:
    kept = ground.diagram.off_cuts
    if kept:
        sizes = Counter(" ".join(size_lines(one.width, one.length, ground.style)) for one in kept)
        listed = ", ".join(
            (f"{number} of {size}" if number > 1 else size).replace(" ", "\u00a0")
            for size, number in sizes.items()
        )
        yield f"Keep the {'off-cut' if len(kept) == 1 else 'off-cuts'}: {listed}."
    if ground.diagram.unsound:
        last = " ".join(length_lines(ground.diagram.unsound, ground.style))
        yield f"The last {last} is left for knots, checks and sapwood."
    if any(cut.by == "hand" for cut in ground.diagram.cuts):
        yield "Broken lines are cut by hand along a rail."
    if ground.unnamed:
        marks = Counter(piece.mark for piece in ground.unnamed)
        named = ", ".join(f"{number}\u00a0×\u00a0{mark}" for mark, number in marks.items())
        yield f"Too small for their marks here: {named}."


def outer_marks(ground: Ground) -> Iterator[Mark]:
    """Number above and read below the crosscuts of the whole board; rips to the right of it."""
    board = ground.board
    row = board[3] + STEM + DISC
    for cut, centre in zip(ground.callouts.cuts, ground.callouts.places.discs, strict=True):
        foot = board[3] + STEM
        yield Stroke(((ground.middle(cut), board[3]), (centre, foot), (centre, row)), Meaning.LEADER)
        yield from disc((centre, row), cut.number)
    found = ground.readings
    below = board[1] - STEM
    for cut, centre in zip(found.cuts, found.centres, strict=True):
        x = ground.middle(cut)
        lines = length_lines(cut.position, ground.style)
        wide, high = block_size(lines, found.size)
        tall = wide if found.angle else high
        yield Stroke(((x, board[1]), (x if abs(centre - x) < 0.5 else centre, below)), Meaning.LEADER)
        at = (centre, below - 1.0 - tall / 2)
        yield from text_block(lines, at, found.size, angle=found.angle, role="dimension")
    yield from _rips(ground)


def _rips(ground: Ground) -> Iterator[Mark]:
    board, rips = ground.board, ground.rips
    wanted = [ground.middle(cut) for cut in rips]
    blocks = [length_lines(cut.position, ground.style) for cut in rips]
    halves = [max(DISC, block_size(lines, LARGE)[1] / 2) for lines in blocks]
    low, high = board[1] - DISC, board[3] + DISC
    for cut, lines, y, centre in zip(
        rips, blocks, wanted, spread(wanted, halves, 0.6, low, high), strict=True
    ):
        x = board[2] + STEM + DISC
        yield Stroke(((board[2], y), (board[2] + STEM, centre), (x, centre)), Meaning.LEADER)
        yield from disc((x, centre), cut.number)
        wide, _ = block_size(lines, LARGE)
        yield from text_block(lines, (x + DISC + 1.2 + wide / 2, centre), LARGE, role="dimension")


def callout_marks(ground: Ground) -> tuple[list[Mark], list[Rect]]:
    """Write small pieces in a row above the cut numbers, each with a leader to its own piece.

    Equal ones above each other share a leader with a dot in each, and so do those beside each other where
    there are many. Returns the room that the leaders take on the board as well.
    """
    found, board = ground.callouts, ground.board
    row = ground.top - ground.head - RING
    bend = board[3] + (2 * DISC + STEM if found.cuts else STEM) + 0.8
    marks: list[Mark] = []
    taken: list[Rect] = []
    for group, x, slot, centre in zip(
        found.groups, found.places.feet, found.places.slots, ground.centres(), strict=True
    ):
        piece, half = group.one, ground.half(group, found.sized)
        radius = ring_half(piece.mark, RING)
        ring = centre - half + radius
        rects = [ground.rect(one) for one in group.columns[0]]
        foot = min((rect[1] + rect[3]) / 2 for rect in rects)
        way = [(slot, bend)] if slot == x else [(slot, bend), (slot, board[3] + STEM), (x, board[3])]
        marks.append(Stroke(((ring, row - RING), *way, (x, foot)), Meaning.LEADER))
        taken.append((x - 0.3, foot - 0.3, x + 0.3, board[3]))
        shift = x - rects[0][0]
        for level, rect in enumerate(rects):
            y = (rect[1] + rect[3]) / 2
            places = [ground.rect(column[level])[0] + shift for column in group.columns]
            if len(places) > 1:
                marks.append(Stroke(((x, y), (places[-1], y)), Meaning.LEADER))
                taken.append((x, y - 0.6, places[-1], y + 0.6))
            marks += [Fill((circle((place, y), DOT, 20),), Tone.INK) for place in places]
        letter = ring_letter(piece.mark, RING)
        marks += balloon((ring, row), piece.mark, target=f"part:{piece.part}", radius=RING, size=letter)
        if found.sized:
            at = (ring + radius + 1.2, row - SMALL * FIGURE / 2)
            marks.append(Text(at, ground.words(group), SMALL, role="size"))
    return marks, taken
