"""Saw cuts and holes that lean: their planes and ways from printed angles."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tests.rebuild.figures import ANGLE_HALF, Measure
from tests.rebuild.tools import Floats
from tests.rebuild.tree import AXES, HIGH, LOW

LEAN = math.radians(ANGLE_HALF)


def axis_of(side: str) -> str:
    """Give the axis that a side lies across."""
    return AXES[(LOW if side in LOW else HIGH).index(side)]


def sign_of(side: str) -> float:
    """Give +1 for a high side, -1 for a low one."""
    return 1.0 if side in HIGH else -1.0


def sawn(end: str, longest: Sequence[str], face: str, mitre: float, tilt: float) -> Floats:
    """Give the unit normal, out of the wood, of a cut across an end; angles in degrees.

    The gauge is turned by the mitre about the axis of the face on the table, the blade leans by the tilt;
    ``longest`` are the sides that stay long.
    """
    turn, lean = math.radians(mitre), math.radians(tilt)
    normal = np.zeros(3)
    normal[AXES.index(axis_of(end))] = sign_of(end) * math.cos(lean) * math.cos(turn)
    for side in longest:
        share = math.sin(lean) if axis_of(side) == face else math.cos(lean) * math.sin(turn)
        normal[AXES.index(axis_of(side))] = -sign_of(side) * share
    return normal


def bored(side: str, leans: Sequence[str], tilt: float, sight: float | None, edges: str) -> Floats:
    """Give the unit vector of a hole from a side into the wood; angles in degrees.

    It leans towards one side, or along a sight line that turns by ``sight`` from the axis of the ``edges``.
    """
    way = np.zeros(3)
    way[AXES.index(axis_of(side))] = -sign_of(side) * math.cos(math.radians(tilt))
    turn = math.radians(sight or 0.0)
    for lean in leans:
        share = 1.0 if sight is None else math.cos(turn) if axis_of(lean) == edges else math.sin(turn)
        way[AXES.index(axis_of(lean))] = sign_of(lean) * share * math.sin(math.radians(tilt))
    return np.asarray(way / np.linalg.norm(way))


@dataclass(frozen=True)
class Sawn:
    """A saw cut: a point it goes through, its normal, how far it may be off and turned (mm, radians)."""

    end: str
    through: Floats
    normal: Floats
    off: float
    lean: float = 2 * LEAN

    def at(self, point: Floats) -> Measure:
        """Give where the line through a point, along the end's axis, meets the cut."""
        index = AXES.index(axis_of(self.end))
        beside = np.where(np.arange(3) == index, 0.0, point - self.through)
        away = float(np.linalg.norm(beside))
        fall = float(self.normal @ beside / self.normal[index])
        return Measure(
            float(self.through[index]) - fall, (self.off + self.lean * away) / abs(float(self.normal[index]))
        )


def on_rim(end: str, tip: Measure, normal: Floats, middle: Sequence[Measure], diameter: Measure) -> Sawn:
    """Place a cut that is longest on the rim of what is round; ``middle`` by axis, the end's own unused."""
    index = AXES.index(axis_of(end))
    sideways = -np.where(np.arange(3) == index, 0.0, normal)
    sideways /= max(float(np.linalg.norm(sideways)), 1e-12)
    through = np.array([one.mm for one in middle]) + sideways * diameter.mm / 2
    through[index] = tip.mm
    off = tip.half + abs(float(normal @ sideways)) * diameter.half / 2
    off += sum(abs(float(normal[k])) * middle[k].half for k in range(3) if k != index)
    return Sawn(end, through, normal, off)
