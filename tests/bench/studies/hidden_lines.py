"""How much faster are the lines of a view than by the exact method of a solid modeller with true faces?

Three scenes, each from the front, isometric and exploded. Ours is the whole of ``project``: placing,
hiding, merging and the finished edges. It counts as ``warm``: what belongs to a mesh alone, apart from any
view, is remembered, as it is in a booklet after its first picture. Beside it stand ``cold``, with nothing
remembered, and ``again``, when how each mesh looks from that side is remembered too, as it is from step to
step. The kernel's time is that of its hiding alone, without building its shapes and reading its lines.
Both are the best of several runs, and run one after the other on the same machine.
"""

from __future__ import annotations

import importlib.util
import time
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from plangen.design.model import Part
from plangen.drawing.hidden_lines import Body, View, isometric, orthographic, project
from plangen.drawing.hidden_lines.aspect import forget_aspects
from plangen.joinery.cuts import Arc, Loop
from plangen.joinery.space import Axis, Side
from plangen.solids import part_solid
from tests.bench.study import Outcome, Study
from tests.solids.making import hole, mm, operation, pair, part, polygon, prism

SUM, EACH = 20.0, 5.0  # times as fast: on all views together, and on each of ``MANY`` parts or more
MANY = 60
MOST = 1e-3  # of the visible length
EXPLODED = 1.0  # of a piece's way from the middle
EASE = 0.0002  # mm by which the kernel's pegs are thinner, so that they do not touch their holes all round
Spot = tuple[float, float, float]


@dataclass(frozen=True)
class Furniture:
    """Parts and where copies of each stand, unturned, by their low corners."""

    pieces: tuple[tuple[Part, tuple[Spot, ...]], ...]

    def spots(self) -> list[tuple[Part, Spot]]:
        """Every piece."""
        return [(made, spot) for made, spots in self.pieces for spot in spots]


def bookcase() -> Furniture:
    """Twelve boards that only touch."""
    return Furniture(
        (
            (part((18, 280, 900), key="side"), ((0, 0, 0), (782, 0, 0))),
            (part((764, 280, 18), key="shelf"), tuple((18, 0, z) for z in (60, 260, 460, 660, 882))),
            (part((764, 18, 60), key="rail"), ((18, 10, 0), (18, 262, 0))),
            (part((800, 6, 900), key="back"), ((0, 280, 0),)),
            (part((800, 30, 12), key="lip"), ((0, -30, 888), (0, -30, 40))),
        )
    )


def rack(at: Spot = (0, 0, 0)) -> list[tuple[Part, tuple[Spot, ...]]]:
    """Sixty pieces: bored uprights, rails with a row of holes, shelves, and pegs in some of the holes."""
    rows = [(y, z) for y in (60, 240) for z in range(100, 1180, 84)]
    upright = part(
        (22, 300, 1200),
        *(operation(hole((22, y, z), Side.RIGHT, 8, 14)) for y, z in rows),
        key="upright",
    )
    rail = part(
        (378, 20, 70),
        *(operation(hole((34 + 62 * k, 0, 35), Side.FRONT, 10 + 4 * (k % 2), 12)) for k in range(6)),
        key="rail",
    )
    bays, rails = [22 + 400 * k for k in range(4)], (60, 500, 1100)
    pegged = [(bay + 29 + 124 * k, -42, height + 30) for bay in bays for height in rails for k in (0, 1)]
    whole: list[tuple[Part, list[Spot]]] = [
        (upright, [(400 * k, 0, 0) for k in range(5)]),
        (rail, [(bay, -20, height) for bay in bays for height in rails]),
        (part((378, 270, 18), key="shelf"), [(bay, 0, z) for bay in bays for z in (150, 400, 650, 900)]),
        (round_part(5, 34), [(x, y, z) for x, y, z in pegged]),
        (part((1622, 300, 20), key="top"), [(0, 0, 1200)]),
        (part((1622, 8, 1220), key="back"), [(0, 300, 0)]),
        (part((1622, 40, 30), key="plinth"), [(0, 20, -30)]),
    ]
    return [(made, tuple((at[0] + x, at[1] + y, at[2] + z) for x, y, z in spots)) for made, spots in whole]


def round_part(radius: int, length: int) -> Part:
    """A peg that points to the front."""
    size = 2 * radius
    disc = Loop(
        pair(size, radius),
        (Arc(pair(0, radius), mm(radius), True), Arc(pair(size, radius), mm(radius), True)),
    )
    square = polygon((0, 0), (size, 0), (size, size), (0, size))
    return part((size, length, size), operation(prism(Axis.DEEP, 0, length, square, disc)), key="peg")


def furniture(name: str) -> Furniture:
    """Give scene ``a`` (12 pieces), ``b`` (60) or ``c`` (250)."""
    if name == "a":
        return bookcase()
    if name == "b":
        return Furniture(tuple(rack()))
    racks = [rack((1700 * k, 900 * j, 0)) for k in range(2) for j in range(2)]
    table = part(
        (600, 300, 24),
        *(
            operation(hole((60 + 120 * i, 75 + 150 * j, 24), Side.TOP, 9, 15))
            for i in range(5)
            for j in range(2)
        ),
        key="pin board",
    )
    loose = (table, tuple((700 * k, -900, 300 * j) for k in range(5) for j in range(2)))
    return Furniture(tuple(piece for whole in (*racks, [loose]) for piece in whole))


def bodies_of(spots: Sequence[tuple[Part, Spot]], exploded: float = 0.0) -> list[Body]:
    """The pieces as bodies, drawn out from the middle by a share of their way from it."""
    meshes = {id(made): part_solid(made).mesh for made, _ in spots}
    low = np.array([spot for _, spot in spots], dtype=float)
    middles = low + np.array([made.blank.high.floats() for made, _ in spots]) / 2.0
    out = (middles - middles.mean(axis=0)) * exploded
    return [
        Body(meshes[id(made)], np.eye(3), at + move, f"{made.key} {number}")
        for number, ((made, _), at, move) in enumerate(zip(spots, low, out, strict=True))
    ]


@dataclass(frozen=True)
class Timed:
    """One view of one scene: seconds of ours and of the kernel, visible lengths in mm."""

    scene: str
    view: str
    parts: int
    triangles: int
    cold: float
    warm: float
    again: float
    kernel: float
    length: float
    kernel_length: float

    @property
    def ratio(self) -> float:
        """How many times as fast ours is."""
        return self.kernel / self.warm

    @property
    def apart(self) -> float:
        """The share by which the visible lengths differ."""
        return abs(self.length - self.kernel_length) / self.kernel_length


def measured(name: str, runs: int, kernel_runs: int) -> list[Timed]:
    """Measure the three views of one scene."""
    from tests.outside.kernel_lines import fine, kernel_lines, length, placed, true_shape

    spots = furniture(name).spots()
    made = {id(each): true_shape(each, EASE) for each, _ in spots}
    views: list[tuple[str, View, float]] = [
        ("front", orthographic(Side.FRONT), 0.0),
        ("isometric", isometric(), 0.0),
        ("exploded", isometric(), EXPLODED),
    ]
    result = []
    for title, view, exploded in views:
        bodies = bodies_of(spots, exploded)
        begun = time.perf_counter()
        lines = project(bodies, view)
        cold = time.perf_counter() - begun
        warm = min(_seconds(bodies, view, fresh=True) for _ in range(runs))
        again = min(_seconds(bodies, view) for _ in range(runs))
        shapes = [placed(made[id(each)], body) for (each, _), body in zip(spots, bodies, strict=True)]
        others = [kernel_lines(shapes, view, read=run == 0) for run in range(kernel_runs)]
        result.append(
            Timed(
                name,
                title,
                len(bodies),
                sum(len(body.mesh.triangles) for body in bodies),
                cold,
                warm,
                again,
                min(other.seconds for other in others),
                length(fine(edge) for edge in lines.visible),
                length(others[0].lines),
            )
        )
    return result


def _seconds(bodies: Sequence[Body], view: View, *, fresh: bool = False) -> float:
    if fresh:
        forget_aspects()
    begun = time.perf_counter()
    project(bodies, view)
    return time.perf_counter() - begun


def run(quick: bool) -> Outcome:
    """Measure all three scenes; a quick run leaves out the largest and repeats less."""
    if importlib.util.find_spec("OCP") is None:
        return Outcome(
            ("scene",), [], "the solid modeller `cadquery-ocp` is not installed", "installed", False
        )
    runs, kernel_runs = (5, 1) if quick else (9, 3)
    timed = [one for name in ("ab" if quick else "abc") for one in measured(name, runs, kernel_runs)]
    total = sum(one.kernel for one in timed) / sum(one.warm for one in timed)
    least = min(one.ratio for one in timed if one.parts >= MANY)
    worst = max(one.apart for one in timed)
    return Outcome(
        (
            "scene",
            "view",
            "pieces",
            "triangles",
            "cold ms",
            "warm ms",
            "again ms",
            "kernel ms",
            "ratio",
            "length apart %",
        ),
        [
            (
                one.scene,
                one.view,
                one.parts,
                one.triangles,
                one.cold * 1e3,
                one.warm * 1e3,
                one.again * 1e3,
                one.kernel * 1e3,
                one.ratio,
                one.apart * 100,
            )
            for one in timed
        ],
        f"{total:.1f} times as fast on the sum, at least {least:.1f} with {MANY} pieces or more, "
        f"visible length apart by at most {worst:.3%}",
        f"{'not asked on so few' if quick else f'{SUM:g} times'}, {EACH:g} times, {MOST:.1%}",
        (quick or total >= SUM) and least >= EACH and worst <= MOST,
    )


STUDY = Study("hidden_lines", "how much faster are the lines of a view than by an exact kernel?", run)
