"""Copies that take the same room as another copy."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import numpy as np

from plangen.design.model import Copy, Design
from plangen.findings import Findings
from plangen.joinery.space import Axis
from plangen.solids.build import transform
from plangen.solids.model import Interference, Solids
from plangen.units import Length, LengthStyle, print_length

LEAST_VOLUME = 1.0  # mm3; less than this is a touch of rounded faces
TOUCH = 1e-6  # mm that boxes have to overlap before the solids are tried


def find_interference(design: Design, solids: Solids) -> tuple[Interference, ...]:
    """Find every pair of copies that share more than 1 mm3, in the order of the design's copies."""
    copies = list(design.copies.values())
    placed: dict[str, object] = {}

    def body(copy: Copy) -> object:
        if copy.name not in placed:
            turn, move = transform(copy)
            placed[copy.name] = solids.parts[copy.part].body.transform(np.column_stack([turn, move]))
        return placed[copy.name]

    found = []
    for one, two in combinations(copies, 2):
        shared = one.box.overlap(two.box)
        if any(float(shared.size(axis)) <= TOUCH for axis in Axis):
            continue
        common = body(one) ^ body(two)  # type: ignore[operator]
        volume = float(common.volume())
        if volume > LEAST_VOLUME:
            x0, y0, z0, x1, y1, z1 = (float(value) for value in common.bounding_box())
            found.append(Interference(one.name, two.name, volume, (x0, y0, z0), (x1, y1, z1)))
    return tuple(found)


def check_interference(design: Design, solids: Solids, findings: Findings) -> None:
    """Add an error ``parts-collide`` for every pair of copies that take the same room."""
    copies = design.copies
    style = LengthStyle("both")
    for clash in find_interference(design, solids):
        one, two = copies[clash.one], copies[clash.two]
        sizes = [high - low for low, high in zip(clash.low, clash.high, strict=True)]
        thinnest = min(Axis, key=lambda axis: sizes[axis.value])
        deep, *others = (
            print_length(Length(Fraction(sizes[axis.value]).limit_denominator(10**6)), style)
            for axis in (thinnest, *(axis for axis in Axis if axis is not thinnest))
        )
        wide = tuple(axis.word for axis in Axis if axis is not thinnest)
        findings.error(
            "parts-collide",
            f"'{one.name}' and '{two.name}' take the same room: they overlap by {deep} {thinnest.word}, "
            f"over {others[0]} {wide[0]} and {others[1]} {wide[1]}",
            two.place,
            f"move one of them {deep} {thinnest.word}, make one of them shorter by that, "
            "or join them so that one is housed in the other",
            ((one.place, f"'{one.name}' stands here"),),
            two.part,
        )
