"""Copies that take the same room as another copy."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Any

import numpy as np

from plangen.design.model import Copy, Design
from plangen.design.positions import moved_by
from plangen.findings import Findings
from plangen.joinery.space import Axis, Stance
from plangen.solids.build import transform
from plangen.solids.model import Floats, Interference, Solids
from plangen.units import Length, LengthStyle, print_length

LEAST_VOLUME = 1.0  # mm3; less than this is a touch of rounded faces
STEPS = 30  # in which the way to a position is tried
MOST_CLASHES = 200  # looked for at one time; whoever has so many has one cause to find
MOST_TOLD = 20  # collisions that are told of one design
TOUCH = 1e-6  # mm that boxes have to overlap before the solids are tried


class _Bodies:
    """Solids where they stand, each carried there once; most of them stay put while a few move."""

    def __init__(self, design: Design, solids: Solids) -> None:
        self.solids = solids
        self.copies = list(design.copies.values())
        self.placed: dict[tuple[str, Stance | None], tuple[Any, Floats]] = {}

    def at(self, copy: Copy, stance: Stance | None) -> tuple[Any, Floats]:
        """The solid of a copy that stands so, and its bounds (2, 3), mm."""
        key = (copy.name, stance)
        if key not in self.placed:
            turn, move = transform(replace(copy, stance=stance))
            body = self.solids.parts[copy.part].body.transform(np.column_stack([turn, move]))
            self.placed[key] = body, np.array(body.bounding_box()).reshape(2, 3)
        return self.placed[key]

    def clashes(self, stances: Mapping[str, Stance] | None) -> list[Interference]:
        """Pairs that share more than 1 mm3; with ``stances`` only pairs that have moved apart or together."""
        standing = [self.at(copy, (stances or {}).get(copy.name, copy.stance)) for copy in self.copies]
        if not standing:
            return []
        low = np.array([box[0] for _, box in standing])
        high = np.array([box[1] for _, box in standing])
        meets = np.all(
            np.minimum(high[:, None], high[None]) - np.maximum(low[:, None], low[None]) > TOUCH, axis=2
        )
        found = []
        for first, second in zip(*np.nonzero(np.triu(meets, 1)), strict=True):
            one, two = self.copies[first], self.copies[second]
            # Pieces that move together are apart as they were; two that move apart are both looked at.
            if stances is not None and stances.get(one.name) == stances.get(two.name):
                continue
            common = standing[first][0] ^ standing[second][0]
            volume = float(common.volume())
            if volume > LEAST_VOLUME:
                x0, y0, z0, x1, y1, z1 = (float(value) for value in common.bounding_box())
                found.append(Interference(one.name, two.name, volume, (x0, y0, z0), (x1, y1, z1)))
                if len(found) == MOST_CLASHES:
                    break
        return found


def find_interference(
    design: Design, solids: Solids, stances: Mapping[str, Stance] | None = None
) -> tuple[Interference, ...]:
    """Find every pair of copies that share more than 1 mm3, in the order of the design's copies.

    With ``stances``, which take the place of the copies' own, only pairs of which a piece has moved
    are looked at.
    """
    return tuple(_Bodies(design, solids).clashes(stances))


def check_positions(design: Design, solids: Solids, findings: Findings) -> None:
    """Add an error for every pair of pieces that meet on the way to a position, or in it.

    The way is tried in steps: ``position-collides`` says how far things can move until then.
    """
    bodies = _Bodies(design, solids)
    for position in design.positions:
        told: set[frozenset[str]] = set()
        for step in range(1, STEPS + 1):
            stances = moved_by(design, position.values, step / STEPS)
            if not stances:
                break
            for clash in bodies.clashes(stances):
                pair = frozenset((clash.one, clash.two))
                if pair in told:
                    continue
                told.add(pair)
                share = f"{100 * step // STEPS} % of the way to"
                findings.error(
                    "position-collides",
                    f"'{clash.one}' and '{clash.two}' take the same room "
                    f"{'in' if step == STEPS else share} the position '{position.name}'",
                    position.place,
                    "move one of them less far, put the hinge line elsewhere, or give the pieces more room",
                    part=design.copies[clash.two].part,
                )


def check_interference(design: Design, solids: Solids, findings: Findings) -> None:
    """Add an error ``parts-collide`` for every pair of copies that take the same room."""
    copies = design.copies
    style = LengthStyle(design.project.units)
    unit = " in" if design.project.units == "inch" else " mm"
    clashes = find_interference(design, solids)
    for clash in clashes[:MOST_TOLD]:
        one, two = copies[clash.one], copies[clash.two]
        sizes = [high - low for low, high in zip(clash.low, clash.high, strict=True)]
        thinnest = min(Axis, key=lambda axis: sizes[axis.value])
        deep, *others = (
            print_length(Length(Fraction(sizes[axis.value]).limit_denominator(10**6)), style) + unit
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
    if len(clashes) > MOST_TOLD:
        first = copies[clashes[MOST_TOLD].two]
        more = f"{len(clashes) - MOST_TOLD}{' or' if len(clashes) == MOST_CLASHES else ''} more"
        findings.error(
            "parts-collide",
            f"{more} pairs of pieces take the same room",
            first.place,
            "mend those named first: a row or an assembly that stands wrong makes many of them",
            part=first.part,
        )
