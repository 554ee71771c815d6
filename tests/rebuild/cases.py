"""Every part of the projects and examples, with its sheet as it is written and its solid as it should be.

This module alone knows the program; what reads the sheets and makes the parts does not.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from plangen.drawing.part_sheets.sheet import part_sheet
from plangen.drawing.writers.svg import svg_bytes
from plangen.pipeline import Checked, Source, check
from plangen.units import LengthStyle
from plangen.units.printing import System as Units
from tests.rebuild.compare import Cylinder, Difference, Ints, difference, worst_of
from tests.rebuild.figures import System
from tests.rebuild.part import make
from tests.rebuild.tools import Floats
from tests.rebuild.tree import Corner
from tests.rebuild.written import Sheet, read_sheet

ROOT = Path(__file__).resolve().parents[2]
WIDTH, HEIGHT = 178.0, 200.0  # mm, the room of a drawing that is written as a file
CORNERS: tuple[Corner, ...] = ("low", "high")
UNITS: tuple[Units, ...] = ("inch", "mm", "both")


@dataclass(frozen=True, slots=True)
class Case:
    """A part by its project's file and its key."""

    file: str
    part: str

    def __str__(self) -> str:
        path = Path(self.file)
        name = path.parent.name if path.stem == "project" else path.stem
        return f"{name}: {self.part}"


@cache
def checked(file: str) -> Checked:
    """Take a project through every check."""
    path = ROOT / file
    kept = {one.name: one.read_bytes() for one in sorted(path.parent.glob("*.json"))}
    found = check(Source(path.parent.name, path.name, path.read_bytes(), kept)).checked
    assert found is not None, file
    return found


@cache
def cases(folder: str) -> tuple[Case, ...]:
    """Give every part of the projects in a folder."""
    files = sorted(path.relative_to(ROOT).as_posix() for path in (ROOT / folder).rglob("*.yaml"))
    return tuple(Case(file, part.key) for file in files for part in checked(file).design.parts)


@cache
def written(case: Case, units: Units) -> bytes:
    """Draw the sheet of a part and write it."""
    made = checked(case.file)
    part = made.design.part(case.part)
    sheet = part_sheet(made.design, made.solids, part, LengthStyle(units), width=WIDTH, height=HEIGHT)
    return svg_bytes(sheet.drawing)


def solid(case: Case) -> tuple[Floats, Ints, tuple[Cylinder, ...]]:
    """Give the corners, the faces and the round surfaces of the part as it should be."""
    mesh = checked(case.file).solids.parts[case.part].mesh
    rounds = tuple(
        Cylinder(np.array(one.centre), np.array(one.axis), one.radius)
        for one in mesh.surfaces
        if one.kind == "cylinder" and one.radius is not None
    )
    return mesh.vertices, mesh.triangles, rounds


def systems_of(units: Units, file: bytes) -> tuple[System, ...]:
    """Give the systems whose figures a sheet prints: each has to do by itself.

    Where both have no room, a chart under the drawing turns its inches into millimetres.
    """
    if units != "both":
        return (units,)
    return ("inch",) if b'data-role="chart"' in file else ("inch", "mm")


def compared(case: Case, sheet: Sheet, system: System) -> Difference:
    """Make the part by the figures of one system, marking out from either corner, and compare it."""
    vertices, triangles, rounds = solid(case)
    blank = checked(case.file).design.part(case.part).blank
    found = []
    for corner in CORNERS:
        made = make(sheet, system, corner)
        move = np.zeros(3) if corner == "low" else made.size - blank.high.floats()
        moved = [Cylinder(one.point + move, one.way, one.radius) for one in rounds]
        found.append(difference(made, vertices + move, triangles, moved))
    return worst_of(found)


def rebuilt(case: Case, units: Units) -> tuple[Difference, ...]:
    """Read a part's written sheet and compare what it makes, once by each system that it prints."""
    file = written(case, units)
    sheet = read_sheet(file)
    return tuple(compared(case, sheet, system) for system in systems_of(units, file))
