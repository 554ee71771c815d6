"""The part sheet: views in third angle, dimensioned, with a small picture, at the largest scale that fits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from plangen.design.model import Design, Part
from plangen.drawing.part_sheets.captions import caption
from plangen.drawing.part_sheets.conversion import chart
from plangen.drawing.part_sheets.layout import Layout
from plangen.drawing.part_sheets.marked import Sayings
from plangen.drawing.part_sheets.plan import PartPlan, part_dimensions
from plangen.drawing.part_sheets.printed import PrintedDimension
from plangen.drawing.part_sheets.studio import Attempt, best_attempt
from plangen.drawing.sheet.fit import held
from plangen.drawing.sheet.model import Drawing, Text
from plangen.solids.model import Solids
from plangen.units import LengthStyle

OVER_CHART = 4.0  # mm between a drawing and the chart under it


@dataclass(frozen=True)
class PartSheet:
    """The dimensioned drawing of one part.

    ``scale`` is as printed ("1:4"; empty where the sheet had to be shrunk), ``views`` the captions in
    drawing order, ``notes`` what the facts beside the drawing should add; ``printed`` is every dimension on
    it with the exact stretches it stands for; ``plan`` what had to be said; ``clashes`` how often a text
    touches something (0 on a good sheet).
    """

    drawing: Drawing
    scale: str
    views: tuple[str, ...]
    notes: tuple[str, ...]
    printed: tuple[PrintedDimension, ...]
    plan: PartPlan
    clashes: int


def part_sheet(
    design: Design,
    solids: Solids,
    part: Part,
    style: LengthStyle,
    *,
    width: float,
    height: float,
    figure_height: float = 3.44,
) -> PartSheet:
    """Draw the sheet of one part on ``width`` × at most ``height`` mm, no higher than it needs.

    ``figure_height`` (mm) is the height of the dimension figures. They are made smaller, down to 2.5 mm,
    where the part would otherwise be drawn more than two scales smaller. Where nothing fits, the sheet is
    drawn on larger paper and shrunk: it then names no scale, and counts as a clash. Raises ProjectError
    with the finding ``undimensioned-feature`` where the records do not say enough to dimension the part,
    or where a dimension could not be printed at its place.

    Where figures of both systems have no room, the dimensions are in inches over a chart to millimetres.
    """
    drawn = _drawn(design, solids, part, style, width, height, figure_height)
    if style.system != "both" or drawn.scale:
        return drawn
    inches = style.only("inch")
    high, marks = chart(part_dimensions(part, inches), style, width)
    plain = _drawn(design, solids, part, inches, width, height - high - OVER_CHART, figure_height)
    if not plain.scale:
        return drawn
    under = plain.drawing.moved(0.0, high + OVER_CHART)
    room = plain.drawing.height + high + OVER_CHART
    return replace(plain, drawing=replace(plain.drawing, width=width, height=room, marks=(*under, *marks)))


def _drawn(
    design: Design,
    solids: Solids,
    part: Part,
    style: LengthStyle,
    width: float,
    height: float,
    figure_height: float,
) -> PartSheet:
    plan = part_dimensions(part, style)
    footers = _mirror_note(design, part)
    attempt = best_attempt(plan, solids, style, footers, width, height, figure_height)
    captions = tuple(caption(part, sight.side) for sight in attempt.arrangement.sights)
    notes = list(footers)
    if attempt.interrupted:
        notes.append("The middle is left out; sizes are true.")
    printed = tuple(item for view in attempt.views for item in view.printed)
    layout = _no_higher(attempt, height)
    marks = layout.marks
    drawing = Drawing(
        layout.width,
        layout.height,
        marks, f"Part {part.mark}: {part.title}",
        _described(plan, captions, printed),
        Sayings(plan).groups(attempt.arrangement.sights, marks),
    )  # fmt: skip
    shown = held(drawing, width, height)
    shrunk = any(isinstance(mark, Text) and mark.role == "scale" for mark in drawing.marks) and not any(
        isinstance(mark, Text) and mark.role == "scale" for mark in shown.marks
    )
    scale, clashes = ("", attempt.clashes + 1) if shrunk else (attempt.scale.text, attempt.clashes)
    return PartSheet(shown, scale, captions, tuple(notes), printed, plan, clashes)


def printed_dimensions(sheet: PartSheet) -> tuple[PrintedDimension, ...]:
    """Give every dimension printed on a sheet."""
    return sheet.printed


def _no_higher(attempt: Attempt, height: float) -> Layout:
    """Lay the views out in the least height at which the small picture is still nearly as large."""
    best = attempt.layout
    if best.fits:
        high = best.least
        while high < height:
            layout = attempt.relaid(high)
            if layout.fits and layout.zoom >= 0.8 * best.zoom:
                return layout
            high += 5.0
    return best


def _mirror_note(design: Design, part: Part) -> tuple[str, ...]:
    return (f"mirror of {design.part(part.mirror).mark}",) if part.mirror else ()


def _described(plan: PartPlan, captions: Sequence[str], printed: Sequence[PrintedDimension]) -> str:
    part = plan.part
    sizes = ", ".join(f"{item.axis.word} {item.text}" for item in printed if item.kind == "overall")
    rest = "; ".join(note.text for note in plan.notes)
    words = f"{part.title}, part {part.mark}, seen as: {', '.join(captions)}. Overall {sizes}."
    return f"{words} {rest}." if rest else words
