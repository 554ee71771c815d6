"""Weights of the parts, and the areas to be glued and finished."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from itertools import pairwise

from plangen.design.model import Design, Part
from plangen.joinery.space import Axis, Box
from plangen.takeoff.banding import added, banded_length

MM3_PER_M3 = 10**9


def part_masses(design: Design, volumes: Mapping[str, float] | None) -> dict[str, Fraction]:
    """Give the mass in kg of one piece of each part whose stock has a density.

    ``volumes`` holds mm3 by part key, from the solids; a part that is not in it counts as its blank.
    """
    masses = {}
    for part in design.parts:
        density = design.stock[part.stock].density
        if density is None:
            continue
        given = (volumes or {}).get(part.key)
        # A mesh's volume is a float: a tenth of a cubic centimetre is more than the density is good for.
        volume = Fraction(round(given / 100) * 100) if given is not None else blank_volume(part)
        masses[part.key] = volume * density / MM3_PER_M3
    return masses


def blank_volume(part: Part) -> Fraction:
    """Give the volume of a part's finished blank in mm3."""
    return part.length.mm * part.width.mm * part.thickness.mm


def whole_mass(design: Design, masses: Mapping[str, Fraction]) -> Fraction:
    """Give the mass in kg of all pieces whose mass is known."""
    return sum(
        (masses[part.key] * len(part.copies) for part in design.parts if part.key in masses), Fraction(0)
    )


def mass_note(design: Design, masses: Mapping[str, Fraction], volumes: Mapping[str, float] | None) -> str:
    """Say in words what the mass counts and what it leaves out."""
    used = {part.stock: design.stock[part.stock] for part in design.parts}
    known = [stock for stock in used.values() if stock.density is not None]
    unknown = [stock.title for stock in used.values() if stock.density is None]
    what = "Parts as cut" if volumes is not None else "Parts at the size of their blanks"
    rows = [
        f"{stock.title} {float(stock.density or 0):.0f} kg/m³"
        + (f", {stock.density_source}" if stock.density_source else "")
        for stock in known
    ]
    densities = "; ".join(dict.fromkeys(rows))
    words = f"{what}, without hardware, glue and finish"
    if densities:
        words += f". {densities}"
    if unknown:
        words += f". Left out, no density known: {', '.join(unknown)}"
    return words + "."


def glue_area(design: Design) -> Fraction:
    """Give the area in mm2 of all glued faces: glued joints, seams of glued-up pieces, banded edges."""
    joints = sum((joint.glue_area for joint in design.joints if joint.glue and not joint.apart), Fraction(0))
    seams = Fraction(0)
    for part in design.parts:
        if part.glue_up:
            face = part.width if part.glue_up.kind == "layers" else part.thickness
            seams += part.length.mm * face.mm * (part.glue_up.number - 1) * len(part.copies)
        for one in added(part):
            seams += banded_length(part, one).mm * part.thickness.mm * len(part.copies)
    return joints + seams


def finish_area(design: Design) -> Fraction:
    """Give the outside area in mm2: all faces of all blanks, less the faces that joints cover."""
    area = sum((_surface(part.blank) * len(part.copies) for part in design.parts), Fraction(0))
    covered = sum((_face(contact.face) for joint in design.joints for contact in joint.contacts), Fraction(0))
    return max(area - 2 * covered, Fraction(0))


def _surface(box: Box) -> Fraction:
    sizes = [box.size(axis).mm for axis in Axis]
    return 2 * sum((one * two for one, two in pairwise([*sizes, sizes[0]])), Fraction(0))


def _face(box: Box) -> Fraction:
    sizes = [box.size(axis).mm for axis in Axis if box.size(axis)]
    return sizes[0] * sizes[1] if len(sizes) == 2 else Fraction(0)
