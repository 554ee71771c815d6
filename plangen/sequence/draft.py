"""The drafted order of work: mill, cut, work, try dry, join, fit, finish, hang."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from plangen.design.model import Design, Joint, Part
from plangen.sequence.assembly import Assembly, plain_kind
from plangen.sequence.model import StepKind
from plangen.sequence.plan import Plan
from plangen.sequence.resting import close_quietly, is_resting, quiet_joints

# Straight work while the edges are still square, then holes, then shapes that leave nothing square.
_WORK_ORDER: Final = (
    "bevel", "mitre", "half lap", "dado", "groove", "rabbet", "bridle", "finger", "mortise", "round tenon",
    "tenon", "notch", "slot", "pocket", "biscuit slot", "dowel hole", "lead hole", "screw hole", "hole",
    "outline", "curve", "round end", "taper", "edge band", "chamfer", "round over",
)  # fmt: skip
_OTHER_WORK: Final = _WORK_ORDER.index("slot")
_GOES_ON_LAST: Final = frozenset({
    "hinged", "pivoted", "slides", "hung", "loose", "knock down", "top fastened", "top fastener",
})  # fmt: skip
_WALL_WORDS: Final = ("wall", "anchor")
MOST_TRIES: Final = 6  # joints from which the fewest that must close together are looked for
MOST_LETTERS: Final = 4  # new marks in one step, so that the eye can hold them


def draft(design: Design, assembly: Assembly) -> tuple[Plan, ...]:
    """Draft the whole order of work of a design; what it covers is complete and each thing covered once."""
    late = {part.key for part in design.parts if part.from_work}
    early = [part for part in design.parts if part.key not in late]
    plans = [*_stock_plans(design, early, late), *_work_plans(design, early)]
    rounds = joint_rounds(design, assembly)
    dry = _dry_fit(design, assembly, rounds, late)
    if dry:
        plans.append(Plan("dry fit", dry=dry))
    waiting = set(late)
    for joints in rounds:
        needed = [key for key in late if key in waiting and _takes_part(design, assembly, joints, key)]
        plans += _measure_plans(design, sorted(needed, key=_place_of(design)))
        waiting -= set(needed)
        plans.append(Plan(_join_kind(design, joints), joints=joints))
    plans += _measure_plans(design, sorted(waiting, key=_place_of(design)))
    plans += _fit_plans(design, assembly)
    return close_quietly(assembly, plans, quiet_joints(design, assembly))


def _place_of(design: Design) -> Callable[[str], int]:
    keys = [part.key for part in design.parts]
    return keys.index


def _stock_plans(design: Design, early: Sequence[Part], late: set[str]) -> list[Plan]:
    """Mill every solid stock, glue up what is wider or thicker than it, then cut what can be cut now."""
    plans = []
    for name, stock in design.stock.items():
        of_stock = tuple(part.key for part in design.parts if part.stock == name)
        if of_stock and stock.kind == "solid":
            plans.append(Plan("mill", milled=of_stock))
    for name in design.stock:
        glued = tuple(part.key for part in design.parts if part.stock == name and part.glue_up)
        if glued:
            plans.append(Plan("glue", panels=glued))
    for name in design.stock:
        made = tuple(part.key for part in early if part.stock == name)
        if made:
            plans.append(Plan("cut", made=made))
    return plans


def work_rank(kind: str) -> int:
    """Where a kind of operation stands in the order of work."""
    plain = plain_kind(kind)
    if plain in _WORK_ORDER:
        return _WORK_ORDER.index(plain)
    return _WORK_ORDER.index("hole") if plain.endswith(("hole", "holes")) else _OTHER_WORK


def _work_plans(design: Design, parts: Sequence[Part]) -> list[Plan]:
    """One plan for each kind of operation and each set of parts that share its set-up.

    Parts share a set-up when they are a mirror pair or one joint has them both worked.
    """
    kinds: dict[str, list[tuple[Part, int]]] = {}
    for part in parts:
        for index, operation in enumerate(part.operations):
            kinds.setdefault(operation.kind, []).append((part, index))
    plans = []
    for kind in sorted(kinds, key=lambda kind: (work_rank(kind), list(kinds).index(kind))):
        plans += [Plan("work", worked=worked) for worked in _sharing(kinds[kind])]
    return plans


def _sharing(worked: Sequence[tuple[Part, int]]) -> list[tuple[tuple[str, int], ...]]:
    sets: list[tuple[set[str], list[tuple[str, int]]]] = []
    for part, index in worked:
        joint = part.operations[index].joint
        marks = {f"part {part.key}"} | ({f"joint {joint}"} if joint else set())
        if part.mirror:
            marks.add(f"part {part.mirror}")
        together = [item for item in sets if item[0] & marks]
        for item in together:
            sets.remove(item)
        items = [pair for item in together for pair in item[1]]
        sets.append((marks.union(*(item[0] for item in together)), [*items, (part.key, index)]))
    return _with_one_set_up(worked, [items for _, items in sets])


def _with_one_set_up(
    worked: Sequence[tuple[Part, int]], sets: Sequence[list[tuple[str, int]]]
) -> list[tuple[tuple[str, int], ...]]:
    """Join sets that take the very same tools, as long as the step does not get too many marks."""
    parts = {part.key: part for part, _ in worked}
    merged: list[list[tuple[str, int]]] = []
    for items in sets:
        tools = {parts[key].operations[index].tools for key, index in items}
        for other in merged:
            both = [*other, *items]
            same = {parts[key].operations[index].tools for key, index in other} == tools
            if same and len({parts[key].mark for key, _ in both}) <= MOST_LETTERS:
                other += items
                break
        else:
            merged.append(list(items))
    return [tuple(items) for items in merged]


def joint_rounds(design: Design, assembly: Assembly) -> tuple[tuple[str, ...], ...]:
    """Order the joints so that whatever slides in between goes in while it can.

    Each round is closed in one step. Joints go in the order they are declared, those of parts sized
    from the work and those that hold movable things later, what only rests last, as long as all that is
    left can still come together. Joints that bring in the same pieces close in one round. Quiet joints,
    whose pieces rest on each other once others are closed, are in no round.
    """
    quiet = quiet_joints(design, assembly)
    declared = {joint.name: joint for joint in design.joints if joint.name not in quiet}
    late = {part.key for part in design.parts if part.from_work}

    def stage(name: str) -> int:
        joint = declared[name]
        last = 2 if plain_kind(joint.kind) in _GOES_ON_LAST else 1 if joint.apart else 0
        return 3 if is_resting(joint) else last

    def rank(name: str) -> tuple[int, bool, int]:
        from_work = any(_takes_part(design, assembly, (name,), key) for key in sorted(late))
        return stage(name), from_work, list(declared).index(name)

    left = sorted(declared, key=rank)
    closed: list[str] = []
    rounds: list[tuple[str, ...]] = []
    sound = assembly.comes_together(left, ())
    while left:
        first = [name for name in left if stage(name) == stage(left[0])]
        together = _next_round(assembly, closed, left, first) if sound else (left[0],)
        together = _joined_by(design, assembly, together, closed, left, sound)
        rounds.append(together)
        closed += together
        left = [name for name in left if name not in together]
    return tuple(rounds)


def _safe(assembly: Assembly, joints: Sequence[str], closed: Sequence[str], left: Sequence[str]) -> bool:
    """Whether the joints can close now and all others can still close after them."""
    after = [name for name in left if name not in joints]
    return assembly.comes_together(joints, closed) and assembly.comes_together(after, [*closed, *joints])


def _next_round(
    assembly: Assembly, closed: Sequence[str], left: Sequence[str], first: Sequence[str]
) -> tuple[str, ...]:
    """Give the first joint that can close by itself, or else the fewest that have to close in one go.

    ``first`` are those of ``left`` whose turn it is.
    """
    ripe = [name for name in first if not _too_soon(assembly, name, closed, left)] or list(first)
    for name in ripe:
        if _safe(assembly, (name,), closed, left):
            return (name,)
    found: list[tuple[str, ...]] = []
    for name in ripe:
        if len(found) < MOST_TRIES and all(name not in some for some in found):
            found.append(_fewest(assembly, name, closed, left))
    return min(found, key=len)


def _too_soon(assembly: Assembly, name: str, closed: Sequence[str], left: Sequence[str]) -> bool:
    """Whether a joint would lay pieces together that still have to go into other pieces, and not the same.

    Two single pieces that go into the same pieces later may be joined first, as a small assembly.
    """
    if assembly.holds(name):
        return False
    group = assembly.groups(closed)
    merged = {group[copy] for copy in assembly.members((name,))}
    touched = [copy for copy in group if group[copy] in merged]
    partners: dict[str, set[str]] = {copy: set() for copy in touched}
    for other in left:
        for bond in assembly.bonds[other]:
            if not bond.lying:
                for one, two in ((bond.fixed, bond.moving), (bond.moving, bond.fixed)):
                    if one in partners:
                        partners[one].add(two)
    waiting = [others for others in partners.values() if others]
    if len(touched) > len(merged):
        return bool(waiting)
    return any(one.isdisjoint(two) for one in waiting for two in waiting)


def _fewest(assembly: Assembly, first: str, closed: Sequence[str], left: Sequence[str]) -> tuple[str, ...]:
    """Grow a set from one joint, adding what holds whatever has no way in; then drop what is not needed."""
    some = [first]
    while len(some) < len(left):
        rest = [name for name in left if name not in some]
        held = set(assembly.stuck(some, closed) or assembly.stuck(rest, [*closed, *some]))
        if not held:
            break
        holding = (name for name in rest if len(held.intersection(assembly.members((name,)))) > 1)
        some.append(next(holding, rest[0]))
    for name in some[:0:-1]:
        fewer = [other for other in some if other != name]
        if _safe(assembly, fewer, closed, left):
            some = fewer
    return tuple(name for name in left if name in some)


def _joined_by(
    design: Design,
    assembly: Assembly,
    joints: tuple[str, ...],
    closed: Sequence[str],
    left: Sequence[str],
    sound: bool,
) -> tuple[str, ...]:
    """Add the joints whose pieces come to touch when the others close: their glue has to be on by then."""
    group = assembly.groups(closed)
    merged = {group[copy] for copy in assembly.members(joints)}
    gathered = joints
    for name in left:
        met = [group[copy] for copy in assembly.members((name,))]
        comes = name not in gathered and merged.issuperset(met) and len(set(met)) > 1
        alike = _goes_last(design, name) == _goes_last(design, joints[0])
        if comes and alike and (not sound or _safe(assembly, (*gathered, name), closed, left)):
            gathered = (*gathered, name)
    return gathered


def _goes_last(design: Design, name: str) -> tuple[bool, bool]:
    joint = _joint(design, name)
    return plain_kind(joint.kind) in _GOES_ON_LAST or is_resting(joint), joint.apart


def _joint(design: Design, name: str) -> Joint:
    return next(joint for joint in design.joints if joint.name == name)


def _join_kind(design: Design, joints: Sequence[str]) -> StepKind:
    some = [_joint(design, name) for name in joints]
    if any(joint.glue for joint in some):
        return "glue"
    return "hang" if any(plain_kind(joint.kind) == "hung" for joint in some) else "fasten"


def _takes_part(design: Design, assembly: Assembly, joints: Sequence[str], key: str) -> bool:
    return any(design.part_of[copy].key == key for copy in assembly.members(joints))


def _dry_fit(
    design: Design, assembly: Assembly, rounds: Sequence[Sequence[str]], late: set[str]
) -> tuple[str, ...]:
    """What goes together with glue and can be tried without, but for joints of parts not cut yet."""
    part_of = design.part_of
    return tuple(
        name
        for joints in rounds
        if any(_joint(design, name).glue for name in joints)
        for name in joints
        if assembly.holds(name) and not any(part_of[copy].key in late for copy in assembly.members((name,)))
    )


def _measure_plans(design: Design, keys: Sequence[str]) -> list[Plan]:
    if not keys:
        return []
    parts = [design.part(key) for key in keys]
    return [Plan("measure", measured=tuple(keys), made=tuple(keys)), *_work_plans(design, parts)]


def _fit_plans(design: Design, assembly: Assembly) -> list[Plan]:
    """Place what no joint holds, fit the hardware, finish, and last hang it on the wall."""
    plans = []
    joined = set(assembly.members(assembly.bonds))
    fitted = {copy for fit in design.fits for copy in fit.copies}
    single = len(design.copies) == 1
    loose = [] if single else [copy for copy in design.copies if copy not in joined]
    alone = tuple(copy for copy in loose if copy not in fitted)
    if alone:
        plans.append(Plan("other", placed=alone))
    by_item: dict[str, list[str]] = {}
    for fit in design.fits:
        by_item.setdefault(fit.hardware.item, []).append(fit.name)
    on_wall = [item for item in by_item if is_wall_hardware(design, item)]
    for item, names in by_item.items():
        if item not in on_wall:
            plans.append(Plan("fit", fits=tuple(names), placed=_taken(design, names, loose)))
    plans.append(Plan("finish", finish=True, placed=tuple(design.copies) if single else ()))
    hung = tuple(fit for item in on_wall for fit in by_item[item])
    if hung:
        plans.append(Plan("hang", fits=hung, placed=_taken(design, hung, loose)))
    return plans


def _taken(design: Design, fits: Sequence[str], loose: list[str]) -> tuple[str, ...]:
    """Take out of the loose copies those that only these fits hold, so that each is placed once."""
    held = {copy for fit in design.fits if fit.name in fits for copy in fit.copies}
    taken = tuple(copy for copy in loose if copy in held)
    loose[:] = [copy for copy in loose if copy not in held]
    return taken


def is_wall_hardware(design: Design, item: str) -> bool:
    """Whether a piece of hardware holds the work to a wall."""
    hardware = design.hardware.get(item)
    words = f"{hardware.kind} {hardware.title} {item}".lower() if hardware else item.lower()
    return any(word in words for word in _WALL_WORDS)
