"""Turn the maker's ``steps`` into plans: steps written out, and changes to drafted ones."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Final, Literal

from plangen.design.model import Design
from plangen.expressions import Text
from plangen.findings import Place
from plangen.handbook.safety import CAUTIONS, has_caution
from plangen.sequence.fitting import is_wall_hardware
from plangen.sequence.model import StepKind
from plangen.sequence.names import Names
from plangen.sequence.plan import Plan
from plangen.sequence.resting import left_over, set_down_by
from plangen.sequence.tokens import replace_names
from plangen.sequence.trade import plain_kind

if TYPE_CHECKING:
    from plangen.description.model import StepEntry

_STEP_KINDS: Final = ("mill", "cut", "work", "measure", "dry fit", "glue", "fasten", "fit", "finish", "hang")
_KIND_WORDS: Final = {
    "dry": "dry fit",
    "milling": "mill",
    "cutting": "cut",
    "finishing": "finish",
    "sand": "finish",
}


def merge(
    names: Names,
    drafted: Sequence[Plan],
    entries: Sequence[Literal["draft"] | StepEntry],
    quiet: Sequence[str] = (),
) -> tuple[Plan, ...]:
    """Give the plans in order: the maker's steps where they stand, the draft where ``draft`` stands.

    What the maker's steps cover is taken out of the draft, and a drafted step with nothing left is
    dropped. ``replace``, ``before`` and ``after`` find the drafted step of a joint, part, fit, kind
    of operation or kind of step; what they do not say stays as drafted. With words only, ``before``
    and ``after`` add them to that step; with a title or work of their own they make a step beside it.
    ``quiet`` names the joints that keep no drafted step alive by themselves.
    """
    findings = names.findings
    draft = [] if all(entry != "draft" for entry in entries) else list(drafted)
    before: list[Plan] = []
    after: list[Plan] = []
    seen_draft = False
    changes: list[tuple[StepEntry, Plan]] = []
    for entry in entries:
        if isinstance(entry, str):
            if seen_draft:
                findings.error(
                    "draft-twice",
                    "`draft` stands twice in the steps",
                    getattr(entry, "place", None),
                    "take one of them out",
                )
            seen_draft = True
            continue
        plan = plan_of(names, entry)
        closed = set_down_by(names.design, plan.brought)
        plan = replace(plan, joints=tuple(dict.fromkeys((*plan.joints, *closed))))
        if entry.step is not None:
            (after if seen_draft else before).append(plan)
        elif not draft:
            findings.error(
                "no-draft",
                "this changes a drafted step, and the steps have no `draft`",
                entry.place,
                "write `- draft` before it, or write the step out with `step:`",
            )
        else:
            changes.append((entry, plan))
    written = [*before, *after, *(plan for entry, plan in changes if entry.replace is None)]
    draft = [left for plan in draft if (left := left_over(plan, written, quiet)).covers_anything]
    for entry, plan in changes:
        draft = _changed(names, draft, drafted, entry, plan, quiet)
    return (*before, *draft, *after)


def plan_of(names: Names, entry: StepEntry) -> Plan:
    """Give the plan that one written entry stands for; what it names wrongly becomes findings."""
    place = entry.place
    for key in entry.cautions:
        if not has_caution(str(key)):
            names.findings.error(
                "unknown-caution",
                f"`{key}` names no safety text",
                getattr(key, "place", None) or place,
                f"the texts are {', '.join(f'`{one}`' for one in CAUTIONS)}",
            )
    brought, placed = names.brought_names(entry.place_)
    plan = Plan(
        kind="other",
        milled=_milled(names, entry.mill, place),
        panels=names.part_keys(entry.glue_up, place),
        made=names.part_keys(entry.cut, place),
        worked=_worked(names, entry, place),
        measured=names.part_keys(entry.measure, place),
        placed=names.copy_names(placed, place),
        brought=brought,
        dry=names.joint_names(entry.dry, place),
        joints=names.joint_names(entry.join, place),
        fits=names.fit_names(entry.fit, place),
        finish=bool(entry.finish),
        title=_named(names, entry.title, place) or _named(names, entry.step, place),
        say=_named(names, entry.say, place),
        checks=tuple(_named(names, check, place) or "" for check in entry.checks),
        cautions=tuple(str(key) for key in entry.cautions if has_caution(str(key))),
        tools=tuple(_named(names, tool, place) or "" for tool in entry.tools),
        show=names.copy_names(entry.show, place),
        drafted=False,
        place=place,
    )
    return replace(plan, kind=_kind(names.design, plan))


def _named(names: Names, words: str | None, place: Place | None) -> str | None:
    """Give the maker's words with tokens for their names; an unknown one is found where it stands."""
    if words is None:
        return None

    def token(name: str, many: str) -> str:
        at = words.at(max(0, words.find(f"{{{name}")), len(name) + 2) if isinstance(words, Text) else place
        return names.token(name, at if at is not None and at.line else place, many)

    return replace_names(str(words), token)


def _kind(design: Design, plan: Plan) -> StepKind:
    """Give the kind of a written step, from the most telling thing in it."""
    if plan.joints:
        joints = [joint for joint in design.joints if joint.name in plan.joints]
        return "glue" if any(joint.glue for joint in joints) else "fasten"
    if plan.fits:
        items = [fit.hardware.item for fit in design.fits if fit.name in plan.fits]
        return "hang" if all(is_wall_hardware(design, item) for item in items) else "fit"
    kinds: tuple[tuple[bool, StepKind], ...] = (
        (bool(plan.panels), "glue"), (bool(plan.dry), "dry fit"), (plan.finish, "finish"),
        (bool(plan.measured), "measure"), (bool(plan.worked), "work"), (bool(plan.made), "cut"),
        (bool(plan.milled), "mill"),
    )  # fmt: skip
    return next((kind for holds, kind in kinds if holds), "other")


def _milled(names: Names, wanted: Iterable[str] | None, place: Place | None) -> tuple[str, ...]:
    """Parts whose boards are milled; a stock's name stands for all its parts."""
    keys: dict[str, None] = {}
    for name in wanted or ():
        of_stock = [part.key for part in names.design.parts if part.stock == name]
        keys.update(dict.fromkeys(of_stock or names.part_keys((name,), place)))
    return tuple(keys)


def _worked(names: Names, entry: StepEntry, place: Place | None) -> tuple[tuple[str, int], ...]:
    """Operations named by joint, by part, by kind, or as ``part: kinds``."""
    found: dict[tuple[str, int], None] = {}
    for item in entry.work or ():
        if isinstance(item, str):
            found.update(dict.fromkeys(_work_named(names, item, place)))
            continue
        for part_name, kinds in item.items():
            for key in names.part_keys((part_name,), place):
                operations = names.keys[key].operations
                wanted = [plain_kind(str(kind)) for kind in kinds]
                for kind, plain in zip(kinds, wanted, strict=True):
                    if all(not _is_kind(operation.kind, plain) for operation in operations):
                        names.unknown(
                            kind, f"operation on {part_name}", place, [one.kind for one in operations]
                        )
                found.update({
                    (key, index): None
                    for index, operation in enumerate(operations)
                    if any(_is_kind(operation.kind, plain) for plain in wanted)
                })  # fmt: skip
    return tuple(found)


def _is_kind(kind: str, wanted: str) -> bool:
    return plain_kind(kind) in (wanted, wanted.removesuffix("s"))


def _work_named(names: Names, name: str, place: Place | None) -> list[tuple[str, int]]:
    every = [(part, index) for part in names.design.parts for index in range(len(part.operations))]
    by_joint = [(part.key, index) for part, index in every if part.operations[index].joint == name]
    if by_joint and (name in names.joints or name in names.fits):
        return by_joint
    keys = names.parts_named(name)
    if keys:
        return [(part.key, index) for part, index in every if part.key in keys]
    by_kind = [
        (part.key, index) for part, index in every if _is_kind(part.operations[index].kind, plain_kind(name))
    ]
    if not by_kind and name not in names.joints:
        kinds = dict.fromkeys(part.operations[index].kind for part, index in every)
        names.unknown(name, "joint, part or kind of operation", place,
                      [*names.joints, *(part.name for part in names.design.parts), *kinds])  # fmt: skip
    return by_kind


def _changed(
    names: Names,
    draft: list[Plan],
    drafted: Sequence[Plan],
    entry: StepEntry,
    plan: Plan,
    quiet: Sequence[str],
) -> list[Plan]:
    target = str(entry.replace or entry.before or entry.after)
    index = _find(names, draft, target)
    if index is None:
        if _find(names, list(drafted), target) is None:
            known = [*names.joints, *(part.name for part in names.design.parts), *names.fits, *_STEP_KINDS]
            names.unknown(
                entry.replace or entry.before or entry.after or "", "drafted step", entry.place, known
            )
        else:
            names.findings.error(
                "step-gone",
                f"the drafted step of `{target}` is empty: other steps do its work",
                entry.place,
                "change that step instead",
            )
        return draft
    there = draft[index]
    beside = plan.covers_anything or plan.title is not None
    if entry.replace is not None:
        rest = [left_over(other, [plan], quiet) for other in draft]
        before = [left for left in rest[:index] if left.covers_anything]
        after = [left for left in rest[index + 1 :] if left.covers_anything]
        return [*before, _replaced(there, plan), *after]
    if beside:
        at = index if entry.before is not None else index + 1
        return [*draft[:at], plan, *draft[at:]]
    said = (plan.say,) if plan.say else ()
    changed = replace(
        there,
        say_before=(*there.say_before, *(said if entry.before is not None else ())),
        say_after=(*there.say_after, *(said if entry.after is not None else ())),
        checks=(*there.checks, *plan.checks),
        cautions=(*there.cautions, *plan.cautions),
        tools=(*there.tools, *plan.tools),
        show=plan.show or there.show,
    )
    return [*draft[:index], changed, *draft[index + 1 :]]


def _replaced(there: Plan, plan: Plan) -> Plan:
    """Give a drafted step with what the maker says in place of what was drafted."""
    work = there.with_coverage_of(plan) if plan.covers_anything else there
    return replace(
        work,
        title=plan.title or there.title,
        say=plan.say if plan.say is not None else there.say,
        checks=plan.checks or there.checks,
        cautions=(*there.cautions, *plan.cautions),
        tools=(*there.tools, *plan.tools),
        show=plan.show or there.show,
        drafted=False,
        place=plan.place,
    )


def _find(names: Names, draft: Sequence[Plan], target: str) -> int | None:
    """Give the drafted step that a name is about: the one that closes the joint, first of all."""
    keys = names.parts_named(target)
    inside = names.joints_of(target)
    kind = _KIND_WORDS.get(target, target)
    fits = [fit.name for fit in names.fits.values() if target in (fit.name, fit.hardware.item)]
    tests = (
        lambda plan: any(joint in plan.joints for joint in inside),
        lambda plan: any(fit in plan.fits for fit in fits),
        lambda plan: plan.kind == kind,
        lambda plan: any(key in plan.made for key in keys),
        lambda plan: any(key in plan.measured or key in plan.panels for key in keys),
        lambda plan: any(
            _is_kind(names.keys[key].operations[index].kind, plain_kind(target)) for key, index in plan.worked
        ),
    )
    for test in tests:
        for index, plan in enumerate(draft):
            if test(plan):
                return index
    return None
