"""The part sheet: views in third angle, dimensioned, with a small picture, at the largest scale that fits."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from plangen.design.model import Design, Part
from plangen.drawing.dimension_lines import DimensionLook
from plangen.drawing.part_sheets import pictorial
from plangen.drawing.part_sheets.interrupted import plain_stretches
from plangen.drawing.part_sheets.layout import BETWEEN, Layout, lay_out
from plangen.drawing.part_sheets.paper_scales import sheet_scales
from plangen.drawing.part_sheets.picture import Outlines, Stretches, rulers
from plangen.drawing.part_sheets.placing import NOTE_WIDTHS, Placed, View
from plangen.drawing.part_sheets.plan import PartPlan, part_dimensions
from plangen.drawing.part_sheets.printed import PrintedDimension
from plangen.drawing.part_sheets.sights import Arrangement, Sight, arrangements, caption
from plangen.drawing.part_sheets.viewing import Viewer
from plangen.drawing.scales import Scale
from plangen.drawing.sheet.measure import Bounds, bounds
from plangen.drawing.sheet.model import Drawing
from plangen.solids.model import Solids
from plangen.units import LengthStyle

LEGIBLE = 1.3  # mm on the paper that the smallest cut should measure
WIDEST = 40.0  # mm on the paper that the width of an interrupted part may measure
CLASH = 0.4  # of full legibility, the price of one text that touches something
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
    viewer = Viewer(plan, Outlines(part, solids), style, look)
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
                for attempt in _attempts(viewer, arrangement, scale, left_out, small, footers, width, height):
                    if attempt.layout.fits:
                        legible = min(_smallest(plan, scale), 1.0)
                        worth = legible - CLASH * attempt.clashes
                        score = (-worth, bool(left_out), -scale.factor, order)
                        found.append((score, attempt))
                        break
    if found:
        return min(found, key=lambda item: item[0])[1]
    if max(width, height) > 3000:
        raise ValueError(f"no sheet is large enough for {part.title}")
    return _best(design, solids, plan, style, width * 1.25, height * 1.25, look)


def _attempts(
    viewer: Viewer, arrangement: Arrangement, scale: Scale, left_out: Stretches, small: pictorial.Pictorial,
    footers: Sequence[str], width: float, height: float,
) -> Iterator[_Attempt]:  # fmt: skip
    """Lay the views out at one scale, first with wide notes, then with narrow ones; none that is hopeless."""
    placed: list[Placed] = []
    for sight in reversed(arrangement.sights):  # the principal view, which takes longest, last
        placed.insert(0, viewer.dimensioned(arrangement, sight, scale, left_out))
        boxes = [(one.picture.sight, _least([bounds(g.marks) for *_, g in one.tried])) for one in placed]
        if not _room_for(boxes, width, height):
            return
    for note_width in NOTE_WIDTHS if viewer.plan.notes else NOTE_WIDTHS[:1]:
        views = tuple(viewer.finished(arrangement, one, note_width) for one in placed)
        if not _room_for([(view.picture.sight, bounds(view.marks)) for view in views], width, height):
            continue
        named = [(view, caption(viewer.plan.part, view.picture.sight.side)) for view in views]
        relaid = partial(lay_out, named, small, footers, scale, width)
        clashes = sum(view.clashes for view in views)
        yield _Attempt(relaid(height), scale, arrangement, views, bool(left_out), clashes, relaid)


def _least(boxes: Sequence[Bounds]) -> Bounds:
    """Give the smallest of several boxes."""
    return min(boxes, key=lambda box: (box[2] - box[0]) * (box[3] - box[1]))


def _room_for(boxes: Sequence[tuple[Sight, Bounds]], width: float, height: float) -> bool:
    """Tell whether views could lie on the sheet: a row side by side, a column one over the other."""
    wide, high = -BETWEEN, -BETWEEN
    for sight, box in boxes:
        if sight.station in ("middle", "left", "right"):
            wide += box[2] - box[0] + BETWEEN
        if sight.station in ("middle", "above", "below"):
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
