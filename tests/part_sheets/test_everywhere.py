"""Over every part of everything: dimensions are complete, none is given twice, and rows add up as printed."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

import networkx as nx  # type: ignore[import-untyped]
import pytest

from plangen.design.model import Part
from plangen.drawing.part_sheets import part_dimensions
from plangen.drawing.part_sheets.plan import PartPlan
from plangen.joinery.cuts import plane_axes
from plangen.joinery.operation import Feature, Form
from plangen.joinery.space import Axis
from plangen.units import ZERO, Length, LengthStyle
from tests.part_sheets.everything import designs

STYLES = (LengthStyle(), LengthStyle("mm"), LengthStyle("both"))


def needed(part: Part, axis: Axis) -> set[Length]:
    """What has to be told along an axis, from the records alone; a slanted cut's tip is left to the plan.

    A corner off the wood has no place to be told: such a slot across a mitre is sized by its note.
    """
    size = part.blank.size(axis)
    found = {ZERO, size}
    for operation in part.operations:
        for feature in operation.features:
            moves = [ZERO]
            for row in feature.repeat:
                if row.axis is axis:
                    moves = [row.pitch * number for number in range(row.number)]
            found |= {at + move for at in _own(feature, axis, part) for move in moves}
    return {at for at in found if ZERO <= at <= size}


def _own(feature: Feature, axis: Axis, part: Part) -> set[Length]:
    size = part.blank.size(axis)
    lateral = axis is not feature.side.axis
    if feature.form is Form.OUTLINE:
        plane = plane_axes(feature.side.axis)
        corners = [
            corner.at
            for corner in feature.corners
            if all(ZERO <= at <= part.blank.size(one) for one, at in zip(plane, corner.at, strict=True))
        ]
        return {corner[plane.index(axis)] for corner in corners} if lateral else set()
    if feature.form in (Form.HOLE, Form.MARK):
        return {feature.span(axis).low} if lateral else set()
    if feature.form is Form.SLOT:
        span = feature.span(axis)
        return {max(span.low, ZERO), min(span.high, size)}
    return set()


def joined(plan: PartPlan, axis: Axis) -> Any:
    """The coordinates along an axis, joined by what is printed without parentheses."""
    graph: Any = nx.MultiGraph()
    for item in plan.dimensions:
        if item.axis is axis and item.kind != "reference":
            graph.add_edges_from(item.pairs)
    return graph


def parts() -> list[tuple[str, Part]]:
    return [(f"{name}: {part.key}", part) for name, design in designs().items() for part in design.parts]


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.system)
def test_every_coordinate_is_told_once(style: LengthStyle) -> None:
    seen = parts()
    assert len(seen) > 150
    for name, part in seen:
        plan = part_dimensions(part, style)
        for axis in Axis:
            graph = joined(plan, axis)
            assert nx.is_tree(graph), f"{name} {axis.word}: told twice, or not joined to the rest"
            assert needed(part, axis) <= set(graph.nodes), f"{name} {axis.word}: something has no place"


def test_a_dimension_left_out_or_told_twice_is_seen() -> None:
    part = next(part for _, part in parts() if part.operations)
    plan = part_dimensions(part, STYLES[0])
    axis = plan.dimensions[0].axis
    graph = joined(plan, axis)
    one, two = next(iter(graph.edges()))
    graph.add_edge(one, two)
    assert not nx.is_tree(graph)
    graph.remove_edge(one, two)
    graph.remove_edge(one, two)
    assert not nx.is_tree(graph)


def test_rows_add_up_as_printed() -> None:
    """``5 × 32 = 160``: whoever multiplies the printed step gets the printed total."""
    rows = 0
    for name, part in parts():
        for style in STYLES[:2]:
            for item in part_dimensions(part, style).dimensions:
                if item.kind == "row":
                    found = re.fullmatch(r"(\d+) × (.+) = (.+)", item.text.replace("\u00a0", " "))
                    assert found is not None, f"{name}: {item.text}"
                    number, step, total = found.groups()
                    assert int(number) * _value(step) == _value(total), f"{name}: {item.text}"
                    rows += 1
    assert rows > 0


def _value(text: str) -> Fraction:
    return sum((Fraction(piece) for piece in text.split()), Fraction(0))
