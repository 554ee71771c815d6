"""Texts of a cutting diagram: where the mark and size of a piece can stand without touching anything."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from plangen.drawing.labels import RADIUS as BALLOON_RADIUS
from plangen.drawing.labels import balloon
from plangen.drawing.sheet.lettering import LEAST_SIZE, text_width
from plangen.drawing.sheet.model import Link, Mark, Text, Tone, Weight, Xy
from plangen.units import Length, LengthStyle, print_length

Rect: TypeAlias = tuple[float, float, float, float]  # low x, low y, high x, high y

LARGE, SMALL = 4.586, LEAST_SIZE  # type sizes in mm
RING = 3.0  # radius of a mark's ring, mm
FIGURE = 0.65  # height of a figure over its type size
DROP = 0.1  # how far the figures of a fraction reach below the line
LEADING = 1.22
AIR = 0.9  # between a text and the edge of its piece
GAP = 1.6  # between ring and text
_PLACES = (0.5, 0.36, 0.64, 0.24, 0.76, 0.12, 0.88, 0.0, 1.0)


def size_lines(width: Length, length: Length, style: LengthStyle) -> tuple[str, ...]:
    """Print a size as width × length; the style ``both`` gets a second line in millimetres."""
    if style.system == "both":
        inch, metric = style.only("inch"), style.only("mm")
        return (
            f"{print_length(width, inch)} × {print_length(length, inch)}",
            f"({print_length(width, metric)} × {print_length(length, metric)} mm)",
        )
    return (f"{print_length(width, style)} × {print_length(length, style)}",)


def length_lines(length: Length, style: LengthStyle) -> tuple[str, ...]:
    """Print a tape reading; the style ``both`` gets a second line in millimetres."""
    if style.system == "both":
        return print_length(length, style.only("inch")), f"({print_length(length, style.only('mm'))} mm)"
    return (print_length(length, style),)


def block_size(lines: Sequence[str], size: float) -> tuple[float, float]:
    """Give the width and height of lines of text set under each other."""
    return max(text_width(line, size) for line in lines), size * (FIGURE + DROP + LEADING * (len(lines) - 1))


def text_block(
    lines: Sequence[str],
    centre: Xy,
    size: float,
    *,
    angle: float = 0.0,
    role: str = "size",
    tones: Sequence[Tone] = (),
) -> list[Text]:
    """Set lines of text about a centre; ``angle`` 90 reads upward."""
    _, height = block_size(lines, size)
    marks = []
    for index, line in enumerate(lines):
        down = -height / 2 + size * FIGURE + index * size * LEADING
        at = (centre[0], centre[1] - down) if not angle else (centre[0] + down, centre[1])
        tone = tones[index] if tones else Tone.INK
        marks.append(Text(at, line, size, "middle", tone=tone, angle=angle, role=role))
    return marks


def overlap(one: Rect, two: Rect) -> bool:
    """Say whether two rectangles share area."""
    return one[0] < two[2] and two[0] < one[2] and one[1] < two[3] and two[1] < one[3]


@dataclass(frozen=True, slots=True)
class Written:
    """A label in its place: its marks and the room it takes."""

    marks: tuple[Mark, ...]
    room: Rect


@dataclass(frozen=True, slots=True)
class _Shape:
    """One way to write a label: its extents, and the centres of ring and text from its own centre."""

    width: float
    height: float
    size: float
    radius: float
    ring: Xy
    text: Xy
    angle: float = 0.0


def _shapes(mark: str, lines: Sequence[str]) -> Iterator[_Shape]:
    """Give the ways to write a mark with its size, the most readable first."""
    for size, radius in ((LARGE, RING), (SMALL, RING)):
        wide, high = block_size(lines, size)
        half = ring_half(mark, radius)
        run, tall = 2 * half + GAP + wide, max(2 * radius, high)
        yield _Shape(run, tall, size, radius, (-run / 2 + half, 0.0), (run / 2 - wide / 2, 0.0))
        stack = 2 * radius + GAP + high
        yield _Shape(
            max(2 * half, wide),
            stack,
            size,
            radius,
            (0.0, stack / 2 - radius),
            (0.0, -stack / 2 + high / 2),
        )
        column, tall = 2 * radius + GAP + wide, max(2 * half, high)
        yield _Shape(
            tall, column, size, radius, (0.0, -column / 2 + radius), (0.0, column / 2 - wide / 2), 90.0
        )


def centres(area: Rect, width: float, height: float, taken: Sequence[Rect]) -> Iterator[Xy]:
    """Give centres at which a box fits inside an area clear of what is taken, the middle first."""
    free_x = area[2] - area[0] - width - 2 * AIR
    free_y = area[3] - area[1] - height - 2 * AIR
    if free_x < 0 or free_y < 0:
        return
    for up in _PLACES:
        for along in _PLACES:
            x = area[0] + AIR + width / 2 + free_x * along
            y = area[1] + AIR + height / 2 + free_y * up
            room = (x - width / 2 - 0.4, y - height / 2 - 0.4, x + width / 2 + 0.4, y + height / 2 + 0.4)
            if not any(overlap(room, other) for other in taken):
                yield x, y


def write_inside(
    mark: str, lines: Sequence[str], target: str, area: Rect, taken: Sequence[Rect]
) -> Written | None:
    """Write mark and size inside a piece, upright or reading upward; None where there is no room."""
    for shape in _shapes(mark, lines):
        for x, y in centres(area, shape.width, shape.height, taken):
            ring = (x + shape.ring[0], y + shape.ring[1])
            letter = ring_letter(mark, shape.radius)
            marks: list[Mark] = [*balloon(ring, mark, target=target, radius=shape.radius, size=letter)]
            marks += text_block(lines, (x + shape.text[0], y + shape.text[1]), shape.size, angle=shape.angle)
            return Written(tuple(marks), _around((x, y), shape.width, shape.height))
    return _write_flat(mark, lines, target, area, taken)


def _write_flat(
    mark: str, lines: Sequence[str], target: str, area: Rect, taken: Sequence[Rect]
) -> Written | None:
    """Write mark and size in one run without a ring, for strips that are too narrow for one."""
    size = SMALL
    letter, text = text_width(mark, size, Weight.SEMIBOLD), " ".join(lines)
    run, high = letter + GAP + text_width(text, size), size * FIGURE
    air = AIR - 0.7  # between a line and the lowest figure of a fraction
    snug = (area[0], area[1] - air, area[2], area[3] + air)
    upright = (area[0] - air, area[1], area[2] + air, area[3])
    for room, width, height, angle in ((snug, run, high, 0.0), (upright, high, run, 90.0)):
        for x, y in centres(room, width, height, taken):
            if angle:
                at, then = (x + high / 2, y - run / 2), (x + high / 2, y - run / 2 + letter + GAP)
            else:
                at, then = (x - run / 2, y - high / 2), (x - run / 2 + letter + GAP, y - high / 2)
            box = _around((x, y), width, height)
            marks: list[Mark] = [
                Text(at, mark, size, weight=Weight.SEMIBOLD, angle=angle, role="balloon"),
                Text(then, text, size, angle=angle, role="size"),
            ]
            if target:
                marks.append(Link((box[0], box[1]), (box[2], box[3]), target))
            return Written(tuple(marks), box)
    return None


def _around(centre: Xy, width: float, height: float) -> Rect:
    x, y = centre
    return x - width / 2, y - height / 2, x + width / 2, y + height / 2


def write_plain(
    lines: Sequence[str], tones: Sequence[Tone], area: Rect, taken: Sequence[Rect]
) -> Written | None:
    """Write plain lines inside an area, smaller or reading upward where it must be; None without room."""
    for size in (LARGE, SMALL):
        wide, high = block_size(lines, size)
        for width, height, angle in ((wide, high, 0.0), (high, wide, 90.0)):
            for x, y in centres(area, width, height, taken):
                marks = text_block(lines, (x, y), size, angle=angle, role="note", tones=tones)
                return Written(tuple(marks), _around((x, y), width, height))
    return None


def ring_letter(mark: str, radius: float) -> float:
    """Give the type size of a mark in its ring: smaller for a hand, so that the ring stays round."""
    size = 1.31 * radius
    wide = text_width(mark, size, Weight.SEMIBOLD)
    return max(LEAST_SIZE, size * min(1.0, 1.62 * radius / wide))


def ring_half(mark: str, radius: float) -> float:
    """Give half the width of a mark's ring; a long mark makes it a pill."""
    wide = text_width(mark, ring_letter(mark, radius), Weight.SEMIBOLD)
    return max(radius, wide / 2 + 1.7 * radius / BALLOON_RADIUS)


def spread(
    wanted: Sequence[float], halves: Sequence[float], gap: float, low: float, high: float
) -> list[float]:
    """Move centres along a line as little as they must to keep ``gap`` between them, inside low to high.

    ``wanted`` is in rising order. Groups that touch are centred over their members.
    """
    groups: list[list[int]] = []
    places: list[float] = []  # start of each group

    def length(group: Sequence[int]) -> float:
        return sum(2 * halves[i] for i in group) + gap * (len(group) - 1)

    def start(group: Sequence[int]) -> float:
        offset, total = 0.0, 0.0
        for i in group:
            total += wanted[i] - (offset + halves[i])
            offset += 2 * halves[i] + gap
        return min(max(total / len(group), low), max(high - length(group), low))

    for index in range(len(wanted)):
        groups.append([index])
        places.append(start([index]))
        while len(groups) > 1 and places[-2] + length(groups[-2]) + gap > places[-1]:
            merged = groups[-2] + groups[-1]
            groups[-2:], places[-2:] = [merged], [start(merged)]
    found = [0.0] * len(wanted)
    for group, place in zip(groups, places, strict=True):
        for i in group:
            found[i] = place + halves[i]
            place += 2 * halves[i] + gap
    return found
