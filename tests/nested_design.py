"""A small cabinet built by hand, with all that nests, turns and leans.

An open case holds two equal drawers, each an assembly of a face, two sides, a back and a bottom; a
door turns on hinges; a prop leans at the back. Sizes are whole millimetres.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType

from plangen.design.model import (
    Assembly,
    AssemblyCopy,
    Contact,
    Copy,
    Design,
    Fit,
    Hardware,
    HardwareUse,
    Joint,
    Motion,
    Part,
    Position,
)
from plangen.joinery.space import IDENTITY_TURN, ORIGIN, Axis, Box, Point, Pose, Side, Stance, turn_about
from plangen.units import millimetres, phrase
from tests.sample_design import PLACE, sample_design

WIDE, DEEP, HIGH = 500, 300, 400  # the case
BOARD = 20
DRAWERS = {"top drawer": 160, "bottom drawer": 40}  # how high each stands
SWING = Fraction(90)  # degrees that the door opens


def box(*numbers: int) -> Box:
    """A box in millimetres: across, deep and up, each from low to high."""
    a0, a1, d0, d1, u0, u1 = (millimetres(number) for number in numbers)
    return Box(Point(a0, d0, u0), Point(a1, d1, u1))


def part(
    key: str,
    mark: str,
    title: str,
    turned: str,
    copies: dict[str, Box],
    *,
    assembly: str | None = None,
    stance: Stance | None = None,
) -> Part:
    """A part; ``turned`` names the axes of its length, width and thickness: ``aud`` for across, up, deep."""
    axes = {"a": Axis.ACROSS, "d": Axis.DEEP, "u": Axis.UP}
    runs, wide, thick = (axes[letter] for letter in turned)
    first = next(iter(copies.values()))
    blank = Box(ORIGIN, first.high - first.low)
    made = tuple(
        Copy(
            name,
            key,
            Pose(IDENTITY_TURN, at.low),
            stance.bounds(at) if stance else at,
            stance.bounds(at) if stance else at,
            PLACE,
            (name.rsplit(".", 1)[0],) if "." in name else (),
            stance,
        )
        for name, at in copies.items()
    )
    return Part(
        key=key,
        name=key,
        title=title,
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
        operations=(),
        copies=made,
        from_work=(),
        glue_up=None,
        inside=None,
        pattern=False,
        note="",
        place=PLACE,
        assembly=assembly,
    )


def contact(design_copies: dict[str, Copy], fixed: str, moving: str, closes: Side) -> Contact:
    """The face in which two copies touch."""
    face = design_copies[fixed].box.overlap(design_copies[moving].box)
    at = design_copies[fixed].box.side(closes.opposite)
    return Contact(fixed, moving, face.with_side(closes, at).with_side(closes.opposite, at), closes)


def joint(
    name: str,
    kind: str,
    title: str,
    contacts: tuple[Contact, ...],
    *,
    glue: str | None = "wood glue",
    hardware: tuple[HardwareUse, ...] = (),
    assembly: str | None = None,
    apart: bool = False,
) -> Joint:
    """A joint over some contacts."""
    say = phrase(f"Close each {title.lower()}.")
    area = Fraction(500 * len(contacts))
    return Joint(name, kind, title, contacts, glue, area, apart, hardware, say, (), PLACE, assembly=assembly)


def _drawer(up: int) -> dict[str, Box]:
    low, high = 40, 460  # the drawer's own sides stand clear of the case
    return {
        "face": box(low - 10, high + 10, 0, 20, up, up + 100),
        "left side": box(low, low + 15, 20, 280, up, up + 90),
        "right side": box(high - 15, high, 20, 280, up, up + 90),
        "back": box(low + 15, high - 15, 265, 280, up + 10, up + 90),
        "bottom": box(low + 15, high - 15, 20, 265, up + 10, up + 16),
    }


def _parts() -> tuple[Part, ...]:
    made = {name: _drawer(up) for name, up in DRAWERS.items()}
    each = {
        piece: {f"{drawer}.{piece}": boxes[piece] for drawer, boxes in made.items()}
        for piece in ("face", "back", "bottom")
    }
    sides = {
        f"{drawer}.{side} side": boxes[f"{side} side"]
        for drawer, boxes in made.items()
        for side in ("left", "right")
    }
    prop = box(240, 260, 300, 320, -50, 350)
    lean = turn_about((1.0, 0.0, 0.0), 12.0, (250.0, 300.0, 350.0))
    within = {"assembly": "drawer"}
    return (
        part(
            "side", "A", "Side", "uda",
            {
                "left side": box(0, BOARD, 0, DEEP, 0, HIGH),
                "right side": box(WIDE - BOARD, WIDE, 0, DEEP, 0, HIGH),
            },
        ),
        part(
            "shelf", "B", "Shelf", "adu",
            {
                "bottom shelf": box(BOARD, WIDE - BOARD, 0, DEEP, 0, BOARD),
                "top shelf": box(BOARD, WIDE - BOARD, 0, DEEP, HIGH - BOARD, HIGH),
            },
        ),
        part("drawer.face", "C", "Drawer face", "aud", each["face"], **within),
        part("drawer.side", "D", "Drawer side", "dua", sides, **within),
        part("drawer.back", "E", "Drawer back", "aud", each["back"], **within),
        part("drawer.bottom", "F", "Drawer bottom", "adu", each["bottom"], **within),
        part("door", "G", "Door", "uad", {"door": box(0, WIDE, -BOARD, 0, 280, HIGH)}),
        part("prop", "H", "Prop", "uad", {"prop": prop}, stance=lean),
    )  # fmt: skip


def _spots(copies: tuple[str, ...], parts: tuple[Part, ...], side: Side, each: int):  # type: ignore[no-untyped-def]
    boxes = {copy.name: copy.box for one in parts for copy in one.copies}
    spots = []
    for name in copies:
        at = boxes[name]
        for number in range(each):
            up = at.low.up + at.size(Axis.UP) * Fraction(number + 1, each + 1)
            spots.append((name, (float(at.side(side)), float(at.middle(Axis.DEEP)), float(up)), side))
    return tuple(spots)


def _joints(parts: tuple[Part, ...]) -> tuple[Joint, ...]:
    copies = {copy.name: copy for one in parts for copy in one.copies}

    def touch(fixed: str, moving: str, closes: Side) -> Contact:
        return contact(copies, fixed, moving, closes)

    drawer_sides = tuple(f"{drawer}.{side} side" for drawer in DRAWERS for side in ("left", "right"))
    screws = HardwareUse("screw", 16, "drawer.sides to face", _spots(drawer_sides, parts, Side.FRONT, 4))
    slides = HardwareUse("slide", 4, "slides", _spots(drawer_sides, parts, Side.RIGHT, 1))
    hinges = HardwareUse("hinge", 2, "hinges", _spots(("left side",), parts, Side.LEFT, 2))
    return (
        joint(
            "housings", "dado", "Dado",
            tuple(
                touch(side, shelf, closes)
                for shelf in ("bottom shelf", "top shelf")
                for side, closes in (("left side", Side.LEFT), ("right side", Side.RIGHT))
            ),
        ),
        joint(
            "drawer.sides to face", "screwed", "Screwed joint",
            tuple(touch(side.rsplit(".", 1)[0] + ".face", side, Side.FRONT) for side in drawer_sides),
            hardware=(screws,), assembly="drawer",
        ),
        joint(
            "drawer.back to sides", "butt", "Butt joint",
            tuple(
                touch(f"{drawer}.{side} side", f"{drawer}.back", closes)
                for drawer in DRAWERS
                for side, closes in (("left", Side.LEFT), ("right", Side.RIGHT))
            ),
            assembly="drawer",
        ),
        joint(
            "drawer.bottom to back", "butt", "Butt joint",
            tuple(touch(f"{drawer}.back", f"{drawer}.bottom", Side.BACK) for drawer in DRAWERS),
            assembly="drawer",
        ),
        joint(
            "slides", "slides", "Drawer slide",
            tuple(
                touch(f"{side} side", f"{drawer}.{side} side", closes)
                for drawer in DRAWERS
                for side, closes in (("left", Side.LEFT), ("right", Side.RIGHT))
            ),
            glue=None, hardware=(slides,), apart=True,
        ),
        joint(
            "hinges", "hinged", "Hinge", (touch("left side", "door", Side.BACK),),
            glue=None, hardware=(hinges,), apart=True,
        ),
        joint(
            "prop to shelf", "butt", "Butt joint",
            (
                replace(
                    touch("top shelf", "prop", Side.FRONT),
                    way=(0.0, -0.9781476007338057, -0.20791169081775934),
                ),
            ),
        ),
    )  # fmt: skip


def nested_design() -> Design:
    """The cabinet."""
    plain = sample_design()
    parts = _parts()
    members = {
        drawer: tuple(copy.name for one in parts for copy in one.copies if copy.name.startswith(f"{drawer}."))
        for drawer in DRAWERS
    }
    drawer = Assembly(
        key="drawer",
        name="drawer",
        title="Drawer",
        copies=tuple(
            AssemblyCopy(name, members[name], box(30, 470, 0, 280, up, up + 100), PLACE)
            for name, up in DRAWERS.items()
        ),
        parts=("drawer.face", "drawer.side", "drawer.back", "drawer.bottom"),
        joints=("drawer.sides to face", "drawer.back to sides", "drawer.bottom to back"),
        within=None,
        place=PLACE,
    )
    joints = _joints(parts)
    swing = turn_about((0.0, 0.0, 1.0), -float(SWING), (0.0, 0.0, 0.0))
    overall = box(0, WIDE, -BOARD, 403, -46, HIGH)
    screw, knob = plain.hardware["screw"], plain.hardware["plug"]

    def bought(name: str, kind: str, title: str) -> Hardware:
        return replace(screw, name=name, kind=kind, title=title)

    faces = tuple(f"{name}.face" for name in DRAWERS)
    knobs = HardwareUse("knob", 2, "knobs", _spots(faces, parts, Side.FRONT, 1))
    return replace(
        plain,
        project=replace(plain.project, title="Drawer Case", units="mm"),
        parts=parts,
        joints=joints,
        hardware=MappingProxyType({
            "screw": screw,
            "slide": bought("slide", "slide", "Drawer slide"),
            "hinge": bought("hinge", "hinge", "Hinge"),
            "knob": replace(knob, name="knob", kind="knob", title="Knob", stock=None),
        }),
        fits=(Fit("knobs", faces, knobs, phrase(), PLACE),),
        overall=overall,
        sizes={"width": millimetres(WIDE)},
        assemblies=(drawer,),
        motions=(
            Motion("hinges", "turns", ("door",), (0.0, 0.0, 0.0), (0.0, 0.0, 1.0), Fraction(170)),
            Motion("slides", "slides", members["top drawer"], (0.0, 0.0, 0.0), (0.0, -1.0, 0.0), None),
        ),
        positions=(
            Position("closed", "Closed", (), {}, overall, PLACE),
            Position(
                "door open", "Door open", (("hinges", SWING),), {"door": swing},
                box(-BOARD, WIDE, -WIDE, 403, -46, HIGH), PLACE,
            ),
            Position(
                "top drawer out", "Top drawer out", (("slides", Fraction(200)),),
                {name: Stance(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), (0.0, -200.0, 0.0))
                 for name in members["top drawer"]},
                box(0, WIDE, -200, 403, -46, HIGH), PLACE,
            ),
        ),
    )  # fmt: skip
