"""Weights by hand: parts, assemblies and the whole, and what stays unknown."""

from __future__ import annotations

from fractions import Fraction

import pytest

from plangen.design.model import Design
from plangen.handbook.densities import find_species
from plangen.takeoff.weights import assembly_masses, mass_of, part_masses, whole_mass
from tests.design.small import project, solve
from tests.nested_design import nested_design
from tests.takeoff.cases import pine, plain_design, taken

# A tray of two sides and two ends round a bottom, made twice, and a box inside each; 1000 kg/m3 all over.
TRAY = """
plangen: 1
project: {title: Trays, units: mm}
stock:
  wood: {kind: solid, species: white oak, rough: 26mm, thickness: 20mm, density: 1000, widths: [320mm]}
  other: {kind: solid, species: larch, rough: 26mm, thickness: 20mm, density: 500, widths: [320mm]}
assemblies:
  tray:
    parts:
      base:
        stock: wood
        runs: across
        thick: up
        place: {left: 0, right: 500mm, front: 0, back: 300mm, bottom: 0}
    assemblies:
      box:
        parts:
          lid:
            stock: other
            runs: across
            thick: up
            place: {left: 0, right: 200mm, front: 0, back: 100mm, bottom: 0}
        place: {left: 10mm, front: 10mm, bottom: 20mm}
    place:
      one: {left: 0, front: 0, bottom: 0}
      two: {left: 0, front: 400mm, bottom: 0}
parts:
  board:
    stock: wood
    runs: deep
    thick: up
    place: {left: 0, right: 100mm, front: 0, back: 700mm, bottom: -20mm}
"""


def test_assemblies_weigh_one_copy_with_what_is_in_them() -> None:
    """The base is 3 l, the lid 0.4 l of half the weight: 0.2 kg in the box, 3.2 kg the tray with its box."""
    lists, findings = taken(solve(TRAY))
    assert not findings.has_errors
    assert lists.assembly_mass == {"tray.box": Fraction("0.2"), "tray": Fraction("3.2")}
    assert lists.part_mass["tray.base"] == 3
    assert lists.mass == 2 * Fraction("3.2") + Fraction("1.4")


def test_a_piece_named_twice_weighs_once() -> None:
    design = solve(TRAY)
    masses = part_masses(design, None)
    assert mass_of(design, ["one.base", "one.base", "two.base"], masses) == 6
    assert mass_of(design, [], masses) == 0


def test_solids_weigh_what_they_are_cut_to() -> None:
    """A mesh of 2 litres in place of a blank of 3."""
    design = solve(TRAY)
    masses = part_masses(design, {"tray.base": 2_000_000.0})
    assert masses["tray.base"] == 2
    assert assembly_masses(design, masses)["tray"] == Fraction("2.2")


def test_assemblies_and_loose_parts_are_the_whole() -> None:
    design: Design = nested_design()
    masses = part_masses(design, None)
    outer = [one for one in design.assemblies if one.within is None]
    each = assembly_masses(design, masses)
    inside = {member for one in outer for copy in one.copies for member in copy.members}
    loose = mass_of(design, sorted(set(design.copies) - inside), masses)
    assert sum((each[one.key] * len(one.copies) for one in outer), loose) == whole_mass(design, masses)


@pytest.mark.parametrize(
    ("species", "gravity"),
    # Wood Handbook, FPL-GTR-190 (2010), Table 5-3a: specific gravity at 12 % moisture content.
    [("white oak", "0.68"), ("eastern white pine", "0.35"), ("black walnut", "0.55"), ("hard maple", "0.63")],
)
def test_a_cubic_metre_of_the_handbooks_woods(species: str, gravity: str) -> None:
    """Eq. 4-12 of the same book: 1000 × gravity × 1.12 kg."""
    found = find_species(species)
    assert found is not None
    assert found.density == 1000 * Fraction(gravity) * Fraction("1.12")


def test_no_density_is_left_out_and_said() -> None:
    lists, _ = taken(plain_design(pine(density=None), [(1, pine().thickness * 4, pine().thickness * 40)]))
    assert lists.mass == 0
    assert "Left out, no density known: White pine" in lists.mass_note
    assert "without hardware, glue and finish" in lists.mass_note


def test_the_density_is_named_with_its_source() -> None:
    board = "{stock: pine, runs: across, thick: up, width: 3in, length: 9in, PLACE}"
    lists, _ = taken(
        solve(project(f"board: {board}".replace("PLACE", "place: {left: 0, front: 0, bottom: 0}")))
    )
    assert "Wood Handbook, FPL-GTR-190 (2010)" in lists.mass_note
