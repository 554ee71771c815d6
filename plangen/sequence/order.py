"""The order of work: the draft and the maker's steps made one, worded, pictured and proven complete."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Final, Literal

from plangen.design.model import Design, Part
from plangen.findings import Findings
from plangen.sequence.assembly import Assembly
from plangen.sequence.boards import planed_of
from plangen.sequence.bodies import brought_by, scope_of
from plangen.sequence.checking import checks_of
from plangen.sequence.conservation import check_order
from plangen.sequence.draft import draft
from plangen.sequence.lifting import Weights, lifted
from plangen.sequence.model import HardwareCount, OrderOfWork, PartUse, Step
from plangen.sequence.names import Names
from plangen.sequence.picture import step_picture
from plangen.sequence.plan import Plan
from plangen.sequence.resting import between_things, close_quietly, speaking
from plangen.sequence.tokens import replace_names
from plangen.sequence.wording import (
    cautions_of,
    minutes_to_close,
    say_of,
    title_of,
    tools_of,
)
from plangen.sequence.written import merge
from plangen.units import Phrase, Reading, phrase

if TYPE_CHECKING:
    from plangen.description.model import StepEntry

OPEN_TIME_SHARE: Final = Fraction(
    7, 10
)  # leave three tenths of the glue's open time; common practice, no source


def order_of_work(
    design: Design, entries: Sequence[Literal["draft"] | StepEntry], findings: Findings
) -> OrderOfWork:
    """Give all steps in order, numbered from 1, with every name in their texts a token.

    ``entries`` are the maker's ``steps``: where ``draft`` stands, the drafted steps go, less what the
    maker's steps do. Whatever is left out, done twice or done too early is added to ``findings``
    with its place and the difference; the order is given all the same.
    """
    design = between_things(design)
    names = Names(design, findings)
    assembly = Assembly(design)
    weights = Weights.of(design)
    steps: list[Step] = []
    placed: list[str] = []
    closed: list[str] = []
    plans = merge(names, draft(design, assembly), entries, assembly.quiet)
    for plan in close_quietly(assembly, plans, assembly.quiet):
        new = _new_copies(assembly, plan, placed)
        lifts = lifted(design, assembly, weights, plan, new, closed)
        steps.append(_step(names, assembly, plan, len(steps) + 1, new, placed, closed, lifts))
        placed += [copy for copy in new if copy not in placed]
        closed += [joint for joint in plan.joints if joint not in closed]
        _check_open_time(design, plan, steps[-1], findings)
    check_order(design, assembly, steps, findings)
    return OrderOfWork(tuple(steps))


def tools_needed(order: OrderOfWork) -> tuple[str, ...]:
    """Give every tool of the steps once, in the order of first use, as Markdown with tokens."""
    return tuple(dict.fromkeys(tool for step in order.steps for tool in step.tools))


def _new_copies(assembly: Assembly, plan: Plan, placed: Sequence[str]) -> tuple[str, ...]:
    """Give the copies that the step puts in place: those its joints bring in first, and those it names."""
    joined = [copy for copy in assembly.members(plan.joints) if copy not in placed]
    return tuple(dict.fromkeys([*joined, *plan.placed]))


def _step(
    names: Names, assembly: Assembly, plan: Plan, number: int, new: tuple[str, ...], placed: Sequence[str],
    closed: Sequence[str], lifts: tuple[str, ...],
) -> Step:  # fmt: skip
    design = names.design

    fitted = next((fit.place for fit in design.fits if fit.name in plan.fits), None)
    place = plan.place or fitted

    def tokens(text: str) -> str:
        return replace_names(text, lambda name, many: names.token(name, place, many))

    worked: dict[str, list[int]] = {}
    for key, index in plan.worked:
        worked.setdefault(key, []).append(index)
    return Step(
        number=number,
        kind=plan.kind,
        title=tokens(title_of(design, assembly, plan, new)),
        say=tokens(say_of(design, assembly, plan)),
        checks=tuple(tokens(check) for check in checks_of(design, plan)),
        cautions=cautions_of(design, plan, heavy=bool(lifts)),
        parts=_parts(design, assembly, plan, new),
        hardware=_hardware(design, plan),
        tools=tuple(tokens(tool) for tool in tools_of(design, plan)),
        made=plan.made,
        worked=tuple((key, tuple(indices)) for key, indices in worked.items()),
        placed=new,
        measured=plan.measured,
        joints=plan.joints,
        picture=step_picture(design, assembly, plan, new, placed, closed),
        drafted=plan.drafted,
        place=plan.place,
        fits=plan.fits,
        assembly=scope_of(design, assembly, plan),
        brought=brought_by(design, assembly, plan),
        planed=planed_of(design, plan),
        lifts=lifts,
    )


def _parts(design: Design, assembly: Assembly, plan: Plan, new: Sequence[str]) -> tuple[PartUse, ...]:
    """How many pieces of each part the step handles: all it cuts or works, those it joins or fits."""
    whole = dict.fromkeys([*plan.made, *plan.measured, *plan.panels, *(key for key, _ in plan.worked)])
    counts = {key: len(design.part(key).copies) for key in whole}
    part_of = design.part_of
    fitted = [copy for fit in design.fits if fit.name in plan.fits for copy in fit.copies]
    active = speaking([joint for joint in design.joints if joint.name in plan.joints])
    within = scope_of(design, assembly, plan)
    met = assembly.members([*(joint.name for joint in active), *plan.dry])
    handled = new or tuple(copy for copy in met if assembly.body(copy, within) is None)
    for copy in dict.fromkeys([*handled, *fitted]):
        key = part_of[copy].key
        if key not in whole:
            counts[key] = counts.get(key, 0) + 1
    return tuple(
        PartUse(part.key, counts[part.key], _size(design, part) if part.key in plan.made else None)
        for part in design.parts
        if part.key in counts
    )


def _size(design: Design, part: Part) -> Phrase:
    """Give thickness × width × length of a part to be cut."""
    sheet = design.stock[part.stock].kind == "plywood"
    thick = Reading(part.thickness) if sheet else part.thickness
    return phrase(thick, " × ", part.width, " × ", part.length)


def _hardware(design: Design, plan: Plan) -> tuple[HardwareCount, ...]:
    counts: dict[str, int] = {}
    uses = [use for joint in design.joints if joint.name in plan.joints for use in joint.hardware]
    uses += [fit.hardware for fit in design.fits if fit.name in plan.fits]
    for use in uses:
        counts[use.item] = counts.get(use.item, 0) + use.number
    return tuple(HardwareCount(item, number) for item, number in counts.items())


def _check_open_time(design: Design, plan: Plan, step: Step, findings: Findings) -> None:
    """Warn when closing the joints takes more of the glue's open time than is safe."""
    open_times = dict(design.shop.glues)
    for joint in design.joints:
        minutes = open_times.get(joint.glue or "") if joint.name in plan.joints else None
        if minutes is None:
            continue
        needed = minutes_to_close(design, plan, step.assembly)
        if needed > minutes * OPEN_TIME_SHARE:
            findings.warning(
                "glue-open-time",
                f"step {step.number} closes glued joints for about {float(needed):g} minutes, and "
                f"{joint.glue} stays open {float(minutes):g}",
                plan.place or joint.place,
                "split the joint into two with names of their own, or use a slower glue",
            )
            return
