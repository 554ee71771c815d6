"""Wide solid wood that is held fast across a grain, or has too little room to swell in its groove."""

from __future__ import annotations

from fractions import Fraction

from plangen.checks.frame import axis_in_frame, printed
from plangen.design.model import Contact, Copy, Design, Joint, Part
from plangen.findings import Findings
from plangen.handbook.movement import movement
from plangen.joinery.cuts import BoxCut
from plangen.joinery.piece import USUAL_CHANGE
from plangen.joinery.space import Axis
from plangen.solids import Solids
from plangen.units import Length, millimetres

# From what width a board moves enough to matter, and over what length it may be held fast:
# common practice, no source.
WIDE = millimetres(150)
HELD = millimetres(100)
# Fastenings that hold a board as fast as glue does; nails give, and are left out.
HOLDS_FAST = {"screwed": "screwed", "pocket-screwed": "screwed", "bolted": "bolted", "knock-down": "bolted"}
GROOVES = ("frame and panel", "groove")  # in which a panel floats


def wide_wood_may_move(design: Design, solids: Solids, findings: Findings) -> None:
    """Add ``wood-movement`` where solid wood over 150 mm wide is held fast across another's grain.

    Held fast is glued, screwed or bolted, along more than 100 mm. The movement is that of flat-sawn wood over
    the shop's change of moisture content, 4 % unless said. Slotted holes hold nothing fast.
    """
    told: set[tuple[str, str]] = set()
    for joint in design.joints:
        if joint.glue is None and (joint.kind not in HOLDS_FAST or _slotted(design, joint)):
            continue
        for contact in joint.contacts:
            for wide, other in ((contact.fixed, contact.moving), (contact.moving, contact.fixed)):
                part = design.part_of[wide]
                held = _held(design, joint, contact, design.copies[wide], design.copies[other])
                if held > HELD and (joint.name, part.name) not in told:
                    told.add((joint.name, part.name))
                    _warn(design, joint, part, design.part_of[other], held, findings)


def panels_have_room(design: Design, solids: Solids, findings: Findings) -> None:
    """Add ``panel-no-room`` where a solid panel has a smaller gap in its grooves than it may swell.

    Between its edges and the floors of its two grooves it needs its width x tangential coefficient x
    change of moisture content (Wood Handbook, FPL-GTR-190 (2010), Eq. 13-2 and Table 13-5).
    """
    for joint in design.joints:
        if joint.kind not in GROOVES or joint.glue is not None:
            continue
        gaps: dict[str, Length] = {}
        for contact in joint.contacts:
            gap = _gap_across(design, joint, contact)
            if gap is not None:
                gaps[contact.moving] = min(gap, gaps.get(contact.moving, gap))
        told: set[str] = set()
        percent = float(abs(_change(design)))
        for name, gap in gaps.items():
            part = design.part_of[name]
            moves = movement(part.width, design.stock[part.stock].species, abs(_change(design)))
            if moves is not None and gap * 2 < moves and part.name not in told:
                told.add(part.name)
                findings.warning(
                    "panel-no-room",
                    f"`{part.name}` has {printed(gap, design)} at each edge to swell in, and may grow by "
                    f"{printed(moves, design)} when its moisture changes by {percent:g} %",
                    joint.place,
                    f"leave a gap of {printed(moves / 2, design)} or more at each edge; groove deeper for it",
                    part=part.key,
                )


def _gap_across(design: Design, joint: Joint, contact: Contact) -> Length | None:
    """The room between a panel's edge and the floor of its groove; None where nothing moves there."""
    panel, member = design.copies[contact.moving], design.copies[contact.fixed]
    part = design.part_of[panel.name]
    if design.stock[part.stock].kind != "solid" or contact.closes is None or contact.way is not None:
        return None
    side = contact.closes  # the way the panel goes in, so the side of it that meets
    if axis_in_frame(panel, part.wide) is not side.axis:
        return None
    floors = [
        box.side(side)
        for operation in design.part_of[member.name].operations
        if operation.joint == joint.name and operation.kind == "groove"
        for cut in operation.cuts
        if isinstance(cut, BoxCut)
        for box in (member.pose.box(cut.box),)
        if all(box.overlap(contact.face).size(axis).mm >= 0 for axis in Axis)
    ]
    edge = panel.box.side(side)
    gaps = [(floor - edge) * side.sign for floor in floors]
    return min(gaps, default=None)


def _slotted(design: Design, joint: Joint) -> bool:
    """Whether the screws of a joint travel in slots."""
    copies = {name for contact in joint.contacts for name in (contact.fixed, contact.moving)}
    return any(
        operation.kind == "slotted hole" and operation.joint == joint.name
        for name in sorted(copies)
        for operation in design.part_of[name].operations
    )


def _change(design: Design) -> Fraction:
    """The change of moisture content between seasons, in percent."""
    return design.shop.moisture_change if design.shop.moisture_change is not None else USUAL_CHANGE


def _held(design: Design, joint: Joint, contact: Contact, wide: Copy, other: Copy) -> Length:
    """The length over which the other piece holds this one across the grain; zero where it does not."""
    part, neighbour = design.part_of[wide.name], design.part_of[other.name]
    if any(design.stock[one.stock].kind != "solid" for one in (part, neighbour)) or part.width <= WIDE:
        return millimetres(0)
    across = axis_in_frame(wide, part.wide)
    if axis_in_frame(other, neighbour.runs) is not across:
        return millimetres(0)
    length = contact.face.size(across)
    return min(length, _tenon_width(joint, contact, design, across) or length)


def _tenon_width(joint: Joint, contact: Contact, design: Design, across: Axis) -> Length | None:
    """The widest tenon at a contact; a shoulder is not glued across the grain, only the tenon is."""
    if joint.kind != "mortise and tenon":
        return None
    copy, part = design.copies[contact.fixed], design.part_of[contact.fixed]
    widths = []
    for operation in part.operations:
        for cut in operation.cuts if operation.joint == joint.name else ():
            box = copy.pose.box(cut.box) if isinstance(cut, BoxCut) else None
            if box is not None and all(box.overlap(contact.face).size(axis).mm >= 0 for axis in Axis):
                widths.append(box.size(across))
    return max(widths, default=None)


def _warn(design: Design, joint: Joint, part: Part, other: Part, held: Length, findings: Findings) -> None:
    change = _change(design)
    moves = movement(held, design.stock[part.stock].species, abs(change))
    how = "glued" if joint.glue is not None else HOLDS_FAST[joint.kind]
    much = (
        f", where it moves {printed(moves, design)} when its moisture changes by {float(abs(change)):g} %"
        if moves is not None
        else ", where it swells and shrinks with the seasons"
    )
    findings.warning(
        "wood-movement",
        f"`{part.name}` is {how} across the grain of `{other.name}` over {printed(held, design)}{much}",
        joint.place,
        "let it move: fasten it firmly at one place only and elsewhere by screws in slotted holes, "
        "by fasteners that slide, or in a groove without glue",
        part=part.key,
    )
