"""What the proofs of lengths stand on, held against trying everything."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.takeoff.cutting import lengths_fill
from plangen.takeoff.cutting.columns import Column, Master, Prices, Task, choose, floor
from plangen.takeoff.cutting.lengths_exact import search_all
from plangen.takeoff.cutting.lengths_fill import Work, best_fills, coarser, fills_worth
from plangen.takeoff.cutting.lengths_starts import Attainable, Job, mixes_between

ENOUGH = 10**9
often = settings(max_examples=80, deadline=None, derandomize=True)


def every_fill(lengths, most, room):
    """All fills of a room as counts, by trying everything."""
    counts = product(*(range(number + 1) for number in most))
    return [
        each for each in counts if sum(n * length for n, length in zip(each, lengths, strict=True)) <= room
    ]


def counted(fill, items):
    return tuple(dict(fill).get(item, 0) for item in range(items))


@st.composite
def knapsacks(draw):
    items = draw(st.integers(1, 4))
    lengths = [draw(st.integers(3, 40)) for _ in range(items)]
    prices = [draw(st.integers(0, 60)) for _ in range(items)]
    most = [draw(st.integers(0, 3)) for _ in range(items)]
    return lengths, prices, most, draw(st.lists(st.integers(1, 120), min_size=1, max_size=3))


@pytest.mark.parametrize("fine", [20_000, 25])
@often
@given(knapsacks())
def test_the_best_fill(fine, job):
    """Exact by a full table; by a coarse one never under the best, with a fill that fits."""
    lengths, prices, most, rooms = job
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(lengths_fill, "_FINE", fine)
        found = best_fills(lengths, prices, most, rooms, Work(ENOUGH))
    for room, best in zip(rooms, found, strict=True):
        fills = every_fill(lengths, most, room)
        worth = {fill: sum(n * price for n, price in zip(fill, prices, strict=True)) for fill in fills}
        assert worth[counted(best.fill, len(lengths))] == best.worth
        assert best.most >= max(worth.values())
        if fine > max(rooms):
            assert best.most == best.worth


@often
@given(knapsacks())
def test_a_table_too_large_gives_something_above(job):
    lengths, prices, most, rooms = job
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(lengths_fill, "_MOST_CELLS", 0)
        found = best_fills(lengths, prices, most, rooms, Work(ENOUGH))
    for room, best in zip(rooms, found, strict=True):
        worth = [
            sum(n * price for n, price in zip(fill, prices, strict=True))
            for fill in every_fill(lengths, most, room)
        ]
        assert best.worth <= max(worth) <= best.most


@pytest.mark.parametrize("fine", [20_000, 25])
@often
@given(knapsacks(), st.integers(0, 150))
def test_every_full_bar_worth_enough(fine, job, least):
    lengths, prices, most, rooms = job
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(lengths_fill, "_FINE", fine)
        found = fills_worth(lengths, prices, most, rooms[0], least, 10_000, Work(ENOUGH))
    fills = every_fill(lengths, most, rooms[0])
    full = {
        fill
        for fill in fills
        if sum(n * price for n, price in zip(fill, prices, strict=True)) >= least
        and not any(
            fill[item] < most[item]
            and sum(n * length for n, length in zip(fill, lengths, strict=True)) + lengths[item] <= rooms[0]
            for item in range(len(lengths))
        )
        and any(fill)
    }
    assert found is not None
    assert {counted(fill, len(lengths)) for fill in found if fill} == full


@often
@given(
    st.lists(st.integers(3, 9), min_size=1, max_size=4),
    st.integers(2, 40),
    st.integers(0, 6),
    st.lists(st.integers(10, 30), min_size=1, max_size=3),
    st.integers(-5, 5),
)
def test_a_coarser_unit_changes_no_fill(sizes, unit, odd, rooms, over):
    lengths = [size * unit + odd for size in sizes]
    wide = [room * unit + over for room in rooms]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(lengths_fill, "_FEW", 16)
        short, narrow = coarser(lengths, wide)
    most = [4] * len(lengths)
    for room, other in zip(wide, narrow, strict=True):
        assert every_fill(lengths, most, room) == every_fill(short, most, other)


def test_a_kerf_in_inches_needs_no_fine_unit():
    """Pieces in millimetres and a kerf of 1/8 in, counted in fortieths: far fewer rooms tell them apart."""
    lengths = [40 * size + 127 for size in (700, 640, 512, 433)]
    rooms = [40 * 3000 + 127, 40 * 2400 + 127]
    short, narrow = coarser(lengths, rooms)
    assert max(narrow) < max(rooms) // 8
    for room, other in zip(rooms, narrow, strict=True):
        assert every_fill(lengths, [7] * 4, room) == every_fill(short, [7] * 4, other)


@st.composite
def jobs(draw):
    """A few lengths, two kinds of bars, one of them perhaps few."""
    items = draw(st.integers(1, 3))
    lengths = tuple(draw(st.integers(10, 40)) for _ in range(items))
    wanted = tuple(draw(st.integers(1, 2)) for _ in range(items))
    rooms = (draw(st.integers(40, 60)), draw(st.integers(60, 90)))
    task = Task(
        wanted, (draw(st.integers(3, 9)), draw(st.integers(6, 14))), (draw(st.sampled_from([None, 1])), None)
    )
    return Job(task, lengths, rooms, ((True,) * items,) * 2)


def optimum(job):
    """The least cost, by trying everything: the cheapest way to take each number of pieces."""
    fills = [
        (kind, fill)
        for kind in job.kinds
        for fill in every_fill(job.lengths, job.task.wanted, job.rooms[kind])
        if any(fill)
    ]
    best = {((0,) * len(job.lengths), 0): 0}
    for _ in range(sum(job.task.wanted)):
        for (have, few), cost in list(best.items()):
            for kind, fill in fills:
                used = few + (kind == 0)
                if job.task.available[0] is not None and used > 1:
                    continue
                key = (
                    tuple(min(a + b, w) for a, b, w in zip(have, fill, job.task.wanted, strict=True)),
                    used if job.task.available[0] is not None else 0,
                )
                best[key] = min(best.get(key, ENOUGH), cost + job.task.costs[kind])
    return min(cost for (have, _), cost in best.items() if have == job.task.wanted)


@often
@given(jobs(), st.lists(st.integers(0, 8), min_size=3, max_size=3))
def test_a_floor_is_true_at_any_prices(job, guesses):
    """Even prices that no solver would give prove nothing false."""
    items = tuple(guess * job.task.scale for guess in guesses[: len(job.lengths)])
    best = best_fills(job.lengths, items, job.task.wanted, job.rooms, Work(ENOUGH))
    assert floor(job.task, Prices(items, (0, 0)), [one.most for one in best]) <= optimum(job)


@often
@given(jobs())
def test_all_columns_searched_are_the_optimum(job):
    """The integer program and the search that leaves nothing out agree with trying everything."""
    columns = [
        Column(kind, tuple((item, n) for item, n in enumerate(fill) if n))
        for kind in job.kinds
        for fill in every_fill(job.lengths, job.task.wanted, job.rooms[kind])
        if any(fill)
    ]
    cost = optimum(job)
    reach = Attainable(job, 200, Work(ENOUGH))
    assert reach.at_least(Fraction(cost)) == cost
    searched = search_all(job.task, columns, 200, reach.at_least, Work(ENOUGH))
    assert searched.proved
    assert searched.taken is not None
    assert job.task.cost(searched.taken) == cost
    nothing = search_all(job.task, columns, cost, reach.at_least, Work(ENOUGH))
    assert (nothing.taken, nothing.proved) == (None, True)
    chosen = choose(job.task, columns, 200, 1000)
    assert chosen is not None
    assert job.task.cost(chosen) == cost
    assert not any(job.task.left(chosen).wanted)
    master = Master(job.task, 500)
    for column in columns:
        master.add(column)
    assert master.solve().cost <= cost + 1e-6


@often
@given(jobs(), st.integers(0, 30), st.integers(1, 30))
def test_numbers_of_bars_by_cost(job, low, more):
    high = low + more
    need = sum(length * number for length, number in zip(job.lengths, job.task.wanted, strict=True))
    some = range(sum(job.task.wanted) + 1)
    wanted = sorted(
        (one * job.task.costs[0] + two * job.task.costs[1], (one, two))
        for one in some
        for two in some
        if low <= one * job.task.costs[0] + two * job.task.costs[1] < high
        and one * job.rooms[0] + two * job.rooms[1] >= need
        and (job.task.available[0] is None or one <= 1)
    )
    assert mixes_between(job, low, high, 1000) == wanted
    assert mixes_between(job, low, high, 2) == wanted[:2]
