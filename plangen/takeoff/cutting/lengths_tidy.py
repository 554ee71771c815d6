"""Make a plan of lengths pleasant at the same cost: the stop set less often, a longer off-cut."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations_with_replacement
from typing import TypeAlias

from plangen.takeoff.cutting.columns import Column
from plangen.takeoff.cutting.lengths_fill import Fill, Work, best_fills
from plangen.takeoff.cutting.lengths_starts import Job, Taken
from plangen.takeoff.cutting.model import Aim

_Bars: TypeAlias = Counter[Column]
_TRIAL = 100_000  # work of comparing two plans, for each way in which bars are cut


def tidied(job: Job, taken: Taken, prefer: Sequence[Aim], work: Work) -> Taken:
    """Share out anew what two bars hold, again and again, and keep what is better and costs no more.

    Bars that are cut alike are cut one after another, so that a stop is set once for all of them: what
    counts is the number of lengths on each bar that differs, added up. Beside it counts the longest single
    off-cut; ``prefer`` says which of the two goes first.
    """
    bars: _Bars = Counter()
    for column, times in taken:
        bars[column] += times
    score = _score(job, bars, prefer)
    improved = True
    while improved and not work.spent:
        improved = False
        for trial in _neighbours(job, bars, work):
            reached = _score(job, trial, prefer)
            if reached < score:
                bars, score, improved = trial, reached, True
                break
            if work.spent:
                break
    return sorted(bars.items(), key=lambda entry: (entry[0].kind, entry[0].gives))


def _score(job: Job, bars: _Bars, prefer: Sequence[Aim]) -> tuple[int, ...]:
    """Give what is to be small, the most important first."""
    settings = sum(len(column.gives) for column in bars)
    longest = max(job.rooms[column.kind] - _used(job, column.gives) for column in bars)
    measures: dict[Aim, int] = {"settings": settings, "off-cut": -longest}
    order = sorted(measures, key=lambda aim: prefer.index(aim) if aim in prefer else len(prefer))
    cost = sum(job.task.costs[column.kind] * times for column, times in bars.items())
    return (cost, *(measures[aim] for aim in order))


def _used(job: Job, fill: Fill) -> int:
    return sum(job.lengths[item] * number for item, number in fill)


def _neighbours(job: Job, bars: _Bars, work: Work) -> Iterator[_Bars]:
    """Give plans in which one pair of bars, or all pairs that are like it, hold other things."""
    known = sorted(bars, key=lambda column: (_used(job, column.gives), column.kind, column.gives))
    for one, other in combinations_with_replacement(known, 2):
        pairs = bars[one] // 2 if one == other else min(bars[one], bars[other])
        if not pairs:
            continue
        seen = {(one, other), (other, one)}
        for split in _splits(job, one, other, known, work):
            if split in seen:
                continue
            seen.add(split)
            for times in sorted({1, pairs}):
                work.spend(_TRIAL + 100 * len(bars))
                trial = bars.copy()
                trial.subtract({one: 2 * times} if one == other else {one: times, other: times})
                for column in split:
                    if column.gives:
                        trial[column] += times
                yield +trial


def _splits(
    job: Job, one: Column, other: Column, known: Sequence[Column], work: Work
) -> Iterator[tuple[Column, Column]]:
    """Give ways to share what two bars hold between them."""
    pool = Counter(dict(one.gives))
    pool.update(dict(other.gives))
    for kind, second in ((one.kind, other.kind), (other.kind, one.kind)):
        for fill in _firsts(job, kind, pool, known, work):
            rest = tuple(sorted((pool - Counter(dict(fill))).items()))
            if job.holds(second, rest):
                yield Column(kind, fill), Column(second, rest)


def _firsts(job: Job, kind: int, pool: Counter[int], known: Sequence[Column], work: Work) -> Iterator[Fill]:
    """Give fills of one bar out of a pool: as another bar is cut, by length, as full as can be."""
    for column in known:
        if column.kind == kind and all(number <= pool[item] for item, number in column.gives):
            yield column.gives
    order = sorted(
        (item for item in pool if job.fits[kind][item]), key=lambda item: (-job.lengths[item], item)
    )
    for items in (order, order[::-1]):
        room, fill = job.rooms[kind], []
        for item in items:
            number = min(pool[item], room // job.lengths[item])
            room -= number * job.lengths[item]
            if number:
                fill.append((item, number))
        yield tuple(sorted(fill))
    lengths = [job.lengths[item] for item in order]
    if lengths:
        (best,) = best_fills(lengths, lengths, [pool[item] for item in order], [job.rooms[kind]], work)
        yield tuple(sorted((order[at], number) for at, number in best.fill))
