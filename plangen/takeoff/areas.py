"""The areas to be glued and finished, by glue and by part."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from itertools import pairwise
from typing import Final

from plangen.design.model import Design, Part
from plangen.joinery.space import Axis, Box
from plangen.takeoff.banding import added, banded_length
from plangen.takeoff.glues import shop_glue

AREA_NOTE: Final = (
    "Finish: every face of every blank, less the faces that joints cover. Glue: one of the two faces."
)


def glue_areas(design: Design) -> Mapping[str, Fraction]:
    """Give the area in mm2 that each glue holds, one of the two faces: joints, then seams and banded edges.

    Pieces that are glued up and strips of stock on edges get the glue of the shop; banding from a roll has
    glue of its own.
    """
    areas: dict[str, Fraction] = {}
    for joint in design.joints:
        if joint.glue and not joint.apart:
            areas[joint.glue] = areas.get(joint.glue, Fraction(0)) + joint.glue_area
    seams = sum((_seams(part) + _banded(design, part, of_stock=True) for part in design.parts), Fraction(0))
    if seams:
        name = shop_glue(design)
        areas[name] = areas.get(name, Fraction(0)) + seams
    return areas


def glue_area(design: Design) -> Fraction:
    """Give the area in mm2 of all glued faces: glued joints, seams of glued-up pieces, banded edges."""
    rolls = sum((_banded(design, part, of_stock=False) for part in design.parts), Fraction(0))
    return sum(glue_areas(design).values(), Fraction(0)) + rolls


def _seams(part: Part) -> Fraction:
    """Give the area glued between the boards of all pieces of a part."""
    if part.glue_up is None:
        return Fraction(0)
    face = part.width if part.glue_up.kind == "layers" else part.thickness
    return part.length.mm * face.mm * (part.glue_up.number - 1) * len(part.copies)


def _banded(design: Design, part: Part, *, of_stock: bool) -> Fraction:
    """Give the area under strips of stock on the edges of all pieces of a part, or under other banding."""
    area = sum(
        (
            banded_length(part, one).mm * part.thickness.mm
            for one in added(part)
            if (one.item in design.stock) == of_stock
        ),
        Fraction(0),
    )
    return area * len(part.copies)


def finish_areas(design: Design) -> Mapping[str, Fraction]:
    """Give the area in mm2 to be finished of all pieces of each part, by part key.

    All faces of the finished blanks, less the faces that joints cover; one that two joints share is covered
    once. A part that gets no finish is left out.
    """
    part_of = design.part_of
    covered: dict[str, Fraction] = dict.fromkeys(design.copies, Fraction(0))
    seen: dict[tuple[frozenset[str], Box], None] = {}
    for joint in design.joints:
        for contact in joint.contacts:
            pair = (frozenset((contact.fixed, contact.moving)), contact.face)
            if pair in seen:
                continue
            seen[pair] = None
            for copy in (contact.fixed, contact.moving):
                if copy in covered:
                    covered[copy] += _face(contact.face)
    areas: dict[str, Fraction] = {}
    for name, area in covered.items():
        part = part_of[name]
        if part.finish == ():
            continue
        bare = max(_surface(part.blank) - area, Fraction(0))
        areas[part.key] = areas.get(part.key, Fraction(0)) + bare
    return areas


def finish_area(design: Design, finish: str | None = None) -> Fraction:
    """Give the area in mm2 that one finish goes on; of all that is finished where none is named."""
    areas = finish_areas(design)
    chosen = [
        part.key
        for part in design.parts
        if part.key in areas and (finish is None or part.finish is None or finish in part.finish)
    ]
    return sum((areas[key] for key in chosen), Fraction(0))


def _surface(box: Box) -> Fraction:
    sizes = [box.size(axis).mm for axis in Axis]
    return 2 * sum((one * two for one, two in pairwise([*sizes, sizes[0]])), Fraction(0))


def _face(box: Box) -> Fraction:
    sizes = [box.size(axis).mm for axis in Axis if box.size(axis)]
    return sizes[0] * sizes[1] if len(sizes) == 2 else Fraction(0)
