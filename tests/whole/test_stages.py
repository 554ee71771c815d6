"""The staged lists of whole projects: mill, cut and later hold every piece, and agree with the diagrams."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

PROJECTS = ("step-stool", "wall-cabinet", "splayed-stool", "blanket-chest", "reading-bookcase")
Checked = Callable[..., Any]


@pytest.fixture(params=PROJECTS)
def made(request: pytest.FixtureRequest, checked: Checked) -> Any:
    return checked(str(request.param))


def lines_of(made: Any, name: str) -> list[Any]:
    return [line for stage in made.take_off.stages if stage.name == name for line in stage.lines]


def counted(lines: list[Any]) -> Counter[str]:
    found: Counter[str] = Counter()
    for line in lines:
        found[line.part] += line.number
    return found


def placed(made: Any, kind: str, spare: bool) -> Counter[str]:
    """How often the diagrams of boards, or of sheets, show a piece of each part."""
    return Counter(
        piece.part
        for plan in made.take_off.plans
        for diagram in plan.diagrams
        for piece in diagram.pieces
        if diagram.kind == kind and piece.spare is spare
    )


def test_each_piece_is_cut_once_or_waits_for_the_work(made: Any) -> None:
    cut, later = counted(lines_of(made, "cut")), counted(lines_of(made, "later"))
    for part in made.design.parts:
        waits = bool(part.from_work)
        assert later[part.key] == (len(part.copies) if waits else 0), part.key
        assert cut[part.key] == len(part.copies) or (waits and cut[part.key] == 0), part.key


def test_what_is_milled_is_what_the_boards_show(made: Any) -> None:
    mill = lines_of(made, "mill")
    for spare in (False, True):
        assert counted([line for line in mill if line.spare is spare]) == placed(made, "board", spare)
    drawn = Counter(
        (piece.part, piece.spare, piece.length.mm)
        for plan in made.take_off.plans
        for diagram in plan.diagrams
        for piece in diagram.pieces
        if diagram.kind == "board"
    )
    listed: Counter[tuple[str, bool, Fraction]] = Counter()
    for line in mill:
        listed[line.part, line.spare, line.length.mm] += line.number
    assert listed == drawn, "rough lengths are those of the diagrams"


def test_what_is_cut_from_sheets_is_what_the_sheets_show(made: Any) -> None:
    sheets = {name for name, stock in made.design.stock.items() if stock.kind == "plywood"}
    cut = {line.part: line.number for line in lines_of(made, "cut") if line.stock in sheets}
    shown = placed(made, "sheet", False)
    assert {part: shown[part] for part in cut} == cut


def test_rough_wood_gives_the_finished_pieces(made: Any) -> None:
    """By volume, part by part: boards of a glue-up make their panel, a blank makes its piece."""
    rough: Counter[str] = Counter()
    for line in lines_of(made, "mill"):
        if not line.spare:
            rough[line.part] += line.number * line.thickness.mm * line.width.mm * line.length.mm
    for line in made.take_off.cut_list:
        if line.part in rough:
            finished = line.number * line.thickness.mm * line.width.mm * line.length.mm
            assert finished < rough[line.part], line.mark


def test_sizes_cut_now_are_finished_but_for_what_is_left_over(made: Any) -> None:
    finished = {line.part: line for line in made.take_off.cut_list}
    for line in lines_of(made, "cut"):
        part, whole = made.design.part(line.part), finished[line.part]
        over = {size.axis: size.leave.mm for size in part.from_work}
        length, width = whole.cut_length or whole.length, whole.cut_width or whole.width
        assert line.length.mm == length.mm + over.get(part.runs, 0), line.mark
        assert line.width.mm == width.mm + over.get(part.wide, 0), line.mark
    for line in lines_of(made, "later"):
        whole = finished[line.part]
        assert line.length == (whole.cut_length or whole.length), line.mark


def test_the_lines_stand_as_a_shop_works(made: Any) -> None:
    place = list(made.design.stock)
    for stage in made.take_off.stages:
        keys = [
            (place.index(line.stock), -line.thickness.mm, -line.width.mm, -line.length.mm)
            for line in stage.lines
        ]
        assert keys == sorted(keys), stage.name
