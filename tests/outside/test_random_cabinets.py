"""Any sensible cabinet builds; measured from outside, no two parts share room and no wood is lost.

The two measures share nothing with ``plangen.solids``: exact cells for what is shared, and a public mesh
library's volume of the mesh against what the cuts say.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import combinations, pairwise

import pytest
import trimesh
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plangen.design.model import Design
from plangen.pipeline import Checked, Source, check
from tests.outside.exact import bounds, removed, room_left, shared_room

TOPS = ("rabbet", "dado", "butt", "screwed", "dowelled", "dado and screws")
BOTTOMS = ("dado", "butt", "screwed", "dowelled", "dado and screws")
SHELVES = ("dado", "stopped dado", "butt", "dowelled")
BACKS = ("none", "rabbet", "groove")


@dataclass(frozen=True)
class Cabinet:
    """What is drawn by chance; lengths in sixteenths of an inch, or in millimetres."""

    metric: bool
    plywood: bool
    width: int
    height: int
    depth: int
    thick: Fraction
    shelves: int
    dividers: int
    top: str
    bottom: str
    shelf: str
    back: str
    housing: Fraction = field(default=Fraction(0))  # how deep dadoes are

    def typed(self, value: Fraction | int) -> str:
        """A length as a maker types it."""
        if self.metric:
            return f"{float(value):g}mm"
        whole, rest = divmod(Fraction(value) / 16, 1)
        if not rest:
            return f"{whole}in"
        return f"{f'{whole}-' if whole else ''}{rest.numerator}/{rest.denominator}in"

    @property
    def sides(self) -> list[str]:
        """The parts that the sides are: one part with two copies, but for dividers, which tell them apart."""
        return ["left side", "right side"] if self.dividers else ["side"]

    @property
    def text(self) -> str:
        """The project."""
        return "\n".join([*self._head(), *self._case(), *self._inside(), "joints:", *self._joints()]) + "\n"

    @property
    def _back(self) -> int:
        return 0 if self.back == "none" else 6 if self.metric else 4

    @property
    def _inset(self) -> int:
        return 0 if self.back != "groove" else 9 if self.metric else 6

    @property
    def _behind(self) -> str:
        return self.typed(self.depth - self._back - self._inset)

    @property
    def _under(self) -> Fraction:
        """Where the lid's upper face is: a lid in dadoes lies lower."""
        return self.height - (self.thick if "dado" in self.top else 0)

    def _head(self) -> list[str]:
        t = self.typed
        wood = (
            f"{{kind: plywood, label: {t(self.thick)}, thickness: {t(self.thick)}, sheet: 48in x 96in}}"
            if self.plywood
            else f"{{kind: solid, species: red oak, rough: 4/4, thickness: {t(self.thick)}, "
            "widths: [5-1/2in, 9-1/4in], lengths: [96in, 120in]}"
        )
        dowel = t(8 if self.metric else 5)
        return [
            "plangen: 1",
            f"project: {{title: Cabinet, units: {'mm' if self.metric else 'inch'}}}",
            "shop: {glue: {wood glue: {}}}",
            "stock:",
            f"  wood: {wood}",
            f"  thin: {{kind: plywood, label: 1/4in, thickness: {t(self._back or 4)}, sheet: 48in x 96in}}",
            "hardware:",
            f"  screw: {{kind: wood screw, gauge: 8, length: {t(self.thick * 2)}, head: flat}}",
            f"  dowel: {{kind: dowel, diameter: {dowel}, length: {t(self.thick)}}}",
            "parts:",
        ]

    def _part(self, name: str, runs: str, thick: str, place: str) -> str:
        glued = "" if self.plywood else "glue up: {boards: 2}, "
        return f"  {name}: {{stock: wood, runs: {runs}, thick: {thick}, {glued}place: {{{place}}}}}"

    def _case(self) -> list[str]:
        t = self.typed
        left = f"left: 0, front: 0, back: {t(self.depth)}, bottom: 0, top: {t(self.height)}"
        right = f"same as: left side, left: {t(self.width - self.thick)}"
        between = "left: left side.right, right: right side.left"
        level = f"{between}, front: 0, back: {self._behind}"
        if self.dividers:
            lines = [
                self._part("left side", "up", "across", left),
                self._part("right side", "up", "across", left.replace("left: 0", right.split(", ")[1])),
            ]
        else:
            lines = [self._part("side", "up", "across", f"left side: {{{left}}}, right side: {{{right}}}")]
        lines += [
            self._part("base", "across", "up", f"{level}, bottom: {t(self.thick * 2)}"),
            self._part("lid", "across", "up", f"{level}, top: {t(self._under)}"),
        ]
        if self._back:
            lines.append(
                f"  back: {{stock: thin, runs: up, thick: deep, place: {{{between}, "
                f"back: {t(self.depth - self._inset)}, bottom: 0, top: {t(self.height)}}}}}"
            )
        return lines

    @property
    def _walls(self) -> list[str]:
        return ["left side", *(f"divider {n}" for n in range(1, self.dividers + 1)), "right side"]

    @property
    def _shelves(self) -> list[tuple[str, str, str]]:
        """Each shelf with the walls to its left and right."""
        return [
            (f"shelf {bay} {n}", *walled)
            for bay, walled in enumerate(pairwise(self._walls))
            for n in range(1, self.shelves + 1)
        ]

    def _inside(self) -> list[str]:
        t = self.typed
        clear = (self.width - self.thick * (2 + self.dividers)) // (self.dividers + 1)
        lines = [
            self._part(
                f"divider {n}",
                "up",
                "across",
                f"left: {t(self.thick * n + clear * n)}, front: 0, back: {self._behind}, "
                "bottom: base.top, top: lid.bottom",
            )
            for n in range(1, self.dividers + 1)
        ]
        room = self._under - self.thick * 4
        places = {}
        for name, one, two in self._shelves:
            bay, n = (int(word) for word in name.split()[1:])
            # Shelves of two bays stand clear of each other, or their joints would meet in a divider.
            at = self.thick * 3 + room * n // (self.shelves + 1) + bay % 2 * self.thick * 2
            places[name] = (
                f"left: {one}.right, right: {two}.left, front: 0, back: {self._behind}, bottom: {t(at)}"
            )
        if self.dividers:
            return lines + [self._part(name, "across", "up", place) for name, place in places.items()]
        copies = ", ".join(f"{name}: {{{place}}}" for name, place in places.items())
        return [self._part("shelf", "across", "up", copies)] if copies else []

    def _joints(self) -> list[str]:
        lap, sides = self.typed(self.housing), ", ".join(self.sides)
        lines = [
            line
            for part, joint in (("lid", self.top), ("base", self.bottom))
            for line in self._ends(part, joint)
        ]
        if self.dividers:
            dividers = ", ".join(self._walls[1:-1])
            lines.append(f"  - dado: {{in: [base, lid], for: [{dividers}], depth: {lap}}}")
        shelves = self._shelves if self.dividers else [("shelf", "side", "")][: self.shelves]
        stop = f", stopped: {{front: {self.typed(8)}}}" if self.shelf == "stopped dado" else ""
        for shelf, *walls in shelves:
            for wall in filter(None, walls):
                lines.append(
                    {
                        "butt": f"  - butt: {{between: [{wall}, {shelf}]}}",
                        "dowelled": f"  - dowelled: {{between: [{wall}, {shelf}], with: dowel}}",
                    }.get(self.shelf, f"  - dado: {{in: {wall}, for: {shelf}, depth: {lap}{stop}}}")
                )
        if self.back == "rabbet":
            lines.append(f"  - rabbet: {{in: [{sides}], for: back, width: {lap}, contacts: 2}}")
        if self.back == "groove":
            lines.append(f"  - groove: {{in: [{sides}], for: back, depth: {lap}, contacts: 2}}")
        return lines

    def _ends(self, part: str, joint: str) -> list[str]:
        lap, sides = self.typed(self.housing), ", ".join(self.sides)
        screws = f"  - screwed: {{through: [{sides}], into: {part}, with: screw, per joint: 2, contacts: 2}}"
        dado = f"  - dado: {{in: [{sides}], for: {part}, depth: {lap}, contacts: 2}}"
        return {
            "rabbet": [
                f"  - rabbet: {{in: [{sides}], for: {part}, width: {lap}, glue: wood glue, contacts: 2}}"
            ],
            "dado": [dado],
            "butt": [f"  - butt: {{between: [{side}, {part}]}}" for side in self.sides],
            "screwed": [screws],
            "dowelled": [
                f"  - dowelled: {{between: [{side}, {part}], with: dowel, per joint: 3}}"
                for side in self.sides
            ],
            "dado and screws": [dado, screws],
        }[joint]


@st.composite
def cabinets(draw: st.DrawFn) -> Cabinet:
    metric = draw(st.booleans())
    unit = 1 if not metric else Fraction(8, 5)  # a millimetre is about 1/16 in and a half
    thick = Fraction(draw(st.sampled_from((18, 19, 21) if metric else (11, 12, 14))))

    def size(low: int, high: int) -> int:
        return draw(st.integers(int(low * unit), int(high * unit)))

    return Cabinet(
        metric=metric,
        plywood=draw(st.booleans()),
        width=size(14 * 16, 44 * 16),
        height=size(16 * 16, 60 * 16),
        depth=size(7 * 16, 16 * 16),
        thick=thick,
        shelves=draw(st.integers(0, 3)),
        dividers=draw(st.integers(0, 2)),
        top=draw(st.sampled_from(TOPS)),
        bottom=draw(st.sampled_from(BOTTOMS)),
        shelf=draw(st.sampled_from(SHELVES)),
        back=draw(st.sampled_from(BACKS)),
        housing=Fraction(int(thick / 3)),
    )


def built(text: str) -> Checked:
    result = check(Source("cabinet", "project.yaml", text.encode()))
    assert not result.findings.has_errors, [f"{f.kind}: {f.message} ({f.place})" for f in result.findings]
    assert result.checked is not None
    return result.checked


def clashes(design: Design) -> list[tuple[str, str, Fraction]]:
    """Every pair of copies that share room, measured by exact cells."""
    part_of = design.part_of
    pairs = combinations(design.copies.values(), 2)
    shared = [(a.name, b.name, shared_room(a, part_of[a.name], b, part_of[b.name])) for a, b in pairs]
    return [found for found in shared if found[2]]


# The mesh of a hole is a polygon with its corners on the circle; one of sixteen sides has the least area.
POLYGON = math.sin(math.tau / 16) / (math.tau / 16)


@settings(max_examples=100, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(cabinet=cabinets())
def test_any_cabinet_builds_with_no_parts_in_the_same_room_and_no_wood_lost(cabinet: Cabinet) -> None:
    made = built(cabinet.text)
    assert clashes(made.design) == []
    for part in made.design.parts:
        mesh = made.solids.parts[part.key].mesh
        body = trimesh.Trimesh(mesh.vertices, mesh.triangles, process=False)
        assert body.is_watertight
        blank = float(room_left(bounds(part.blank), ()))
        boxes, holes = removed(part)
        bored, play = blank - boxes - body.volume, 1e-6 * blank
        assert POLYGON * holes - play <= bored <= holes + play, part.key


def test_the_check_sees_a_shelf_too_long_and_wood_that_is_lost() -> None:
    cabinet = Cabinet(
        False, True, 480, 480, 192, Fraction(12), 1, 1, "dado", "dado", "dado", "rabbet", Fraction(4)
    )
    design = built(cabinet.text).design
    side, shelf = design.copies["left side"], design.copies["shelf 0 1"]
    its, other = design.part_of["left side"], design.part_of["shelf 0 1"]
    assert shelf.box.low.across.mm == (12 - 4) * Fraction(254, 160)  # 3/4 in less the dado's 1/4 in
    assert shared_room(side, its, shelf, other) == 0
    # The tongue: 1/4 in long, 3/4 in thick, as deep as the shelf: 12 in less the back's 1/4 in.
    tongue = Fraction(1, 4) * Fraction(3, 4) * (12 - Fraction(1, 4)) * Fraction(254, 10) ** 3
    assert shared_room(side, replace(its, operations=()), shelf, other) == tongue
    boxes, holes = removed(its)
    # Three dadoes (lid, base, shelf), and the rabbet for the back: 1/4 in by 1/4 in, all the way up.
    assert boxes == pytest.approx(float(3 * tongue + Fraction(1, 4) ** 2 * 30 * Fraction(254, 10) ** 3))
    assert holes == 0
