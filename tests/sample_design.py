"""A small design built by hand, so that every room after `design` can be tested without it.

A low open case: two pine sides (a mirror pair, curved at the front foot), two shelves in dadoes,
a plywood back in rabbets, a rail screwed through the sides with plugged counterbores.
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from plangen.design.model import (
    Contact,
    Copy,
    Design,
    Hardware,
    HardwareUse,
    Joint,
    Money,
    Part,
    Project,
    Revision,
    Shop,
    Stock,
)
from plangen.findings import Place
from plangen.joinery.cuts import Arc, BoxCut, Line, Loop, PrismCut, RoundCut
from plangen.joinery.operation import Corner, Feature, Form, Operation, Span
from plangen.joinery.space import IDENTITY_TURN, Axis, Box, Point, Pose, Side
from plangen.units import ZERO, Length, inches, phrase

PLACE = Place("sample.yaml", 1, 1)
WIDTH, HEIGHT, DEPTH = inches(24), inches(18), inches(9)
PINE, BACK = inches("3/4"), inches("0.22")
DEEP = inches("1/4")  # dadoes
LAP = inches("3/8")  # rabbets
SHELVES = {"bottom shelf": inches(2), "upper shelf": inches(10)}


def pt(a: Length, d: Length, u: Length) -> Point:
    return Point(a, d, u)


def box(a0: Length, a1: Length, d0: Length, d1: Length, u0: Length, u1: Length) -> Box:
    return Box(pt(a0, d0, u0), pt(a1, d1, u1))


def _side_operations(left: bool) -> tuple[Operation, ...]:
    """Operations of a side, in its own frame (across 0..PINE, inside face at PINE for the left one)."""
    inside = Side.RIGHT if left else Side.LEFT
    outside = inside.opposite

    def across(depth: Length) -> tuple[Length, Length]:
        return (PINE - depth, PINE) if left else (ZERO, depth)

    operations = []
    for _name, height in SHELVES.items():
        low, high = across(DEEP)
        cut = box(low, high, ZERO, DEPTH - BACK, height, height + PINE)
        operations.append(
            Operation(
                kind="dado",
                title="Dado",
                side=inside,
                cuts=(BoxCut(cut),),
                features=(
                    Feature(
                        Form.SLOT,
                        inside,
                        (
                            (Axis.ACROSS, Span(low, high)),
                            (Axis.DEEP, Span(ZERO, DEPTH - BACK)),
                            (Axis.UP, Span(height, height + PINE)),
                        ),
                        datum=(Side.BOTTOM,),
                        depth=DEEP,
                    ),
                ),
                say=phrase(
                    "Cut a dado ", PINE, " wide and ", DEEP, " deep, ", height, " up from the bottom end."
                ),
                tools=(phrase("Router with a straight bit ", inches("1/2")),),
                cautions=("router",),
                joint="housings",
                place=PLACE,
            )
        )
    low, high = across(LAP)
    cut = box(low, high, DEPTH - BACK, DEPTH, ZERO, HEIGHT)
    operations.append(
        Operation(
            kind="rabbet",
            title="Rabbet",
            side=inside,
            cuts=(BoxCut(cut),),
            features=(
                Feature(
                    Form.SLOT,
                    inside,
                    (
                        (Axis.ACROSS, Span(low, high)),
                        (Axis.DEEP, Span(DEPTH - BACK, DEPTH)),
                        (Axis.UP, Span(ZERO, HEIGHT)),
                    ),
                    datum=(Side.BACK,),
                    depth=LAP,
                ),
            ),
            say=phrase("Cut a rabbet ", LAP, " wide and ", BACK, " deep along the back edge."),
            tools=(phrase("Router with a rabbeting bit"),),
            cautions=("router",),
            joint="back rabbets",
            place=PLACE,
        )
    )
    for up in (inches("15-1/4".replace("-1/4", ".25")), inches("16.75")):
        mouth = pt(ZERO if outside is Side.LEFT else PINE, DEPTH - BACK - PINE / 2, up)
        operations.append(
            Operation(
                kind="hole",
                title="Screw hole",
                side=outside,
                cuts=(
                    RoundCut(mouth, outside, inches("11/64"), PINE),
                    RoundCut(mouth, outside, inches("3/8"), inches("1/4")),
                ),
                features=(
                    Feature(
                        Form.HOLE,
                        outside,
                        (
                            (Axis.ACROSS, Span(ZERO, PINE)),
                            (Axis.DEEP, Span(mouth.deep, mouth.deep)),
                            (Axis.UP, Span(up, up)),
                        ),
                        datum=(Side.BOTTOM, Side.BACK),
                        diameter=inches("11/64"),
                        depth=None,
                        counterbore=(inches("3/8"), inches("1/4")),
                        plugged=True,
                    ),
                ),
                say=phrase(
                    "Drill ",
                    inches("3/8"),
                    " by ",
                    inches("1/4"),
                    " deep, then ",
                    inches("11/64"),
                    " through.",
                ),
                tools=(phrase("Drill bits ", inches("3/8"), " and ", inches("11/64")),),
                cautions=("drill",),
                joint="rail screws",
                place=PLACE,
            )
        )
    # a quarter-round foot scooped from the front, radius 3 in
    r = inches(3)
    loop = Loop((ZERO, ZERO), (Line((r, ZERO)), Arc((ZERO, r), r, True), Line((ZERO, ZERO))))
    operations.append(
        Operation(
            kind="curve",
            title="Curve",
            side=outside,
            cuts=(PrismCut(Axis.ACROSS, ZERO, PINE, (loop,)),),
            features=(
                Feature(
                    Form.OUTLINE,
                    outside,
                    ((Axis.ACROSS, Span(ZERO, PINE)), (Axis.DEEP, Span(ZERO, r)), (Axis.UP, Span(ZERO, r))),
                    datum=(Side.BOTTOM, Side.FRONT),
                    corners=(Corner((r, ZERO), r), Corner((ZERO, r), r)),
                    radii=(r,),
                ),
            ),
            say=phrase("Saw the front foot to the pattern, radius ", r, "."),
            tools=(phrase("Jigsaw or bandsaw"),),
            cautions=("bandsaw",),
            place=PLACE,
        )
    )
    return tuple(operations)


def _copy(name: str, part: str, placed: Box, shoulders: Box | None = None) -> Copy:
    return Copy(name, part, Pose(IDENTITY_TURN, placed.low), placed, shoulders or placed, PLACE)


def _part(
    key: str,
    title: str,
    mark: str,
    runs: Axis,
    wide: Axis,
    thick: Axis,
    copies: tuple[Copy, ...],
    *,
    stock: str = "pine",
    operations: tuple[Operation, ...] = (),
    hand: str | None = None,
    mirror: str | None = None,
    inside: Side | None = None,
) -> Part:
    first = copies[0]
    blank = first.box.shifted(pt(-first.box.low.across, -first.box.low.deep, -first.box.low.up))
    return Part(
        key=key,
        name=key.removesuffix(" left").removesuffix(" right"),
        title=title,
        mark=mark,
        hand=hand,  # type: ignore[arg-type]
        mirror=mirror,
        stock=stock,
        runs=runs,
        wide=wide,
        thick=thick,
        blank=blank,
        shoulder_length=first.shoulders.size(runs),
        shoulder_width=first.shoulders.size(wide),
        operations=operations,
        copies=copies,
        from_work=(),
        glue_up=None,
        inside=inside,
        pattern=key.startswith("side"),
        note="",
        place=PLACE,
    )


def sample_design() -> Design:
    """The open case."""
    left = _copy("left side", "side left", box(ZERO, PINE, ZERO, DEPTH, ZERO, HEIGHT))
    right = _copy("right side", "side right", box(WIDTH - PINE, WIDTH, ZERO, DEPTH, ZERO, HEIGHT))
    shelves = []
    for name, up in SHELVES.items():
        shoulders = box(PINE, WIDTH - PINE, ZERO, DEPTH - BACK, up, up + PINE)
        shelves.append(
            _copy(name, "shelf", shoulders.grown(Side.LEFT, DEEP).grown(Side.RIGHT, DEEP), shoulders)
        )
    rail = _copy(
        "rail",
        "rail",
        box(PINE, WIDTH - PINE, DEPTH - BACK - PINE, DEPTH - BACK, inches("14.5"), inches("17.5")),
    )
    back_shoulders = box(PINE, WIDTH - PINE, DEPTH - BACK, DEPTH, ZERO, HEIGHT)
    back = _copy("back", "back", back_shoulders.grown(Side.LEFT, LAP).grown(Side.RIGHT, LAP), back_shoulders)
    parts = (
        _part(
            "side left",
            "Side, left",
            "A-L",
            Axis.UP,
            Axis.DEEP,
            Axis.ACROSS,
            (left,),
            operations=_side_operations(True),
            hand="left",
            mirror="side right",
            inside=Side.RIGHT,
        ),
        _part(
            "side right",
            "Side, right",
            "A-R",
            Axis.UP,
            Axis.DEEP,
            Axis.ACROSS,
            (right,),
            operations=_side_operations(False),
            hand="right",
            mirror="side left",
            inside=Side.LEFT,
        ),
        _part("shelf", "Shelf", "B", Axis.ACROSS, Axis.DEEP, Axis.UP, tuple(shelves)),
        _part("rail", "Rail", "C", Axis.ACROSS, Axis.UP, Axis.DEEP, (rail,)),
        _part("back", "Back", "D", Axis.UP, Axis.ACROSS, Axis.DEEP, (back,), stock="ply"),
    )
    usd = "USD"
    stock = {
        "pine": Stock(
            "pine",
            "solid",
            "White pine",
            "white pine",
            phrase("4/4"),
            inches(1),
            PINE,
            (inches("9-1/4".replace("-1/4", ".25")),),
            (inches(72), inches(96)),
            False,
            None,
            Money(Fraction("4.20"), usd),
            "board foot",
            Fraction(400),
            "sample",
            PLACE,
        ),
        "ply": Stock(
            "ply",
            "plywood",
            "Birch plywood",
            "birch plywood",
            phrase(inches("1/4")),
            inches("1/4"),
            BACK,
            (),
            (),
            False,
            (inches(48), inches(96)),
            Money(Fraction(38), usd),
            "sheet",
            Fraction(640),
            "sample",
            PLACE,
        ),
    }
    hardware = {
        "screw": Hardware(
            "screw",
            "wood screw",
            "Wood screw, flat head",
            phrase("No. 8 × ", inches("1.5")),
            inches("1.5"),
            inches("0.164"),
            "flat",
            Money(Fraction("0.12"), usd),
            50,
            None,
            PLACE,
            inches("0.332"),
        ),
        "plug": Hardware(
            "plug",
            "plug",
            "Plug",
            phrase(inches("3/8"), " across"),
            inches("1/4"),
            inches("3/8"),
            "",
            None,
            None,
            "pine",
            PLACE,
        ),
    }

    def contact(fixed: Copy, moving: Copy, side: Side) -> Contact:
        face = fixed.box.overlap(moving.shoulders)
        at = fixed.box.side(side)
        return Contact(
            fixed.name, moving.name, face.with_side(side, at).with_side(side.opposite, at), side.opposite
        )

    housings = tuple(
        contact(s, shelf, side) for shelf in shelves for s, side in ((left, Side.RIGHT), (right, Side.LEFT))
    )
    spots = []
    for name, face, at in (("left side", Side.LEFT, 0.0), ("right side", Side.RIGHT, float(WIDTH))):
        for up in ("15.25", "16.75"):
            spots.append((name, (at, float(DEPTH - BACK - PINE / 2), float(inches(up))), face))
    screws = HardwareUse("screw", 4, "rail screws", tuple(spots))
    plugs = HardwareUse("plug", 4, "rail screws", tuple(spots))
    joints = (
        Joint(
            "housings",
            "dado",
            "Dado",
            housings,
            "wood glue",
            Fraction(4 * 19 * 223),
            False,
            (),
            phrase("Slide each shelf into its dadoes."),
            ("glue",),
            PLACE,
        ),
        Joint(
            "back rabbets",
            "rabbet",
            "Rabbet",
            (
                Contact("left side", "back", back_shoulders.with_side(Side.RIGHT, PINE), Side.FRONT),
                Contact("right side", "back", back_shoulders.with_side(Side.LEFT, WIDTH - PINE), Side.FRONT),
            ),
            "wood glue",
            Fraction(2 * 457 * 9),
            False,
            (),
            phrase("Lay the back in its rabbets."),
            (),
            PLACE,
        ),
        Joint(
            "rail screws",
            "screwed",
            "Screwed joint",
            (
                contact(left, rail, Side.RIGHT),
                contact(right, rail, Side.LEFT),
            ),
            "wood glue",
            Fraction(2 * 19 * 76),
            False,
            (screws, plugs),
            phrase("Drive the screws, then glue in the plugs."),
            ("drill",),
            PLACE,
        ),
    )
    project = Project(
        "Open Case",
        "OC-1",
        "B",
        date(2026, 3, 14),
        "A small case with two shelves",
        "Sample Workshop",
        "First project",
        (
            ("Mill and cut", Fraction(2)),
            ("Joints", Fraction(2)),
            ("Assemble", Fraction(1)),
            ("Finish", Fraction(1)),
        ),
        "inch",
        (),
        (
            Revision("A", date(2026, 1, 10), "First issue."),
            Revision("B", date(2026, 3, 14), "Rail made wider."),
        ),
        "",
        usd,
        date(2026, 3, 1),
    )
    return Design(
        project=project,
        shop=Shop(inches("1/8"), inches(12), (("wood glue", Fraction(10)),), Fraction(4)),
        stock=stock,
        hardware=hardware,
        parts=parts,
        joints=joints,
        fits=(),
        facts=(),
        sizes={"width": WIDTH, "height": HEIGHT},
        overall=box(ZERO, WIDTH, ZERO, DEPTH, ZERO, HEIGHT),
    )
