"""The part sheet: views in third angle, dimensioned, with a small picture, at the largest scale that fits."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from plangen.design.model import Design, Part
from plangen.drawing.dimension_lines import DimensionLook
from plangen.drawing.part_sheets import pictorial
from plangen.drawing.part_sheets.interrupted import plain_stretches
from plangen.drawing.part_sheets.layout import BETWEEN, Layout, lay_out
from plangen.drawing.part_sheets.notes import Note
from plangen.drawing.part_sheets.paper_scales import sheet_scales
from plangen.drawing.part_sheets.picture import Outlines, Picture, Stretches, rulers
from plangen.drawing.part_sheets.placing import View, place
from plangen.drawing.part_sheets.plan import Dimension, PartPlan, part_dimensions
from plangen.drawing.part_sheets.printed import PrintedDimension
from plangen.drawing.part_sheets.shapes import Shape
from plangen.drawing.part_sheets.sights import Arrangement, Sight, arrangements, caption
from plangen.drawing.part_sheets.viewlines import centre_marks, edges
from plangen.drawing.scales import Scale
from plangen.drawing.sheet.measure import bounds
from plangen.drawing.sheet.model import Drawing
from plangen.joinery.space import Axis
from plangen.solids.model import Solids
from plangen.units import LengthStyle

LEGIBLE = 1.3  # mm on the paper that the smallest cut should measure
WIDEST = 40.0  # mm on the paper that the width of an interrupted part may measure
SLIM = 7.0  # mm on the paper that the part's width should measure


@dataclass(frozen=True)
class PartSheet:
    """The dimensioned drawing of one part.

    ``scale`` is as printed ("1:4"), ``views`` the captions in drawing order, ``notes`` what the facts beside
    the drawing should add; ``printed`` is every dimension on it with the exact stretches it stands for;
    ``plan`` what had to be said; ``clashes`` how often a text touches something (0 on a good sheet).
    """

    drawing: Drawing
    scale: str
    views: tuple[str, ...]
    notes: tuple[str, ...]
    printed: tuple[PrintedDimension, ...]
    plan: PartPlan
    clashes: int


@dataclass(frozen=True)
class _Attempt:
    layout: Layout
    scale: Scale
    arrangement: Arrangement
    views: tuple[View, ...]
    interrupted: bool
    clashes: int
    relaid: Callable[[float], Layout]


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

    ``figure_height`` (mm) is the height of the dimension figures. Raises ProjectError with the finding
    ``undimensioned-feature`` where the records do not say enough to dimension the part.
    """
    plan = part_dimensions(part, style)
    attempt = _best(design, solids, plan, style, width, height, DimensionLook(figure=figure_height))
    captions = tuple(caption(part, sight.side) for sight in attempt.arrangement.sights)
    notes = list(_mirror_note(design, part))
    if attempt.interrupted:
        notes.append("The middle is left out; sizes are true.")
    printed = tuple(item for view in attempt.views for item in view.printed)
    layout = _no_higher(attempt, height)
    drawing = Drawing(
        layout.width,
        layout.height,
        layout.marks, f"Part {part.mark}: {part.title}",
        _described(plan, captions, printed),
    )  # fmt: skip
    return PartSheet(drawing, attempt.scale.text, captions, tuple(notes), printed, plan, attempt.clashes)


def printed_dimensions(sheet: PartSheet) -> tuple[PrintedDimension, ...]:
    """Give every dimension printed on a sheet."""
    return sheet.printed


def _best(
    design: Design, solids: Solids, plan: PartPlan, style: LengthStyle, width: float, height: float,
    look: DimensionLook,
) -> _Attempt:  # fmt: skip
    """Try the layouts from the largest scale down; keep the most legible, among those the largest.

    A part that nothing fits is drawn on a larger sheet, at the smallest scale: too large, but whole.
    """
    part = plan.part
    outlines = Outlines(part, solids)
    footers = tuple(_mirror_note(design, part))
    stretches = plain_stretches(plan)
    found: list[tuple[tuple[float, ...], _Attempt]] = []
    for order, arrangement in enumerate(arrangements(plan)):
        small = pictorial.pictorial_of(
            solids.parts[part.key].mesh, arrangement.sights[0], from_right=_from_right(arrangement)
        )
        for left_out in ((), stretches) if stretches else ((),):
            for scale in sheet_scales(style.system):
                if any(scale.factor <= other.scale.factor and not other.clashes for _, other in found):
                    break  # no larger is no better than what fits without a clash
                if not _may_fit(part, arrangement, scale, left_out, width, height):
                    continue
                if left_out and _too_bold(part, scale):
                    continue
                attempt = _attempt(plan, outlines, arrangement, scale, left_out, style, look, small,
                                   footers, width, height)  # fmt: skip
                if attempt is None or not attempt.layout.fits:
                    continue
                legible = min(_smallest(plan, scale), 1.0)
                score = (-legible, attempt.clashes, bool(left_out), -scale.factor, order)
                found.append((score, attempt))
                if not attempt.clashes:
                    break
    if found:
        return min(found, key=lambda item: item[0])[1]
    if max(width, height) > 3000:
        raise ValueError(f"no sheet is large enough for {part.title}")
    return _best(design, solids, plan, style, width * 1.25, height * 1.25, look)


def _attempt(
    plan: PartPlan, outlines: Outlines, arrangement: Arrangement, scale: Scale,
    left_out: Stretches, style: LengthStyle, look: DimensionLook,
    small: pictorial.Pictorial, footers: Sequence[str], width: float, height: float,
) -> _Attempt | None:  # fmt: skip
    views: list[View] = []
    for sight in reversed(arrangement.sights):  # the principal view, which takes longest, last
        across, upward = rulers(plan.part, sight, scale.factor, left_out)
        picture = Picture(plan.part, sight, across, upward, outlines.seen_from(sight))
        views.insert(0, _view(plan, picture, arrangement, style, look))
        if not _room_for(views, width, height):
            return None
    clashes = sum(view.clashes for view in views)
    named = [(view, caption(plan.part, view.picture.sight.side)) for view in views]

    def relaid(high: float) -> Layout:
        return lay_out(named, small, footers, scale, width, high)

    return _Attempt(
        relaid(height), scale, arrangement, tuple(views), bool(left_out), clashes, relaid
    )  # fmt: skip


def _view(
    plan: PartPlan, picture: Picture, arrangement: Arrangement, style: LengthStyle, look: DimensionLook
) -> View:
    """Place what one view says over its lines."""
    sight = picture.sight
    here = [d for d in plan.dimensions if arrangement.showing(d.axis, _looks(plan, d)) is sight]
    notes = [
        _from_where(plan.part, note, sight) for note in plan.notes if _note_sight(arrangement, note) is sight
    ]
    numbers = {n for item in here for n in item.shapes} | {n for note in notes for n in note.shapes}
    told = [plan.shapes[n] for n in sorted(numbers)]
    base = (*edges(picture, _wanting_hidden(plan, told, sight)), *centre_marks(plan, picture))
    crowded = tuple(_WAYS[other.station] for other in arrangement.sights if other.station != "middle")
    if sight.station != "middle":
        crowded = (_WAYS[_OPPOSITE[sight.station]],)
    return place(plan, picture, base, here, notes, style, look, crowded)


def _room_for(views: Sequence[View], width: float, height: float) -> bool:
    """Tell whether the views so far could lie on the sheet: those in a row beside, those in a column over."""
    wide, high = -BETWEEN, -BETWEEN
    for view in views:
        box = bounds(view.marks)
        if view.picture.sight.station in ("middle", "left", "right"):
            wide += box[2] - box[0] + BETWEEN
        if view.picture.sight.station in ("middle", "above", "below"):
            high += box[3] - box[1] + BETWEEN
    return wide <= width and high <= height


def _no_higher(attempt: _Attempt, height: float) -> Layout:
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


_WAYS = {"right": "right", "left": "left", "above": "up", "below": "down"}
_OPPOSITE = {"right": "left", "left": "right", "above": "below", "below": "above"}


def _looks(plan: PartPlan, dimension: Dimension) -> tuple[Axis, ...]:
    """Give the looks of a dimension; the blank's own sizes go to the face, the thickness to an end."""
    part = plan.part
    blank = tuple(axis for axis in (part.thick, part.runs, part.wide) if axis is not dimension.axis)
    return dimension.looks or blank


def _note_sight(arrangement: Arrangement, note: Note) -> Sight:
    for look in note.looks:
        for sight in arrangement.sights:
            if sight.is_along(look):
                return sight
    return arrangement.sights[0]


def _from_where(part: Part, note: Note, sight: Sight) -> Note:
    """Say in a note that the work is done from a side that the view does not show."""
    if note.kind != "hole" or note.both or note.side is sight.side or note.text.endswith("through"):
        return note
    return replace(note, text=f"{note.text}, from the {caption(part, note.side).lower()}")


def _wanting_hidden(plan: PartPlan, told: Iterable[Shape], sight: Sight) -> list[Shape]:
    """Choose the shapes whose hidden edges help: what this view speaks of, and what is cut from behind."""
    chosen = list(told)
    chosen += [shape for shape in plan.shapes if shape.side is sight.side.opposite and shape not in chosen]
    return chosen


def _may_fit(
    part: Part, arrangement: Arrangement, scale: Scale, left_out: Stretches,
    width: float, height: float,
) -> bool:  # fmt: skip
    sight = arrangement.sights[0]
    across, upward = rulers(part, sight, scale.factor, left_out)
    depth = float(part.blank.size(sight.side.axis)) * scale.factor
    beside = sum(depth + 12 for other in arrangement.sights if other.station in ("left", "right"))
    over = sum(depth + 12 for other in arrangement.sights if other.station in ("above", "below"))
    return across.extent + 10 + beside <= width and upward.extent + 18 + over <= height


def _too_bold(part: Part, scale: Scale) -> bool:
    """Tell whether an interrupted part would be larger on the paper than it needs to be read."""
    wide = float(part.width) * scale.factor
    return wide > WIDEST or (scale.factor > 0.5 and wide > WIDEST / 2)


def _smallest(plan: PartPlan, scale: Scale) -> float:
    """How legible the smallest thing is, 1 or more where it is well to be seen."""
    part = plan.part
    sizes = [float(part.width) * scale.factor / SLIM]
    sizes += [float(d.value) * scale.factor / LEGIBLE for d in plan.dimensions if d.kind == "size"]
    return min(sizes)


def _from_right(arrangement: Arrangement) -> bool:
    return any(sight.station == "right" for sight in arrangement.sights)


def _mirror_note(design: Design, part: Part) -> tuple[str, ...]:
    return (f"mirror of {design.part(part.mirror).mark}",) if part.mirror else ()


def _described(plan: PartPlan, captions: Sequence[str], printed: Sequence[PrintedDimension]) -> str:
    part = plan.part
    sizes = ", ".join(f"{item.axis.word} {item.text}" for item in printed if item.kind == "overall")
    rest = "; ".join(note.text for note in plan.notes)
    words = f"{part.title}, part {part.mark}, seen as: {', '.join(captions)}. Overall {sizes}."
    return f"{words} {rest}." if rest else words
