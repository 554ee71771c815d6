"""The drafted order of work: mill, cut, work, try dry, join, fit, finish, hang."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import replace

from plangen.design.model import Design
from plangen.sequence.assembly import Assembly
from plangen.sequence.bodies import handled_as, pieces_within
from plangen.sequence.fitting import (
    closed_in,
    families,
    fits_named,
    fits_within,
    home_of,
    hung_fits,
    mated_fits,
)
from plangen.sequence.model import StepKind
from plangen.sequence.plan import Plan
from plangen.sequence.resting import close_quietly, stands
from plangen.sequence.rounds import named_joint, staged_rounds, takes_part
from plangen.sequence.set_ups import stock_plans, work_plans


def draft(design: Design, assembly: Assembly) -> tuple[Plan, ...]:
    """Draft the whole order of work of a design; what it covers is complete and each thing covered once.

    The parts of all copies of an assembly are cut and worked with the others; then the assembly is put
    together, and later goes in place as one thing.
    """
    late = {part.key for part in design.parts if part.from_work}
    early = [part for part in design.parts if part.key not in late]
    plans = [*stock_plans(design, early, late), *work_plans(design, early)]
    rounds = staged_rounds(design, assembly)
    # What is only stood on something at the end would be in the way of the hardware.
    stood = [joints for key, joints in rounds if key is None and _stands(design, assembly, joints)]
    rounds = tuple(one for one in rounds if one[0] is not None or one[1] not in stood)
    waiting = set(late)
    fitting = _Fitting(design, assembly)
    begun: set[str | None] = set()
    for number, (key, joints) in enumerate(rounds):
        dry = _dry_fit(design, assembly, [some for one, some in rounds if one == key], late)
        glued_once = sum(_join_kind(design, some) == "glue" for one, some in rounds if one == key) == 1
        tried = dry if key is not None and glued_once and _join_kind(design, joints) == "glue" else ()
        if key not in begun:
            begun.add(key)
            if dry and not (key is not None and glued_once):
                plans.append(Plan("dry fit", dry=dry))
        needed = [part for part in late if part in waiting and takes_part(design, assembly, joints, part)]
        plans += _measure_plans(design, sorted(needed, key=_place_of(design)))
        waiting -= set(needed)
        plans += fitting.before(joints)
        plans.append(Plan(_join_kind(design, joints), joints=joints, dry=tried))
        later = {outer for one, _ in rounds[number + 1 :] for outer in _around(design, one)}
        for outer in _around(design, key):
            if outer not in later:
                plans += _loose_plans(design, assembly, outer)
                plans = fitting.at_end_of(outer, plans, waiting)
    plans += _measure_plans(design, sorted(waiting, key=_place_of(design)))
    finished = {outer for one, _ in rounds for outer in _around(design, one)}
    for one in design.assemblies:
        if one.key not in finished:
            plans += _loose_plans(design, assembly, one.key)
            plans = fitting.at_end_of(one.key, plans, ())
    plans += _fit_plans(design, assembly, fitting, stood)
    return close_quietly(assembly, plans, assembly.quiet)


def _stands(design: Design, assembly: Assembly, joints: Sequence[str]) -> bool:
    return stands(assembly, [named_joint(design, name) for name in joints])


def _around(design: Design, key: str | None) -> tuple[str, ...]:
    """Give the key of an assembly and of those that it is in, from the inside out."""
    within = {one.key: one.within for one in design.assemblies}
    found: list[str] = []
    while key is not None:
        found.append(key)
        key = within[key]
    return tuple(found)


def _place_of(design: Design) -> Callable[[str], int]:
    keys = [part.key for part in design.parts]
    return keys.index


def _join_kind(design: Design, joints: Sequence[str]) -> StepKind:
    return "glue" if any(named_joint(design, name).glue for name in joints) else "fasten"


def _dry_fit(
    design: Design, assembly: Assembly, rounds: Sequence[Sequence[str]], late: set[str]
) -> tuple[str, ...]:
    """What goes together with glue and can be tried without, but for joints of parts not cut yet."""
    part_of = design.part_of
    return tuple(
        name
        for joints in rounds
        if any(named_joint(design, name).glue for name in joints)
        for name in joints
        if assembly.holds(name) and not any(part_of[copy].key in late for copy in assembly.members((name,)))
    )


def _loose_plans(design: Design, assembly: Assembly, key: str | None) -> list[Plan]:
    """Put in place what is built into an assembly, or into the whole, and no joint or fit holds there."""
    joined = set(assembly.members(assembly.bonds))
    fitted = {copy for fit in design.fits for copy in fit.copies}
    alone = tuple(
        copy
        for copy in design.copies
        if assembly.home(copy) == key and copy not in joined and copy not in fitted
    )
    here = set(assembly.members(name for name in assembly.bonds if assembly.scopes[name] == key))
    loose = [one for one in design.assemblies if one.within == key]
    bodies = [copy for one in loose for copy in one.copies if here.isdisjoint(copy.members)]
    only = len({handled_as(assembly, copy, key) for copy in pieces_within(design, key)}) == 1
    plans = [Plan("other", placed=alone)] if alone and len(design.copies) > 1 else []
    return plans + (
        [Plan("other", brought=tuple(body.name for body in bodies))] if bodies and not only else []
    )


def _measure_plans(design: Design, keys: Sequence[str]) -> list[Plan]:
    if not keys:
        return []
    parts = [design.part(key) for key in keys]
    return [Plan("measure", measured=tuple(keys), made=tuple(keys)), *work_plans(design, parts)]


def _fit_plans(
    design: Design, assembly: Assembly, fitting: _Fitting, stood: Sequence[tuple[str, ...]]
) -> list[Plan]:
    """Place what no joint holds, fit the hardware, stand up what stays loose, finish, and last hang it."""
    plans = _loose_plans(design, assembly, None)
    joined = set(assembly.members(assembly.bonds))
    placed = {copy for plan in plans for copy in plan.placed}
    single = len(design.copies) == 1
    within = {copy for fit in design.fits if home_of(assembly, fit) is not None for copy in fit.copies}
    gone = joined | placed | within
    loose = [] if single else [copy for copy in design.copies if copy not in gone]
    for names in fitting.left(None):
        plans.append(Plan("fit", fits=names, placed=_taken(design, names, loose)))
    plans += [Plan("other", joints=joints) for joints in stood]
    plans.append(Plan("finish", finish=True, placed=tuple(design.copies) if single else ()))
    if hung := hung_fits(design):
        plans.append(Plan("hang", fits=hung, placed=_taken(design, hung, loose)))
    return plans


class _Fitting:
    """The hardware of single pieces on its way onto them: each fit goes on once, when it can."""

    def __init__(self, design: Design, assembly: Assembly) -> None:
        self._design, self._assembly = design, assembly
        self._closed: list[str] = []
        self._fitted: set[str] = set()
        self._mated = mated_fits(design, assembly)
        hung = set(hung_fits(design))
        self._shut = {
            tuple(fit.name for fit in family): pairs
            for family in families(design.fits)
            if family[0].name not in hung and (pairs := closed_in(design, family[0]))
        }

    def before(self, joints: Sequence[str]) -> list[Plan]:
        """Fit, before some joints close, what they would shut off from behind; then note them as closed."""
        self._closed += joints
        group = self._assembly.groups(self._closed)
        due = [
            name
            for names, pairs in self._shut.items()
            if not self._fitted.issuperset(names) and any(group[one] == group[two] for one, two in pairs)
            for name in names
        ]
        self._fitted.update(due)
        return [Plan("fit", fits=tuple(due))] if due else []

    def at_end_of(self, key: str | None, plans: list[Plan], waiting: Collection[str]) -> list[Plan]:
        """Fit at the end of an assembly what goes on its pieces: with what is fastened last, or in a step.

        What works on its like elsewhere goes on with that, as soon as all these pieces are cut:
        ``waiting`` are the keys of parts that are not.
        """
        return [*(self._own(key, plans) if key is not None else plans), *self._pairs(key, waiting)]

    def left(self, key: str | None) -> list[tuple[str, ...]]:
        """Give the fits that are still to go on where an assembly, or the whole, is built, item by item."""
        within = fits_within(self._design, self._assembly, key).values()
        left = [tuple(name for name in names if name not in self._fitted) for names in within]
        pairs = [names for names in self._mated.values() if not self._fitted.issuperset(names)]
        return [names for names in (*left, *(pairs if key is None else ())) if names]

    def _own(self, key: str, plans: list[Plan]) -> list[Plan]:
        names = tuple(name for some in self.left(key) for name in some)
        if not names:
            return plans
        self._fitted.update(names)
        design, assembly = self._design, self._assembly
        joined = set(assembly.members(assembly.bonds))
        loose = [copy for copy in design.copies if assembly.home(copy) == key and copy not in joined]
        fitted = Plan("fit", fits=names, placed=_taken(design, names, loose))
        last = plans[-1]
        # A step that closes joints shows one copy of what is built, and hardware is shown on all of them.
        one = next(built for built in design.assemblies if built.key == key)
        if len(one.copies) > 1:
            return [*plans, fitted]
        if last.kind == "fasten" and assembly.scope(last.joints) == key and not fitted.placed:
            return [*plans[:-1], replace(last, fits=names)]
        return [*plans, fitted]

    def _pairs(self, key: str | None, waiting: Collection[str]) -> list[Plan]:
        plans = []
        for names in self._mated.values():
            fits = fits_named(self._design, names)
            here = key in {home_of(self._assembly, fit) for fit in fits}
            uncut = any(self._design.part_of[copy].key in waiting for fit in fits for copy in fit.copies)
            if here and not uncut and not self._fitted.issuperset(names):
                self._fitted.update(names)
                plans.append(Plan("fit", fits=names))
        return plans


def _taken(design: Design, fits: Sequence[str], loose: list[str]) -> tuple[str, ...]:
    """Take out of the loose copies those that only these fits hold, so that each is placed once."""
    held = {copy for fit in design.fits if fit.name in fits for copy in fit.copies}
    taken = tuple(copy for copy in loose if copy in held)
    loose[:] = [copy for copy in loose if copy not in held]
    return taken
