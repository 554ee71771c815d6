"""The drafted order of work: mill, cut, work, try dry, join, fit, finish, hang."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from plangen.design.model import Design, Joint, Part
from plangen.sequence.assembly import Assembly, plain_kind
from plangen.sequence.model import StepKind
from plangen.sequence.plan import Plan

# Straight work while the edges are still square, then holes, then shapes that leave nothing square.
_WORK_ORDER: Final = (
    "bevel", "mitre", "half lap", "dado", "groove", "rabbet", "bridle", "finger", "mortise", "round tenon",
    "tenon", "notch", "slot", "pocket", "biscuit slot", "dowel hole", "lead hole", "screw hole", "hole",
    "outline", "curve", "round end", "taper", "edge band", "chamfer", "round over",
)  # fmt: skip
_OTHER_WORK: Final = _WORK_ORDER.index("slot")
_GOES_ON_LAST: Final = frozenset({
    "hinged", "pivoted", "slides", "hung", "rests", "loose", "knock down", "top fastened", "top fastener",
})  # fmt: skip
_WALL_WORDS: Final = ("wall", "anchor")
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
    return tuple(plans)


def _place_of(design: Design):  # type: ignore[no-untyped-def]
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
    return [tuple(items) for _, items in sets]


def joint_rounds(design: Design, assembly: Assembly) -> tuple[tuple[str, ...], ...]:
    """Order the joints so that whatever slides in between goes in while it can.

    Each round is closed in one step. Joints go in the order they are declared, those of parts sized
    from the work and those that hold movable things later, as long as all that is left can still
    come together. Joints that bring in the same pieces close in one round.
    """
    declared = {joint.name: joint for joint in design.joints}
    late = {part.key for part in design.parts if part.from_work}

    def rank(name: str) -> tuple[int, bool, int]:
        joint = declared[name]
        last = 2 if plain_kind(joint.kind) in _GOES_ON_LAST else 1 if joint.apart else 0
        from_work = any(_takes_part(design, assembly, (name,), key) for key in sorted(late))
        return last, from_work, list(declared).index(name)

    left = sorted(declared, key=rank)
    closed: list[str] = []
    rounds: list[tuple[str, ...]] = []
    sound = assembly.comes_together(left, ())
    while left:
        chosen = (
            next((name for name in left if _safe(assembly, (name,), closed, left)), None)
            if sound
            else left[0]
        )
        together = (chosen,) if chosen else _smallest_safe(assembly, closed, left)
        together = _joined_by(design, assembly, together, closed, left, sound)
        rounds.append(together)
        closed += together
        left = [name for name in left if name not in together]
    return tuple(rounds)


def _safe(assembly: Assembly, joints: Sequence[str], closed: Sequence[str], left: Sequence[str]) -> bool:
    """Whether the joints can close now and all others can still close after them."""
    after = [name for name in left if name not in joints]
    return assembly.comes_together(joints, closed) and assembly.comes_together(after, [*closed, *joints])


def _smallest_safe(assembly: Assembly, closed: Sequence[str], left: Sequence[str]) -> tuple[str, ...]:
    """Joints that have to close in one go: pairs first, then everything that is left."""
    for index, one in enumerate(left):
        for two in left[index + 1 :]:
            if _safe(assembly, (one, two), closed, left):
                return (one, two)
    return tuple(left)


def _joined_by(
    design: Design,
    assembly: Assembly,
    joints: tuple[str, ...],
    closed: Sequence[str],
    left: Sequence[str],
    sound: bool,
) -> tuple[str, ...]:
    """Add joints that bring in the same pieces and nothing else."""
    placed = set(assembly.members(closed))
    new = [copy for copy in assembly.members(joints) if copy not in placed]
    gathered = joints
    for name in left:
        if name in gathered or not new:
            continue
        members = assembly.members((name,))
        kin = any(copy in new for copy in members) and all(copy in new or copy in placed for copy in members)
        alike = _goes_last(design, name) == _goes_last(design, gathered[0])
        marks = {design.part_of[copy].mark for copy in {*new, *members} if copy not in placed}
        if (
            kin
            and alike
            and len(marks) <= MOST_LETTERS
            and (not sound or _safe(assembly, (*gathered, name), closed, left))
        ):
            gathered = (*gathered, name)
    return gathered


def _goes_last(design: Design, name: str) -> tuple[bool, bool]:
    joint = _joint(design, name)
    return plain_kind(joint.kind) in _GOES_ON_LAST, joint.apart


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
    """Every glued joint that can be tried, in the order of closing, but for those of parts not cut yet."""
    part_of = design.part_of
    return tuple(
        name
        for joints in rounds
        for name in joints
        if (joint := _joint(design, name)).glue
        and assembly.holds(name)
        and not any(
            part_of[copy].key in late for item in joint.contacts for copy in (item.fixed, item.moving)
        )
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
    alone = tuple(copy for copy in design.copies if copy not in joined)
    if alone and len(design.copies) > 1:
        plans.append(Plan("other", placed=alone))
    by_item: dict[str, list[str]] = {}
    for fit in design.fits:
        by_item.setdefault(fit.hardware.item, []).append(fit.name)
    on_wall = [item for item in by_item if is_wall_hardware(design, item)]
    plans += [Plan("fit", fits=tuple(fits)) for item, fits in by_item.items() if item not in on_wall]
    plans.append(Plan("finish", finish=True, placed=alone if len(design.copies) == 1 else ()))
    hung = tuple(fit for item in on_wall for fit in by_item[item])
    if hung:
        plans.append(Plan("hang", fits=hung))
    return plans


def is_wall_hardware(design: Design, item: str) -> bool:
    """Whether a piece of hardware holds the work to a wall."""
    hardware = design.hardware.get(item)
    words = f"{hardware.kind} {hardware.title} {item}".lower() if hardware else item.lower()
    return any(word in words for word in _WALL_WORDS)
