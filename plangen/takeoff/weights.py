"""Weights of the parts, of the assemblies that are lifted as one thing, and of the whole."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from plangen.design.model import Design, Part

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


def mass_of(design: Design, copies: Iterable[str], masses: Mapping[str, Fraction]) -> Fraction:
    """Give the mass in kg of some pieces, each once; one whose mass is not known weighs nothing here."""
    part_of = design.part_of
    return sum((masses.get(part_of[copy].key, Fraction(0)) for copy in dict.fromkeys(copies)), Fraction(0))


def assembly_masses(design: Design, masses: Mapping[str, Fraction]) -> dict[str, Fraction]:
    """Give the mass in kg of one copy of every assembly by its key, those inside it among it."""
    return {one.key: mass_of(design, one.copies[0].members, masses) for one in design.assemblies}


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
