"""Leaders to small pieces and the numbers of cuts stand clear of each other above a board."""

from __future__ import annotations

from itertools import combinations, pairwise

from hypothesis import example, given
from hypothesis import strategies as st

from plangen.drawing.cutting_callouts import AIR, APART, NEAR, above
from plangen.drawing.cutting_marks import DISC

ROOM = 180.0


def test_a_leader_with_room_stands_in_the_middle_of_its_piece() -> None:
    found = above([2.0, 40.0], [(4.0, 38.0)], 0.0, ROOM)
    assert found.feet == found.slots == (21.0,)
    assert found.discs == (DISC, 40.0)


def test_small_pieces_above_each_other_have_leaders_of_their_own() -> None:
    """Three strips of one crosscut, so short that the numbers of the cuts fill all the room above them."""
    found = above([2.0, 7.5], [(2.4, 7.1)] * 3, 0.0, ROOM)
    for one, two in combinations(found.feet, 2):
        assert abs(one - two) >= NEAR
    _in_order(found.discs, found.slots)


@given(
    st.lists(st.floats(4.0, 30.0), min_size=1, max_size=6),
    st.lists(st.integers(1, 3), min_size=6, max_size=6),
)
@example([4.0] * 5, [1, 1, 1, 2, 3, 1])
def test_nothing_above_a_board_crosses(lengths: list[float], strips: list[int]) -> None:
    cuts, pieces, at = [2.0], [], 2.0
    for length, number in zip(lengths, strips, strict=False):
        pieces += [(at + 0.4, at + length - 0.4)] * number
        at += length
        cuts.append(at)
    found = above(cuts, pieces, 0.0, 250.0)
    for foot, (low, high) in zip(found.feet, pieces, strict=True):
        assert low - 1e-6 <= foot <= high + 1e-6
    assert min((abs(a - b) for a, b in combinations(found.feet, 2)), default=APART) >= NEAR - 1e-6
    _in_order(found.discs, found.slots)
    below = [*cuts, *found.feet]
    there = [*found.discs, *found.slots]
    order = sorted(range(len(below)), key=lambda index: below[index])
    assert all(there[a] <= there[b] + 1e-6 for a, b in pairwise(order))


def _in_order(discs: tuple[float, ...], slots: tuple[float, ...]) -> None:
    """Numbers are clear of numbers and of leaders."""
    assert all(b - a >= 2 * DISC + AIR - 1e-6 for a, b in pairwise(discs))
    assert all(abs(slot - disc) >= DISC + AIR - 1e-6 for slot in slots for disc in discs)
