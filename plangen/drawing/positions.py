"""The piece in one of its positions, and in phantom lines where it stands as described."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from plangen.design.model import Design, Position
from plangen.drawing.fittings import in_place, uses
from plangen.drawing.hidden_lines import View, project
from plangen.drawing.nested import moved_by, standing
from plangen.drawing.scene import Actor, Sight, copy_actor, fitted, painted
from plangen.drawing.sheet.model import Drawing, Mark, Meaning, Stroke
from plangen.joinery.space import Stance
from plangen.solids import Solids

_MARGIN = 2.0  # mm round the picture


def position_picture(
    design: Design, solids: Solids, position: Position, view: View, width: float, height: float
) -> Drawing:
    """Draw the piece as it stands in a position, solid, in ``width`` × ``height`` millimetres.

    The pieces that moved are drawn once more where they stand as described, their outlines in phantom lines
    (ISO 128-2: extreme positions of parts that move), which nothing hides.
    """
    stood = standing(design, position)
    copies = stood.copies
    moved = moved_by(design, position)
    solid = [copy_actor(stood, solids, copy, "plain") for copy in copies.values()]
    seen = Sight((*solid, *_fittings(design, moved)), view)
    described = [
        copy_actor(design, solids, copy, "plain") for name, copy in design.copies.items() if name in moved
    ]
    whole = Sight(
        (*seen.actors, *(replace(actor, tag=f"{actor.tag}, as described") for actor in described)), view
    )
    placing = fitted(whole.bounds, (_MARGIN, _MARGIN, width - _MARGIN, height - _MARGIN))
    marks: list[Mark] = painted(seen, placing)
    if described:
        marks += [
            Stroke(tuple(placing.point(point) for point in edge.points), Meaning.PHANTOM)
            for edge in project([actor.body for actor in described], view).visible
            if edge.kind != "rim"
        ]
    names = dict.fromkeys(design.part_of[name].title.lower() for name in moved)
    words = f"{position.title}." + (f" Moved: {', '.join(names)}." if names else "")
    title = f"{design.project.title}: {position.title[:1].lower()}{position.title[1:]}"
    return Drawing(
        width, height, tuple(marks), title, f"{words} Phantom lines show where they were." if names else words
    )


def _fittings(design: Design, moved: dict[str, Stance]) -> list[Actor]:
    """Give the hardware that is seen, that on pieces that moved carried along with them."""
    spots = {
        f"{use.by}/{use.item}/{number}": spot[0]
        for use in uses(design)
        for number, spot in enumerate(use.spots)
    }
    return [_carried(actor, moved.get(spots.get(actor.tag, ""))) for actor in in_place(design)]


def _carried(actor: Actor, stance: Stance | None) -> Actor:
    if stance is None:
        return actor
    rows, move = np.array(stance.rows), np.array(stance.move)
    body = replace(
        actor.body,
        turn=rows @ np.asarray(actor.body.turn),
        move=rows @ np.asarray(actor.body.move) + move,
    )
    return replace(actor, body=body)
