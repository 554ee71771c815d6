"""Assemblies, motions, positions and leaning pieces in the record."""

from __future__ import annotations

import math
from collections import Counter
from fractions import Fraction
from typing import Any

from plangen.design.model import Assembly, Design, Motion, Part, Position
from plangen.joinery.space import Axis, Side, Stance, unit
from plangen.record.plain import PLACES, box, measure, number
from plangen.units import Length, LengthStyle

_FINEST = 1000  # steps of an angle in one degree


def assembly_record(assembly: Assembly, design: Design) -> dict[str, Any]:
    """Give one assembly as plain data, with how many of each part go into one copy of it."""
    part_of = design.part_of
    pieces = Counter(part_of[name].key for name in assembly.copies[0].members)
    return {
        "key": assembly.key,
        "name": assembly.name,
        "title": assembly.title,
        "count": len(assembly.copies),
        "within": assembly.within,
        "joints": list(assembly.joints),
        "pieces": [
            {"part": part.key, "count": pieces[part.key]} for part in design.parts if part.key in pieces
        ],
        "copies": [
            {"name": copy.name, "members": list(copy.members), "box": box(copy.box)}
            for copy in assembly.copies
        ],
    }


def motion_record(motion: Motion, style: LengthStyle) -> dict[str, Any]:
    """Give one motion as plain data; ``measures`` holds how far it goes, where it has an end."""
    return {
        "joint": motion.joint,
        "kind": motion.kind,
        "moves": list(motion.moves),
        "point": [round(at, PLACES) for at in motion.point],
        "way": [round(part, 9) for part in motion.way],
        "measures": [_amount("most", motion.most, motion.kind, style)] if motion.most is not None else [],
    }


def position_record(position: Position, design: Design, style: LengthStyle) -> dict[str, Any]:
    """Give one position as plain data; ``measures`` are its overall sizes and what each joint is moved by."""
    kinds = {motion.joint: motion.kind for motion in design.motions}
    moved = [_amount(joint, value, kinds.get(joint, "turns"), style) for joint, value in position.values]
    return {
        "name": position.name,
        "title": position.title,
        "measures": [
            *(measure(f"overall {axis.word}", position.overall.size(axis), style) for axis in Axis),
            *moved,
        ],
        "stances": {name: stance_record(position.stances[name]) for name in sorted(position.stances)},
    }


def stance_record(stance: Stance) -> dict[str, Any]:
    """Give a stance as plain data: its rows, and its move in millimetres."""
    return {
        "rows": [[round(part, 9) for part in row] for row in stance.rows],
        "move": [round(part, PLACES) for part in stance.move],
    }


def _amount(name: str, value: Fraction, kind: str, style: LengthStyle) -> dict[str, Any]:
    """Give by how much a joint is moved: degrees where it turns, a length where it slides."""
    if kind == "slides":
        return measure(name, Length(value), style)
    return {"name": name, **number(value, f"{float(value):g}°")}


def lean_measure(part: Part) -> list[dict[str, Any]]:
    """Give how far the first copy of a part leans out of its upright place, in degrees, where it leans."""
    copy = part.copies[0]
    if copy.stance is None:
        return []
    straight = unit(copy.pose.side(Side.of(part.runs, True)))
    cosine = sum(one * two for one, two in zip(straight, copy.stance.direction(straight), strict=True))
    degrees = Fraction(round(math.degrees(math.acos(max(-1.0, min(1.0, cosine)))) * _FINEST), _FINEST)
    return [{"name": "lean", **number(degrees, f"{float(degrees):.1f}°")}]
