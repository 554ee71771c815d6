"""The work on single pieces in steps: one for each set-up in the shop, as full as a picture can hold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from plangen.design.model import Design, Part
from plangen.joinery.operation import Group, Operation
from plangen.joinery.ranks import work_group, work_rank
from plangen.sequence.boards import is_trimmed
from plangen.sequence.plan import Plan
from plangen.sequence.tokens import phrase_text
from plangen.sequence.trade import heading_of
from plangen.sequence.words import work_sayings

MOST_MARKS: Final = 10  # different pieces in one picture
MOST_SAYINGS: Final = 16  # instructions in one step
MOST_HEADINGS: Final = 2  # kinds of work in one step that a heading has to name each with its own verb;
# edges are named together, however they are worked
MOST_CUT: Final = 14  # parts cut in one step

Worked = tuple[str, int]


def stock_plans(design: Design, early: Sequence[Part], late: set[str]) -> list[Plan]:
    """Mill the solid stock, glue up what is wider or thicker than it, then cut what can be cut now.

    What is trimmed to its size as it is glued up is cut by that.
    """
    solid = [name for name, stock in design.stock.items() if stock.kind == "solid"]
    milled = tuple(part.key for name in solid for part in design.parts if part.stock == name)
    plans = [Plan("mill", milled=milled)] if milled else []
    glued = tuple(part.key for name in design.stock for part in design.parts
                  if part.stock == name and part.glue_up)  # fmt: skip
    trimmed = tuple(part.key for part in early if part.key in glued and is_trimmed(part))
    if glued:
        plans.append(Plan("glue", panels=glued, made=trimmed))
    cuts: list[tuple[str, tuple[str, ...]]] = []
    for name, stock in design.stock.items():
        made = tuple(part.key for part in early if part.stock == name and part.key not in trimmed)
        if not made:
            continue
        if cuts and cuts[-1][0] == stock.kind and len(cuts[-1][1]) + len(made) <= MOST_CUT:
            cuts[-1] = (stock.kind, (*cuts[-1][1], *made))
        else:
            cuts.append((stock.kind, made))
    return [*plans, *(Plan("cut", made=made) for _, made in cuts)]


@dataclass(slots=True)
class _SetUp:
    """Work that may go into one step; ``machine`` is what its first tool is."""

    group: Group
    machine: str
    worked: list[Worked] = field(default_factory=list)


def work_plans(design: Design, parts: Sequence[Part]) -> list[Plan]:
    """Give the plans that work some parts, in the trade's order.

    What fits into each other, and a mirror pair, is always worked in one step. Beside it stands in the
    step what the same machine does in the same group of work, and whatever shapes edges, until the step
    has as many pieces and instructions as can be taken in.
    """
    kinds: dict[tuple[int, str], list[tuple[Part, int]]] = {}
    for part in parts:
        for index, operation in enumerate(part.operations):
            kinds.setdefault((work_rank(operation), operation.kind), []).append((part, index))
    found = list(kinds)
    set_ups: list[_SetUp] = []
    for kind in sorted(found, key=lambda kind: (kind[0], found.index(kind))):
        for worked in _sharing(kinds[kind]):
            first = design.part(worked[0][0]).operations[worked[0][1]]
            new = _SetUp(work_group(first), _machine(first), worked)
            there = next((one for one in set_ups if _may_join(design, one, new)), None)
            if there is None:
                set_ups.append(new)
            else:
                there.worked += worked
    return [Plan("work", worked=tuple(one.worked)) for one in set_ups]


def _machine(operation: Operation) -> str:
    """Give what the first tool of an operation is: ``drill`` of ``Drill, 1/8 in bit``."""
    tool = phrase_text(operation.tools[0]) if operation.tools else operation.kind
    return tool.partition(",")[0].partition(" ")[0].lower()


def _may_join(design: Design, there: _SetUp, new: _SetUp) -> bool:
    if there.group is not new.group or (there.machine != new.machine and new.group is not Group.EDGES):
        return False
    worked = [*there.worked, *new.worked]
    if len({design.part(key).mark or key for key, _ in worked}) > MOST_MARKS:
        return False
    headings = {heading_of(design.part(key).operations[index]) for key, index in worked}
    few = len(headings) <= MOST_HEADINGS or new.group is Group.EDGES
    return few and _sayings(design, worked) <= MOST_SAYINGS


def _sayings(design: Design, worked: Sequence[Worked]) -> int:
    """Count the instructions; parts that are worked alike share theirs."""
    by_part: dict[str, list[int]] = {}
    for key, index in worked:
        by_part.setdefault(key, []).append(index)
    said = {
        work_sayings(design.part(key), [design.part(key).operations[index] for index in indices])
        for key, indices in by_part.items()
    }
    return sum(len(some) for some in said)


def _sharing(worked: Sequence[tuple[Part, int]]) -> list[list[Worked]]:
    """Divide work of one kind by the parts that share a set-up: a mirror pair, or those of one joint."""
    sets: list[tuple[set[str], list[Worked]]] = []
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
    return [items for _, items in sets]
