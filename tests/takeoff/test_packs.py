"""The cheapest packs: by hand, against trying everything, and against a general integer program."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import highspy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.takeoff.packs import cheapest

SIZES = st.lists(
    st.tuples(st.integers(1, 30), st.integers(1, 400)), min_size=1, max_size=4, unique_by=lambda pack: pack[0]
)


def cents(*packs: tuple[int, int]) -> list[tuple[int, Fraction]]:
    return [(size, Fraction(price, 100)) for size, price in packs]


def cost(bought: tuple[tuple[int, int], ...], packs: list[tuple[int, Fraction]]) -> Fraction:
    return sum((dict(packs)[size] * number for size, number in bought), Fraction(0))


@pytest.mark.parametrize(
    ("count", "packs", "bought"),
    [
        (30, [(25, 480), (100, 950)], ((100, 1),)),  # two of 25 are 9.60
        (25, [(25, 480), (100, 950)], ((25, 1),)),
        (120, [(25, 480), (100, 950)], ((100, 1), (25, 1))),  # 14.30; two of 100 are 19.00
        (12, [(10, 300), (4, 130), (1, 50)], ((4, 3),)),  # 3.90; 10 and 2 singles are 4.00, 10 and 4 4.30
        (6, [(3, 200), (6, 400)], ((6, 1),)),  # equal cost: the fewest packs
        (5, [(5, 300), (8, 300)], ((8, 1),)),  # equal cost and number: the most pieces
        (0, [(5, 300)], ()),
    ],
)
def test_by_hand(count, packs, bought) -> None:
    assert cheapest(count, cents(*packs)) == bought


@pytest.mark.parametrize("packs", [[], [(0, 100)], [(5, 100), (-1, 10)]])
def test_no_pack_or_an_empty_one_is_refused(packs) -> None:
    with pytest.raises(ValueError, match="one piece or more"):
        cheapest(3, cents(*packs))


@given(st.integers(0, 40), SIZES)
@settings(max_examples=60, deadline=None)
def test_nothing_costs_less(count: int, sizes: list[tuple[int, int]]) -> None:
    packs = cents(*sizes)
    bought = cheapest(count, packs)
    assert sum(size * number for size, number in bought) >= count
    most = [count // size + 2 for size, _ in packs]
    if len(packs) <= 2 or max(most) < 8:
        tried = (
            sum((price * number for (_, price), number in zip(packs, numbers, strict=True)), Fraction(0))
            for numbers in product(*(range(one) for one in most))
            if sum(size * number for (size, _), number in zip(packs, numbers, strict=True)) >= count
        )
        assert cost(bought, packs) == min(tried)


@pytest.mark.parametrize("count", [7, 61, 137, 412, 1003])
def test_an_integer_program_finds_nothing_cheaper(count: int) -> None:
    """HiGHS as an oracle: the least cost of whole packs that hold the count."""
    sizes = [(12, 215), (25, 410), (60, 890), (200, 2650)]
    solver = highspy.Highs()
    solver.silent()
    numbers = [solver.addIntegral(lb=0, obj=price) for _, price in sizes]
    solver.addConstr(sum(size * number for (size, _), number in zip(sizes, numbers, strict=True)) >= count)
    solver.minimize()
    assert cost(cheapest(count, cents(*sizes)), cents(*sizes)) * 100 == round(
        solver.getInfo().objective_function_value
    )
