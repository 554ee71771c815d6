"""A small table built by hand: four legs, aprons tenoned into them, a top. Pictures meet other joints."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from plangen.design.model import Contact, Copy, Design, Joint, Part, Project, Shop, Stock
from plangen.findings import Place
from plangen.joinery.space import IDENTITY_TURN, ORIGIN, Axis, Box, Point, Pose, Side
from plangen.units import ZERO, Length, millimetres, phrase

PLACE = Place("table.yaml", 1, 1)
WIDE, DEEP, HIGH, TOP = (millimetres(v) for v in (900, 500, 700, 20))
LEG, RAIL, THICK, ENTERS, OVER = (millimetres(v) for v in (50, 100, 20, 18, 30))


def _box(*values: Length) -> Box:
    return Box(Point(values[0], values[2], values[4]), Point(values[1], values[3], values[5]))


def _copy(name: str, part: str, shoulders: Box, enters: tuple[Side, ...] = ()) -> Copy:
    box = shoulders
    for side in enters:
        box = box.grown(side, ENTERS)
    return Copy(name, part, Pose(IDENTITY_TURN, box.low), box, shoulders, PLACE)


def _part(key: str, mark: str, runs: Axis, wide: Axis, thick: Axis, copies: tuple[Copy, ...]) -> Part:
    first = copies[0]
    back = Point(-first.box.low.across, -first.box.low.deep, -first.box.low.up)
    return Part(
        key=key,
        name=key,
        title=key.capitalize(),
        mark=mark,
        hand=None,
        mirror=None,
        stock="oak",
        runs=runs,
        wide=wide,
        thick=thick,
        blank=first.box.shifted(back),
        shoulder_length=first.shoulders.size(runs),
        shoulder_width=first.shoulders.size(wide),
        operations=(),
        copies=copies,
        from_work=(),
        glue_up=None,
        inside=None,
        pattern=False,
        note="",
        place=PLACE,
    )


def sample_table() -> Design:
    """The table: parts A leg (4), B long apron (2), C short apron (2), D top."""
    height = HIGH - TOP
    legs = {}
    for up_down, y in (("front", OVER), ("back", DEEP - OVER - LEG)):
        for left_right, x in (("left", OVER), ("right", WIDE - OVER - LEG)):
            name = f"{up_down} {left_right} leg"
            legs[name] = _copy(name, "leg", _box(x, x + LEG, y, y + LEG, ZERO, height))
    inset = millimetres(15)
    long, short = [], []
    for name, y in (("front", OVER + inset), ("back", DEEP - OVER - inset - THICK)):
        shoulders = _box(OVER + LEG, WIDE - OVER - LEG, y, y + THICK, height - RAIL, height)
        long.append(_copy(f"{name} apron", "long apron", shoulders, (Side.LEFT, Side.RIGHT)))
    for name, x in (("left", OVER + inset), ("right", WIDE - OVER - inset - THICK)):
        shoulders = _box(x, x + THICK, OVER + LEG, DEEP - OVER - LEG, height - RAIL, height)
        short.append(_copy(f"{name} apron", "short apron", shoulders, (Side.FRONT, Side.BACK)))
    top = _copy("top", "top", _box(ZERO, WIDE, ZERO, DEEP, height, HIGH))

    def meet(leg: str, apron: Copy, closes: Side) -> Contact:
        face = legs[leg].box.overlap(apron.box)
        at = apron.shoulders.side(closes)
        return Contact(leg, apron.name, face.with_side(closes, at).with_side(closes.opposite, at), closes)

    tenons = tuple(
        meet(f"{end} {side.word} leg", apron, side)
        for end, apron in (("front", long[0]), ("back", long[1]))
        for side in (Side.LEFT, Side.RIGHT)
    ) + tuple(
        meet(f"{side.word} {end} leg", apron, side)
        for end, apron in (("left", short[0]), ("right", short[1]))
        for side in (Side.FRONT, Side.BACK)
    )
    lids = tuple(
        Contact(apron.name, "top", apron.shoulders.with_side(Side.BOTTOM, height), Side.BOTTOM)
        for apron in (*long, *short)
    )

    def joint(name: str, kind: str, contacts: tuple[Contact, ...]) -> Joint:
        return Joint(
            name,
            kind,
            kind.capitalize(),
            contacts,
            "wood glue",
            Fraction(1000),
            False,
            (),
            phrase("Close it."),
            (),
            PLACE,
        )

    parts = (
        _part("leg", "A", Axis.UP, Axis.DEEP, Axis.ACROSS, tuple(legs.values())),
        _part("long apron", "B", Axis.ACROSS, Axis.UP, Axis.DEEP, tuple(long)),
        _part("short apron", "C", Axis.DEEP, Axis.UP, Axis.ACROSS, tuple(short)),
        _part("top", "D", Axis.ACROSS, Axis.DEEP, Axis.UP, (top,)),
    )
    oak = Stock(
        "oak",
        "solid",
        "White oak",
        "white oak",
        phrase("27 mm"),
        millimetres(27),
        THICK,
        (),
        (),
        False,
        None,
        None,
        None,
        None,
        "",
        PLACE,
    )
    project = Project(
        "Side Table",
        "ST-1",
        "A",
        date(2026, 1, 5),
        "A small table",
        "Sample Workshop",
        "Second project",
        (),
        "mm",
        (),
        (),
    )
    return Design(
        project=project,
        shop=Shop(millimetres(3), None, (), None),
        stock={"oak": oak},
        hardware={},
        parts=parts,
        joints=(joint("tenons", "mortise and tenon", tenons), joint("lid", "butt", lids)),
        fits=(),
        facts=(),
        sizes={},
        overall=Box(ORIGIN, Point(WIDE, DEEP, HIGH)),
    )
