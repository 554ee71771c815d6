"""Small designs for the rules of the order of work: plain boxes and the contacts between them."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

from plangen.description.model import StepEntry
from plangen.design.model import (
    Contact,
    Copy,
    Design,
    Fit,
    FromWork,
    Hardware,
    HardwareUse,
    Joint,
    Part,
)
from plangen.findings import Findings
from plangen.joinery.cuts import BoxCut
from plangen.joinery.operation import Operation
from plangen.joinery.space import IDENTITY_TURN, ORIGIN, Axis, Box, Point, Pose, Side
from plangen.sequence import OrderOfWork, order_of_work
from plangen.sequence.model import Step
from plangen.units import ZERO, inches, millimetres, phrase
from tests.sample_design import PLACE, sample_design

SIDES = {side.word: side for side in Side}


def box(*numbers: int) -> Box:
    """A box in millimetres: across, deep and up, each from low to high."""
    a0, a1, d0, d1, u0, u1 = (millimetres(number) for number in numbers)
    return Box(Point(a0, d0, u0), Point(a1, d1, u1))


def part(name: str, mark: str, *boxes: Box, operations: tuple[Operation, ...] = (), **more: Any) -> Part:
    """A part with a copy in each box; copies of several are numbered."""
    names = [name] if len(boxes) == 1 else [f"{name} {number}" for number in range(1, len(boxes) + 1)]
    copies = tuple(
        Copy(copy, name, Pose(IDENTITY_TURN, at.low), at, at, PLACE)
        for copy, at in zip(names, boxes, strict=True)
    )
    first = boxes[0]
    blank = Box(ORIGIN, first.high - first.low)
    runs = max(Axis, key=lambda axis: blank.size(axis))
    thick = min((axis for axis in Axis if axis is not runs), key=lambda axis: blank.size(axis))
    wide = next(axis for axis in Axis if axis not in (runs, thick))
    whole = Part(
        key=name,
        name=name,
        title=name.capitalize(),
        mark=mark,
        hand=None,
        mirror=None,
        stock="pine",
        runs=runs,
        wide=wide,
        thick=thick,
        blank=blank,
        shoulder_length=blank.size(runs),
        shoulder_width=blank.size(wide),
        operations=operations,
        copies=copies,
        from_work=(),
        glue_up=None,
        inside=None,
        pattern=False,
        note="",
        place=PLACE,
    )
    return replace(whole, **more)


def operation(
    kind: str, joint: str | None = None, cut: Box | None = None, side: Side = Side.TOP
) -> Operation:
    """An operation with no features, for the order alone."""
    return Operation(
        kind=kind,
        title=kind.capitalize(),
        side=side,
        cuts=(BoxCut(cut),) if cut else (),
        features=(),
        say=phrase(f"Work the {kind}."),
        tools=(phrase(f"A tool for the {kind}"),),
        cautions=("router",),
        joint=joint,
        place=PLACE,
    )


def joint(
    name: str, kind: str, *contacts: tuple[str, str, str | None], glue: str | None = "wood glue", **more: Any
) -> Joint:
    """A joint of contacts given as (fixed, moving, the way it closes)."""
    face = Box(ORIGIN, Point(ZERO, inches(1), inches(1)))
    whole = Joint(
        name=name,
        kind=kind,
        title=kind.capitalize(),
        contacts=tuple(
            Contact(fixed, moving, face, SIDES[way] if way else None) for fixed, moving, way in contacts
        ),
        glue=glue,
        glue_area=Fraction(100),
        apart=False,
        hardware=(),
        say=phrase(f"Close the {name}."),
        cautions=(),
        place=PLACE,
    )
    return replace(whole, **more)


def fit(name: str, item: str, number: int, *copies: str) -> Fit:
    """A fit of so many pieces of hardware."""
    spots = tuple((copies[0], (0.0, 0.0, 0.0), Side.FRONT) for _ in range(number))
    return Fit(name, copies, HardwareUse(item, number, name, spots), phrase(), PLACE)


def design(*parts: Part, joints: tuple[Joint, ...] = (), **more: Any) -> Design:
    """A design of parts and joints in the sample's shop, with its stock and hardware."""
    sample = sample_design()
    hooks = Hardware(
        "wall screw", "wall screw", "Wall screw", phrase(), None, None, "", None, None, None, PLACE
    )
    knobs = Hardware("knob", "knob", "Knob", phrase(), None, None, "", None, None, None, PLACE)
    more = {"hardware": {**sample.hardware, "wall screw": hooks, "knob": knobs}, **more}
    return replace(sample, parts=parts, joints=joints, **more)


def from_work(whole: Part, **more: Any) -> Part:
    """The part with its length taken from the work."""
    size = FromWork(whole.runs, phrase("the opening, less ", millimetres(3)), whole.length, millimetres(20))
    return replace(whole, from_work=(size,), **more)


def panel_frame() -> Design:
    """Two stiles, two rails and a panel in a groove all round: the panel goes in before the frame shuts."""
    return design(
        part("stile", "A", box(0, 50, 0, 20, 0, 600), box(350, 400, 0, 20, 0, 600)),
        part("rail", "B", box(50, 350, 0, 20, 0, 50), box(50, 350, 0, 20, 550, 600)),
        part("panel", "C", box(40, 360, 7, 13, 40, 560)),
        joints=(
            joint(
                "frame",
                "mortise and tenon",
                ("stile 1", "rail 1", "left"),
                ("stile 1", "rail 2", "left"),
                ("stile 2", "rail 1", "right"),
                ("stile 2", "rail 2", "right"),
            ),
            joint(
                "panel groove",
                "groove",
                ("stile 1", "panel", "left"),
                ("stile 2", "panel", "right"),
                ("rail 1", "panel", "bottom"),
                ("rail 2", "panel", "top"),
                glue=None,
            ),
        ),
    )


def entry(**keys: Any) -> StepEntry:
    """A step as the maker would write it; the keys are the maker's with ``_`` for a space."""
    return StepEntry.model_validate(keys)


def order(whole: Design, *entries: Any) -> tuple[OrderOfWork, Findings]:
    """The order of work and what was found; the draft alone when no entries are given."""
    findings = Findings()
    return order_of_work(whole, entries or ("draft",), findings), findings


def kinds(findings: Findings) -> list[str]:
    """The kinds of what was found."""
    return [finding.kind for finding in findings.sorted()]


def written(whole: Design, step: Step) -> StepEntry:
    """The entry that covers what a drafted step covers."""
    keys: dict[str, Any] = {"step": step.title}
    named: dict[str, list[str]] = {
        "cut": list(step.made),
        "measure": list(step.measured),
        "join": list(step.joints),
        "fit": list(step.fits),
    }
    if step.kind == "dry fit":
        keys["dry"] = [one.name for one in whole.joints if one.glue]
    if step.kind == "finish":
        keys["finish"] = "yes"
    joined = {
        copy
        for name in step.joints
        for one in whole.joints
        if one.name == name
        for item in one.contacts
        for copy in (item.fixed, item.moving)
    }
    named["place"] = [copy for copy in step.placed if copy not in joined]
    keys["work"] = [
        {key: sorted({whole.part(key).operations[index].kind for index in indices})}
        for key, indices in step.worked
    ]
    keys |= {name: values for name, values in named.items() if values}
    return StepEntry.model_validate({name: value for name, value in keys.items() if value})
