"""Pieces lying apart, each turned so that the side being worked on is seen."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import permutations, product
from math import ceil

import numpy as np
import shapely

from plangen.design.model import Copy, Design
from plangen.drawing.hidden_lines import View
from plangen.drawing.labels import Label, PlacedLabel, label_marks, place_labels
from plangen.drawing.scene import GRID, Placing, Sight, anchors, copy_actor, painted
from plangen.drawing.sheet.model import Drawing, Mark
from plangen.joinery.space import Side
from plangen.sequence.model import Step
from plangen.solids import Solids
from plangen.solids.model import Floats
from plangen.takeoff.model import TakeOff

_APART = 14.0  # mm on paper between pieces, room for a balloon
_EDGE = 11.0
SMALL = 45.0  # mm on paper: what would be less at half its size is drawn larger


def pieces_picture(
    design: Design, solids: Solids, step: Step, take_off: TakeOff, view: View, width: float, height: float
) -> tuple[Drawing, tuple[PlacedLabel, ...]]:
    """Draw one piece of every part in the step at one scale, in rows, in the view of the booklet."""
    sides = dict(step.picture.sides)
    shown = _shown(design, [*step.picture.new, *step.picture.context], sides)
    sights = []
    for copy in shown:
        role = "new" if copy.name in step.picture.new or not step.picture.new else "context"
        side = sides.get(copy.name) or design.part_of[copy.name].inside or _broad(design, copy)
        turn = facing(side, view)
        sights.append(Sight((copy_actor(design, solids, copy, role, turn=turn),), view))  # type: ignore[arg-type]
    placings = _rows([sight.bounds for sight in sights], width, height)
    marks: list[Mark] = []
    labels: list[Label] = []
    ink = []
    for copy, sight, placing in zip(shown, sights, placings, strict=True):
        marks += painted(sight, placing)
        region = placing.shape(sight.regions[copy.name])
        ink.append(region)
        part = design.part_of[copy.name]
        spots = anchors(placing.shape(sight.broadest(copy.name)))
        if spots:
            new = sight.actors[0].role == "new"
            labels.append(Label(part.mark, spots, region, new=new, target=f"part:{part.key}"))
    placed = (
        place_labels(labels, shapely.union_all(ink, grid_size=GRID), (0.0, 0.0, width, height))
        if labels
        else ()
    )
    marks += label_marks(placed)
    words = "; ".join(
        f"{design.part_of[copy.name].mark} {design.part_of[copy.name].title.lower()}"
        + (f", {sides[copy.name].word} to the viewer" if copy.name in sides else "")
        for copy in shown
    )
    title = f"Step {step.number}: {step.title}"
    return Drawing(width, height, tuple(marks), title, f"The pieces lie apart: {words}."), placed


def facing(side: Side, view: View) -> Floats:
    """Give the quarter turn that shows ``side`` to the viewer best, and else leaves the piece as it stands.

    A piece keeps its own top uppermost where it can, so that it is known again in the next picture; one
    whose upper or lower face has to be seen is stood on its edge.
    """
    toward = np.asarray(view.toward, dtype=np.float64)
    normal = np.zeros(3)
    normal[side.axis.value] = side.sign
    best: tuple[float, ...] | None = None
    found = np.eye(3)
    for order in permutations(range(3)):
        for signs in product((1.0, -1.0), repeat=3):
            turn = np.zeros((3, 3))
            for row, (column, sign) in enumerate(zip(order, signs, strict=True)):
                turn[row, column] = sign
            if np.linalg.det(turn) < 0:
                continue
            seen = float((turn @ normal) @ toward)
            upright = float(turn[2, 2])
            still = float(np.trace(turn))
            score = (round(2.0 * seen + 0.6 * upright + 0.1 * still, 6), *(-float(v) for v in turn.ravel()))
            if best is None or score > best:
                best, found = score, turn
    return found


def _shown(design: Design, names: Sequence[str], sides: dict[str, Side]) -> list[Copy]:
    """Give one copy of each part for each side that is to be seen."""
    found: dict[tuple[str, Side | None], Copy] = {}
    for name in names:
        found.setdefault((design.part_of[name].key, sides.get(name)), design.copies[name])
    return list(found.values())


def _broad(design: Design, copy: Copy) -> Side:
    return Side.of(design.part_of[copy.name].thick, True)


def _rows(boxes: Sequence[tuple[float, float, float, float]], width: float, height: float) -> list[Placing]:
    """Lay boxes out in rows at the one largest scale."""
    sizes = [(box[2] - box[0], box[3] - box[1]) for box in boxes]
    best: tuple[float, int] | None = None
    for columns in range(1, len(boxes) + 1):
        factor = _factor(sizes, columns, width, height)
        if best is None or factor > best[0] * 1.02:
            best = (factor, columns)
    if best is None:
        return []
    factor, columns = best
    rows = [list(range(start, min(start + columns, len(boxes)))) for start in range(0, len(boxes), columns)]
    tall = [max(sizes[i][1] for i in row) * factor for row in rows]
    spare = (height - sum(tall)) / (len(rows) + 1)
    top = height - spare
    placings: list[Placing] = [Placing(factor, 0.0, 0.0)] * len(boxes)
    for row, row_height in zip(rows, tall, strict=True):
        used = sum(sizes[i][0] for i in row) * factor
        air = (width - used) / (len(row) + 1)
        x = air
        for i in row:
            low_x, low_y = boxes[i][0], boxes[i][1]
            lift = (row_height - sizes[i][1] * factor) / 2
            placings[i] = Placing(factor, x - low_x * factor, top - row_height + lift - low_y * factor)
            x += sizes[i][0] * factor + air
        top -= row_height + spare
    return placings


def _factor(sizes: Sequence[tuple[float, float]], columns: int, width: float, height: float) -> float:
    rows = [sizes[start : start + columns] for start in range(0, len(sizes), columns)]
    room_x = width - 2 * _EDGE - (columns - 1) * _APART
    room_y = height - 2 * _EDGE - (ceil(len(sizes) / columns) - 1) * _APART
    across = max(sum(w for w, _ in row) for row in rows)
    up = sum(max(h for _, h in row) for row in rows)
    largest = max(max(size) for size in sizes)
    return max(min(room_x / across, room_y / up, max(0.5, min(1.0, SMALL / largest))), 1e-4)
