"""How far a level board sags under a full load of books: an estimate."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from plangen.checks.frame import axis_in_frame, printed
from plangen.design.model import Contact, Copy, Design, Part
from plangen.findings import Findings
from plangen.handbook.densities import find_species
from plangen.joinery.space import Axis
from plangen.solids import Solids
from plangen.units import Length, inches, millimetres

LEAST_SPAN = millimetres(300)
NEAR_END = millimetres(1)
POUND_PER_FOOT = Fraction(45359237, 10**8) * Fraction(980665, 10**5) / Fraction(3048, 10)  # N/mm, exact
BOOKS_INCH = POUND_PER_FOOT * 20  # 20 lb/ft, N/mm: common practice, no source
BOOKS_MM = Fraction(3, 10)  # 300 N/m, N/mm: common practice, no source
LIMIT = inches("1/32") / inches(12)  # 1/32 in for each foot of span: common practice, no source


def shelves_stay_level(design: Design, solids: Solids, findings: Findings) -> None:
    """Add ``shelf-sag`` where a level solid board, held at both ends only, sags more than the eye forgives.

    The load is 20 lb for each foot (300 N for each metre in a metric project), the limit 1/32 in for
    each foot. An estimate: sheet goods are left out, since no stiffness of theirs is in the tables.
    """
    for part in design.parts:
        species = find_species(design.stock[part.stock].species)
        if design.stock[part.stock].kind != "solid" or species is None or species.elasticity is None:
            continue
        for copy in part.copies:
            span = _span(design, part, copy)
            if span is None or span <= LEAST_SPAN:
                continue
            load = BOOKS_INCH if design.project.units == "inch" else BOOKS_MM
            sag = sag_of(span, part.width, part.thickness, species.elasticity, load)
            limit = span * LIMIT
            if sag > limit:
                books = "20 lb on each foot" if design.project.units == "inch" else "300 N on each metre"
                findings.warning(
                    "shelf-sag",
                    f"`{copy.name}` would sag about {printed(sag, design)} under {books} over its span of "
                    f"{printed(span, design)} (an estimate); more than {printed(limit, design)} is seen",
                    copy.place,
                    "make it thicker, shorter or of stiffer wood, or glue a rail under its edge",
                    part=part.key,
                )
                break


def sag_of(span: Length, width: Length, thickness: Length, elasticity: Fraction, load: Fraction) -> Length:
    """Give the sag in the middle of a board held loosely at both ends, evenly loaded.

    ``elasticity`` in MPa (N/mm2), ``load`` in N for each mm of span. 5 w L^4 / (384 E I), with
    I = b h^3 / 12: the simply supported beam of every book of statics.
    """
    stiffness = elasticity * width.mm * thickness.mm**3 / 12
    return Length(Fraction(5, 384) * load * span.mm**4 / stiffness)


def _span(design: Design, part: Part, copy: Copy) -> Length | None:
    """The clear length between what holds the two ends; None where it is held otherwise."""
    if axis_in_frame(copy, part.thick) is not Axis.UP:
        return None
    along = axis_in_frame(copy, part.runs)
    low, high = copy.shoulders.low.at(along), copy.shoulders.high.at(along)
    if _lies_on_pins(design, part):
        return high - low
    ends: set[bool] = set()
    for contact in _contacts(design, copy):
        face = contact.face
        if face.high.at(along) - low <= NEAR_END:
            ends.add(False)
        elif high - face.low.at(along) <= NEAR_END:
            ends.add(True)
        else:
            return None  # held or stiffened between its ends
    return high - low if len(ends) == 2 else None


def _contacts(design: Design, copy: Copy) -> Iterator[Contact]:
    for joint in design.joints:
        for contact in joint.contacts:
            if copy.name in (contact.fixed, contact.moving):
                yield contact


def _lies_on_pins(design: Design, part: Part) -> bool:
    names = {copy.name for copy in part.copies}
    return any(
        "pin" in design.hardware[fit.hardware.item].kind.split() and names & set(fit.copies)
        for fit in design.fits
    )
