"""Tall and shallow pieces that stand on the floor and are held to no wall."""

from __future__ import annotations

from fractions import Fraction

from plangen.checks.frame import printed
from plangen.design.feet import feet
from plangen.design.model import Design
from plangen.findings import Findings
from plangen.joinery.space import Axis, Box, Point, to_nanometre
from plangen.solids import Solids
from plangen.units import millimetres

# Common practice, no source: published tests of stability say more than this rule does.
TALL = millimetres(600)
SHARE = Fraction(1, 3)


def tall_pieces_are_held(design: Design, solids: Solids, findings: Findings) -> None:
    """Add ``tip-over`` for a piece over 600 mm tall whose foot is less than a third of its height deep.

    What has hardware with the word wall in its name, kind or title is taken to hang or to be held there.
    """
    height = design.overall.size(Axis.UP)
    words = [word for one in design.hardware.values() for word in (one.name, one.kind, one.title)]
    held = any("wall" in word.lower() for word in words)
    if held or height <= TALL or not design.copies:
        return
    floor = design.overall.low.up
    on_floor = [copy.box for copy in design.copies.values() if copy.box.low.up == floor]
    wheels = [Point(*map(to_nanometre, foot.at)) for foot in feet(design) if foot.floor == floor]
    on_floor += [Box(at, at) for at in wheels]
    foot = min(
        max(box.high.at(way) for box in on_floor) - min(box.low.at(way) for box in on_floor)
        for way in (Axis.ACROSS, Axis.DEEP)
    )
    if foot >= height * SHARE:
        return
    tallest = max(design.copies.values(), key=lambda copy: copy.box.high.up)
    rolls = any(
        "caster" in design.hardware[fit.hardware.item].kind
        for fit in design.fits
        if fit.hardware.item in design.hardware
    )
    anchor = (
        "anchor it to the wall, and say so in a step; name the hardware for it a wall screw or wall anchor"
    )
    if rolls:
        anchor = "set the casters further apart, or make it lower; what rolls is anchored to no wall"
    elif _stacked(design):
        anchor = (
            "stack fewer, make the lowest wider, or join them and anchor them to the wall with wall screws"
        )
    findings.warning(
        "tip-over",
        f"it stands {printed(height, design)} tall on a foot only {printed(foot, design)} deep, "
        "less than a third of the height, and may tip over",
        tallest.place,
        anchor,
    )


def _stacked(design: Design) -> bool:
    """Whether it comes in pieces that only stand on one another: some joint is closed by weight alone."""
    return any(joint.kind == "rests" and not joint.glue and not joint.hardware for joint in design.joints)
