"""Prove that the steps do everything once, in an order in which it can be done.

Every part is cut in one step, every operation worked in one, every copy placed and every joint closed
in one, every size from the work measured before its cut, and hardware used up to the last piece.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from plangen.design.model import Design, Fit, Part
from plangen.findings import Findings, Place
from plangen.sequence.assembly import Assembly
from plangen.sequence.bodies import handled_as, pieces_within
from plangen.sequence.fitting import closed_in
from plangen.sequence.model import Step
from plangen.takeoff.naming import copy_words


def check_order(design: Design, assembly: Assembly, steps: Sequence[Step], findings: Findings) -> None:
    """Add an error for everything that the steps leave out, do twice or do too early."""
    _check_parts(design, steps, findings)
    _check_operations(design, steps, findings)
    _check_copies(design, steps, findings)
    _check_joints(design, assembly, steps, findings)
    _check_bodies(design, assembly, steps, findings)
    _check_fits(design, assembly, steps, findings)
    _check_hardware(design, steps, findings)


def _numbers(steps: Sequence[Step]) -> str:
    return " and ".join(f"step {step.number}" for step in steps)


def _only_once(
    steps: Sequence[Step], kind: str, said: str, otherwise: Place, findings: Findings, part: str | None = None
) -> None:
    """Add an error where more than one step does what only one may; ``said`` comes before their numbers."""
    if len(steps) > 1:
        place = _where(steps, otherwise)
        findings.error(kind, f"{said} in {_numbers(steps)}", place, "take it out of all but one", part=part)


def _where(steps: Sequence[Step], otherwise: Place) -> Place:
    return next((step.place for step in reversed(steps) if step.place), otherwise)


def _check_parts(design: Design, steps: Sequence[Step], findings: Findings) -> None:
    for part in design.parts:
        cut = [step for step in steps if part.key in step.made]
        pieces = "one piece" if len(part.copies) == 1 else f"{len(part.copies)} pieces"
        if not cut:
            findings.error(
                "part-in-no-step",
                f"no step cuts {part.title} ({part.mark}): {pieces} to make, none made",
                part.place,
                f"name it in a step: `cut: [{part.name}]`",
                part=part.key,
            )
            continue
        _only_once(cut, "cut-twice", f"{part.title} ({part.mark}) is cut", part.place, findings, part.key)
        _check_planed(design, part, cut[0], steps, findings)
        if part.from_work:
            _check_measured(part, cut[0], steps, findings)


def _check_planed(design: Design, part: Part, cut: Step, steps: Sequence[Step], findings: Findings) -> None:
    """Every part that is thinner than its boards is planed to its thickness in some step, glued up or not.

    A maker whose steps mill nothing has the wood planed elsewhere.
    """
    stock = design.stock.get(part.stock)
    if stock is None or stock.kind != "solid" or part.thickness >= stock.thickness:
        return
    if not any(step.planed for step in steps):
        return
    if all((part.key, part.thickness) not in step.planed for step in steps):
        findings.error(
            "operation-in-no-step",
            f"{part.title} ({part.mark}) is thinner than its stock, and no step planes it",
            _where([cut], part.place),
            f"name it in a step before it is cut: `mill: [{part.name}]`",
            part=part.key,
        )


def _check_measured(part: Part, cut: Step, steps: Sequence[Step], findings: Findings) -> None:
    measured = [step for step in steps if part.key in step.measured]
    if not measured:
        findings.error(
            "not-measured",
            f"{part.title} ({part.mark}) takes a size from the work, and no step measures it",
            _where([cut], part.place),
            f"name it in a step before it is cut: `measure: [{part.name}]`",
            part=part.key,
        )
    elif measured[0].number > cut.number:
        findings.error(
            "measured-late",
            f"{part.title} ({part.mark}) is cut in step {cut.number} and measured in step "
            f"{measured[0].number}",
            _where(measured, part.place),
            "measure it first",
            part=part.key,
        )


def _check_operations(design: Design, steps: Sequence[Step], findings: Findings) -> None:
    closing = {joint: step for step in reversed(steps) for joint in step.joints}
    fitting = _fitting(steps)
    for part in design.parts:
        made = next((step for step in steps if part.key in step.made), None)
        for index, operation in enumerate(part.operations):
            place = operation.place or part.place
            what = f"the {operation.title.lower()} of {part.title} ({part.mark})"
            worked = [
                step for step in steps for key, indices in step.worked if key == part.key and index in indices
            ]
            if not worked:
                findings.error(
                    "operation-in-no-step",
                    f"no step works {what}",
                    place,
                    f"name its joint or part in a step: `work: [{operation.joint or part.name}]`",
                    part=part.key,
                )
                continue
            _only_once(worked, "worked-twice", f"{what} is worked", place, findings, part.key)
            first = worked[0]
            if made and first.number < made.number:
                findings.error(
                    "worked-before-cut",
                    f"{what} is worked in step {first.number}, before the part is cut in step {made.number}",
                    _where([first], place),
                    "cut the part first",
                    part=part.key,
                )
            closed = closing.get(operation.joint or "") or fitting.get(operation.joint or "")
            if closed and closed.number <= first.number and closed is not first:
                findings.error(
                    "worked-after-closing",
                    f"{what} is worked in step {first.number}, after step {closed.number} "
                    f"has closed `{operation.joint}`",
                    _where([first], place),
                    "work it before",
                    part=part.key,
                )


def _fitting(steps: Sequence[Step]) -> dict[str, Step]:
    return {fit: step for step in reversed(steps) for fit in step.fits}


def _check_copies(design: Design, steps: Sequence[Step], findings: Findings) -> None:
    for part in design.parts:
        made = next((step for step in steps if part.key in step.made), None)
        missing = [copy for copy in part.copies if all(copy.name not in step.placed for step in steps)]
        if missing:
            names = ", ".join(copy.name for copy in missing)
            findings.error(
                "part-in-no-step",
                f"no step puts {names} ({part.mark}) in place: {len(missing)} of "
                f"{len(part.copies)} left over",
                missing[0].place,
                f"join it, or name it in a step: `place: [{missing[0].name}]`",
                part=part.key,
            )
        for copy in part.copies:
            placed = [step for step in steps if copy.name in step.placed]
            said = f"{copy.name} ({part.mark}) is put in place"
            _only_once(placed, "placed-twice", said, copy.place, findings, part.key)
            if placed and made and placed[0].number < made.number:
                findings.error(
                    "placed-before-cut",
                    f"{copy.name} ({part.mark}) is put in place in step {placed[0].number}, "
                    f"before it is cut in step {made.number}",
                    _where(placed, copy.place),
                    "cut it first",
                    part=part.key,
                )


def _check_joints(design: Design, assembly: Assembly, steps: Sequence[Step], findings: Findings) -> None:
    for joint in design.joints:
        closed = [step for step in steps if joint.name in step.joints]
        if not closed:
            findings.error(
                "joint-in-no-step",
                f"no step closes `{joint.name}`: {len(joint.contacts)} contacts left open",
                joint.place,
                f"name it in a step: `join: [{joint.name}]`",
            )
        _only_once(closed, "closed-twice", f"`{joint.name}` is closed", joint.place, findings)
    done: list[str] = []
    by_name = {joint.name: joint for joint in design.joints}
    for step in steps:
        stuck = assembly.stuck(step.joints, done) if step.joints else ()
        if stuck:
            held = [name for name in done if set(assembly.members((name,))) & set(stuck)]
            findings.warning(
                "no-way-in",
                f"step {step.number}: {' and '.join(stuck[:2])} cannot come together straight"
                + (f" once `{held[0]}` is closed" if held else ""),
                step.place or by_name[step.joints[0]].place,
                "close these joints in one step or in another order, or say that the joint is open at an end",
            )
        done += [name for name in step.joints if name not in done]


def _check_bodies(design: Design, assembly: Assembly, steps: Sequence[Step], findings: Findings) -> None:
    """Every placed assembly goes into what it is a piece of, and only after it is built itself."""
    for one in design.assemblies:
        beside = {handled_as(assembly, copy, one.within) for copy in pieces_within(design, one.within)}
        for copy in one.copies:
            brought = [step for step in steps if copy.name in step.brought]
            if not brought and len(beside) > 1:
                findings.error(
                    "part-in-no-step",
                    f"no step puts the {copy_words(copy.name)} in place",
                    copy.place,
                    f"join it, or name it in a step: `place: [{copy.name}]`",
                )
            late = [step for step in steps if step.assembly == one.key and brought and step.joints]
            if late and late[-1].number > brought[0].number:
                findings.error(
                    "placed-before-built",
                    f"the {copy_words(copy.name)} is put in place in step {brought[0].number}, "
                    f"before it is built in step {late[-1].number}",
                    _where(brought, copy.place),
                    "build it first",
                )


def _check_fits(design: Design, assembly: Assembly, steps: Sequence[Step], findings: Findings) -> None:
    for fit in design.fits:
        fitted = [step for step in steps if fit.name in step.fits]
        _only_once(fitted, "fitted-twice", f"`{fit.name}` is fitted", fit.place, findings)
        if not fitted:
            findings.error(
                "hardware-in-no-step",
                f"no step fits `{fit.name}`: {fit.hardware.number} of `{fit.hardware.item}` left over",
                fit.place,
                f"name it in a step: `fit: [{fit.name}]`",
            )
            continue
        _check_reached(design, assembly, fit, fitted[0], steps, findings)


def _check_reached(
    design: Design, assembly: Assembly, fit: Fit, fitted: Step, steps: Sequence[Step], findings: Findings
) -> None:
    """Warn where what a fit is screwed on from behind is shut off before it goes on."""
    pairs = closed_in(design, fit)
    done = [name for step in steps if step.number < fitted.number for name in step.joints]
    group = assembly.groups(done) if pairs and done else {}
    for one, two in pairs:
        if group and group[one] == group[two]:
            findings.warning(
                "no-way-in",
                f"step {fitted.number} fits `{fit.name}` from behind, and there {copy_words(two)} lies on "
                f"{copy_words(one)} by then",
                _where([fitted], fit.place),
                f"fit it before the two are joined: `fit: [{fit.name}]` in a step of its own",
            )
            return


def _check_hardware(design: Design, steps: Sequence[Step], findings: Findings) -> None:
    """Compare what the steps use up with what joints and fits need."""
    uses = [(use, joint.place) for joint in design.joints for use in joint.hardware]
    uses += [(fit.hardware, fit.place) for fit in design.fits]
    needed: Counter[str] = Counter()
    for use, _ in uses:
        needed[use.item] += use.number
    used: Counter[str] = Counter()
    for step in steps:
        for count in step.hardware:
            used[count.item] += count.number
    for item, number in needed.items():
        if used[item] == number:
            continue
        place = next(place for use, place in uses if use.item == item)
        findings.error(
            "hardware-in-no-step",
            f"the steps use {used[item]} of `{item}` and the bill says {number}: "
            f"{abs(number - used[item])} {'left over' if used[item] < number else 'too many'}",
            place,
            "every joint and fit with this hardware belongs in one step",
        )
