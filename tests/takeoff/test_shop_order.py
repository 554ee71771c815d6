"""Lists as a shop works through them: one stock after the other, and one fence setting after the other."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from plangen.takeoff.lists import cut_table
from plangen.takeoff.shop_order import in_shop_order
from plangen.units import inches
from tests.takeoff.cases import pine, plain_design, taken

# Number, width, length; marks A to E. By hand: the two widest first, the longer of them before the other.
ROWS = [(1, "3", "20"), (2, "5", "12"), (1, "5", "30"), (4, "3", "20"), (1, "7/2", "8")]
WORKED = ["C", "B", "E", "A", "D"]


def sample():
    return plain_design(pine(), [(number, inches(wide), inches(long)) for number, wide, long in ROWS])


def test_wide_before_narrow_and_long_before_short_and_equal_sizes_side_by_side():
    design = sample()
    assert [line.mark for line in in_shop_order(design, taken(design)[0].cut_list)] == WORKED


@pytest.mark.parametrize("seed", range(5))
def test_the_order_does_not_depend_on_how_the_lines_came(seed):
    design = sample()
    lines = list(taken(design)[0].cut_list)
    Random(seed).shuffle(lines)
    assert [line.mark for line in in_shop_order(design, lines)] == WORKED


def test_stock_by_stock_as_the_file_lists_it_and_thick_before_thin():
    first, second = pine(name="second"), pine(name="first")
    design = sample()
    design = replace(design, stock={"second": first, "first": second})
    lines = taken(sample())[0].cut_list
    mixed = [
        replace(line, stock=stock, thickness=inches(thick))
        for line, stock, thick in zip(
            lines,
            ["first", "second", "first", "second", "second"],
            ["1", "1/2", "2", "3/4", "1/2"],
            strict=True,
        )
    ]
    assert [line.mark for line in in_shop_order(design, mixed)] == ["D", "B", "E", "C", "A"]


def test_marks_run_past_z():
    design = sample()
    lines = taken(design)[0].cut_list
    same = [replace(lines[0], mark=mark) for mark in ("AA", "B-R", "Z", "B-L")]
    assert [line.mark for line in in_shop_order(design, same)] == ["B-L", "B-R", "Z", "AA"]


def test_the_file_of_the_cut_list_is_in_that_order():
    design = sample()
    assert [row[0] for row in cut_table(design, taken(design)[0]).rows] == WORKED
