"""Try the sheets of one part: which views, at which scale, with how large figures; keep the most legible."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from plangen.design.model import Part
from plangen.drawing.dimension_lines import DimensionLook
from plangen.drawing.part_sheets import pictorial
from plangen.drawing.part_sheets.captions import caption
from plangen.drawing.part_sheets.interrupted import plain_stretches
from plangen.drawing.part_sheets.layout import BETWEEN, Layout, composed, lay_out
from plangen.drawing.part_sheets.noting import NOTE_WIDTHS
from plangen.drawing.part_sheets.paper_scales import sheet_scales
from plangen.drawing.part_sheets.picture import Outlines, Stretches, rulers
from plangen.drawing.part_sheets.placing import Placed, View
from plangen.drawing.part_sheets.plan import PartPlan
from plangen.drawing.part_sheets.proof import missing, refuse
from plangen.drawing.part_sheets.sights import Arrangement, Sight, arrangements
from plangen.drawing.part_sheets.viewing import Viewer
from plangen.drawing.scales import Scale
from plangen.drawing.sheet.measure import Bounds
from plangen.drawing.sheet.model import Xy
from plangen.solids.model import Solids
from plangen.units import LengthStyle

LEGIBLE = 1.3  # mm on the paper that the smallest cut should measure
WIDEST = 40.0  # mm on the paper that the width of an interrupted part may measure
WORTH_STACKING = 0.15  # of full legibility that views under each other have to gain
COSTLY = 1  # scales that large figures may cost
FIGURE_STEPS = (4.2, 3.44, 3.0, 2.5)  # mm; series of ISO 3098 and between; none smaller is legible
GRAIN = "grain along the length"  # under the small picture, where no view has room for an arrow
LARGEST_PAPER = 3000.0  # mm
CLEAR = 14.0  # mm on the paper of the part's width, under which its middle is rather left out
SLIM = 7.0  # mm on the paper that the part's width should measure


@dataclass(frozen=True)
class Attempt:
    """A sheet that was tried: its views, where they lie, and how well it reads.

    ``relaid`` lays it out in another height.
    """

    layout: Layout
    scale: Scale
    arrangement: Arrangement
    views: tuple[View, ...]
    interrupted: bool
    clashes: int
    relaid: Callable[[float], Layout]


def best_attempt(
    plan: PartPlan,
    solids: Solids,
    style: LengthStyle,
    footers: Sequence[str],
    width: float,
    height: float,
    figure: float,
) -> Attempt:
    """Give the best sheet of a part, on larger paper where none fits the room.

    Nothing may lie on a text unless no sheet without that can be drawn at all. Raises ProjectError with the
    finding ``undimensioned-feature`` where no sheet prints every dimension at its place.
    """
    studio = _Studio(solids, plan, style, footers)
    for lenient in (False, True):
        attempt = studio.in_room(width, height, figure, lenient=lenient)
        attempt = attempt or studio.on_larger_paper(width, height, lenient=lenient)
        if attempt is not None:
            return attempt
    refuse(plan, studio.lacks or ("no sheet is large enough",))
    raise AssertionError("a lack was refused")


class _Studio:
    """Tries the sheets of one part; its lines are worked out once."""

    def __init__(self, solids: Solids, plan: PartPlan, style: LengthStyle, footers: Sequence[str]) -> None:
        self.lacks: tuple[str, ...] = ()
        self._plan = plan
        self._style = style
        self._mesh = solids.parts[plan.part.key].mesh
        self._outlines = Outlines(plan.part, solids)
        self._footers = tuple(footers)
        self._viewers: dict[tuple[float, bool], Viewer] = {}
        self._small: dict[tuple[Sight, bool], pictorial.Pictorial] = {}

    def in_room(self, width: float, height: float, figure: float, *, lenient: bool) -> Attempt | None:
        """Give the sheet with the largest figures that cost no more than a scale or so; None if none fits."""
        scales = sheet_scales(self._style.system)
        best = self._best(width, height, figure, lenient, scales, least=1.0)
        if best is not None:
            return best
        smallest = self._best(width, height, FIGURE_STEPS[-1], lenient, scales)
        if smallest is None:
            return None
        costly = scales.index(smallest.scale) + COSTLY
        scales = tuple(
            scale
            for number, scale in enumerate(scales)
            if scale.factor >= smallest.scale.factor
            or (number <= costly and _smallest(self._plan, scale) >= 1.0)
        )
        for size in (figure, *(step for step in FIGURE_STEPS[:-1] if step < figure)):
            best = self._best(width, height, size, lenient, scales)
            if best is not None and best.clashes <= smallest.clashes:
                return best
        return smallest

    def on_larger_paper(self, width: float, height: float, *, lenient: bool) -> Attempt | None:
        """Give the sheet on the smallest paper of the same shape that holds it, with the smallest figures."""
        scales, grown = sheet_scales(self._style.system), 1.0
        while grown * max(width, height) < LARGEST_PAPER:
            grown *= 1.5
            attempt = self._best(width * grown, height * grown, FIGURE_STEPS[-1], lenient, scales)
            if attempt is not None:
                return attempt
        return None

    def _best(
        self, width: float, height: float, figure: float, lenient: bool,
        scales: Sequence[Scale], least: float = 0.0,
    ) -> Attempt | None:  # fmt: skip
        """Give the most legible sheet in a room that is worth at ``least`` so much, the best tried first.

        How well the part is to be seen follows from the scale alone. Views stand under each other only where
        that lets them be read better, and among equals a part is shown whole and as large as will go.
        """
        part = self._plan.part
        viewer = self._viewers.setdefault(
            (figure, lenient),
            Viewer(self._plan, self._outlines, self._style, DimensionLook(figure=figure), lenient),
        )
        beside = arrangements(self._plan)
        under = dict.fromkeys(replace(way, stacked=True) for way in beside if _has_side_views(way))
        stretches = plain_stretches(self._plan)
        wishes: list[tuple[tuple[float, ...], Arrangement, Stretches, Scale]] = []
        for order, arrangement in enumerate((*beside, *under)):
            for left_out in ((), stretches) if stretches else ((),):
                for scale in scales:
                    worth = min(_smallest(self._plan, scale), 1.0)
                    hopeless = not _may_fit(part, arrangement, scale, left_out, width, height)
                    if worth < least or hopeless or (left_out and _too_bold(part, scale)):
                        continue
                    worth -= WORTH_STACKING * arrangement.stacked
                    clear = min(1.0, float(part.width) * scale.factor / CLEAR)
                    score = (-worth, -clear, bool(left_out), -scale.factor, order)
                    wishes.append((score, arrangement, left_out, scale))
        for _, arrangement, left_out, scale in sorted(wishes, key=lambda wish: wish[0]):
            found = self._attempt(viewer, arrangement, scale, left_out, width, height)
            if found is not None:
                return found
        return None

    def _good(self, attempt: Attempt) -> bool:
        """Tell whether a sheet lies in its room and prints every planned dimension at its place."""
        if not attempt.layout.fits:
            return False
        lacks = missing(self._plan, attempt.views)
        self.lacks = self.lacks or lacks
        return not lacks

    def _small_picture(self, arrangement: Arrangement) -> pictorial.Pictorial:
        key = (arrangement.sights[0], _from_right(arrangement))
        if key not in self._small:
            self._small[key] = pictorial.pictorial_of(self._mesh, key[0], from_right=key[1])
        return self._small[key]

    def _attempt(
        self, viewer: Viewer, arrangement: Arrangement, scale: Scale, left_out: Stretches,
        width: float, height: float,
    ) -> Attempt | None:  # fmt: skip
        """Lay the views out at one scale, with wide notes before narrow ones; None if none is good."""
        placed = _dimensioned(viewer, arrangement, scale, left_out, width, height)
        if placed is None:
            return None
        for note_width in NOTE_WIDTHS if viewer.plan.notes else NOTE_WIDTHS[:1]:
            views = _with_notes(viewer, arrangement, placed, note_width, width, height)
            if views is None:
                continue
            named = [(view, caption(viewer.plan.part, view.picture.sight.side)) for view in views]
            blocks = composed(named, stacked=arrangement.stacked)
            footers = self._footers if any(view.grain for view in views) else (*self._footers, GRAIN)
            small, system = self._small_picture(arrangement), self._style.system
            relaid = partial(lay_out, blocks, small, footers, scale, system, width)
            clashes = sum(view.clashes for view in views)
            attempt = Attempt(relaid(height), scale, arrangement, views, bool(left_out), clashes, relaid)
            if self._good(attempt):
                return attempt
        return None


def _dimensioned(
    viewer: Viewer, arrangement: Arrangement, scale: Scale, left_out: Stretches,
    width: float, height: float,
) -> tuple[Placed, ...] | None:  # fmt: skip
    """Place the dimensions of view after view, the principal one, which takes longest, last.

    None where one has no place or where they need more room than there is.
    """
    sizes = {sight: _bare_size(viewer.plan.part, sight, scale, left_out) for sight in arrangement.sights}
    placed: list[Placed] = []
    for sight in reversed(arrangement.sights):
        room = _room_beside(sight, sizes, width, height, stacked=arrangement.stacked)
        one = viewer.dimensioned(arrangement, sight, scale, left_out, room)
        if not one.tried:
            return None
        sizes[sight] = _least_size(one)
        placed.insert(0, one)
        if not _fits_beside(sizes, width, height, stacked=arrangement.stacked):
            return None
    return tuple(placed)


def _least_size(placed: Placed) -> Xy:
    return min((_size(ground.box) for *_, ground in placed.tried), key=lambda size: size[0] * size[1])


def _with_notes(
    viewer: Viewer, arrangement: Arrangement, placed: Sequence[Placed], note_width: float,
    width: float, height: float,
) -> tuple[View, ...] | None:  # fmt: skip
    """Add the notes to every view; None where one of them leads out of the room."""
    sizes = {one.picture.sight: _least_size(one) for one in placed}
    views: list[View] = []
    for one in reversed(placed):
        sight = one.picture.sight
        room = _room_beside(sight, sizes, width, height, stacked=arrangement.stacked)
        view = viewer.finished(arrangement, one, note_width, room)
        if view is None:
            return None
        views.insert(0, view)
        sizes[sight] = _size(view.box)
    return tuple(views)


def _size(box: Bounds) -> Xy:
    return (box[2] - box[0], box[3] - box[1])


def _bare_size(part: Part, sight: Sight, scale: Scale, left_out: Stretches) -> Xy:
    across, upward = rulers(part, sight, scale.factor, left_out)
    return (across.extent, upward.extent)


def _room_beside(
    sight: Sight, sizes: Mapping[Sight, Xy], width: float, height: float, *, stacked: bool
) -> Xy:
    """Give the room that the least sizes of the other views leave for one."""
    others = {other: size for other, size in sizes.items() if other is not sight}
    if stacked:
        return width, height - sum(size[1] + BETWEEN for size in others.values())
    level = sum(size[0] + BETWEEN for other, size in others.items() if _in_row(other))
    upright = sum(size[1] + BETWEEN for other, size in others.items() if _in_column(other))
    return (width - level if _in_row(sight) else width), (height - upright if _in_column(sight) else height)


def _fits_beside(sizes: Mapping[Sight, Xy], width: float, height: float, *, stacked: bool) -> bool:
    """Tell whether views could lie on the sheet: a row side by side, a column one over the other."""
    rooms = {sight: _room_beside(sight, sizes, width, height, stacked=stacked) for sight in sizes}
    return all(size[0] <= rooms[sight][0] and size[1] <= rooms[sight][1] for sight, size in sizes.items())


def _in_row(sight: Sight) -> bool:
    return sight.station in ("middle", "left", "right")


def _in_column(sight: Sight) -> bool:
    return sight.station in ("middle", "above", "below")


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
