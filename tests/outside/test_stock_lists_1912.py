"""Printed stock lists of 1912, row by row against the cut lists of the same pieces described for plangen.

Source: H. H. Windsor, *Mission Furniture: How to Make It*, Part 3 (1912), Project Gutenberg no. 23666. Each
list gives the number of pieces, and thickness by width by length "as mill-planed, sanded and cut to length":
finished sizes, with whatever tenons there are counted in the length. That is what a cut list prints too.

The book tells no more of the joints than its drawings; where they are, and how long the tenons, is ours, and
so is what a list leaves out. Two rules of reading: a row of the book may be several parts here, where pieces
of one size are joined in different ways; and both hands of a pair count for their row.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from plangen.pipeline import Checked, Source, check
from plangen.takeoff.model import CutLine

FOLDER = Path(__file__).parent / "mission"

# Project: its rows as printed, each with the parts that it is here.
LISTS: dict[str, dict[str, tuple[str, ...]]] = {
    "piano-bench": {
        "1 top, 1 by 16-1/2 by 40-1/2 in., S-2-S.": ("top",),
        "4 posts, 1-1/2 by 1-1/2 by 20 in., S-4-S.": ("post",),
        "2 rails, 7/8 by 4-1/4 by 36 in., S-2-S.": ("long rail",),
        "2 rails, 7/8 by 4-1/4 by 13 in., S-2-S.": ("end rail",),
        "2 lower rails, 7/8 by 2-1/2 by 13 in., S-2-S.": ("lower rail",),
        "1 stretcher, 7/8 by 3-3/4 by 36 in., S-2-S.": ("stretcher",),
        "6 slats, 3/8 by 1-1/4 by 11 in., S-2-S.": ("slat",),
    },
    "slab-bench": {
        "1 top, 1 by 15-1/2 by 38-1/2 in., S-2-S.": ("top",),
        "2 legs, 1 by 14-1/2 by 20-1/2 in., S-4-S.": ("leg",),
        "2 rails, 7/8 by 3-3/4 by 36-1/2 in., S-2-S.": ("rail",),
        "1 stretcher, 3/4 by 4-1/4 by 37 in., S-2-S.": ("stretcher",),
    },
    "table": {
        "4 upper rails, 7/8 by 6-1/2 by 22-1/2 in., S-2-S.": ("long rail", "side rail"),
        "2 lower rails, 7/8 by 3 by 22-1/2 in., S-2-S.": ("lower rail",),
        "2 top pieces, 7/8 by 12-1/2 by 24-1/2 in., S-2-S.": ("top piece",),
        "6 slats, 3/8 by 3-1/2 by 15-1/2 in., S-2-S.": ("slat",),
        "1 stretcher, 7/8 by 8-1/2 by 21-1/2 in., S-2-S.": ("stretcher",),
    },
    "bookrack": {
        "2 stretchers, 1 by 1 by 20 in., S-4-S.": ("stretcher",),
        "4 posts, 1 by 1 by 7-1/2 in., S-4-S.": ("post",),
        "4 rails, 1 by 1 by 7 in., S-4-S.": ("lower rail", "upper rail"),
        "8 slats, 1/2 by 1/2 by 3-1/2 in., S-4-S.": ("slat",),
    },
}
OURS = {"table": ("post",)}  # parts that a list leaves out
ROWS = [(name, row) for name, rows in LISTS.items() for row in rows]

_NUMBER = r"(\d+(?:-\d+/\d+|/\d+)?)"
_ROW = re.compile(rf"(\d+) ([a-z ]+), {_NUMBER} by {_NUMBER} by {_NUMBER} in\.")


def inches_of(text: str) -> Fraction:
    """``16-1/2`` as the book prints it."""
    return sum((Fraction(word) for word in text.split("-")), Fraction(0))


def read(row: str) -> tuple[int, tuple[Fraction, ...]]:
    """The number of pieces, and thickness, width and length in inches."""
    found = _ROW.match(row)
    assert found is not None, row
    return int(found[1]), tuple(inches_of(found[place]) for place in (3, 4, 5))


@cache
def described(name: str) -> Checked:
    """The project, which may get advice but no error."""
    result = check(Source(name, f"{name}.yaml", (FOLDER / f"{name}.yaml").read_bytes()))
    assert result.checked is not None, [f"{one.message} ({one.place})" for one in result.findings]
    return result.checked


def lines_of(name: str, parts: tuple[str, ...]) -> list[CutLine]:
    """The lines of the cut list for some parts of the file."""
    made = described(name)
    return [line for line in made.take_off.cut_list if made.design.part(line.part).name in parts]


def size_of(line: CutLine) -> tuple[Fraction, ...]:
    """Thickness, width and length in inches."""
    return tuple(length.mm / Fraction(254, 10) for length in (line.thickness, line.width, line.length))


@pytest.mark.parametrize(("name", "row"), ROWS, ids=[f"{name}: {row.split(',')[0]}" for name, row in ROWS])
def test_every_printed_row_is_in_the_cut_list(name: str, row: str) -> None:
    number, size = read(row)
    lines = lines_of(name, LISTS[name][row])
    assert {size_of(line) for line in lines} == {size}
    assert sum(line.number for line in lines) == number


@pytest.mark.parametrize("name", LISTS)
def test_every_line_of_the_cut_list_is_printed_or_ours(name: str) -> None:
    design = described(name).design
    told = {part for parts in LISTS[name].values() for part in parts} | set(OURS.get(name, ()))
    assert {design.part(line.part).name for line in described(name).take_off.cut_list} == told


@pytest.mark.parametrize("name", LISTS)
def test_the_wood_of_the_rows_is_the_wood_of_the_plans(name: str) -> None:
    """Board feet of the finished pieces: a board foot is 144 cubic inches."""
    printed = Fraction(0)
    for row in LISTS[name]:
        number, (thickness, width, length) = read(row)
        printed += number * thickness * width * length / 144
    ours = sum(
        line.number * line.thickness.mm * line.width.mm * line.length.mm
        for line in lines_of(name, OURS.get(name, ()))
    ) / (144 * Fraction(254, 10) ** 3)
    net = sum(plan.net_volume for plan in described(name).take_off.plans) / (144 * Fraction(254, 10) ** 3)
    assert net == printed + ours


def test_tenons_are_counted_in_the_printed_length() -> None:
    """The bench's long rails show 34-1/2 in between the posts; the printed 36 in counts two tenons."""
    (rail,) = lines_of("piano-bench", ("long rail",))
    assert rail.shoulder_length is not None
    assert rail.length.mm == 36 * Fraction(254, 10)
    assert rail.shoulder_length.mm == Fraction(69, 2) * Fraction(254, 10)
