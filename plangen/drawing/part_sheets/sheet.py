"""The part sheet: views in third angle, dimensioned, with a small picture, at the largest scale that fits."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from plangen.design.model import Design, Part
from plangen.drawing.dimension_lines import DimensionLook
from plangen.drawing.part_sheets import pictorial
from plangen.drawing.part_sheets.captions import caption
from plangen.drawing.part_sheets.interrupted import plain_stretches
from plangen.drawing.part_sheets.layout import BETWEEN, Layout, lay_out
from plangen.drawing.part_sheets.marked import Sayings
from plangen.drawing.part_sheets.paper_scales import sheet_scales
from plangen.drawing.part_sheets.picture import Outlines, Stretches, rulers
from plangen.drawing.part_sheets.placing import NOTE_WIDTHS, Placed, View
from plangen.drawing.part_sheets.plan import PartPlan, part_dimensions
from plangen.drawing.part_sheets.printed import PrintedDimension
from plangen.drawing.part_sheets.proof import missing, refuse
from plangen.drawing.part_sheets.sights import Arrangement, Sight, arrangements
from plangen.drawing.part_sheets.viewing import Viewer
from plangen.drawing.scales import Scale
from plangen.drawing.sheet.fit import held
from plangen.drawing.sheet.measure import Bounds, bounds
from plangen.drawing.sheet.model import Drawing, Text
from plangen.solids.model import Solids
from plangen.units import LengthStyle

LEGIBLE = 1.3  # mm on the paper that the smallest cut should measure
WIDEST = 40.0  # mm on the paper that the width of an interrupted part may measure
CLASH = 0.4  # of full legibility, the price of one text that touches something
WORTH_STACKING = 0.15  # of full legibility that views under each other have to gain
COSTLY = 1  # scales that large figures may cost
FIGURE_STEPS = (4.2, 3.44, 3.0, 2.5)  # mm; series of ISO 3098 and between; none smaller is legible
LARGEST_PAPER = 3000.0  # mm
CLEAR = 14.0  # mm on the paper of the part's width, under which its middle is rather left out
SLIM = 7.0  # mm on the paper that the part's width should measure


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


@dataclass(frozen=True)
class _Attempt:
    layout: Layout
    scale: Scale
    arrangement: Arrangement
    views: tuple[View, ...]
    interrupted: bool
    clashes: int
    worth: float  # 1 where all is well to be seen and nothing touches
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

    ``figure_height`` (mm) is the height of the dimension figures. They are made smaller, down to 2.5 mm,
    where the part would otherwise be drawn more than two scales smaller. Where nothing fits, the sheet is
    drawn on larger paper and shrunk: it then names no scale, and counts as a clash. Raises ProjectError
    with the finding ``undimensioned-feature`` where the records do not say enough to dimension the part,
    or where a dimension could not be printed at its place.
    """
    plan = part_dimensions(part, style)
    studio = _Studio(design, solids, plan, style)
    attempt = studio.in_room(width, height, figure_height) or studio.on_larger_paper(width, height)
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
        Sayings(plan).groups(attempt.arrangement.sights, layout.marks),
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


class _Studio:
    """Tries the sheets of one part; its lines are worked out once."""

    def __init__(self, design: Design, solids: Solids, plan: PartPlan, style: LengthStyle) -> None:
        self._plan = plan
        self._style = style
        self._mesh = solids.parts[plan.part.key].mesh
        self._outlines = Outlines(plan.part, solids)
        self._footers = tuple(_mirror_note(design, plan.part))
        self._small: dict[Arrangement, pictorial.Pictorial] = {}
        self._lacks: tuple[str, ...] = ()

    def in_room(self, width: float, height: float, figure: float) -> _Attempt | None:
        """Give the sheet with the largest figures that cost no more than two scales; None if none fits."""
        best = self._best(width, height, figure)
        if best is None and self._best(width, height, FIGURE_STEPS[-1]) is None:
            return None
        for size in (step for step in FIGURE_STEPS if step < figure):
            if best is not None and best.worth >= 1.0:
                break
            other = self._best(width, height, size, self._steps_above(best, COSTLY))
            if best is None or (other is not None and other.clashes <= best.clashes):
                best = other
        return best

    def _steps_above(self, attempt: _Attempt | None, steps: int) -> tuple[Scale, ...]:
        """Give the scales more than so many steps larger than that of an attempt; all, where texts touch."""
        scales = sheet_scales(self._style.system)
        if attempt is None or attempt.clashes:
            return scales
        return scales[: max(0, scales.index(attempt.scale) - steps)]

    def on_larger_paper(self, width: float, height: float) -> _Attempt:
        """Give the sheet on the smallest paper of the same shape that holds it, with the smallest figures."""
        grown = 1.0
        while grown * max(width, height) < LARGEST_PAPER:
            grown *= 1.5
            attempt = self._best(width * grown, height * grown, FIGURE_STEPS[-1])
            if attempt is not None:
                return attempt
        refuse(self._plan, self._lacks or ("no sheet is large enough",))
        raise AssertionError("a lack was refused")

    def _best(
        self, width: float, height: float, figure: float, scales: tuple[Scale, ...] | None = None
    ) -> _Attempt | None:
        """Give the best sheet in a room, with views under each other where that lets them be read better."""
        if scales is None:
            scales = sheet_scales(self._style.system)
        viewer = Viewer(self._plan, self._outlines, self._style, DimensionLook(figure=figure))
        ways = arrangements(self._plan)
        beside = self._largest(viewer, ways, scales, width, height)
        if beside is not None and beside.worth >= 1.0:
            return beside
        stacks = tuple(dict.fromkeys(replace(way, stacked=True) for way in ways if _has_side_views(way)))
        if beside is not None and not beside.clashes:
            scales = tuple(scale for scale in scales if scale.factor > beside.scale.factor)
        under = self._largest(viewer, stacks, scales, width, height)
        if beside is None or (under is not None and under.worth > beside.worth + WORTH_STACKING):
            return under
        return beside

    def _largest(
        self,
        viewer: Viewer,
        ways: Sequence[Arrangement],
        scales: Sequence[Scale],
        width: float,
        height: float,
    ) -> _Attempt | None:
        """Try the layouts from the largest scale down; keep the most legible, among those the largest."""
        part = self._plan.part
        stretches = plain_stretches(self._plan)
        found: list[tuple[tuple[float, ...], _Attempt]] = []
        for order, arrangement in enumerate(ways):
            for left_out in ((), stretches) if stretches else ((),):
                for scale in scales:
                    if any(scale.factor <= other.scale.factor and not other.clashes for _, other in found):
                        break  # no larger is no better than what fits without a clash
                    if not _may_fit(part, arrangement, scale, left_out, width, height):
                        continue
                    if left_out and _too_bold(part, scale):
                        continue
                    tried = _attempts(
                        viewer, arrangement, scale, left_out, self._small_picture(arrangement),
                        self._footers, width, height,
                    )  # fmt: skip
                    fitting = next((attempt for attempt in tried if self._good(attempt)), None)
                    if fitting is not None:
                        clear = min(1.0, float(part.width) * scale.factor / CLEAR)
                        score = (-fitting.worth, -clear, bool(left_out), -scale.factor, order)
                        found.append((score, fitting))
        return min(found, key=lambda item: item[0])[1] if found else None

    def _good(self, attempt: _Attempt) -> bool:
        """Tell whether a sheet lies in its room and prints every planned dimension at its place."""
        if not attempt.layout.fits:
            return False
        lacks = missing(self._plan, attempt.views)
        self._lacks = self._lacks or lacks
        return not lacks

    def _small_picture(self, arrangement: Arrangement) -> pictorial.Pictorial:
        if arrangement not in self._small:
            self._small[arrangement] = pictorial.pictorial_of(
                self._mesh, arrangement.sights[0], from_right=_from_right(arrangement)
            )
        return self._small[arrangement]


def _attempts(
    viewer: Viewer, arrangement: Arrangement, scale: Scale, left_out: Stretches, small: pictorial.Pictorial,
    footers: Sequence[str], width: float, height: float,
) -> Iterator[_Attempt]:  # fmt: skip
    """Lay the views out at one scale, first with wide notes, then with narrow ones; none that is hopeless."""
    placed: list[Placed] = []
    for sight in reversed(arrangement.sights):  # the principal view, which takes longest, last
        placed.insert(0, viewer.dimensioned(arrangement, sight, scale, left_out))
        boxes = [(one.picture.sight, _least([bounds(g.marks) for *_, g in one.tried])) for one in placed]
        if not _room_for(boxes, width, height, arrangement.stacked):
            return
    for note_width in NOTE_WIDTHS if viewer.plan.notes else NOTE_WIDTHS[:1]:
        views = tuple(viewer.finished(arrangement, one, note_width) for one in placed)
        taken = [(view.picture.sight, bounds(view.marks)) for view in views]
        if not _room_for(taken, width, height, arrangement.stacked):
            continue
        named = [(view, caption(viewer.plan.part, view.picture.sight.side)) for view in views]
        relaid = partial(lay_out, named, small, footers, scale, width, stacked=arrangement.stacked)
        clashes = sum(view.clashes for view in views)
        worth = min(_smallest(viewer.plan, scale), 1.0) - CLASH * clashes
        yield _Attempt(relaid(height), scale, arrangement, views, bool(left_out), clashes, worth, relaid)


def _least(boxes: Sequence[Bounds]) -> Bounds:
    """Give the smallest of several boxes."""
    return min(boxes, key=lambda box: (box[2] - box[0]) * (box[3] - box[1]))


def _room_for(boxes: Sequence[tuple[Sight, Bounds]], width: float, height: float, stacked: bool) -> bool:
    """Tell whether views could lie on the sheet: a row side by side, a column one over the other."""
    if stacked:
        high = sum(box[3] - box[1] + BETWEEN for _, box in boxes) - BETWEEN
        return max(box[2] - box[0] for _, box in boxes) <= width and high <= height
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
    if arrangement.stacked:
        return across.extent + 10 <= width and upward.extent + 18 <= height
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


def _has_side_views(arrangement: Arrangement) -> bool:
    return any(sight.station in ("left", "right") for sight in arrangement.sights)


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
