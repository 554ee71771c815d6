"""Chamfers, round-overs and profiles of two entries that together take the whole thickness between them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from plangen.checks.frame import printed
from plangen.design.model import Design, Part
from plangen.findings import Findings
from plangen.joinery.cuts import PrismCut
from plangen.joinery.operation import Form, Operation
from plangen.joinery.space import Axis, Side
from plangen.solids import Solids
from plangen.units import Length


def edges_leave_wood(design: Design, solids: Solids, findings: Findings) -> None:
    """Add ``edge-too-big`` where two entries take all of the face between two parallel edges."""
    told: set[tuple[object, ...]] = set()
    for part in design.parts:
        worked = [edge for operation in part.operations for edge in _edges(part, operation)]
        for one, two in combinations(worked, 2):
            if one.operation.place == two.operation.place:
                continue  # one entry is measured against the part where it is read
            for axis, whole in _faces_between(part, one, two):
                taken = one.taken[axis] + two.taken[axis]
                key = (part.name, one.operation.place, two.operation.place)
                if taken < whole or key in told:
                    continue
                told.add(key)
                first, second = one.operation, two.operation
                findings.error(
                    "edge-too-big",
                    f"the {first.title.lower()} ({printed(one.taken[axis], design)}) and the "
                    f"{second.title.lower()} ({printed(two.taken[axis], design)}) of `{part.name}` meet: "
                    f"between them the part measures {printed(whole, design)}",
                    second.place,
                    "make the two together smaller than that",
                    ((first.place, "the other is here"),) if first.place is not None else (),
                    part.key,
                )


@dataclass(frozen=True)
class _Edge:
    """A worked edge: the two sides that meet in it, what is taken from each way, from where to where."""

    operation: Operation
    sides: frozenset[Side]
    taken: dict[Axis, Length]
    low: Length
    high: Length


def _edges(part: Part, operation: Operation) -> Iterator[_Edge]:
    if len(operation.cuts) != len(operation.features):
        return
    for cut, feature in zip(operation.cuts, operation.features, strict=True):
        if feature.form is not Form.EDGE or not isinstance(cut, PrismCut):
            continue
        spans = {axis: span for axis, span in feature.spans if axis is not cut.axis}
        sides = frozenset(
            Side.of(axis, span.high == part.blank.high.at(axis)) for axis, span in spans.items()
        )
        taken = {axis: span.high - span.low for axis, span in spans.items()}
        yield _Edge(operation, sides, taken, cut.low, cut.high)


def _faces_between(part: Part, one: _Edge, two: _Edge) -> list[tuple[Axis, Length]]:
    """The face that two parallel edges bound, if there is one: its breadth, and the way of it."""
    if len(one.sides & two.sides) != 1 or one.high <= two.low or two.high <= one.low:
        return []
    ((other,), (beyond,)) = (one.sides - two.sides, two.sides - one.sides)
    return [(other.axis, part.blank.size(other.axis))] if beyond is other.opposite else []
