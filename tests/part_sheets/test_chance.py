"""Figures that add up by chance are not a place: nobody looks for it at the depth of a neighbour."""

from __future__ import annotations

from plangen.description import read_description
from plangen.design.build import make_design
from plangen.drawing.part_sheets.plan import part_dimensions
from plangen.findings import Findings
from plangen.joinery.space import Axis
from plangen.units import LengthStyle

# The upper mortise is 23 mm deep, so its floor lies 15 mm from the far face of a leg 38 mm thick; the
# lower mortise, cut from another face, begins at 15 mm too.
LEG = """\
plangen: 1
project: {title: Frame, units: mm}
stock:
  oak: {kind: solid, species: white oak, rough: 8/4, thickness: 38mm, widths: [100mm], lengths: [2000mm]}
  thin: {kind: solid, species: white oak, rough: 4/4, thickness: 20mm, widths: [100mm], lengths: [2000mm]}
parts:
  leg:
    stock: oak
    runs: up
    thick: across
    width: 40mm
    place: {left: 0, front: 0, bottom: 0, top: 530mm}
  rail:
    stock: thin
    runs: across
    thick: deep
    width: 60mm
    place: {left: leg.right, right: 400mm, front: 4mm, bottom: 455mm}
  stretcher:
    stock: thin
    runs: deep
    thick: across
    width: 40mm
    place: {left: 9mm, front: leg.back, back: 400mm, bottom: 150mm}
joints:
  - mortise and tenon: {in: leg, for: rail, length: 22mm, gap: 1mm, thickness: 8mm}
  - mortise and tenon: {in: leg, for: stretcher, length: 22mm, gap: 1mm, thickness: 8mm}
"""


def test_a_place_that_only_a_floor_tells_is_said_in_parentheses() -> None:
    findings = Findings()
    description = read_description(LEG.encode(), "leg.yaml", findings)
    assert description is not None
    solved = make_design(description, findings)
    assert solved is not None, findings.items
    leg = solved.design.part("leg")
    places = [
        (item.kind, item.text, tuple(float(at) for at in item.pairs[0]))
        for item in part_dimensions(leg, LengthStyle("mm")).dimensions
        if item.axis is Axis.ACROSS
    ]
    assert ("reference", "(15)", (38.0, 23.0)) in places
