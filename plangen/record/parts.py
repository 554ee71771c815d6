"""Parts in the record: sizes, and every operation with the numbers that its drawing prints."""

from __future__ import annotations

from typing import Any

from plangen.design.model import Copy, FromWork, GlueUp, Part
from plangen.joinery.cuts import plane_axes
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.space import Axis, Side
from plangen.record.nesting import lean_measure, stance_record
from plangen.record.plain import box, cut, digest, exact, measure, point, size
from plangen.units import ZERO, Length, LengthStyle, print_reading


def part_record(part: Part, style: LengthStyle) -> dict[str, Any]:
    """Give one part as plain data; ``style`` prints its sizes."""
    return {
        "key": part.key,
        "mark": part.mark,
        "name": part.name,
        "title": part.title,
        "count": len(part.copies),
        "hand": part.hand,
        "mirror": part.mirror,
        "stock": part.stock,
        "runs": part.runs.word,
        "wide": part.wide.word,
        "thick": part.thick.word,
        "pattern": part.pattern,
        "note": part.note,
        "assembly": part.assembly,
        "measures": [*_measures(part, style), *lean_measure(part)],
        "from_work": [_from_work(late, style) for late in part.from_work],
        "glue_up": _glue_up(part.glue_up, style),
        "operations": [_operation(part, operation, style) for operation in part.operations],
        "copies": [_copy(copy) for copy in part.copies],
    }


def _measures(part: Part, style: LengthStyle) -> list[dict[str, Any]]:
    """The sizes of the cut list; those between shoulders only where a joint adds to the part."""
    thickness = measure("thickness", part.thickness, style)
    # The lists print it as a caliper reads it, for it is what the wood is and not what somebody cuts.
    thickness["printed"] = print_reading(part.thickness, style, unit=True)
    found = [measure("length", part.length, style), measure("width", part.width, style), thickness]
    if part.shoulder_length != part.length:
        found.append(measure("shoulder length", part.shoulder_length, style))
    if part.shoulder_width != part.width:
        found.append(measure("shoulder width", part.shoulder_width, style))
    return found


def _from_work(late: FromWork, style: LengthStyle) -> dict[str, Any]:
    return {
        "axis": late.axis.word,
        "formula": late.formula.text(style),
        "expected": size(late.expected, style),
        "leave": size(late.leave, style),
    }


def _glue_up(glue_up: GlueUp | None, style: LengthStyle) -> dict[str, Any] | None:
    if glue_up is None:
        return None
    return {
        "kind": glue_up.kind,
        "number": glue_up.number,
        "width": size(glue_up.width, style),
        "thickness": size(glue_up.thickness, style),
        "sections": [
            {
                "boards": one.boards,
                "width": size(one.width, style),
                "board_width": size(one.board_width, style),
                "board_rough": size(one.board_rough, style),
            }
            for one in glue_up.sections
        ],
    }


def _copy(copy: Copy) -> dict[str, Any]:
    return {
        "name": copy.name,
        "box": box(copy.box),
        "shoulders": box(copy.shoulders),
        "turn": [list(row) for row in copy.pose.turn],
        "move": point(copy.pose.move),
        "path": list(copy.path),
        "stance": stance_record(copy.stance) if copy.stance is not None else None,
    }


def _operation(part: Part, operation: Operation, style: LengthStyle) -> dict[str, Any]:
    return {
        "kind": operation.kind,
        "title": operation.title,
        "side": operation.side.word,
        "joint": operation.joint,
        "sentence": operation.say.text(style),
        "features": [_feature(part, feature, style) for feature in operation.features],
        "shape": digest([cut(one) for one in operation.cuts]),
    }


def _feature(part: Part, feature: Feature, style: LengthStyle) -> dict[str, Any]:
    return {
        "form": feature.form.value,
        "side": feature.side.word,
        "spans": {axis.word: [exact(span.low), exact(span.high)] for axis, span in feature.spans},
        "datum": [side.word for side in feature.datum],
        "through": feature.depth is None,
        "countersunk": feature.countersink,
        "plugged": feature.plugged,
        "angle": feature.angle_degrees,
        "note": feature.note.text(style),
        "rows": [
            {"axis": row.axis.word, "number": row.number, "pitch": exact(row.pitch)} for row in feature.repeat
        ],
        "measures": [measure(name, length, style) for name, length in feature_measures(part, feature)],
    }


def feature_measures(part: Part, feature: Feature) -> tuple[tuple[str, Length], ...]:
    """Name the lengths that locate and size a feature.

    Places are taken from the side that the feature is measured from; where it names none, from the
    nearer end. What follows from the blank alone (a slot's run from edge to edge, a place of nothing at an
    edge) is left out: it says nothing that the size of the part does not say.
    """
    found: list[tuple[str, Length]] = []
    for axis, span in feature.spans:
        if axis is feature.side.axis and feature.form is not Form.EDGE:
            continue  # the depth, below
        whole = part.blank.size(axis)
        if span.low <= ZERO and span.high >= whole:
            continue
        side = _measured_from(feature, axis, span.low, whole - span.high)
        place = whole - span.high if side.high else span.low
        if feature.form not in (Form.HOLE, Form.MARK):
            found.append((f"size along the {part.side_word(axis)}", span.high - span.low))
        if place > ZERO:
            found.append((f"from the {side.word}", place))
    lengths = (("diameter", feature.diameter), ("depth", feature.depth))
    found.extend((name, length) for name, length in lengths if length is not None)
    if feature.counterbore is not None:
        found.append(("counterbore diameter", feature.counterbore[0]))
        found.append(("counterbore depth", feature.counterbore[1]))
    found.extend((f"pitch along the {part.side_word(row.axis)}", row.pitch) for row in feature.repeat)
    directions = [part.side_word(axis) for axis in plane_axes(feature.side.axis)]
    for index, corner in enumerate(feature.corners, 1):
        places = zip(directions, corner.at, strict=True)
        found.extend((f"corner {index} along the {direction}", at) for direction, at in places)
    found.extend((f"radius {index}", radius) for index, radius in enumerate(feature.radii, 1))
    return tuple(found)


def _measured_from(feature: Feature, axis: Axis, low_gap: Length, high_gap: Length) -> Side:
    for side in feature.datum:
        if side.axis is axis:
            return side
    return Side.of(axis, high_gap < low_gap)
