"""The title block, the projection symbol and the scale bar."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from plangen.design.model import Project
from plangen.drawing.dimension_lines import circle
from plangen.drawing.scales import Scale
from plangen.drawing.sheet.measure import text_length
from plangen.drawing.sheet.model import Fill, Mark, Meaning, Stroke, Text, Tone, Weight, Xy
from plangen.units.printing import System

CAPTION, VALUE, TITLE = 2.469, 3.704, 4.586  # type sizes in mm: 7, 10.5 and 13 pt
BLOCK_HEIGHT = 20.0


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
    """Draw the title block with its low left corner at ``at``: ``width`` × BLOCK_HEIGHT millimetres.

    Two rows under one rule: what it is, then who and when. ISO 7200 asks for at most 180 mm of width so
    that the block fits every sheet. Without ``symbol`` where the drawing has a projection symbol of its
    own. ValueError below 140 mm, where the fields would touch.
    """
    if width < 140:
        raise ValueError(f"a title block needs 140 mm of width, not {width:g}")
    x, y = at
    top, middle = y + BLOCK_HEIGHT, y + BLOCK_HEIGHT / 2
    marks: list[Mark] = [
        Stroke(((x, top), (x + width, top)), Meaning.RULE),
        Stroke(((x, middle), (x + width, middle)), Meaning.HAIR),
        Stroke(((x, y), (x + width, y)), Meaning.HAIR),
    ]
    sheet = f"{block.sheet} of {block.sheets}" if block.sheets else str(block.sheet)
    issued = block.issued.isoformat() if block.issued else "–"
    column = width / 12
    upper = (
        (0, 4, "Title", block.title),
        (4, 3, "Document", block.document),
        (7, 1.5, "Number", block.number),
        (8.5, 1.3, "Revision", block.revision or "–"),
        (9.8, 1, "Scale", block.scale or "–"),
    )
    lower = (
        (0, 4, "Legal owner", block.owner),
        (4, 3, "Creator", block.creator),
        (7, 2.8, "Approved by", block.approved),
        (9.8, 1.2, "Issued", issued),
        (11.1, 0.9, "Sheet", sheet),
    )
    for base, row in ((middle, upper), (y, lower)):
        for start, columns, caption, value in row:
            left = x + start * column
            marks.append(
                Text(
                    (left, base + 6.6),
                    caption,
                    CAPTION,
                    weight=Weight.SEMIBOLD,
                    tone=Tone.SECONDARY,
                    role="caption",
                )
            )
            size = TITLE if caption == "Title" else VALUE
            weight = Weight.SEMIBOLD if caption in ("Title", "Number") else Weight.REGULAR
            room = columns * column - 2.0
            natural = text_length(value, size, weight)
            marks.append(
                Text(
                    (left, base + 2.2),
                    value,
                    size * min(1.0, room / natural) if natural else size,
                    weight=weight,
                    role="title",
                )
            )
    if symbol:
        marks += projection_symbol((x + width - 11.0, middle + 5.0), third_angle=third_angle, height=5.0)
    return tuple(marks)


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
        Stroke(circle((ring_x, y), large), Meaning.CONTEXT, closed=True),
        Stroke(circle((ring_x, y), small), Meaning.CONTEXT, closed=True),
        Stroke(cone, Meaning.CONTEXT, closed=True),
        Stroke(((ring_x - large - over, y), (ring_x + large + over, y)), Meaning.CENTRE),
        Stroke(((ring_x, y - large - over), (ring_x, y + large + over)), Meaning.CENTRE),
        Stroke(((cone_x - over, y), (cone_x + length + over, y)), Meaning.CENTRE),
    )


def scale_bar(at: Xy, scale: Scale, system: System, *, longest: float = 45.0) -> tuple[Mark, ...]:
    """Draw a ruler of round lengths from ``at`` (its low left corner), to prove the scale of a print.

    Four equal stretches, filled in turn, the whole at most ``longest`` millimetres on the paper. Lengths
    are 1, 2 or 5 times a power of ten in millimetres, or 1, 2, 4, 8, 12, 24 or 48 in.
    """
    if system == "mm":
        steps = [Fraction(n * 10**power) for power in range(5) for n in (1, 2, 5)]
        unit, word = Fraction(1), "mm"
    else:
        steps = [Fraction(n) for n in (1, 2, 4, 8, 12, 24, 48, 96)]
        unit, word = Fraction(254, 10), "in"
    fitting = [step for step in steps if float(step * unit) * scale.factor <= longest]
    whole = fitting[-1] if fitting else steps[0]
    length = float(whole * unit) * scale.factor
    x, y = at
    height = 1.2
    marks: list[Mark] = []
    for quarter in range(4):
        low, high = x + length * quarter / 4, x + length * (quarter + 1) / 4
        loop = ((low, y), (high, y), (high, y + height), (low, y + height))
        if quarter % 2 == 0:
            marks.append(Fill((loop,), Tone.INK))
        marks.append(Stroke(loop, Meaning.HAIR, closed=True))
    marks.append(
        Text((x, y + height + 1.3), "0", CAPTION * 9 / 7, "middle", tone=Tone.SECONDARY, role="caption")
    )
    marks.append(
        Text(
            (x + length, y + height + 1.3),
            f"{whole}\u00a0{word}",
            CAPTION * 9 / 7,
            "middle",
            tone=Tone.SECONDARY,
            role="caption",
        )
    )
    return tuple(marks)
