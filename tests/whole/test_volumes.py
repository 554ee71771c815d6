"""The volume of every worked part by schoolbook formulas and by another library, and the weight from it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
import trimesh

from tests.whole.making import PROJECTS, Made, Variant
from tests.whole.paper import Paper
from tests.whole.sums import MM, Project, decimal

Checked = Callable[..., Any]
INCH3 = float(MM) ** 3  # mm3, exact from the inch of 25.4 mm
SAGITTA = 0.1 / float(MM)  # in, the farthest that a chord of a mesh may leave its arc
POUND = 0.45359237  # kg, exact (international yard and pound agreement, 1959)


@dataclass(frozen=True)
class Body:
    """A volume in cubic inches, and the area of its curved faces, which a mesh has only nearly."""

    volume: float
    curved: float = 0.0

    def __add__(self, other: Body) -> Body:
        return Body(self.volume + other.volume, self.curved + other.curved)

    def __sub__(self, other: Body) -> Body:
        return Body(self.volume - other.volume, self.curved + other.curved)

    def __rmul__(self, number: int) -> Body:
        return Body(number * self.volume, number * self.curved)

    @property
    def slack(self) -> float:
        """How far the volume of a mesh may be off: chords that leave an arc by SAGITTA cut off 2/3 of it."""
        return 2 / 3 * SAGITTA * self.curved + 1e-9


def block(*sides: float) -> Body:
    return Body(math.prod(sides))


def hole(diameter: float, depth: float) -> Body:
    return Body(math.pi / 4 * diameter**2 * depth, math.pi * diameter * depth)


def arch(chord: float, rise: float, thick: float) -> Body:
    """A segment of a circle; the radius follows from chord and rise."""
    radius = (chord**2 / 4 + rise**2) / (2 * rise)
    angle = 2 * math.asin(chord / (2 * radius))
    return Body(radius**2 / 2 * (angle - math.sin(angle)) * thick, radius * angle * thick)


def rounded_edge(radius: float, length: float) -> Body:
    """What a quarter-round takes off a square edge."""
    return Body(radius**2 * (1 - math.pi / 4) * length, math.pi / 2 * radius * length)


def _stool() -> dict[str, Body]:
    p = Project("step-stool")
    thick, depth, height, upper = (
        float(p[n]) for n in ("poplar.thickness", "depth", "height", "upper front")
    )
    housing, lap, rise, foot = (float(p[n]) for n in ("housing", "lap", "rise", "foot"))
    between = float(p["width"]) - 2 * thick
    parts = p.data["parts"]
    curve = next(cut["curve"] for cut in parts["side"]["cut"] if "curve" in cut)
    lower_wide, upper_wide = float(p.sum(parts["lower tread"]["place"]["back"])), depth - upper
    # The plug's counterbore, then the clearance hole of a No. 8 screw through what is left of the side there;
    # the part sheets print 3/8 by 1/4, and 11/64.
    deep = 1 / 4
    holes = 6 * hole(3 / 8, deep)
    for gone in (housing, lap, 0.0):
        holes += 2 * hole(11 / 64, thick - gone - deep)
    side = block(thick, depth, height) - block(thick, upper, height - rise)
    side = side - arch(depth - 2 * foot, float(p.sum(curve["rise"])), thick)
    side = side - block(housing, thick, lower_wide) - block(lap, thick, upper_wide) - holes
    # Lead holes, 3/32 in: what a screw has left behind the side and its plug.
    long = float(p.sum(p.hardware["screw"]["length"]))
    lead = {gone: 4 * hole(3 / 32, long - (thick - gone - deep)) for gone in (housing, lap, 0.0)}
    radius = float(p.sum(parts["lower tread"]["cut"][0]["round over"]["radius"]))
    treads = [
        block(thick, wide, between + 2 * gone) - rounded_edge(radius, between + 2 * gone) - lead[gone]
        for wide, gone in ((lower_wide, housing), (upper_wide, lap))
    ]
    under = parts["rail"]["cut"][0]["curve"]
    chord = between - float(p.sum(under["from left"])) - float(p.sum(under["from right"]))
    rail = block(thick, float(p.sum(parts["rail"]["width"])), between)
    rail = rail - arch(chord, float(p.sum(under["rise"])), thick) - lead[0.0]
    return {
        "Side, left": side,
        "Side, right": side,
        "Lower tread": treads[0],
        "Upper tread": treads[1],
        "Rail": rail,
    }


def _cabinet() -> dict[str, Body]:
    p = Project("wall-cabinet")
    ply, maple, lap, tongue = (float(p[n]) for n in ("ply.thickness", "maple.thickness", "lap", "tongue"))
    thin, hang, play, inside = (float(p[n]) for n in ("back ply.thickness", "hang", "play", "inside"))
    parts, goods = p.data["parts"], p.hardware
    deep, height = float(p["depth"]) - maple, float(p["height"])
    opening = height - 2 * ply
    rows = parts["side"]["cut"][0]["holes"]
    number = int(rows["along"]["number"]) * int(rows["over"]["number"])
    pins = number * hole(float(p.sum(goods["pin"]["diameter"])), float(p.sum(goods["pin"]["depth"])))
    # Half of the dowel and 1/16 in of room, as the part sheets print it: 9/16.
    dowels = 4 * hole(
        float(p.sum(goods["dowel"]["diameter"])), float(p.sum(goods["dowel"]["length"])) / 2 + 1 / 16
    )
    # The groove of the back runs from rabbet to rabbet in a side, and from end to end in top and bottom.
    side = block(ply, deep, height) - 2 * block(lap, ply, deep) - block(tongue, thin, opening) - pins - dowels
    case_long = inside + 2 * lap
    case = block(ply, deep, case_long) - block(tongue, thin, case_long)
    # The top's four screw holes; a countersink is noted on the drawing and not cut into the solid.
    through = hole(11 / 64, ply)
    back = block(thin, inside + 2 * tongue, opening + 2 * tongue) - 2 * hole(1 / 4, thin)
    wide = {
        key: float(p.sum(parts[key]["width"]))
        for key in ("hanging rail", "spacer rail", "stile", "frame rail")
    }
    lead = 4 * hole(3 / 32, float(p.sum(goods["top screw"]["length"])) - ply)
    hanging = block(maple, wide["hanging rail"], inside) - 2 * hole(1 / 4, maple) - dowels - lead
    laps = 2 * block(maple / 2, wide["stile"], wide["frame rail"])
    shelf_long, shelf_wide = inside - 2 * play, deep - 1 / 8 - hang - thin - play
    return {
        "Side, left": side,
        "Side, right": side,
        "Case bottom": case,
        "Case top": case - 4 * through,
        "Back": back,
        "Hanging rail": hanging,
        "Spacer rail": block(maple, wide["spacer rail"], inside) - dowels,
        "Stile": block(maple, wide["stile"], height) - laps,
        "Frame rail": block(maple, wide["frame rail"], float(p["width"])) - laps,
        "Shelf": block(ply, shelf_wide, shelf_long) - 2 * rounded_edge(1 / 8, shelf_long),
    }


FORMULAS = {"step-stool": _stool, "wall-cabinet": _cabinet}


@pytest.mark.parametrize("project", PROJECTS)
def test_closed_forms(project: str, checked: Checked) -> None:
    made = checked(project)
    wanted = FORMULAS[project]()
    assert sorted(wanted) == sorted(part.title for part in made.design.parts)
    for part in made.design.parts:
        found, body = made.solids.parts[part.key].volume / INCH3, wanted[part.title]
        assert found == pytest.approx(body.volume, abs=body.slack, rel=0), part.title


@pytest.mark.parametrize("project", PROJECTS)
def test_another_library(project: str, checked: Checked) -> None:
    for key, solid in checked(project).solids.parts.items():
        mesh = trimesh.Trimesh(solid.mesh.vertices, solid.mesh.triangles, process=False)
        assert mesh.is_watertight, key
        assert mesh.is_winding_consistent, key
        assert mesh.volume == pytest.approx(solid.volume, rel=1e-9), key
        assert _pieces(len(mesh.faces), mesh.face_adjacency) == 1, key


def _pieces(count: int, pairs: Any) -> int:
    """How many lumps the triangles make: neighbours belong together."""
    lump = list(range(count))

    def first(one: int) -> int:
        while lump[one] != one:
            lump[one] = lump[lump[one]]
            one = lump[one]
        return one

    for one, two in pairs:
        lump[first(int(one))] = first(int(two))
    return sum(first(one) == one for one in range(count))


@pytest.mark.parametrize("project", PROJECTS)
def test_every_mesh_fills_its_blank(project: str, checked: Checked) -> None:
    """No operation of the examples takes a whole side off: each mesh reaches every side of its blank."""
    made = checked(project)
    for part in made.design.parts:
        vertices = made.solids.parts[part.key].mesh.vertices
        blank = np.array([part.blank.low.floats(), part.blank.high.floats()])
        assert np.array([vertices.min(0), vertices.max(0)]) == pytest.approx(blank, abs=1e-6), part.key


@pytest.mark.parametrize("project", PROJECTS)
def test_the_printed_weight(project: str, checked: Checked, built: Callable[[Variant], Made]) -> None:
    """Volumes by the other library, times the density that the design names for its stock."""
    made = checked(project)
    mass = 0.0
    for part in made.design.parts:
        solid = made.solids.parts[part.key].mesh
        volume = trimesh.Trimesh(solid.vertices, solid.triangles, process=False).volume
        mass += len(part.copies) * volume / 1e9 * float(made.design.stock[part.stock].density)
    pounds = Fraction(mass / POUND)
    printed = decimal(pounds, 0) if pounds >= 10 else decimal(pounds, 1).removesuffix(".0")
    words = " ".join(Paper(built(Variant(project)).pdf).texts)
    assert f"{printed} lb empty weight" in words
