"""Draw how boards and sheets are cut: to scale, pieces with mark and size, cuts in order, tape readings."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.design.model import Design
from plangen.drawing.cutting_picture import (
    BETWEEN,
    CAPTION,
    Picture,
    outer_rips,
    reading_height,
    right_room,
    rips_fit,
)
from plangen.drawing.cutting_text import size_lines
from plangen.drawing.sheet.model import Drawing, Mark
from plangen.drawing.title_block import scale_bar
from plangen.takeoff.model import CuttingDiagram, StockPlan
from plangen.units import ZERO, LengthStyle

FOOT = 8.0  # mm for the scale bar
_STEP, _MOST_STEPS = 0.97, 90  # from one scale to the next; down to a fifteenth


def cutting_drawing(
    design: Design,
    plan: StockPlan,
    diagrams: Sequence[CuttingDiagram],
    style: LengthStyle,
    width: float,
    height: float,
) -> Drawing:
    """Draw some diagrams of a plan under each other, all diagrams of the plan at one scale.

    ``width`` and ``height`` are the room in mm; the drawing is as wide and only as high as it needs to
    be, smaller in scale where the height asks for it. Rings lead to ``part:KEY``.
    """
    scale = _scale(plan, diagrams, style, width, height)
    marks: list[Mark] = [*scale_bar((2.0, 0.3), scale, style.system, longest=60.0)]
    top = total = _tall(diagrams, style, scale, width)
    for diagram in diagrams:
        marks += Picture(diagram, style, scale, width, top, design.shop.kerf).marks()
        top -= _height(diagram, style, scale, width) + BETWEEN
    noun = diagrams[0].kind if diagrams else "board"
    names = ", ".join(str(diagram.number) for diagram in diagrams)
    return Drawing(
        width,
        total,
        tuple(marks),
        title=f"Cutting diagram, {noun} {names}",
        description="; ".join(_described(diagram, style) for diagram in diagrams),
    )


def pages_of(
    plan: StockPlan, style: LengthStyle, width: float, height: float
) -> tuple[tuple[CuttingDiagram, ...], ...]:
    """Share the diagrams of a plan among pages, as many on each as stand there at full width."""
    scale = _full_scale(plan, style, width)
    pages: list[list[CuttingDiagram]] = []
    left = 0.0
    for diagram in plan.diagrams:
        need = _height(diagram, style, scale, width)
        if not pages or need + BETWEEN > left:
            pages.append([])
            left = height - FOOT + BETWEEN
        pages[-1].append(diagram)
        left -= need + BETWEEN
    return tuple(tuple(page) for page in pages)


def _described(diagram: CuttingDiagram, style: LengthStyle) -> str:
    pieces = ", ".join(
        f"{piece.mark} {size_lines(piece.width, piece.length, style)[0]}" for piece in diagram.pieces
    )
    return f"{diagram.kind} {diagram.number}, {diagram.title.text(style)}: {pieces}"


def _full_scale(plan: StockPlan, style: LengthStyle, width: float) -> float:
    """Give the scale at which the longest board, and the readings beside it, are as wide as the room."""
    longest = max(float(diagram.length) for diagram in plan.diagrams)
    right = max(right_room(diagram, style) for diagram in plan.diagrams)
    if any(outer_rips(one) and rips_fit(one, style, (width - right) / longest) for one in plan.diagrams):
        return (width - right) / longest
    return width / longest


def _scale(
    plan: StockPlan, diagrams: Sequence[CuttingDiagram], style: LengthStyle, width: float, height: float
) -> float:
    """Give the full scale, or where the height asks for it the largest of some smaller ones.

    What is written beside the wood takes more height the smaller the scale is, as sizes move out of their
    pieces: so each scale is tried as it would be drawn.
    """
    full = _full_scale(plan, style, width)
    for step in range(_MOST_STEPS):
        scale = full * _STEP**step
        if _tall(diagrams, style, scale, width) <= height + 1e-6:
            return scale
    return scale


def _tall(diagrams: Sequence[CuttingDiagram], style: LengthStyle, scale: float, width: float) -> float:
    """Give the height of diagrams under each other, with the scale bar under them."""
    return FOOT + sum(_height(one, style, scale, width) for one in diagrams) + BETWEEN * (len(diagrams) - 1)


def _height(diagram: CuttingDiagram, style: LengthStyle, scale: float, width: float) -> float:
    picture = Picture(diagram, style, scale, width, 0.0, ZERO)
    return -picture.board[1] + reading_height(style) + CAPTION
