"""Choose among all good fillings that a search came by: sheets from different plans join to a better one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from math import lcm
from typing import TypeAlias

from plangen.takeoff.cutting.columns import Column, Master, Task, choose
from plangen.takeoff.cutting.opening import Opening
from plangen.takeoff.cutting.recreate import Work, units_on, without
from plangen.takeoff.cutting.tree import Sheet

Found: TypeAlias = Mapping[tuple[int, tuple[int, ...]], Sheet]

_PRICED = 4000  # fillings that the linear problem sees: the fullest
_CHOSEN = 250  # fillings that the integer program chooses among
_NODES = 30


def joined(work: Work, best: Opening, found: Found) -> Opening | None:
    """Give a cheaper plan made of fillings found on the way, or None.

    A filling is left out when the prices of the linear problem show that no cheaper plan takes it.
    """
    unit = lcm(*(panel.cost.denominator for panel in work.panels))
    costs = tuple(int(panel.cost * unit) for panel in work.panels)
    counts = Counter(work.wanted)
    items = sorted(counts)
    at = {item: index for index, item in enumerate(items)}
    task = Task(tuple(counts[item] for item in items), costs, tuple(panel.available for panel in work.panels))
    sheets: dict[Column, Sheet] = {}
    order = sorted(found, key=lambda key: (-sum([work.areas[item] for item in key[1]]), key))
    for sheet in (*best.sheets, *(found[key] for key in order[:_PRICED])):
        gives = sorted(Counter(units_on(work, sheet)).items())
        column = Column(sheet.ground.kind, tuple((at[item], number) for item, number in gives))
        sheets.setdefault(column, sheet)
    under = int(best.cost * unit)
    master = Master(task, under + 1)
    for column in sheets:
        master.add(column)
    relaxed = master.solve()
    step = _step(costs)
    if relaxed.cost > under - step + 1e-6 * under:
        return None
    scale = task.scale
    spare = (under - step - relaxed.cost) * scale + scale * 1e-6 * under
    reduced = [
        (
            costs[column.kind] * scale + relaxed.prices.kinds[column.kind] - relaxed.prices.worth(column),
            column,
        )
        for column in sheets
    ]
    hopeful = sorted(
        (entry for entry in reduced if entry[0] <= spare),
        key=lambda entry: (entry[0], entry[1].kind, entry[1].gives),
    )
    taken = choose(task, [column for _, column in hopeful[:_CHOSEN]], under, _NODES)
    if taken is None:
        return None
    return _exact(work, [sheets[column] for column, times in taken for _ in range(times)])


def _step(costs: Sequence[int]) -> int:
    """Give by how much a plan must be cheaper at least: one sheet where all cost the same."""
    paid = sorted({cost for cost in costs if cost})
    return paid[0] if len(paid) == 1 else 1


def _exact(work: Work, sheets: Sequence[Sheet]) -> Opening:
    """Take off what is there more often than wanted."""
    left = Counter(work.wanted)
    kept = []
    for sheet in sheets:
        surplus: Counter[int] = Counter()
        for unit in units_on(work, sheet):
            if left[unit]:
                left[unit] -= 1
            else:
                surplus[unit] += 1
        bare = without(work, sheet, surplus) if surplus else sheet.copy()
        if bare.bands:
            kept.append(bare)
    return Opening(tuple(kept), ())
