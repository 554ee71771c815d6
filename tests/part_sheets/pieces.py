"""Parts that are hard to draw, built by hand: one design, so that every sheet can be tried."""

from __future__ import annotations

from dataclasses import replace

from plangen.design.model import Copy, Design, Part
from plangen.joinery.cuts import Arc, BoxCut, Line, Loop, PrismCut, RoundCut
from plangen.joinery.operation import Corner, Feature, Form, Operation, Repeat, Span
from plangen.joinery.space import IDENTITY_TURN, Axis, Box, Point, Pose, Side
from plangen.units import ZERO, Length, inches, millimetres, phrase
from tests.sample_design import PLACE, sample_design

A, D, U = Axis.ACROSS, Axis.DEEP, Axis.UP


def box(*values: Length) -> Box:
    a0, a1, d0, d1, u0, u1 = values
    return Box(Point(a0, d0, u0), Point(a1, d1, u1))


def spans(where: Box) -> tuple[tuple[Axis, Span], ...]:
    return tuple((axis, Span(where.low.at(axis), where.high.at(axis))) for axis in Axis)


def slot(
    kind: str,
    side: Side,
    where: Box,
    *datum: Side,
    cuts: tuple[Box, ...] | None = None,
    repeat: tuple[Repeat, ...] = (),
) -> Operation:
    return Operation(
        kind,
        kind.capitalize(),
        side,
        tuple(BoxCut(cut) for cut in cuts or (where,)),
        (Feature(Form.SLOT, side, spans(where), datum, repeat=repeat),),
        phrase(),
        place=PLACE,
    )


def hole(
    side: Side,
    part: Box,
    at: dict[Axis, Length],
    diameter: Length,
    depth: Length | None = None,
    *,
    repeat: tuple[Repeat, ...] = (),
    datum: tuple[Side, ...] = (),
    counterbore: tuple[Length, Length] | None = None,
    countersink: bool = False,
) -> Operation:
    point = Point(*(at.get(axis, part.side(side)) for axis in Axis))
    points = [point]
    for row in repeat:
        points = [p.moved(row.axis, row.pitch * n) for p in points for n in range(row.number)]
    deep = depth or part.size(side.axis)
    cuts: list[RoundCut] = [RoundCut(p, side, diameter, deep) for p in points]
    if counterbore:
        cuts += [RoundCut(p, side, *counterbore) for p in points]
    where = tuple(
        (axis, Span(value, value)) for axis, value in sorted(at.items(), key=lambda item: item[0].value)
    )
    feature = Feature(
        Form.HOLE,
        side,
        where,
        datum,
        diameter=diameter,
        depth=depth,
        repeat=repeat,
        counterbore=counterbore,
        countersink=countersink,
    )
    return Operation("hole", "Hole", side, tuple(cuts), (feature,), phrase(), place=PLACE)


def piece(
    key: str,
    mark: str,
    blank: Box,
    runs: Axis,
    wide: Axis,
    thick: Axis,
    operations: tuple[Operation, ...],
    *,
    inside: Side | None = None,
    shoulders: Box | None = None,
    pattern: bool = False,
) -> Part:
    copy = Copy(key, key, Pose(IDENTITY_TURN, blank.low), blank, shoulders or blank, PLACE)
    return Part(
        key=key,
        name=key,
        title=key.capitalize(),
        mark=mark,
        hand=None,
        mirror=None,
        stock="pine",
        runs=runs,
        wide=wide,
        thick=thick,
        blank=blank,
        shoulder_length=copy.shoulders.size(runs),
        shoulder_width=copy.shoulders.size(wide),
        operations=operations,
        copies=(copy,),
        from_work=(),
        glue_up=None,
        inside=inside,
        pattern=pattern,
        note="",
        place=PLACE,
    )


def tenoned_rail() -> Part:
    """22 × 3 × 3/4, a tenon 1 long, 1/4 thick, 2 wide on both ends, a groove along the bottom edge."""
    i = inches
    blank = box(ZERO, i(22), ZERO, i("3/4"), ZERO, i(3))
    ops = []
    for low, high in ((ZERO, i(1)), (i(21), i(22))):
        cuts = (
            box(low, high, ZERO, i("1/4"), ZERO, i(3)),
            box(low, high, i("1/2"), i("3/4"), ZERO, i(3)),
            box(low, high, ZERO, i("3/4"), ZERO, i("1/2")),
            box(low, high, ZERO, i("3/4"), i("5/2"), i(3)),
        )
        ops.append(
            slot("tenon", Side.BACK, box(low, high, i("1/4"), i("1/2"), i("1/2"), i("5/2")), cuts=cuts)
        )
    ops.append(slot("groove", Side.BOTTOM, box(ZERO, i(22), i("1/4"), i("1/2"), ZERO, i("3/8"))))
    return piece(
        "rail with tenons",
        "E",
        blank,
        A,
        U,
        D,
        tuple(ops),
        shoulders=box(i(1), i(21), ZERO, i("3/4"), ZERO, i(3)),
    )


def mortised_leg() -> Part:
    """1-3/4 square, 28 long, mortises on two faces, taper on two inner faces."""
    i = inches
    size, long = i("7/4"), i(28)
    blank = box(ZERO, size, ZERO, size, ZERO, long)
    ops = [
        slot("mortise", Side.RIGHT, box(i("3/4"), size, i("3/4"), i(1), i("24.5"), i("27.25")), Side.TOP),
        slot("mortise", Side.BACK, box(i("3/4"), i(1), i("3/4"), size, i("24.5"), i("27.25")), Side.TOP),
        slot("mortise", Side.RIGHT, box(i("3/4"), size, i("3/4"), i(1), i(5), i(7)), Side.TOP),
        hole(Side.BOTTOM, blank, {A: i("7/8"), D: i("7/8")}, i("3/8"), i(1)),
    ]
    start, foot = i(23), i("1.125")
    loop = Loop((size, start), (Line((size, ZERO)), Line((foot, ZERO)), Line((size, start))))
    ops.append(
        Operation(
            "taper",
            "Taper",
            Side.BACK,
            (PrismCut(D, ZERO, size, (loop,)),),
            (
                Feature(
                    Form.OUTLINE,
                    Side.BACK,
                    ((A, Span(foot, size)), (D, Span(ZERO, size)), (U, Span(ZERO, start))),
                    (Side.TOP, Side.LEFT),
                    corners=(Corner((size, start)), Corner((foot, ZERO))),
                ),
            ),
            phrase(),
            place=PLACE,
        )
    )
    return piece("leg", "F", blank, U, D, A, tuple(ops), inside=Side.RIGHT)


def pinned_side(metric: bool = True) -> Part:
    """A cabinet side 720 × 300 × 19 with two rows of six shelf-pin holes, a toe notch and a back groove."""
    m = millimetres
    pitch, bore = (m(32), m(5)) if metric else (inches(1), inches("1/4"))
    blank = box(ZERO, m(19), ZERO, m(300), ZERO, m(720))
    ops = (
        slot("notch", Side.LEFT, box(ZERO, m(19), ZERO, m(60), ZERO, m(100)), Side.BOTTOM, Side.FRONT),
        slot("groove", Side.RIGHT, box(m(13), m(19), m(280), m(286), ZERO, m(720)), Side.BACK),
        slot("dado", Side.RIGHT, box(m(13), m(19), ZERO, m(280), m(100), m(119)), Side.BOTTOM),
        hole(
            Side.RIGHT,
            blank,
            {D: m(37), U: m(250)},
            bore,
            m(10),
            datum=(Side.FRONT, Side.BOTTOM),
            repeat=(Repeat(U, 6, pitch), Repeat(D, 2, m(200))),
        ),
        hole(Side.TOP, blank, {A: m("9.5"), D: m(60)}, m(8), m(30), repeat=(Repeat(D, 3, m(80)),)),
    )
    return piece("cabinet side", "G", blank, U, D, A, ops, inside=Side.RIGHT)


def lapped_rail() -> Part:
    """900 × 40 × 20 with half-laps at both ends and one in the middle, from the other face."""
    m = millimetres
    blank = box(ZERO, m(900), ZERO, m(20), ZERO, m(40))
    ops = (
        slot("half-lap", Side.BACK, box(ZERO, m(40), m(10), m(20), ZERO, m(40))),
        slot("half-lap", Side.BACK, box(m(860), m(900), m(10), m(20), ZERO, m(40))),
        slot("half-lap", Side.FRONT, box(m(300), m(340), ZERO, m(10), ZERO, m(40))),
        hole(Side.FRONT, blank, {A: m(20), U: m(20)}, m(4), countersink=True),
        hole(Side.FRONT, blank, {A: m(880), U: m(20)}, m(4), countersink=True),
    )
    return piece("long rail", "H", blank, A, U, D, ops)


def small_block() -> Part:
    """2 × 1 × 1/2 with a tiny rabbet, a chamfer round the top and a hole."""
    i = inches
    blank = box(ZERO, i(2), ZERO, i(1), ZERO, i("1/2"))
    small = i("1/16")
    ops = [
        slot("rabbet", Side.BOTTOM, box(ZERO, i(2), ZERO, i("1/8"), ZERO, i("1/8"))),
        hole(Side.TOP, blank, {A: i(1), D: i("1/2")}, i("3/16"), countersink=True),
    ]
    for axis, end, where in (
        (D, Side.BACK, box(ZERO, i(2), i(1) - small, i(1), i("1/2") - small, i("1/2"))),
        (A, Side.LEFT, box(ZERO, small, ZERO, i(1), i("1/2") - small, i("1/2"))),
        (A, Side.RIGHT, box(i(2) - small, i(2), ZERO, i(1), i("1/2") - small, i("1/2"))),
    ):
        far = where.side(end)
        near = far - small * end.sign
        top = i("1/2")
        loop = Loop((far, top), (Line((near, top)), Line((far, top - small)), Line((far, top))))
        run = A if axis is D else D
        cut = PrismCut(run, ZERO, blank.size(run), (loop,))
        ops.append(
            Operation(
                "chamfer",
                "Chamfer",
                Side.TOP,
                (cut,),
                (Feature(Form.EDGE, Side.TOP, spans(where), note=phrase("chamfer ", small)),),
                phrase(),
                place=PLACE,
            )
        )
    return piece("block", "J", blank, A, D, U, tuple(ops))


def arched_apron() -> Part:
    """30 × 4 × 3/4 with an arc along the bottom edge, mitred at the right end, a handle hole."""
    i = inches
    blank = box(ZERO, i(30), ZERO, i("3/4"), ZERO, i(4))
    chord, rise = i(24), i("3/2")
    r = Length((chord.mm**2 / 4 + rise.mm**2) / (2 * rise.mm))
    loop = Loop((i(3), ZERO), (Arc((i(27), ZERO), r, False), Line((i(3), ZERO))))
    arc = Operation(
        "curve",
        "Curve",
        Side.FRONT,
        (PrismCut(D, ZERO, i("3/4"), (loop,)),),
        (
            Feature(
                Form.OUTLINE,
                Side.FRONT,
                ((A, Span(i(3), i(27))), (D, Span(ZERO, i("3/4"))), (U, Span(ZERO, rise))),
                (Side.BOTTOM,),
                corners=(Corner((i(3), ZERO)), Corner((i(27), ZERO), r)),
                radii=(r,),
            ),
        ),
        phrase(),
        place=PLACE,
    )
    mitre_loop = Loop((i(30), i(4)), (Line((i(30), i(2))), Line((i(28), i(4))), Line((i(30), i(4)))))
    mitre = Operation(
        "mitre",
        "Mitre",
        Side.FRONT,
        (PrismCut(D, ZERO, i("3/4"), (mitre_loop,)),),
        (
            Feature(
                Form.OUTLINE,
                Side.FRONT,
                ((A, Span(i(28), i(30))), (D, Span(ZERO, i("3/4"))), (U, Span(i(2), i(4)))),
                (Side.RIGHT, Side.TOP),
                corners=(Corner((i(30), i(2))), Corner((i(28), i(4)))),
                angle_degrees=45.0,
            ),
        ),
        phrase(),
        place=PLACE,
    )
    return piece("apron", "K", blank, A, U, D, (arc, mitre), inside=Side.BACK, pattern=True)


PIECES = (tenoned_rail, mortised_leg, pinned_side, lapped_rail, small_block, arched_apron)


def hard_design() -> Design:
    """The sample design with the hard parts added."""
    design = sample_design()
    return replace(design, parts=(*design.parts, *(make() for make in PIECES)))
