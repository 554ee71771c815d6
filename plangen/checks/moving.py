"""Leaves and drawers: whether enough hinges carry a leaf, and whether a drawer runs on both its sides."""

from __future__ import annotations

from plangen.checks.frame import printed
from plangen.checks.masses import mass_of
from plangen.design.model import Design, Joint, Motion
from plangen.findings import Findings
from plangen.handbook.hinges import KG_PER_HINGE, number_for_mass
from plangen.joinery.space import Axis
from plangen.solids import Solids


def hinges_carry_their_leaf(design: Design, solids: Solids, findings: Findings) -> None:
    """Add ``few-hinges`` where a leaf that hangs from its side is heavy for the number of its hinges.

    A lid or a flap whose pin lies level rests on its hinges in another way and is left alone.
    """
    for joint, motion in _motions(design, "hinged"):
        if abs(motion.way[Axis.UP.value]) < 0.5:
            continue
        spots = [
            use.number
            for use in joint.hardware
            if (item := design.hardware.get(use.item)) is not None and item.ware is not None
        ]
        alike = sum(other is joint for other, _ in _motions(design, "hinged"))
        number = sum(spots) // max(1, alike)
        mass = mass_of(design, motion.moves)
        wanted = number_for_mass(mass)
        if number and number < wanted:
            findings.warning(
                "few-hinges",
                f"a leaf of about {float(mass):.1f} kg hangs on {number} hinges, "
                f"and one carries about {float(KG_PER_HINGE):g} kg",
                joint.place,
                f"use {wanted} hinges: `number: {wanted}`; or hinges that are made for the weight",
            )


def drawers_run_on_both_sides(design: Design, solids: Solids, findings: Findings) -> None:
    """Add ``one-slide`` for a drawer that meets a slide on one side only, with its sum."""
    for joint, motion in _motions(design, "slides"):
        contacts = [contact for contact in joint.contacts if contact.moving in motion.moves]
        if len(contacts) != 1:
            continue
        (contact,) = contacts
        runner = next(
            (design.hardware[use.item] for use in joint.hardware if use.item in design.hardware), None
        )
        thick = runner.ware.sizes.get("thickness") if runner is not None and runner.ware is not None else None
        axis = next(one for one in Axis if not contact.face.size(one))
        boxes = [design.copies[copy].box for copy in motion.moves]
        wide = max(box.high.at(axis) for box in boxes) - min(box.low.at(axis) for box in boxes)
        words = (
            f", and {printed(wide + thick * 2, design)} with a slide on each side"
            if thick is not None
            else ""
        )
        findings.error(
            "one-slide",
            f"`{joint.name}` runs on {contact.fixed} only: on its other side nothing stands as far away "
            f"as the slide is thick; what slides is {printed(wide, design)} wide{words}",
            joint.place,
            "make the drawer the opening less the two slides, and place it in the middle",
        )


def _motions(design: Design, kind: str) -> list[tuple[Joint, Motion]]:
    joints = {joint.name: joint for joint in design.joints if joint.kind == kind}
    found = []
    for motion in design.motions:
        joint = joints.get(motion.joint) or next(
            (one for name, one in joints.items() if motion.joint.endswith(f".{name}")), None
        )
        if joint is not None:
            found.append((joint, motion))
    return found
