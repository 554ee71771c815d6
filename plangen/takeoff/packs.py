"""Which boxes to buy: of several sizes with prices, the cheapest that hold enough."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction


def cheapest(count: int, packs: Sequence[tuple[int, Fraction]]) -> tuple[tuple[int, int], ...]:
    """Give how many packs of each size to buy, large ones first, so that they hold ``count`` pieces or more.

    ``packs`` are pieces and price. No choice costs less; of those that cost the same it is the one with the
    fewest packs, then the one with the most pieces. Proven by trying every size for every count, so the
    work is ``count`` × ``len(packs)``. Raises ValueError where there is no pack, or an empty one.
    """
    if not packs or any(size < 1 for size, _ in packs):
        raise ValueError("packs hold one piece or more")
    sizes = sorted(packs, key=lambda pack: (-pack[0], pack[1]))
    best: list[tuple[Fraction, int, int]] = [(Fraction(0), 0, 0)]  # cost, packs, pieces with a minus
    last: list[int] = [0]
    for wanted in range(1, count + 1):
        choices = []
        for size, price in sizes:
            cost, number, pieces = best[max(0, wanted - size)]
            choices.append((cost + price, number + 1, pieces - size))
        chosen = min(range(len(sizes)), key=choices.__getitem__)
        best.append(choices[chosen])
        last.append(chosen)
    numbers: dict[int, int] = {}
    left = count
    while left > 0:
        size = sizes[last[left]][0]
        numbers[size] = numbers.get(size, 0) + 1
        left -= size
    return tuple(sorted(numbers.items(), reverse=True))
