"""The title block, the projection symbol and the scale bar."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from plangen.design.model import Project
from plangen.drawing.dimension_lines import circle
from plangen.drawing.scales import Scale
from plangen.drawing.sheet.fit import fitted_lines
from plangen.drawing.sheet.lettering import LEAST_SIZE
from plangen.drawing.sheet.model import Arc, Fill, Mark, Meaning, Stroke, Text, Tone, Weight, Xy
from plangen.units.printing import System

VALUE, TITLE = 4.0, 4.586  # type sizes in mm
ROW_HEIGHT = 12.0
BLOCK_HEIGHT = 2 * ROW_HEIGHT
_CAPTION_DOWN, _VALUE_DOWN = 3.8, 9.6  # mm from the top of a row to the baselines
_LEADING = 4.9


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """The data fields of ISO 7200:2004: the mandatory ones, then revision index, scale and language.

    ISO 7200 names: legal owner, identification number, date of issue, segment or sheet number, title,
    approval person, creator, document type (mandatory); revision index, number of sheets (optional).
    """

    owner: str
    number: str
    issued: date | None
    sheet: int
    title: str
    approved: str
    creator: str
    document: str
    revision: str = ""
    sheets: int | None = None
    scale: str = ""


def block_of(
    project: Project,
    document: str,
    sheet: int,
    *,
    sheets: int | None = None,
    scale: str = "",
    approved: str = "",
) -> TitleBlock:
    """Fill a title block from the project; who approves is the maker unless another is named."""
    return TitleBlock(
        owner=project.maker,
        number=project.code,
        issued=project.revised,
        sheet=sheet,
        title=project.title,
        approved=approved or project.maker,
        creator=project.maker,
        document=document,
        revision=project.revision,
        sheets=sheets,
        scale=scale,
    )


def title_block(
    block: TitleBlock, width: float, *, at: Xy = (0.0, 0.0), third_angle: bool = True, symbol: bool = True
) -> tuple[Mark, ...]:
    """Draw the title block with its low left corner at ``at``: ``width`` × ``block_height`` millimetres.

    Two rows under one rule: what it is, then who and when. ISO 7200 asks for at most 180 mm of width so
    that the block fits every sheet. A value longer than its field is set smaller, then in lines, and its
    row grows. Without ``symbol`` where the drawing has a projection symbol of its own. ValueError below
    140 mm, where the fields would touch.
    """
    if width < 140:
        raise ValueError(f"a title block needs 140 mm of width, not {width:g}")
    x, y = at
    rows = _rows(block, width)
    top = y + sum(_height(row) for row in rows)
    marks: list[Mark] = [Stroke(((x, top), (x + width, top)), Meaning.RULE)]
    for row in rows:
        for field in row:
            marks += field.marks(x, top)
        top -= _height(row)
        marks.append(Stroke(((x, top), (x + width, top)), Meaning.HAIR))
    if symbol:
        marks += projection_symbol(
            (x + width - 11.0, y + _height(rows[1]) + 4.2), third_angle=third_angle, height=5.0
        )
    return tuple(marks)


def block_height(block: TitleBlock, width: float) -> float:
    """Give the height of a title block in millimetres; BLOCK_HEIGHT where every value fits its field."""
    return sum(_height(row) for row in _rows(block, width))


@dataclass(frozen=True, slots=True)
class _Field:
    """A caption over the lines of its value; ``left`` in mm from the left of the block."""

    caption: str
    left: float
    lines: tuple[str, ...]
    size: float
    weight: Weight

    def marks(self, x: float, top: float) -> Iterator[Mark]:
        """Draw it under the top of its row."""
        at = x + self.left
        yield Text(
            (at, top - _CAPTION_DOWN), self.caption, LEAST_SIZE,
            weight=Weight.SEMIBOLD, tone=Tone.SECONDARY, role="caption",
        )  # fmt: skip
        for number, line in enumerate(self.lines):
            place = (at, top - _VALUE_DOWN - number * _LEADING)
            yield Text(place, line, self.size, weight=self.weight, role="title")


def _rows(block: TitleBlock, width: float) -> tuple[tuple[_Field, ...], ...]:
    """Give the fields of both rows; places and widths are in twelfths of the block."""
    sheet = f"{block.sheet} of {block.sheets}" if block.sheets else str(block.sheet)
    issued = block.issued.isoformat() if block.issued else "–"
    upper = (
        (0.0, 3.9, "Title", block.title, TITLE),
        (3.9, 3.2, "Document", block.document, VALUE),
        (7.1, 1.7, "Number", block.number, VALUE),
        (8.8, 1.45, "Revision", block.revision or "–", VALUE),
        (10.25, 0.9, "Scale", block.scale or "–", VALUE),
    )
    lower = (
        (0.0, 3.4, "Legal owner", block.owner, VALUE),
        (3.4, 3.2, "Creator", block.creator, VALUE),
        (6.6, 2.6, "Approved by", block.approved, VALUE),
        (9.2, 1.55, "Issued", issued, VALUE),
        (10.75, 1.25, "Sheet", sheet, VALUE),
    )

    def field(start: float, share: float, caption: str, value: str, size: float) -> _Field:
        weight = Weight.SEMIBOLD if caption in ("Title", "Number") else Weight.REGULAR
        last = start + share > 11.9
        size, lines = fitted_lines(value, share * width / 12 - (0.0 if last else 1.5), size, weight)
        return _Field(caption, start * width / 12, lines, size, weight)

    return tuple(tuple(field(*one) for one in row) for row in (upper, lower))


def _height(row: Sequence[_Field]) -> float:
    return ROW_HEIGHT + _LEADING * (max(len(field.lines) for field in row) - 1 if row else 0)


def projection_symbol(at: Xy, *, third_angle: bool = True, height: float = 6.0) -> tuple[Mark, ...]:
    """Draw the symbol of the projection method; ``at`` is the middle of its left end.

    A truncated cone that tapers to the left, with its view from the left: in third angle (ISO 5456-2) that
    view stands to the left of the cone, in first angle to the right. The symbol is ``2.2 height`` long.
    """
    x, y = at
    large, small, length, gap = height / 2, height / 4, height, height * 0.2
    ring_x, cone_x = (x + large, x + 2 * large + gap) if third_angle else (x + length + gap + large, x)
    cone = (
        (cone_x, y - small),
        (cone_x + length, y - large),
        (cone_x + length, y + large),
        (cone_x, y + small),
    )
    over = height * 0.12
    return (
        _ring((ring_x, y), large),
        _ring((ring_x, y), small),
        Stroke(cone, Meaning.CONTEXT, closed=True),
        Stroke(((ring_x - large - over, y), (ring_x + large + over, y)), Meaning.CENTRE),
        Stroke(((ring_x, y - large - over), (ring_x, y + large + over)), Meaning.CENTRE),
        Stroke(((cone_x - over, y), (cone_x + length + over, y)), Meaning.CENTRE),
    )


def _ring(centre: Xy, radius: float) -> Stroke:
    x, y = centre
    whole = Arc(centre, (x + radius, y), (x, y + radius))
    return Stroke(circle(centre, radius), Meaning.CONTEXT, closed=True, arc=whole)


def scale_bar(at: Xy, scale: Scale | float, system: System, *, longest: float = 45.0) -> tuple[Mark, ...]:
    """Draw a ruler of round lengths from ``at`` (its low left corner), to prove the scale of a print.

    ``scale`` may be the millimetres on the paper for each of the piece, where it has no round name.
    Four equal stretches, filled in turn, the whole at most ``longest`` millimetres on the paper. Lengths
    are 1, 2 or 5 times a power of ten in millimetres, or 1, 2, 4, 8, 12, 24 or 48 in.
    """
    factor = scale.factor if isinstance(scale, Scale) else scale
    if system == "mm":
        steps = [Fraction(n * 10**power) for power in range(5) for n in (1, 2, 5)]
        unit, word = Fraction(1), "mm"
    else:
        steps = [Fraction(n) for n in (1, 2, 4, 8, 12, 24, 48, 96)]
        unit, word = Fraction(254, 10), "in"
    fitting = [step for step in steps if float(step * unit) * factor <= longest]
    whole = fitting[-1] if fitting else steps[0]
    length = float(whole * unit) * factor
    x, y = at
    height = 1.2
    marks: list[Mark] = []
    for quarter in range(4):
        low, high = x + length * quarter / 4, x + length * (quarter + 1) / 4
        loop = ((low, y), (high, y), (high, y + height), (low, y + height))
        if quarter % 2 == 0:
            marks.append(Fill((loop,), Tone.INK))
        marks.append(Stroke(loop, Meaning.HAIR, closed=True))
    marks.append(Text((x, y + height + 1.3), "0", LEAST_SIZE, "middle", tone=Tone.SECONDARY, role="caption"))
    marks.append(
        Text(
            (x + length, y + height + 1.3),
            f"{whole}\u00a0{word}",
            LEAST_SIZE,
            "middle",
            tone=Tone.SECONDARY,
            role="caption",
        )
    )
    return tuple(marks)
