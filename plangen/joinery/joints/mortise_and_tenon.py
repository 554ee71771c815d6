"""A mortise and tenon: a tongue on the end of a rail in a pocket of the piece that it meets."""

from __future__ import annotations

from fractions import Fraction

from plangen.expressions import LengthExpr, Names, SideWord, Whole, YesNo
from plangen.handbook import joinery_rules
from plangen.joinery.body import (
    Expansion,
    JointBody,
    JointKind,
    Meeting,
    gap_fits,
    metric,
    spans_of,
)
from plangen.joinery.corner import slot_work
from plangen.joinery.cuts import Cut
from plangen.joinery.operation import Feature, Form, Group, Operation
from plangen.joinery.pegs import FASTENED, Fastened, Pegged, Wedged, pegged, wedged
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.shapes import Ends, channel
from plangen.joinery.space import Box, Side
from plangen.joinery.tenon import (
    Tenons,
    cheeks,
    say_haunch,
    say_haunched,
    say_kerf,
    say_tenons,
)
from plangen.joinery.tenon_layout import laid_out
from plangen.units import ZERO, Length, Phrase, phrase

MOST = 8  # tenons on one end


class MortiseAndTenon(JointBody):
    """``mortise and tenon: {in: stile, for: rail, length: 1in}``.

    ``length`` is the tenon's. ``thickness`` is a third of the rail's unless said, in the middle of
    it; ``width`` is the rail's less its ``shoulders`` at the two edges. The mortise is a little
    deeper than the tenon is long: ``gap``. A ``through`` tenon is as long as the other piece is deep,
    and stands ``proud`` if said. ``haunch: {top: 3/8in}`` leaves a stub so long in the shoulder of that
    edge. ``number`` tenons share the width with spaces as wide as they are; ``twin: yes`` puts them side
    by side in the thickness. ``ends: round`` fits both to the router.
    """

    in_: Names
    for_: Names
    length: LengthExpr | None = None  # of the tenon; a `through` one has its own
    thickness: LengthExpr | None = None  # of each tenon: a third of the rail unless said
    width: LengthExpr | None = None  # of the tenon: the rail's less its shoulders unless said
    shoulders: dict[SideWord, LengthExpr] | None = None  # what the tenon leaves free at an edge of the rail
    gap: LengthExpr | None = None  # how much deeper the mortise is: 1/16 in or 2 mm unless said
    through: YesNo | None = None  # `yes`: as long as the other piece is deep
    proud: LengthExpr | None = None  # how far a through tenon stands out: flush unless said
    haunch: dict[SideWord, LengthExpr] | None = None  # a stub left in the shoulder at an edge, so long
    number: Whole | None = None  # how many tenons share the width: one unless said
    twin: YesNo | None = None  # `yes`: they stand side by side in the thickness
    space: LengthExpr | None = None  # between tenons: as wide as they are unless said
    ends: Ends | None = None  # `round` as a router leaves them, the tenon too; `square` unless said
    pegged: Pegged | None = None  # pegs through the cheeks
    wedged: Wedged | None = None  # wedges in the end of a through tenon


def length_of(entry: MortiseAndTenon, one: Piece, two: Piece, bench: Bench) -> Length:
    """The tenon's length: as typed, or right through and proud."""
    if entry.through:
        proud = entry.proud.length(bench.scope) if entry.proud is not None else ZERO
        return one.shoulders.size(two.runs) + proud
    return entry.length.length(bench.scope) if entry.length is not None else ZERO


def reach(entry: MortiseAndTenon, one: Piece, two: Piece, bench: Bench) -> Length:
    """The tenon's length."""
    return length_of(entry, one, two, bench)


def expand(entry: MortiseAndTenon, meeting: Meeting, bench: Bench) -> Expansion:
    """Cut the tenons and their mortises, with what fastens them."""
    one, two, side = meeting.one, meeting.two, meeting.side
    if side.axis is not two.runs:
        bench.findings.error(
            "tenon-not-at-end",
            f"{two.copy} meets {one.copy} with an edge or a face; a tenon is cut on an end",
            entry.place,
            "check which way the part runs",
            part=two.part,
        )
        return Expansion()
    if not _keys_agree(entry, bench):
        return Expansion()
    tenons = laid_out(entry, meeting, length_of(entry, one, two, bench), bench)
    if tenons is None:
        return Expansion()
    deep = _mortise_depth(entry, meeting, tenons.length, bench)
    if deep is None or not _on_part(entry, meeting, tenons, bench):
        return Expansion()
    pegs: Fastened | None = FASTENED
    wedges: Fastened | None = FASTENED
    if entry.pegged is not None:
        pegs = pegged(entry.pegged, meeting, tenons, entry.place, bench)
    if entry.wedged is not None:
        wedges = wedged(entry.wedged, meeting, tenons, entry.place, bench)
    if pegs is None or wedges is None:
        return Expansion()
    whole = one.finished.size(side.axis)
    on_one = tuple(_mortise(entry, meeting, box, deep, whole) for box in tenons.each)
    on_one += tuple(_haunch_socket(entry, meeting, box) for _, box in tenons.haunches)
    cut = cheeks(tenons, two, rounded=entry.ends == "round")
    # A piece that enters with its whole section has nothing cut away.
    on_two = (_tenon(entry, tenons, two, cut),) if cut else ()
    inside = min(tenons.length, whole)
    area = meeting.area + sum(
        2 * inside.mm * (box.size(two.thick).mm + box.size(two.wide).mm) for box in tenons.each
    )
    return Expansion(
        on_one + pegs.on_one,
        on_two + wedges.on_two + pegs.on_two,
        side.opposite,
        (*pegs.hardware, *wedges.hardware),
        Fraction(area),
        first=wedges.first,
        then=(*wedges.then, *pegs.then),
    )


def _keys_agree(entry: MortiseAndTenon, bench: Bench) -> bool:
    """Report keys that say the same thing twice, or nothing."""

    def wrong(kind: str, message: str, key: str, remedy: str) -> bool:
        bench.findings.error(kind, message, entry.place_of(key) if key else entry.place, remedy)
        return False

    if entry.length is None and not entry.through:
        return wrong(
            "missing-key", "nothing says how long the tenon is", "", "add `length`, or `through: yes`"
        )
    if entry.length is not None and entry.through:
        return wrong("idle-key", "a through tenon has its length", "length", "take `length` or `through` out")
    if entry.proud is not None and not entry.through:
        return wrong("idle-key", "only a through tenon stands proud", "proud", "add `through: yes`")
    if entry.proud is not None and entry.proud.length(bench.scope) < ZERO:
        return wrong("bad-value", "`proud` is below zero", "proud", "give how far the tenon stands out")
    if entry.number is not None and not 1 <= entry.number <= MOST:
        return wrong("bad-value", f"a joint has 1 to {MOST} tenons", "number", "leave `number` out for one")
    for key in ("twin", "space"):
        if getattr(entry, key) is not None and (entry.number or 1) < 2:
            return wrong("idle-key", f"`{key}` says nothing of one tenon", key, "add `number: 2`")
    if entry.haunch and entry.ends == "round":
        return wrong("haunch", "a tenon with a haunch has square edges", "ends", "leave `ends` out")
    if entry.wedged is not None and not entry.through:
        return wrong("idle-key", "a tenon is wedged where it comes through", "wedged", "add `through: yes`")
    return True


def _mortise_depth(entry: MortiseAndTenon, meeting: Meeting, length: Length, bench: Bench) -> Length | None:
    one, two = meeting.one, meeting.two
    gap = (
        entry.gap.length(bench.scope)
        if entry.gap is not None
        else joinery_rules.mortise_extra(metric=metric(bench))
    )
    if gap < ZERO:
        gap_fits(gap, length, entry, bench)
        return None
    whole = one.finished.size(meeting.side.axis)
    if (length > whole and not entry.through) or length.mm <= 0:
        bench.findings.error(
            "tenon-too-long",
            f"the tenon of {two.copy} is longer than {one.part} is deep there",
            entry.place_of("length"),
            "make it shorter, or as long as that piece is deep for a through tenon",
            part=two.part,
        )
        return None
    deep = min(length + gap, whole)
    if length < whole and deep >= whole:
        bench.findings.error(
            "mortise-breaks-out",
            f"the mortise would break out of {one.copy}",
            entry.place_of("length"),
            "shorten the tenon, or make it a through tenon",
            part=one.part,
        )
        return None
    return deep


def _on_part(entry: MortiseAndTenon, meeting: Meeting, tenons: Tenons, bench: Bench) -> bool:
    """Report a mortise, or the socket of a haunch, that runs off the piece it is cut in."""
    one = meeting.one.finished
    for box in (*tenons.each, *(box for _, box in tenons.haunches)):
        for axis in meeting.lateral:
            if box.low.at(axis) < one.low.at(axis) or box.high.at(axis) > one.high.at(axis):
                bench.findings.error(
                    "mortise-off-part",
                    f"the mortise for {meeting.two.copy} runs off {meeting.one.copy} {axis.word}",
                    entry.place,
                    "give the tenon wider shoulders there, or move the rail",
                    part=meeting.one.part,
                )
                return False
    return True


def _mortise(entry: MortiseAndTenon, meeting: Meeting, tenon: Box, deep: Length, whole: Length) -> Operation:
    one, two, side = meeting.one, meeting.two, meeting.side
    box = tenon.with_side(side, one.finished.side(side))
    box = box.with_side(side.opposite, one.finished.side(side) - deep * side.sign)
    return Operation(
        kind="mortise",
        title="Mortise",
        side=side,
        cuts=(channel(box, two.wide, entry.ends or "square", side),),
        features=(Feature(Form.SLOT, side, spans_of(box), depth=None if deep == whole else deep),),
        say=Phrase(),
        tools=(phrase("Mortise chisel or router bit ", tenon.size(two.thick)),),
        cautions=("chisel",),
        place=entry.place,
    )


def _haunch_socket(entry: MortiseAndTenon, meeting: Meeting, haunch: Box) -> Operation:
    side = meeting.side
    box = haunch.with_side(side, meeting.one.finished.side(side))
    return slot_work(
        "mortise haunch",
        "Haunch",
        side,
        [box],
        entry.place,
        depth=box.size(side.axis),
        tools=(phrase("Mortise chisel ", box.size(meeting.two.thick)),),
        cautions=("chisel",),
    )


def _tenon(entry: MortiseAndTenon, tenons: Tenons, two: Piece, cut: tuple[Cut, ...]) -> Operation:
    face = Side.of(two.thick, True)
    boxes = (*tenons.each, *(box for _, box in tenons.haunches))
    number = len(tenons.each)
    kind = "haunched tenon" if tenons.haunches else "tenon" if number == 1 else "tenons"
    return Operation(
        kind=kind,
        title=kind[:1].upper() + kind[1:],
        side=face,
        cuts=cut,
        features=tuple(Feature(Form.SLOT, face, spans_of(box)) for box in boxes),
        say=Phrase(),
        tools=(phrase("Table saw or tenon saw"),),
        cautions=("table saw",),
        place=entry.place,
        group=Group.JOINTS if kind != "tenon" else None,
    )


KIND = JointKind(
    "mortise and tenon",
    "Mortise and tenon",
    MortiseAndTenon,
    lambda entry: entry.in_,
    lambda entry: entry.for_,
    expand,
    phrase("Brush glue into the mortises, push the tenons home and clamp the shoulders tight."),
    reach=reach,
    cautions=("glue",),
    says={
        "mortise haunch": say_haunch,
        "tenons": say_tenons,
        "haunched tenon": say_haunched,
        "wedge kerf": say_kerf,
    },
    spreads=True,
    headings=dict.fromkeys(("tenon", "tenons", "haunched tenon"), "Cut the {work} on the {pieces}"),
)
