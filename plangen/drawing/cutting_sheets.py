"""Draw how boards and sheets are cut: to scale, pieces with mark and size, cuts in order, tape readings."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from plangen.drawing.cutting_ground import Ground, outer_rips, right_room, rips_fit
from plangen.drawing.cutting_picture import draw
from plangen.drawing.cutting_rows import caption_height
from plangen.drawing.cutting_text import size_lines
from plangen.drawing.sheet.model import Drawing, Mark
from plangen.takeoff.model import CuttingDiagram, StockPlan
from plangen.takeoff.saw_settings import alike
from plangen.units import Length, LengthStyle

BETWEEN = 9.0  # mm between two diagrams
_STEP, _MOST_STEPS = 0.97, 90  # from one scale to the next; down to a fifteenth


def cutting_drawing(
    plan: StockPlan,
    diagrams: Sequence[CuttingDiagram],
    style: LengthStyle,
    width: float,
    height: float,
    *,
    ticked: bool = False,
) -> Drawing:
    """Draw some diagrams of a plan under each other, all diagrams of the plan at one scale.

    Boards that are cut alike are drawn once. ``width`` and ``height`` are the room in mm; the drawing is as
    wide and only as high as it needs to be, smaller in scale where the height asks for it. Rings lead to
    ``part:KEY``. With ``ticked`` each board has a box to tick.
    """
    groups = alike(diagrams)
    scale = _scale(plan, groups, style, width, height, ticked)
    marks: list[Mark] = []
    top = total = _tall(plan, groups, style, scale, width, ticked)
    for group in groups:
        marks += draw(Ground(group, style, scale, width, top, plan.kerf, ticked))
        top -= _height(group, style, scale, width, plan.kerf, ticked) + BETWEEN
    noun = diagrams[0].kind if diagrams else "board"
    names = ", ".join(str(diagram.number) for diagram in diagrams)
    return Drawing(
        width,
        total,
        tuple(marks),
        title=f"Cutting diagram, {noun} {names}",
        description="; ".join(_described(group, style) for group in groups),
    )


def _described(group: Sequence[CuttingDiagram], style: LengthStyle) -> str:
    diagram = group[0]
    pieces = ", ".join(
        f"{piece.mark} {size_lines(piece.width, piece.length, style)[0]}" for piece in diagram.pieces
    )
    numbers = ", ".join(str(one.number) for one in group)
    return f"{diagram.kind} {numbers}, {diagram.title.text(style)}: {pieces}"


def _full_scale(plan: StockPlan, style: LengthStyle, width: float) -> float:
    """Give the scale at which the longest board, and the readings beside it, are as wide as the room."""
    longest = max(float(diagram.length) for diagram in plan.diagrams)
    right = max(right_room(diagram, style) for diagram in plan.diagrams)
    if any(outer_rips(one) and rips_fit(one, style, (width - right) / longest) for one in plan.diagrams):
        return (width - right) / longest
    return width / longest


def _scale(
    plan: StockPlan,
    groups: Sequence[Sequence[CuttingDiagram]],
    style: LengthStyle,
    width: float,
    height: float,
    ticked: bool,
) -> float:
    """Give the full scale, or where the height asks for it the largest of some smaller ones.

    At that scale every diagram of the plan finds room by itself, and those that are asked for together. What
    is written beside the wood takes more height the smaller the scale is, as sizes move out of their
    pieces: so each scale is tried as it would be drawn.
    """
    full = _full_scale(plan, style, width)
    wanted = [groups, *([group] for group in alike(plan.diagrams))]
    for step in range(_MOST_STEPS):
        scale = full * _STEP**step
        if all(_tall(plan, some, style, scale, width, ticked) <= height + 1e-6 for some in wanted):
            return scale
    return scale


def _tall(
    plan: StockPlan,
    groups: Sequence[Sequence[CuttingDiagram]],
    style: LengthStyle,
    scale: float,
    width: float,
    ticked: bool,
) -> float:
    """Give the height of diagrams under each other."""
    heights = [_height(tuple(group), style, scale, width, plan.kerf, ticked) for group in groups]
    return sum(heights) + BETWEEN * (len(heights) - 1)


@lru_cache(maxsize=4096)
def _height(
    group: tuple[CuttingDiagram, ...],
    style: LengthStyle,
    scale: float,
    width: float,
    kerf: Length,
    ticked: bool,
) -> float:
    """Give the height of one diagram; kept, as every picture of a plan asks for those of all its boards."""
    ground = Ground(group, style, scale, width, 0.0, kerf, ticked)
    return ground.readings.height - ground.board[1] + caption_height(ground)
