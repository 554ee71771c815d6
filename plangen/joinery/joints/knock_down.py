"""A knock-down joint: a bolt that draws the pieces together, dry dowels beside it that keep them in line."""

from __future__ import annotations

from plangen.expressions import Name, Names
from plangen.joinery.body import Expansion, JointKind, Meeting
from plangen.joinery.bolting import Bolting, Stack, bolted_at, stack_of
from plangen.joinery.fastening import never_glued, places_along
from plangen.joinery.joints import dowelled
from plangen.joinery.piece import Bench, Fastener
from plangen.joinery.space import Point
from plangen.units import phrase


class KnockDown(Bolting):
    """``knock-down: {between: [leg, rail], with: bolt, nut: barrel nut, face: inside, align: dowel}``.

    The bolts go through the first piece into the second. One dowel stands midway between each end
    of the contact and the bolt nearest to it, glued into neither piece unless the step says so.
    """

    between: Names
    align: Name


def expand(entry: KnockDown, meeting: Meeting, bench: Bench) -> Expansion:
    """Bore for the bolts, and for the dowels beside them."""
    if not never_glued(entry, "a knock-down joint", bench):
        return Expansion()
    dowel = bench.fastener(str(entry.align))
    if dowel is None:
        bench.findings.error(
            "undefined-name",
            f"there is no hardware called `{entry.align}`",
            entry.place_of("align"),
            "add it under `hardware`",
        )
        return Expansion()
    stack = stack_of(entry, meeting, bench)
    depth = dowelled.depth_of(dowel, entry, "align", bench)
    if stack is None or depth is None:
        return Expansion()
    if not dowelled.dowel_fits(meeting, dowel, depth, entry, "align", bench):
        return Expansion()
    places = list(_bolts(entry, meeting, stack, bench))
    if not places:
        return Expansion()
    beside = _beside(entry, meeting, places, stack, dowel, bench)
    drawn = bolted_at(entry, stack, places, meeting, bench)
    if not beside or not drawn.on_one:
        return Expansion()
    lined = dowelled.at_places(beside, dowel, depth, meeting, entry)
    return Expansion(
        drawn.on_one + lined.on_one,
        drawn.on_two + lined.on_two,
        drawn.closes,
        drawn.hardware + lined.hardware,
        drawn.glue_area,
        drawn.tools,
    )


def _bolts(entry: KnockDown, meeting: Meeting, stack: Stack, bench: Bench) -> list[Point]:
    """One bolt in the middle, unless a number is typed."""
    if entry.per_joint is None and entry.every is None:
        one = entry.model_copy(update={"per_joint": 1})
        return list(places_along(one, meeting, stack.hole, bench))
    return list(places_along(entry, meeting, stack.hole, bench))


def _beside(
    entry: KnockDown, meeting: Meeting, bolts: list[Point], stack: Stack, dowel: Fastener, bench: Bench
) -> list[Point]:
    """A place between each end of the contact and the bolt nearest to it, on a mark of the tape."""
    along, _ = meeting.lateral
    assert dowel.diameter is not None
    low, high = meeting.rect.low.at(along), meeting.rect.high.at(along)
    first, last = bolts[0].at(along), bolts[-1].at(along)
    inset = bench.nearest(min(first - low, high - last) / 2)
    if inset - dowel.diameter / 2 <= bench.step or inset <= (stack.hole + dowel.diameter) / 2:
        bench.findings.error(
            "fasteners",
            f"there is no room for dowels beside the bolts where {meeting.one.copy} and "
            f"{meeting.two.copy} meet",
            entry.place_of("align"),
            "use thinner dowels, or fewer bolts farther from the ends",
            part=meeting.one.part,
        )
        return []
    return [bolts[0].with_(along, low + inset), bolts[-1].with_(along, high - inset)]


KIND = JointKind(
    "knock-down",
    "Knock-down joint",
    KnockDown,
    lambda entry: entry.between[:1],
    lambda entry: entry.between[1:2],
    expand,
    phrase("Push the joint together dry on its dowels and draw the bolts tight; it comes apart again."),
    fastens=True,
    glued=False,
    comes_apart=True,
    verb="Bolt",
    lies=True,
    last=True,
    tight=True,
)
