"""What a part sheet has to say, before anything is placed: every dimension and every note, once.

Along each axis the blank's ends and the features' edges and centres are the nodes of a graph, and the
dimensions are its edges. The plan is a spanning tree of that graph: nothing is missing and nothing is
given twice. Reference values, printed in parentheses, stand outside the tree.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Literal, TypeAlias

from plangen.design.faces import face_side
from plangen.design.model import Part
from plangen.drawing.part_sheets.figures import figure, row_figure, times
from plangen.drawing.part_sheets.notes import Note, notes_of
from plangen.drawing.part_sheets.shapes import Shape, looks, nodes, shapes_of, touches
from plangen.findings import Findings
from plangen.findings.model import ProjectError
from plangen.joinery.operation import Form
from plangen.joinery.space import Axis, Side
from plangen.units import ZERO, Length, LengthStyle

Kind: TypeAlias = Literal["overall", "size", "row", "location", "reference"]
Pair: TypeAlias = tuple[Length, Length]
_Key: TypeAlias = tuple[str, Length, tuple[Axis, ...], bool]  # kind, length, looks, whether it is a depth
_Groups: TypeAlias = dict[_Key, dict[Pair, list[int]]]


@dataclass(frozen=True, slots=True)
class Dimension:
    """One printed dimension.

    ``pairs`` are the stretches it gives, each from and to in the part's own frame, all of the same length:
    one for most, several for ``3 × 3/4`` and for an evenly spaced row. A location starts at its datum.
    ``echoes`` are further equal stretches that the text counts although they follow from other dimensions.
    ``looks`` are the axes one may look along to see it, best first; empty for the blank's own sizes.
    """

    axis: Axis
    kind: Kind
    pairs: tuple[Pair, ...]
    text: str
    looks: tuple[Axis, ...] = ()
    shapes: tuple[int, ...] = ()
    echoes: tuple[Pair, ...] = ()

    @property
    def value(self) -> Length:
        """The length that is printed (of one step, for a row)."""
        start, end = self.pairs[0]
        return abs(end - start)


@dataclass(frozen=True, slots=True)
class PartPlan:
    """Everything the sheet of one part says; dimensions and notes name ``shapes`` by number."""

    part: Part
    shapes: tuple[Shape, ...]
    dimensions: tuple[Dimension, ...]
    notes: tuple[Note, ...]


def part_dimensions(part: Part, style: LengthStyle) -> PartPlan:
    """Plan the dimensions and notes of a part.

    Raises ProjectError with a finding ``undimensioned-feature`` for every feature that the records do not
    tell enough about, and if the plan is not complete or says something twice.
    """
    findings = Findings()
    shapes = shapes_of(part, findings)
    if findings.has_errors:
        raise ProjectError(findings)
    dimensions = tuple(item for axis in Axis for item in _along(part, shapes, axis, style))
    plan = PartPlan(part, shapes, dimensions, notes_of(part, shapes, style))
    _prove(plan)
    return plan


def wanted(part: Part, shapes: Iterable[Shape], axis: Axis) -> tuple[Length, ...]:
    """Every coordinate along an axis that the sheet has to give, the blank's ends among them, low to high."""
    found = {ZERO, part.blank.size(axis)}
    for shape in shapes:
        found.update(nodes(shape, part, axis))
    return tuple(sorted(found))


def reference_side(part: Part, axis: Axis) -> Side:
    """Give the side that a feature without a datum of its own is measured from along ``axis``.

    The face side for the thickness; the bottom, left or front end for the length; across the width the
    side that most features name, else the edge that no outline eats into.
    """
    named = Counter(
        side
        for operation in part.operations
        for feature in operation.features
        for side in feature.datum
        if side.axis is axis
    )
    if named:
        return max(Side, key=lambda side: (named[side], not side.high))
    if axis is part.thick:
        return face_side(part)
    low, high = Side.of(axis, False), Side.of(axis, True)
    if axis is part.wide:
        eaten = {low: 0, high: 0}
        for op in part.operations:
            for feature in op.features:
                if feature.form is Form.OUTLINE and axis in dict(feature.spans):
                    at_low, at_high = touches(feature.span(axis), part, axis)
                    eaten[low] += at_low and not at_high
                    eaten[high] += at_high and not at_low
        if eaten[low] > eaten[high]:
            return high
    return low


@dataclass(slots=True)
class _Tree:
    """The nodes along one axis and which of them the chosen dimensions already join."""

    parent: dict[Length, Length] = field(default_factory=dict)

    def root(self, node: Length) -> Length:
        self.parent.setdefault(node, node)
        while self.parent[node] != node:
            node = self.parent[node]
        return node

    def join(self, pair: Pair) -> bool:
        """Join two nodes; False when they were joined already, so that a dimension would say nothing new."""
        one, two = self.root(pair[0]), self.root(pair[1])
        if one == two:
            return False
        self.parent[max(one, two)] = min(one, two)
        return True


def _along(part: Part, shapes: tuple[Shape, ...], axis: Axis, style: LengthStyle) -> list[Dimension]:
    size = part.blank.size(axis)
    tree = _Tree()
    tree.join((ZERO, size))
    found = [Dimension(axis, "overall", ((ZERO, size),), figure(size, style))]
    groups = _size_groups(part, shapes, axis)
    long = {key: group for key, group in groups.items() if key[1] * 2 > size and not key[3]}
    short = {key: group for key, group in groups.items() if key not in long}
    found += _sizes(shapes, axis, style, tree, short)
    found += _rows(part, shapes, axis, style, tree)
    found += _locations(part, shapes, axis, style, tree)
    # what goes over more than half of the part is better given by where it ends than by how long it is
    found += _sizes(shapes, axis, style, tree, long)
    found += _places_by_chance(part, shapes, axis, style, found)
    found += _references(part, shapes, axis, style)
    return found


def _size_groups(part: Part, shapes: tuple[Shape, ...], axis: Axis) -> _Groups:
    """Put equal widths, lengths and depths of one kind of cut together."""
    groups: _Groups = {}
    for number, shape in enumerate(shapes):
        if shape.feature.form not in (Form.SLOT, Form.EDGE, Form.ROUND) or not nodes(shape, part, axis):
            continue
        if shape.feature.form is Form.ROUND and axis is not shape.side.axis:
            continue  # its diameter is noted; here only its middle is located
        span = shape.span(axis)
        depth = axis is shape.side.axis
        kind = "" if depth else shape.operation.kind
        key = (kind, span.high - span.low, looks(shape, part, axis), depth)
        groups.setdefault(key, {}).setdefault((span.low, span.high), []).append(number)
    return groups


def _sizes(
    shapes: tuple[Shape, ...], axis: Axis, style: LengthStyle, tree: _Tree, groups: _Groups
) -> list[Dimension]:
    """Dimension the sizes of cuts; equals of one kind are one dimension, "3 × 3/4".

    Short ones go first: a rabbet is better given by its width than by what it leaves. A depth that the
    dimension of another cut gives already is repeated in parentheses: nobody looks for it there.
    """
    found = []
    for (_, value, look, depth), pairs in sorted(groups.items(), key=lambda item: item[0][1]):
        joined = tuple(pair for pair in pairs if tree.join(pair))
        equals = tuple(number for numbers in pairs.values() for number in numbers)
        text = times(_seen_apart(shapes, equals, look[0]), figure(value, style))
        if joined:
            echoes = tuple(pair for pair in pairs if pair not in joined)
            found.append(Dimension(axis, "size", joined, text, look, equals, echoes))
        elif depth:
            first, *others = pairs
            found.append(Dimension(axis, "reference", (first,), f"({text})", look, equals, tuple(others)))
    return found


def _seen_apart(shapes: tuple[Shape, ...], numbers: Iterable[int], look: Axis) -> int:
    """How many of the shapes do not lie behind one another when one looks along ``look``."""
    return len({tuple(shapes[n].span(axis) for axis in Axis if axis is not look) for n in numbers})


def _rows(
    part: Part, shapes: tuple[Shape, ...], axis: Axis, style: LengthStyle, tree: _Tree
) -> list[Dimension]:
    """Evenly spaced rows of three or more: "5 × 32 = 160", where the figures add up as printed."""
    groups: dict[tuple[Length, int, tuple[Axis, ...]], dict[tuple[Length, ...], list[int]]] = {}
    for number, shape in enumerate(shapes):
        for index, repeat in enumerate(shape.feature.repeat):
            first = repeat.axis is axis and repeat.number >= 3 and not shape.row[index]
            if not first or not nodes(shape, part, axis):
                continue
            start = _near(shape, part, axis)[1]
            stops = tuple(start + repeat.pitch * place for place in range(repeat.number))
            key = (repeat.pitch, repeat.number, looks(shape, part, axis))
            groups.setdefault(key, {}).setdefault(stops, []).append(number)
    found = []
    for (pitch, number, look), rows in groups.items():
        text = row_figure(number - 1, pitch, style)
        if text is None:
            continue
        for stops, numbers in rows.items():
            steps = tuple(pairwise(stops))
            trial = _Tree(dict(tree.parent))
            if all(trial.join(step) for step in steps):
                tree.parent = trial.parent
                found.append(Dimension(axis, "row", steps, text, look, tuple(numbers)))
    return found


def _locations(
    part: Part, shapes: tuple[Shape, ...], axis: Axis, style: LengthStyle, tree: _Tree
) -> list[Dimension]:
    wishes: dict[Pair, list[int]] = {}
    for number, shape in enumerate(shapes):
        given = nodes(shape, part, axis)
        if not given:
            continue
        if shape.feature.form is Form.OUTLINE:
            datum = _datum(shape, part, axis)[1]
            for node in given:
                wishes.setdefault((datum, node), []).append(number)
        else:
            wishes.setdefault(_near(shape, part, axis), []).append(number)
    found = []
    for pair, numbers in sorted(wishes.items(), key=lambda item: (item[0][0], abs(item[0][1] - item[0][0]))):
        if tree.join(pair):
            look = looks(shapes[_clearest(part, shapes, numbers)], part, axis)
            text = figure(abs(pair[1] - pair[0]), style)
            found.append(Dimension(axis, "location", (pair,), text, look, tuple(numbers)))
    return found


def _places_by_chance(
    part: Part, shapes: tuple[Shape, ...], axis: Axis, style: LengthStyle, found: list[Dimension]
) -> list[Dimension]:
    """Give in parentheses the place of a cut that only the floor of another one tells.

    The figures then add up, but nobody looks for a mortise's place at the depth of its neighbour.
    """
    tree = _Tree()
    tree.join((ZERO, part.blank.size(axis)))
    for dimension in found:
        if dimension.kind == "size" and all(shapes[n].side.axis is axis for n in dimension.shapes):
            continue
        for pair in (*dimension.pairs, *dimension.echoes):
            tree.join(pair)
    wishes: dict[Pair, list[int]] = {}
    for number, shape in enumerate(shapes):
        told = shape.feature.form not in (Form.SLOT, Form.HOLE, Form.MARK) or shape.side.axis is axis
        if told or not nodes(shape, part, axis):
            continue
        pair = _near(shape, part, axis)
        if tree.root(pair[1]) != tree.root(ZERO):
            wishes.setdefault(pair, []).append(number)
    return [
        Dimension(
            axis,
            "reference",
            (pair,),
            f"({figure(abs(pair[1] - pair[0]), style)})",
            looks(shapes[_clearest(part, shapes, numbers)], part, axis),
            tuple(numbers),
        )
        for pair, numbers in wishes.items()
    ]


def _clearest(part: Part, shapes: tuple[Shape, ...], numbers: list[int]) -> int:
    """Choose the shape among several with one coordinate that the face shows best."""
    return min(numbers, key=lambda n: (shapes[n].side.axis is not part.thick, n))


def _datum(shape: Shape, part: Part, axis: Axis) -> tuple[Side, Length]:
    named = [side for side in shape.feature.datum if side.axis is axis]
    side = named[0] if named else reference_side(part, axis)
    return side, part.blank.side(side)


def _near(shape: Shape, part: Part, axis: Axis) -> Pair:
    """From the datum to the edge (or centre) of the shape that is next to it and inside the blank."""
    side, datum = _datum(shape, part, axis)
    given = nodes(shape, part, axis)
    return datum, (max(given) if side.high else min(given))


def _references(part: Part, shapes: tuple[Shape, ...], axis: Axis, style: LengthStyle) -> list[Dimension]:
    """Dimension in parentheses what follows from the rest, but is what has to fit or to be seen to be right.

    From shoulder to shoulder, and how far an arc that is given by its radius rises.
    """
    size = part.blank.size(axis)
    copy = part.copies[0]
    low = copy.shoulders.low.at(axis) - copy.box.low.at(axis)
    high = low + copy.shoulders.size(axis)
    drawn = wanted(part, shapes, axis)
    wishes: dict[Pair, list[int]] = {}
    if (low, high) != (ZERO, size) and low in drawn and high in drawn:
        given = [n for n, shape in enumerate(shapes) if {low, high} & set(nodes(shape, part, axis))]
        if given:
            wishes[low, high] = given
    slanted: dict[tuple[Pair, Axis], list[int]] = {}
    for number, shape in enumerate(shapes):
        falls = shape.slant.falls if shape.slant is not None and axis is shape.side.axis else ()
        for start, end, look in falls:
            slanted.setdefault(((start, end), look), []).append(number)
        if shape.feature.form is Form.OUTLINE and shape.feature.radii and axis is not shape.side.axis:
            span = shape.span(axis)
            inner = [end for end in (span.low, span.high) if end not in drawn]
            outer = [end for end in (span.low, span.high) if end in drawn]
            if len(inner) == 1 and outer:
                wishes.setdefault((outer[0], inner[0]), []).append(number)
    said = [(pair, looks(shapes[numbers[0]], part, axis), numbers) for pair, numbers in wishes.items()]
    said += [(pair, (look,), numbers) for (pair, look), numbers in slanted.items()]
    return [
        Dimension(
            axis,
            "reference",
            (pair,),
            f"({figure(abs(pair[1] - pair[0]), style)})",
            look,
            tuple(numbers),
        )
        for pair, look, numbers in said
    ]


def _prove(plan: PartPlan) -> None:
    """Raise ProjectError unless the dimensions reach every coordinate along every axis, and none twice."""
    findings = Findings()
    for axis in Axis:
        tree = _Tree()
        for dimension in plan.dimensions:
            if dimension.axis is not axis or dimension.kind == "reference":
                continue
            for pair in dimension.pairs:
                if not tree.join(pair):
                    findings.error(
                        "undimensioned-feature",
                        f"{plan.part.title} has a size {axis.word} that is given twice: {dimension.text}",
                        plan.part.place,
                        part=plan.part.key,
                    )
        for number, shape in enumerate(plan.shapes):
            if any(tree.root(node) != tree.root(ZERO) for node in nodes(shape, plan.part, axis)):
                findings.error(
                    "undimensioned-feature",
                    f"{plan.shapes[number].operation.title} in {plan.part.title} has no place {axis.word}",
                    shape.operation.place or plan.part.place,
                    part=plan.part.key,
                )
    if findings.has_errors:
        raise ProjectError(findings)
