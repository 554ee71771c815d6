"""Balloons: a mark in a ring, and a straight leader to a dot inside the face that it names (ISO 6433)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, hypot, pi, sin
from typing import Any

import numpy as np

from plangen.drawing.dimension_lines import circle
from plangen.drawing.sheet.measure import FIGURE_SHARE, text_length
from plangen.drawing.sheet.model import Fill, Link, Mark, Meaning, Stroke, Text, Tone, Weight, Xy

RADIUS = 3.5  # mm, of a balloon in a picture
LETTER = 4.586  # mm of type size, 13 pt
DOT = 0.55  # mm, radius of the dot that ends a leader
AIR = 1.2  # mm, between a balloon and anything else


def half_width(text: str, radius: float = RADIUS, size: float | None = None) -> float:
    """Give half the width of a ring round a text; a long text makes it a pill."""
    letter = size if size is not None else LETTER * radius / RADIUS
    return max(radius, text_length(text, letter, Weight.SEMIBOLD) / 2 + 1.7 * radius / RADIUS)


@dataclass(frozen=True, slots=True)
class Label:
    """A balloon to place: its text, its shape, where it leads, and where its leader may end.

    ``anchors`` are points inside the visible part, best first; ``region`` is that part (a shapely
    area in paper millimetres), over which the leader runs freely.
    """

    text: str
    anchors: tuple[Xy, ...]
    region: Any
    square: bool = False
    new: bool = False
    target: str = ""

    @property
    def half_width(self) -> float:
        """Half the width of the ring."""
        return half_width(self.text)


@dataclass(frozen=True, slots=True)
class PlacedLabel:
    """A balloon in its place: the middle of the ring and the end of the leader."""

    label: Label
    centre: Xy
    anchor: Xy


def label_marks(placed: Sequence[PlacedLabel]) -> tuple[Mark, ...]:
    """Draw leaders and dots, then rings and letters, then the links."""
    marks: list[Mark] = []
    for item in placed:
        start = ring_edge(item)
        if start is not None:
            marks.append(Stroke((start, item.anchor), Meaning.LEADER))
            marks.append(Fill((circle(item.anchor, DOT, 20),), Tone.INK))
    for item in placed:
        marks += balloon(
            item.centre,
            item.label.text,
            square=item.label.square,
            new=item.label.new,
            target=item.label.target,
        )
    return tuple(marks)


def balloon(
    centre: Xy,
    text: str,
    *,
    square: bool = False,
    new: bool = False,
    target: str = "",
    radius: float = RADIUS,
    size: float | None = None,
) -> tuple[Mark, ...]:
    """Draw one ring (circle, pill or square) with its text, and its link when it has a target."""
    letter = size if size is not None else LETTER * radius / RADIUS
    half = half_width(text, radius, size)
    x, y = centre
    side = radius * 0.92
    if square:
        width = max(side, half - radius + side)
        outline: tuple[Xy, ...] = (
            (x - width, y - side),
            (x + width, y - side),
            (x + width, y + side),
            (x - width, y + side),
        )
    elif half > radius + 1e-6:
        outline = _pill(centre, half, radius)
    else:
        outline = circle(centre, radius)
    meaning = Meaning.BALLOON_NEW if new else Meaning.BALLOON
    marks: list[Mark] = [
        Fill((outline,), Tone.PAPER),
        Stroke(outline, meaning, closed=True),
        Text((x, y - letter * FIGURE_SHARE / 2), text, letter, "middle", Weight.SEMIBOLD, role="balloon"),
    ]
    if target:
        marks.append(Link((x - half, y - radius), (x + half, y + radius), target))
    return tuple(marks)


def ring_edge(item: PlacedLabel) -> Xy | None:
    """Give the point of the ring where the leader starts; None where the ring covers the anchor."""
    (cx, cy), (ax, ay) = item.centre, item.anchor
    dx, dy = ax - cx, ay - cy
    far = hypot(dx, dy)
    if far < 1e-9:
        return None
    ux, uy = dx / far, dy / far
    half, radius = item.label.half_width, RADIUS
    if item.label.square:
        side = radius * 0.92
        width = max(side, half - radius + side)
        reach = min(width / abs(ux) if ux else 1e9, side / abs(uy) if uy else 1e9)
    else:
        straight = half - radius
        reach = radius
        if straight > 0:
            if uy and abs(radius / uy * ux) <= straight:
                reach = radius / abs(uy)
            else:
                along = straight * abs(ux)
                reach = along + (max(radius**2 - straight**2 + along**2, 0.0)) ** 0.5
    return None if reach >= far else (cx + ux * reach, cy + uy * reach)


def _pill(centre: Xy, half: float, radius: float) -> tuple[Xy, ...]:
    x, y = centre
    straight = half - radius
    right = [
        (x + straight + radius * cos(a), y + radius * sin(a))
        for a in np.linspace(-pi / 2, pi / 2, 17).tolist()
    ]
    left = [
        (x - straight - radius * cos(a), y - radius * sin(a))
        for a in np.linspace(-pi / 2, pi / 2, 17).tolist()
    ]
    return (*right, *left)
