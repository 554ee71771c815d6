"""Operations that cannot be meant: cuts that miss their part, take it all, or cut it in two."""

from __future__ import annotations

import math
from typing import Literal, TypeAlias

import manifold3d
import numpy as np

from plangen.design.model import Design, Part
from plangen.findings import Findings
from plangen.joinery.cuts import BoreCut, Cut, RoundCut, plane_axes
from plangen.joinery.operation import Operation
from plangen.joinery.space import Axis, Side, to_nanometre
from plangen.solids.cutters import blank_solid, cutter
from plangen.solids.labels import Labels
from plangen.solids.model import Floats, Solids
from plangen.units import LengthStyle, print_length

LEAST_CUT = 0.01  # mm3 that a cut has to take away to count
MOST_NAMED = 3  # pieces whose sizes are named
LEAST_PIECE = 1.0  # mm3; a smaller piece is a crumb of rounding


_Done: TypeAlias = tuple[Operation, list[manifold3d.Manifold], Floats]  # with its tools, and their bounds


def check_solids(design: Design, solids: Solids, findings: Findings) -> None:
    """Add what is wrong with the parts' own shapes, each at the place of the operation.

    Errors ``cut-off-part`` (a hole or cut that misses its part), ``part-cut-away`` and
    ``part-in-pieces``; warnings ``hole-breaks-edge`` and ``cut-in-air`` (all of it was gone before, or
    goes after).
    """
    for part in design.parts:
        _check_cuts(part, findings)
        solid = solids.parts[part.key]
        if solid.volume < LEAST_PIECE or len(_pieces(solid.body)) > 1:
            _check_whole(part, design.project.units, findings)


def _check_cuts(part: Part, findings: Findings) -> None:
    labels = Labels()
    blank = blank_solid(part.blank, labels)
    room = _bounds(blank)
    earlier: list[manifold3d.Manifold] = []
    taken = np.empty((0, 6))  # the bounds of what is cut earlier
    done: list[_Done] = []
    for operation in part.operations:
        tools = [cutter(cut, part.blank, labels) for cut in operation.cuts]
        bounds = np.array([_bounds(tool) for tool in tools]).reshape(-1, 6)
        met = [
            _within(box, room) or (not _apart(box, room) and float((tool ^ blank).volume()) > LEAST_CUT)
            for tool, box in zip(tools, bounds, strict=True)
        ]
        for cut, meets in zip(operation.cuts, met, strict=True):
            if not meets:
                _report_miss(part, operation, cut, findings)
            elif isinstance(cut, RoundCut | BoreCut):
                _check_edge(part, operation, cut, findings)
        if tools and all(met) and _in_air(tools, bounds, blank, earlier, taken):
            findings.warning(
                "cut-in-air",
                f"the {operation.title.lower()} on '{part.title}' takes nothing away: "
                "the operations before it have already removed all of that wood",
                operation.place,
                "move it to where there is wood, or leave it out",
                part=part.key,
            )
        earlier += tools
        taken = np.vstack([taken, bounds])
        done.append((operation, tools, bounds))
    for index, (operation, tools, bounds) in enumerate(done):
        if all(isinstance(cut, RoundCut | BoreCut) for cut in operation.cuts):
            _check_kept(part, operation, tools, bounds, blank, done[index + 1 :], findings)


def _check_kept(
    part: Part,
    operation: Operation,
    tools: list[manifold3d.Manifold],
    bounds: Floats,
    blank: manifold3d.Manifold,
    later: list[_Done],
    findings: Findings,
) -> None:
    """Warn of holes of which nothing is left once one of the later operations is done."""
    for other, others, reach in later:
        if tools and _in_air(tools, bounds, blank, others, reach):
            findings.warning(
                "cut-in-air",
                f"nothing is left of the {operation.title.lower()} on '{part.title}': "
                f"the {other.title.lower()}, worked after it, takes away all of the wood round it",
                operation.place,
                "move it to where wood stays, or leave it out",
                ((other.place, "this takes it away"),) if other.place is not None else (),
                part.key,
            )
            return


def _in_air(
    tools: list[manifold3d.Manifold],
    bounds: Floats,
    blank: manifold3d.Manifold,
    earlier: list[manifold3d.Manifold],
    taken: Floats,
) -> bool:
    """Whether what was cut earlier leaves nothing for any of the tools; only what is near them is tried."""
    for tool, box in zip(tools, bounds, strict=True):
        near = np.all((taken[:, :3] < box[3:]) & (box[:3] < taken[:, 3:]), axis=1)
        if not near.any():
            return False
        gone = [earlier[index] for index in np.flatnonzero(near)]
        left = manifold3d.Manifold.batch_boolean([tool ^ blank, *gone], manifold3d.OpType.Subtract)
        if float(left.volume()) > LEAST_CUT:
            return False
    return True


def _report_miss(part: Part, operation: Operation, cut: Cut, findings: Findings) -> None:
    what = "hole" if isinstance(cut, RoundCut | BoreCut) else "cut"
    if isinstance(cut, RoundCut | BoreCut):
        first, second = plane_axes(_face_axis(cut, part))
        off = [
            axis.word
            for axis in (first, second)
            if not part.blank.low.at(axis) <= cut.mouth.at(axis) <= part.blank.high.at(axis)
        ]
        why = (
            f"its middle lies outside the part {' and '.join(off)}"
            if off
            else "it ends before it reaches the wood"
        )
    else:
        why = "no wood of the part lies inside it"
    findings.error(
        "cut-off-part",
        f"a {what} of the {operation.title.lower()} misses '{part.title}': {why}",
        operation.place,
        f"give the {what} a place on the part; measure it from the part's own sides",
        part=part.key,
    )


def _check_edge(part: Part, operation: Operation, cut: RoundCut | BoreCut, findings: Findings) -> None:
    """Warn of a hole that breaks out through a side of the blank."""
    radius = cut.diameter / 2
    for axis in plane_axes(_face_axis(cut, part)):
        low, high = part.blank.low.at(axis), part.blank.high.at(axis)
        if isinstance(cut, BoreCut):
            first, last = _bored_between(cut, axis, part)
            out = (first < float(low), last > float(high))
        else:
            out = (cut.mouth.at(axis) - radius < low, cut.mouth.at(axis) + radius > high)
        if any(out):
            sides = " and ".join(Side.of(axis, upper).word for upper in (False, True) if out[upper])
            findings.warning(
                "hole-breaks-edge",
                f"a hole of the {operation.title.lower()} on '{part.title}' breaks out at the {sides}",
                operation.place,
                "move the hole in from the edge by at least half its diameter, or make it smaller",
                part=part.key,
            )
            return


def _face_axis(cut: RoundCut | BoreCut, part: Part) -> Axis:
    """The axis of the face that a hole enters: where its mouth lies on one, else the way it mostly goes."""
    if isinstance(cut, RoundCut):
        return cut.side.axis
    ways = sorted(Axis, key=lambda axis: -abs(cut.way[axis.value]))
    on_face = [
        axis
        for axis in ways
        if cut.mouth.at(axis) == (part.blank.low if cut.way[axis.value] > 0 else part.blank.high).at(axis)
    ]
    return (on_face or ways)[0]


def _bored_between(cut: BoreCut, axis: Axis, part: Part) -> tuple[float, float]:
    """How far a slanted hole reaches along an axis of its face, within the thickness, mm.

    Cut level, the hole is an ellipse; its floor, where it is blind, is a circle askew.
    """
    face = _face_axis(cut, part)
    along, into = cut.way[axis.value], cut.way[face.value]
    radius, start = float(cut.diameter) / 2, float(cut.mouth.at(axis))
    level = radius * math.hypot(1.0, along / into)
    thickness = float(part.blank.size(face))
    through = float(cut.depth) * abs(into) >= thickness
    end = start + along * (thickness / abs(into) if through else float(cut.depth))
    there = level if through else radius * math.sqrt(max(0.0, 1.0 - along * along))
    return min(start - level, end - there), max(start + level, end + there)


def _check_whole(part: Part, units: Literal["inch", "mm"], findings: Findings) -> None:
    """Cut one operation after another, to name the one that leaves nothing or more than one piece."""
    labels = Labels()
    left = blank_solid(part.blank, labels)
    for operation in part.operations:
        tools = [cutter(cut, part.blank, labels) for cut in operation.cuts]
        left = manifold3d.Manifold.batch_boolean([left, *tools], manifold3d.OpType.Subtract)
        pieces = _pieces(left)
        name = operation.title.lower()
        if operation.joint is not None:
            name += f" of `{operation.joint}`"
        if not pieces:
            findings.error(
                "part-cut-away",
                f"nothing is left of '{part.title}' after the {name}",
                operation.place,
                "make the cut smaller than the part, or the part larger",
                part=part.key,
            )
            return
        if len(pieces) > 1:
            findings.error(
                "part-in-pieces",
                f"the {name} cuts '{part.title}' into {len(pieces)} separate pieces: {_sizes(pieces, units)}",
                operation.place,
                "make the cut shallower or shorter so that the part holds together, or declare two parts",
                part=part.key,
            )
            return


def _sizes(pieces: list[manifold3d.Manifold], units: Literal["inch", "mm"]) -> str:
    """Say how large the box round each of the pieces is, the largest pieces first: across, deep, up."""
    style = LengthStyle(units)
    said = []
    for piece in sorted(pieces, key=lambda one: (-float(one.volume()), tuple(one.bounding_box()))):
        bounds = _bounds(piece)
        sizes = (print_length(to_nanometre(float(size)), style) for size in bounds[3:] - bounds[:3])
        said.append(" × ".join(sizes))
    shown = [f"{size} {style.unit_word}" for size in said[:MOST_NAMED]]
    if len(said) > MOST_NAMED:
        shown.append(f"{len(said) - MOST_NAMED} smaller")
    return f"{', '.join(shown[:-1])} and {shown[-1]}"


def _pieces(body: manifold3d.Manifold) -> list[manifold3d.Manifold]:
    """Give the separate pieces; a hollow inside one is not a piece, since its volume is negative."""
    return [piece for piece in body.decompose() if float(piece.volume()) > LEAST_PIECE]


def _bounds(body: manifold3d.Manifold) -> Floats:
    """The low and the high corner of a body, mm: six numbers."""
    return np.array(body.bounding_box())


def _apart(one: Floats, two: Floats) -> bool:
    return bool(np.any(one[:3] >= two[3:]) or np.any(two[:3] >= one[3:]))


def _within(one: Floats, two: Floats) -> bool:
    return bool(np.all(one[:3] >= two[:3]) and np.all(one[3:] <= two[3:]))
