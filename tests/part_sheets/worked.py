"""Parts with each kind of work under ``cut``, solved from what is typed, and leaning legs built by hand."""

from __future__ import annotations

import math
from dataclasses import replace

from plangen.design.model import Design, Part
from plangen.joinery.angles import plane_of
from plangen.joinery.cuts import BoreCut, PlaneCut, PrismCut
from plangen.joinery.operation import Feature, Form, Operation, Span
from plangen.joinery.shapes import around, circle_loop
from plangen.joinery.space import Axis, Box, Point, Side
from plangen.units import ZERO, Length, inches, phrase
from tests.joinery.boards import leg, top
from tests.part_sheets.pieces import A, D, U, box, piece, spans
from tests.sample_design import PLACE, sample_design

i = inches


def plane_cut(blank: Box, end: Side, edge: Side, face: Side, mitre: float, tilt: float) -> Operation:
    """A saw cut through the corner where an end, an edge and a face meet."""
    normal = plane_of(end, edge, face, mitre, tilt)
    through = Point(*(blank.side(side) for side in sorted((end, edge, face), key=lambda s: s.axis.value)))
    feature = Feature(Form.PLANE, end, spans(blank), (end,), way=normal)
    cut = PlaneCut(through, normal)
    return Operation("angled end", "Angled end", end, (cut,), (feature,), phrase(), place=PLACE)


def round_tenon(blank: Box, end: Side, diameter: Length, length: Length) -> Operation:
    """A tenon turned at an end, in the middle of the section."""
    along = end.axis
    inner = blank.side(end) - length * end.sign
    low, high = min(inner, blank.side(end)), max(inner, blank.side(end))
    first, second = (axis for axis in Axis if axis is not along)
    circle = circle_loop((blank.middle(first), blank.middle(second)), diameter)
    extent = {along: Span(low, high)}
    for axis in (first, second):
        extent[axis] = Span(blank.middle(axis) - diameter / 2, blank.middle(axis) + diameter / 2)
    return Operation(
        "round tenon",
        "Round tenon",
        end,
        (PrismCut(along, low, high, (around(blank, along), circle)),),
        (
            Feature(
                Form.ROUND,
                end,
                tuple((axis, extent[axis]) for axis in Axis),
                (end,),
                diameter=diameter,
                depth=length,
            ),
        ),
        phrase(),
        place=PLACE,
    )


def splayed_leg() -> Part:
    """1-3/4 square, 18 long, sawn at both ends so that it leans 8 and 12 degrees; both cuts are parallel."""
    blank = box(ZERO, i("7/4"), ZERO, i("7/4"), ZERO, i(18))
    cuts = (
        plane_cut(blank, Side.TOP, Side.LEFT, Side.FRONT, 12.0, 8.0),
        plane_cut(blank, Side.BOTTOM, Side.RIGHT, Side.BACK, 12.0, 8.0),
    )
    return piece("splayed leg", "L", blank, U, A, D, cuts)


def tenoned_leg() -> Part:
    """1-1/2 square, 16 long, a round tenon on top and a foot sawn to lean one way only."""
    blank = box(ZERO, i("3/2"), ZERO, i("3/2"), ZERO, i(16))
    work = (
        round_tenon(blank, Side.TOP, i(1), i("5/4")),
        plane_cut(blank, Side.BOTTOM, Side.RIGHT, Side.FRONT, 15.0, 0.0),
    )
    return piece("leg with a round tenon", "M", blank, U, A, D, work)


def sawn_tenon() -> Part:
    """A leg whose round tenon, 3/4 in across, is sawn at 10 degrees: the cut is measured on its rim."""
    blank = box(ZERO, i("5/4"), ZERO, i("5/4"), ZERO, i(10))
    tenon = round_tenon(blank, Side.TOP, i("3/4"), i(1))
    sawn = plane_cut(blank, Side.TOP, Side.RIGHT, Side.FRONT, 10.0, 0.0)
    return piece("leg with a sawn tenon", "P", blank, U, A, D, (tenon, sawn))


def low_cut_leg() -> Part:
    """A leg whose foot is sawn an inch above the end of its blank: the cut's corner has to be located."""
    blank = box(ZERO, i("3/2"), ZERO, i("3/2"), ZERO, i(16))
    whole = plane_cut(blank, Side.BOTTOM, Side.RIGHT, Side.BACK, 10.0, 5.0)
    (cut,) = whole.cuts
    assert isinstance(cut, PlaneCut)
    raised = replace(cut, through=cut.through.moved(U, i(1)))
    return piece("leg with a high foot", "N", blank, U, A, D, (replace(whole, cuts=(raised,)),))


def bored_seat() -> Part:
    """A seat with four round mortises that lean apart, each leg's hole an operation of its own."""
    blank = box(ZERO, i(18), ZERO, i(10), ZERO, i("3/2"))
    holes = []
    for x, side in ((i(3), -1), (i(15), 1)):
        for y, other in ((i(2), -1), (i(8), 1)):
            raw = (side * math.tan(math.radians(12)), other * math.tan(math.radians(8)), 1.0)
            size = math.sqrt(sum(v * v for v in raw))
            way = (-raw[0] / size, -raw[1] / size, raw[2] / size)
            where = tuple((axis, Span(at, at)) for axis, at in ((A, x), (D, y)))
            holes.append(
                Operation(
                    "round mortise",
                    "Round mortise",
                    Side.BOTTOM,
                    (BoreCut(Point(x, y, ZERO), way, i(1), i(2)),),
                    (Feature(Form.HOLE, Side.BOTTOM, where, diameter=i(1), way=way),),
                    phrase(),
                    place=PLACE,
                )
            )
    return piece("seat", "S", blank, A, D, U, tuple(holes))


CUTS = {
    "slots": "slot: {face: top, from left: 2in, from front: 1in, length: 3in, width: 1/2in, depth: 1/4in, "
    "along: {number: 4, pitch: 4in}}",
    "slots over": "slot: {face: top, from left: 2in, from front: 2in, length: 5in, width: 3/8in, "
    "going: over, mirrored: across}",
    "pocket": "pocket: {face: top, from left: 3in, from front: 2in, length: 6in, width: 4in, radius: 1/4in, "
    "depth: 1/8in, opening: {length: 5in, width: 3in, radius: 3/8in}}",
    "round pocket": "pocket: {face: top, from left: 5in, from front: 5in, diameter: 3in, depth: 1/8in, "
    "opening: {diameter: 2-1/2in}}",
    "leaf recesses": "leaf recess: {face: front, open: top, from left: 3in, length: 2in, width: 1/2in, "
    "depth: 5/64in, radius: 1/4in}",
    "bevelled edge": "bevel: {at: front, angle: 30deg, long: top}",
    "bevelled end": "bevel: {at: right, angle: 15deg, long: bottom}",
    "hopper side": "compound mitre: {end: left, long: back, face: top, slope: 60deg, sides: 4}",
    "moulded edges": "profile: {shape: ogee, radius: 1/8in, edges: around top}",
    "stopped chamfer": "chamfer: {edges: front top, size: 1/4in, stopped: {left: 2in, right: 3in}}",
    "banded shelf": "edge banding: {edges: [front, left], with: birch tape, thickness: 1/32in}",
    "tilted holes": "holes: {face: bottom, from left: 3in, from front: 2in, diameter: 3/4in, "
    "tilt: {right: 12deg, back: 8deg}, mirrored: [across, deep]}",
    "rounded notch": "notch: {at: [left, front], across: 3in, deep: 2in, radius: 1in}",
    "row of holes": "holes: {face: top, from left: 2in, from front: 1in, diameter: 5mm, depth: 10mm, "
    "along: {number: 6, pitch: 32mm}, over: {number: 2, pitch: 6in}}",
}
TURNED = {
    "round rail": "round: {diameter: 1-1/4in}",
    "turned foot": "round: {diameter: 1in, from bottom: 5in, from top: 6in}",
}


def worked_parts() -> tuple[Part, ...]:
    """Every part, each with a key and a mark of its own."""
    solved = [(name, top(cut)) for name, cut in CUTS.items()] + [
        (name, leg(cut)) for name, cut in TURNED.items()
    ]
    parts = [
        replace(part, key=name, name=name, title=name.capitalize(), mark=f"T{number}")
        for number, (name, part) in enumerate(solved)
    ]
    return (*parts, splayed_leg(), tenoned_leg(), sawn_tenon(), low_cut_leg(), bored_seat())


def worked_design() -> Design:
    """The sample design with these parts in place of its own."""
    return replace(sample_design(), parts=worked_parts())
