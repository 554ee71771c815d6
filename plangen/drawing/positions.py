"""The piece in one of its positions, and in phantom lines where it stands as described."""

from __future__ import annotations

from dataclasses import replace

import shapely

from plangen.drawing.edges import edge_stroke
from plangen.drawing.hidden_lines import Edge, View
from plangen.drawing.scene import Actor, Sight, copy_actor, fitted, painted
from plangen.drawing.sheet.model import Drawing, Mark, Meaning
from plangen.drawing.whole import WholePiece

_MARGIN = 2.0  # mm round the picture
_ON_OUTLINE = 0.5  # mm at full size


def position_picture(piece: WholePiece, view: View, width: float, height: float) -> Drawing:
    """Draw the piece as it stands in a position, solid, in ``width`` × ``height`` millimetres.

    The pieces that moved are drawn once more where they stand as described, their outlines in phantom lines
    (ISO 128-2: extreme positions of parts that move), as far as no solid piece stands before them. Raises
    ``ValueError`` for a piece that is in no position.
    """
    design, solids, position, moved = piece.described, piece.solids, piece.position, piece.moved
    if position is None:
        raise ValueError("the piece stands as described, in no position")
    seen = piece.sight(view)
    described = [
        copy_actor(design, solids, copy, "plain") for name, copy in design.copies.items() if name in moved
    ]
    ghosts = tuple(_ghost(actor) for actor in described)
    whole = Sight(
        (*ghosts, *seen.actors), view
    )  # where lines coincide the solid piece, which is later, has it
    placing = fitted(whole.bounds, (_MARGIN, _MARGIN, width - _MARGIN, height - _MARGIN))
    marks: list[Mark] = painted(seen, placing)
    tags = {actor.tag for actor in ghosts}
    marks += [
        edge_stroke(edge, placing, Meaning.PHANTOM)
        for edge in (whole.projection.visible if ghosts else ())
        if edge.tag in tags and (edge.kind != "rim" or _bounds(whole, edge))
    ]
    names = dict.fromkeys(design.part_of[name].title.lower() for name in moved)
    words = f"{position.title}." + (f" Moved: {', '.join(names)}." if names else "")
    title = f"{design.project.title}: {position.title[:1].lower()}{position.title[1:]}"
    return Drawing(
        width, height, tuple(marks), title, f"{words} Phantom lines show where they were." if names else words
    )


def _ghost(actor: Actor) -> Actor:
    tag = f"{actor.tag}, as described"
    return replace(actor, tag=tag, body=replace(actor.body, tag=tag))


def _bounds(sight: Sight, edge: Edge) -> bool:
    """Tell whether a fine line is where its body ends, as at the far side of a rounded edge."""
    middle = shapely.LineString(edge.points).interpolate(0.5, normalized=True)
    return bool(shapely.boundary(sight.outlines[edge.tag]).distance(middle) < _ON_OUTLINE)
