"""Jobs as a workshop has them, made by chance: cabinets, bookcases, desks, cut from sheets of common sizes.

Sizes, prices and rules are invented (common practice, no source). The same seed gives the same jobs on
every machine: the numbers come from SplitMix64 (G. L. Steele, D. Lea and C. H. Flood, "Fast splittable
pseudorandom number generators", 2014).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from plangen.takeoff.cutting import Margins, Panel, Piece, Sawing

_MASK = (1 << 64) - 1
Part = tuple[str, int, int, int, bool]  # name, length, width, number, grain along the length


class Dice:
    def __init__(self, seed: int) -> None:
        self.state = seed & _MASK

    def roll(self) -> int:
        self.state = (self.state + 0x9E3779B97F4A7C15) & _MASK
        mixed = self.state
        mixed = ((mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9) & _MASK
        mixed = ((mixed ^ (mixed >> 27)) * 0x94D049BB133111EB) & _MASK
        return mixed ^ (mixed >> 31)

    def size(self, low: int, high: int, step: int = 1) -> int:
        return low + step * (self.roll() % ((high - low) // step + 1))

    def pick(self, among: Sequence[Any]) -> Any:
        return among[self.roll() % len(among)]

    def chance(self, percent: int) -> bool:
        return self.roll() % 100 < percent


@dataclass(frozen=True)
class Job:
    """What is to be cut, from what, and how the shop saws; lengths in mm or in 1/32 in."""

    name: str
    pieces: list[Piece]
    sheets: list[Panel]
    sawing: Sawing


def bookcase(dice: Dice) -> list[Part]:
    high, wide, deep = dice.size(900, 2100, 50), dice.size(500, 1000, 20), dice.size(220, 340, 10)
    shelves = max(2, high // dice.size(300, 400, 10))
    return [
        ("side", high, deep, 2, True),
        ("top/bottom", wide - 36, deep, 2, True),
        ("shelf", wide - 38, deep - 12, shelves, True),
        ("plinth", wide - 36, 80, 1, True),
    ]


def base_cabinet(dice: Dice) -> list[Part]:
    wide, deep, high = dice.pick([300, 400, 450, 500, 600, 800, 900]), dice.pick([550, 560, 580]), 720
    parts = [
        ("cabinet side", high, deep, 2, True),
        ("cabinet bottom", wide - 36, deep, 1, True),
        ("rail", wide - 36, 100, 2, False),
        ("cabinet shelf", wide - 38, deep - 30, dice.size(1, 2), False),
    ]
    doors = 2 if wide >= 600 else 1
    return [*parts, ("door", high - 4, wide // doors - 3, doors, True)]


def wall_cabinet(dice: Dice) -> list[Part]:
    wide, deep = dice.pick([400, 500, 600, 800]), dice.pick([300, 320, 350])
    high = dice.pick([600, 720, 900])
    doors = 2 if wide >= 600 else 1
    return [
        ("wall side", high, deep, 2, True),
        ("wall top/bottom", wide - 36, deep, 2, True),
        ("wall shelf", wide - 38, deep - 20, 2, False),
        ("wall door", high - 4, wide // doors - 3, doors, True),
    ]


def drawers(dice: Dice) -> list[Part]:
    number, wide = dice.size(2, 5), dice.size(250, 700, 10)
    deep, high = dice.pick([350, 400, 450, 500]), dice.size(80, 200, 10)
    return [
        ("drawer side", deep, high, 2 * number, False),
        ("drawer end", wide - 36, high, 2 * number, False),
        ("drawer front", wide + 20, high + 30, number, True),
    ]


def desk(dice: Dice) -> list[Part]:
    wide, deep = dice.size(1000, 1800, 50), dice.size(550, 800, 50)
    return [
        ("desk top", wide, deep, 1, True),
        ("desk leg panel", 710, deep - 60, 2, True),
        ("modesty panel", wide - 136, dice.size(250, 400, 50), 1, True),
    ]


def odd_bits(dice: Dice) -> list[Part]:
    return [
        (f"jig {number}", dice.size(90, 620), dice.size(60, 400), dice.size(1, 3), False)
        for number in range(1, dice.size(2, 6) + 1)
    ]


KINDS: tuple[Callable[[Dice], list[Part]], ...] = (
    bookcase, base_cabinet, wall_cabinet, drawers, desk, odd_bits,
)  # fmt: skip
# Whether the faces have a grain, and the price of a sheet.
GOODS = ((True, 6400), (True, 7200), (False, 3100), (False, 3600), (True, 8900))


def jobs(seed: int, number: int, most: int = 60) -> Iterator[Job]:
    """Make jobs of 10 to ``most`` pieces; each depends on the seed and its own number alone."""
    for index in range(number):
        yield job(Dice((seed << 20) ^ (index * 0x9E3779B1)), f"{seed}-{index:03}", most)


def job(dice: Dice, name: str, most: int = 60) -> Job:
    metric = dice.chance(60)
    grain, price = dice.pick(GOODS)

    def size(millimetres: int) -> int:  # in inches to the nearest eighth
        return millimetres if metric else max(4, 4 * ((millimetres * 80 + 127) // 254))

    whole, half, kerf = ((2440, 1220), (1220, 1220), 3) if metric else ((3072, 1536), (1536, 1536), 4)
    trim = dice.pick([0, 0, 5, 10] if metric else [0, 0, 8, 16])
    sheets = [Panel("whole", *whole, Fraction(price))]
    if dice.chance(40):
        sheets.append(Panel("half", *half, Fraction(price * dice.size(54, 62) // 100)))
    if dice.chance(35):
        long, wide = size(dice.size(600, 1800, 10)), size(dice.size(250, 1000, 10))
        sheets.append(Panel("off-cut", long, wide, Fraction(0), 1))
    want = dice.size(10, most)
    parts: list[Part] = []
    while sum(part[3] for part in parts) < want:
        parts += dice.pick(KINDS)(dice)
    room = (whole[0] - 2 * trim, whole[1] - 2 * trim)
    counts: dict[tuple[str, int, int, bool], int] = {}
    total = 0
    for part, along, across, number, grained in parts:
        length, width, locked = size(along), size(across), grained and grain
        if not (length <= room[0] and width <= room[1]) and (
            locked or not (width <= room[0] and length <= room[1])
        ):
            continue
        number = min(number, max(want, 10) - total)
        if number > 0:
            key = (part, length, width, not locked)
            counts[key] = counts.get(key, 0) + number
            total += number
    pieces = [
        Piece(f"{index} {part}", length, width, number, turns)
        for index, ((part, length, width, turns), number) in enumerate(counts.items(), start=1)
    ]
    return Job(name, pieces, sheets, Sawing(kerf, Margins(trim, trim, trim, trim)))
