"""Hardware at full size: hold yours against these."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from plangen.design.model import Design, Hardware
from plangen.drawing.hardware_forms import Ring, silhouettes
from plangen.drawing.hardware_shapes import Profile, profile
from plangen.drawing.labels import balloon
from plangen.drawing.sheet.fit import fitted_lines
from plangen.drawing.sheet.lettering import LEAST_SIZE
from plangen.drawing.sheet.measure import text_length
from plangen.drawing.sheet.model import Drawing, Fill, Mark, Meaning, Stroke, Text, Tone, Weight, Xy
from plangen.takeoff.model import HardwareLine, TakeOff
from plangen.units import LengthStyle

_MARK = 12.0  # mm from the left of a cell to the piece
_GAP = 6.0  # mm between cells
_LABEL = LEAST_SIZE
_LEADING = 4.2  # mm
_RADIUS = 3.0
_SLENDER = 9.0  # mm of half height
_WORDS = 13.0  # mm under a piece, for its title and size
_WOODEN = ("plug", "dowel", "peg", "knob")


@dataclass(frozen=True, slots=True)
class Outlines:
    """The outlines of a thing of its kind, lying along x about the middle of its height; mm."""

    rings: tuple[Ring, ...]

    @property
    def low(self) -> float:
        """Its left end."""
        return min(x for ring in self.rings for x, _ in ring)

    @property
    def high(self) -> float:
        """Its right end."""
        return max(x for ring in self.rings for x, _ in ring)

    @property
    def radius(self) -> float:
        """Half its height."""
        return max(abs(y) for ring in self.rings for _, y in ring)


Shape: TypeAlias = Profile | Outlines
_Cell: TypeAlias = tuple[HardwareLine, Hardware, Shape, float]  # and how far from the left


def _of_kind(item: Hardware) -> Outlines | None:
    if item.ware is None or not item.ware.shape:
        return None
    rings = silhouettes(item.ware.shape)
    ends = [y for ring in rings for _, y in ring]
    middle = (min(ends) + max(ends)) / 2
    # Proud of the wood is down, as casters and feet stand.
    return Outlines(tuple(tuple((x, middle - y) for x, y in ring) for ring in rings))


def hardware_rows(
    take_off: TakeOff, design: Design, width: float, height: float, style: LengthStyle | None = None
) -> tuple[Drawing, ...]:
    """Draw every piece of the bill that has a shape at full size, row by row: the slender first, as screws.

    Each row is ``width`` wide and as high as it needs to be, for full size can not be squeezed. What is
    longer than the width or taller than ``height``, or has no known size, is left out; the last row's
    description names it.
    """
    shapes: list[tuple[HardwareLine, Hardware, Shape]] = []
    left_out: list[str] = []
    for line in take_off.hardware:
        item = design.hardware[line.item]
        shape = profile(item) or _of_kind(item)
        if shape is None or shape.high - shape.low > width - _MARK or 2 * shape.radius > height - _WORDS:
            left_out.append(line.title)
        else:
            shapes.append((line, item, shape))
    shapes.sort(key=lambda one: not _slender(one[2]))  # in the order of the bill otherwise
    rows = _rows(shapes, width)
    found = []
    for number, row in enumerate(rows, 1):
        named = ", ".join(line.title.lower() for line, _, _, _ in row)
        words = f"Outlines at full size: {named}."
        if left_out and number == len(rows):
            words += f" Not drawn: {', '.join(left_out).lower()}."
        found.append(_row(row, width, style or LengthStyle(), words))
    return tuple(found)


def _row(row: list[_Cell], width: float, style: LengthStyle, words: str) -> Drawing:
    titles = [fitted_lines(line.title, width - x - _MARK, _LABEL, Weight.SEMIBOLD)[1] for line, *_, x in row]
    more = (max(map(len, titles)) - 1) * _LEADING
    tall = max(max(2 * shape.radius, 2 * _RADIUS) for _, _, shape, _ in row) + _WORDS
    middle = tall - (tall - 11.0) / 2 - 1.0 + more
    marks: list[Mark] = []
    for (line, item, shape, x), title in zip(row, titles, strict=True):
        marks += balloon(
            (x + _RADIUS, middle),
            str(line.number_mark),
            square=True,
            radius=_RADIUS,
            target=f"hardware:{line.item}",
        )
        marks += _drawn(shape, item, (x + _MARK - shape.low, middle))
        base = middle - max(shape.radius, _RADIUS) - 4.6
        for words_of_it in title:
            at = (x + _MARK, base)
            marks.append(Text(at, words_of_it, _LABEL, weight=Weight.SEMIBOLD, role="caption"))
            base -= _LEADING
        size = line.size.text(style)
        marks.append(Text((x + _MARK, base), size, _LABEL, tone=Tone.SECONDARY, role="caption"))
    return Drawing(width, tall + more, tuple(marks), "Hardware at full size", words)


def _rows(shapes: list[tuple[HardwareLine, Hardware, Shape]], width: float) -> list[list[_Cell]]:
    """Lay the pieces out in two columns where they fit; a long piece takes both.

    A short one goes beside the first of its kind, slender or not, that stands alone.
    """
    half = (width + _GAP) / 2
    rows: list[list[_Cell]] = []
    for line, item, shape in shapes:
        words = text_length(line.title, _LABEL, Weight.SEMIBOLD)
        short = _MARK + max(shape.high - shape.low, words) <= half - _GAP
        alone = (row for row in rows if _open(row, half) and _slender(row[0][2]) == _slender(shape))
        beside = next(alone, None) if short else None
        if beside is not None:
            beside.append((line, item, shape, half))
        else:
            rows.append([(line, item, shape, 0.0)])
    return rows


def _open(row: list[_Cell], half: float) -> bool:
    """Whether a row has room for a second piece."""
    line, _, shape, _ = row[0]
    words = text_length(line.title, _LABEL, Weight.SEMIBOLD)
    return len(row) == 1 and _MARK + max(shape.high - shape.low, words) <= half - _GAP


def _slender(shape: Shape) -> bool:
    return shape.radius <= _SLENDER


def _drawn(shape: Shape, item: Hardware, seat: Xy) -> list[Mark]:
    x, y = seat
    if isinstance(shape, Outlines):
        found: list[Mark] = []
        for ring in shape.rings:
            moved = tuple((x + along, y + over) for along, over in ring)
            found.append(Fill((moved,), Tone.NEW_TOP if item.kind == "table button" else Tone.PLAIN_FRONT))
            found.append(Stroke(moved, Meaning.VISIBLE, closed=True))
        return found
    upper = [(x + along, y + radius) for along, radius in shape.outline]
    lower = [(x + along, y - radius) for along, radius in reversed(shape.outline)]
    outline = tuple(dict.fromkeys([*upper, *lower]))
    wooden = any(word in item.kind.lower() for word in _WOODEN)
    marks: list[Mark] = [Fill((outline,), Tone.NEW_TOP if wooden else Tone.PLAIN_FRONT)]
    if shape.thread is not None and item.diameter is not None:
        radius = float(item.diameter) / 2
        pitch = max(1.4, radius * 0.85)
        along = shape.thread[0]
        while along < shape.thread[1]:
            reach = min(radius, _radius_at(shape, along)) + 0.35
            marks.append(Stroke(((x + along - 0.4, y - reach), (x + along + 0.4, y + reach)), Meaning.RIM))
            along += pitch
    marks.append(Stroke(outline, Meaning.VISIBLE, closed=True))
    return marks


def _radius_at(shape: Profile, along: float) -> float:
    for (z0, r0), (z1, r1) in zip(shape.outline, shape.outline[1:], strict=False):
        if z0 <= along <= z1 and z1 > z0:
            return r0 + (r1 - r0) * (along - z0) / (z1 - z0)
    return 0.0
