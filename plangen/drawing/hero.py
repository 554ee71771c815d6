"""The cover picture: the finished piece in three warm tones with a soft shadow."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import shapely

from plangen.design.model import Design, Position
from plangen.drawing.fittings import in_place
from plangen.drawing.hidden_lines import View
from plangen.drawing.scene import Actor, Sight, corners, fitted, flat, loops_of, painted
from plangen.drawing.sheet.model import Drawing, Fill, Mark, Tone
from plangen.drawing.whole import WholePiece
from plangen.joinery.space import Axis
from plangen.solids.model import Floats

_FLOOR_LIGHT = (0.30, 0.12, -1.0)  # the way light falls on a floor: a short shadow to the right
_WALL_LIGHT = (0.95, 1.0, -0.6)  # and on a wall behind: past the front corner, which stands before it


def hero(piece: WholePiece, view: View, width: float, height: float) -> Drawing:
    """Draw the finished piece as large as it goes into ``width`` × ``height`` millimetres.

    The shadow falls on the floor, or on a wall where the piece is hung by wall hardware.
    """
    design = piece.design
    fittings = {actor.tag: actor.role for actor in in_place(piece.described, piece.moved, wooden="cover")}
    actors = tuple(replace(actor, role=fittings.get(actor.tag, "cover")) for actor in piece.actors)
    sight = Sight(actors, view, piece.sight(view))
    shadow = _shadow(design, actors, view)
    low_x, low_y, high_x, high_y = shadow.bounds if not shadow.is_empty else sight.bounds
    box = sight.bounds
    whole = (min(box[0], low_x), min(box[1], low_y), max(box[2], high_x), max(box[3], high_y))
    placing = fitted(whole, (0.4, 0.4, width - 0.4, height - 0.4))
    marks: list[Mark] = [Fill(loops, Tone.SHADOW) for loops in loops_of(placing.shape(shadow))]
    marks += painted(sight, placing)
    sizes = ", ".join(part.title.lower() for part in design.parts)
    return Drawing(
        width,
        height,
        tuple(marks),
        design.project.title,
        f"The finished piece, seen from the front and above. It is made of: {sizes}.",
    )


def cover_position(design: Design) -> Position | None:
    """Give the position that the cover shows, None for the piece as described."""
    return next((one for one in design.positions if one.name == design.project.cover), None)


def hangs(design: Design) -> bool:
    """Tell whether the piece is hung on a wall, by what the hardware it is bought with is called."""
    words = " ".join(f"{item.name} {item.kind} {item.title}" for item in design.hardware.values())
    return bool({"wall", "hanger"} & set(words.lower().replace(",", " ").split()))


def _shadow(design: Design, actors: tuple[Actor, ...], view: View) -> shapely.Geometry:
    wall = hangs(design)
    light = np.array(_WALL_LIGHT if wall else _FLOOR_LIGHT)
    axis = Axis.DEEP.value if wall else Axis.UP.value
    plane = float((design.overall.high if wall else design.overall.low).at(Axis.DEEP if wall else Axis.UP))
    pieces = []
    for actor in actors:
        points: Floats = corners(actor.body)
        cast = points + ((plane - points[:, axis]) / light[axis])[:, None] * light
        corner = flat(cast, view)[actor.body.mesh.triangles]
        one, two = corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]
        turning = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]
        pieces.append(shapely.union_all(shapely.polygons(corner[turning > 1e-3]), grid_size=1e-2))
    # Closed by three millimetres: narrow gaps between the shadows of faces would show as white lines.
    return (
        shapely.union_all(pieces, grid_size=1e-2)
        .buffer(3.0, join_style="mitre")
        .buffer(-3.0, join_style="mitre")
    )
