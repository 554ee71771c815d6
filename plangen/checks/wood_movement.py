"""Wide solid wood held fast across the grain of its neighbour, which splits one of them."""

from __future__ import annotations

from fractions import Fraction

from plangen.checks.frame import axis_in_frame, printed
from plangen.design.model import Contact, Copy, Design, Joint, Part
from plangen.findings import Findings
from plangen.handbook.movement import movement
from plangen.joinery.cuts import BoxCut
from plangen.joinery.space import Axis
from plangen.solids import Solids
from plangen.units import Length, millimetres

# From what width a board moves enough to matter, and over what length it may be held fast:
# common practice, no source.
WIDE = millimetres(150)
HELD = millimetres(100)
CHANGE = Fraction(4)  # percent of moisture content between seasons, unless the shop says


def wide_wood_may_move(design: Design, solids: Solids, findings: Findings) -> None:
    """Add ``wood-movement`` where solid wood over 150 mm wide is held fast across another's grain.

    Held fast is glued or screwed, along more than 100 mm. The movement is that of flat-sawn wood over
    the shop's change of moisture content, 4 % unless said.
    """
    told: set[tuple[str, str]] = set()
    for joint in design.joints:
        if joint.glue is None and joint.kind != "screwed":
            continue
        for contact in joint.contacts:
            for wide, other in ((contact.fixed, contact.moving), (contact.moving, contact.fixed)):
                part = design.part_of[wide]
                held = _held(design, joint, contact, design.copies[wide], design.copies[other])
                if held > HELD and (joint.name, part.name) not in told:
                    told.add((joint.name, part.name))
                    _warn(design, joint, part, design.part_of[other], held, findings)


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
    change = design.shop.moisture_change if design.shop.moisture_change is not None else CHANGE
    moves = movement(held, design.stock[part.stock].species, abs(change))
    how = "glued" if joint.glue is not None else "screwed"
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
