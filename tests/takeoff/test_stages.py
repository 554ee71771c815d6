"""Lists by when the shop comes to them: worked by hand, and holding every piece as often as it must."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.design.model import Allowances, Design, FromWork, GlueUp
from plangen.findings import Findings
from plangen.joinery.space import Axis
from plangen.pipeline import Source, check
from plangen.takeoff.model import Stage
from plangen.takeoff.stages import report_thin_stock
from plangen.units import LengthStyle, inches, phrase
from tests.takeoff.cases import kinds, pine, plain_design, plywood, taken

INCH = LengthStyle("inch")
ROUGH = pine(label=phrase("4/4"), label_thickness=inches(1), species="white oak", widths=(inches(9),))


def stage(design: Design, name: str) -> Stage | None:
    return next((one for one in taken(design)[0].stages if one.name == name), None)


def sizes(one: Stage) -> list[tuple[object, ...]]:
    return [(line.mark, line.number, line.thickness, line.width, line.length) for line in one.lines]


def late(design: Design, leave: str) -> Design:
    size = FromWork(Axis.ACROSS, phrase("opening less ", inches("1/8")), inches(20), inches(leave))
    first, *others = design.parts
    return replace(design, parts=(replace(first, from_work=(size,)), *others))


def test_milled_over_and_then_cut_to_size():
    """By hand: 20 + 1/2 long, 3 + 1/8 wide, 3/4 thick from 4/4."""
    design = plain_design(ROUGH, [(2, inches(3), inches(20)), (1, inches(5), inches(30))])
    mill, cut = stage(design, "mill"), stage(design, "cut")
    assert mill is not None
    assert cut is not None
    thick = ROUGH.thickness
    assert sizes(mill) == [
        ("B", 1, thick, inches("41/8"), inches("61/2")),
        ("A", 2, thick, inches("25/8"), inches("41/2")),
    ]
    assert sizes(cut) == [("B", 1, thick, inches(5), inches(30)), ("A", 2, thick, inches(3), inches(20))]
    assert {line.rough_thickness for line in mill.lines} == {inches(1)}
    assert stage(design, "later") is None


def test_the_shop_s_own_allowances():
    rough = Allowances(length=inches(2), width=inches("1/4"), tape=inches("1/4"))
    design = plain_design(ROUGH, [(1, inches("25/8"), inches("81/8"))])
    design = replace(design, shop=replace(design.shop, rough=rough))
    mill = stage(design, "mill")
    assert mill is not None
    assert sizes(mill) == [("A", 1, ROUGH.thickness, inches("14/4"), inches("49/4"))], "on the next quarter"
    assert "2 in too long and 1/4 in too wide" in mill.includes.text(INCH).replace("\u00a0", " ")


def test_a_part_as_wide_as_its_board_is_not_ripped():
    board = pine(widths=(inches("11/2"),), lengths=(inches(96),))
    mill = stage(plain_design(board, [(1, inches("11/2"), inches(30))]), "mill")
    assert mill is not None
    (line,) = mill.lines
    assert line.width == inches("11/2")
    assert [note.text(INCH) for note in line.notes] == ["as wide as the board"]


def test_boards_of_a_glue_up_are_milled_and_the_panel_is_cut():
    design = plain_design(ROUGH, [(2, inches(15), inches(20))])
    glue_up = GlueUp("boards", 3, inches(5), ROUGH.thickness)
    design = replace(design, parts=(replace(design.parts[0], glue_up=glue_up),))
    mill, cut = stage(design, "mill"), stage(design, "cut")
    assert mill is not None
    assert cut is not None
    assert [(line.number, line.width) for line in mill.lines] == [(6, inches("41/8"))]
    assert [(line.number, line.width) for line in cut.lines] == [(2, inches(15))]
    assert "3 boards for each" in mill.lines[0].notes[0].text(INCH)


def test_sheets_are_not_milled():
    assert stage(plain_design(plywood(), [(1, inches(10), inches(20))]), "mill") is None


@pytest.mark.parametrize("stock", [ROUGH, plywood()], ids=["board", "sheet"])
def test_what_is_read_from_the_work_is_cut_over_now_and_to_size_later(stock):
    design = late(plain_design(stock, [(1, inches(10 if stock.kind == "plywood" else 4), inches(20))]), "1/2")
    cut, later = stage(design, "cut"), stage(design, "later")
    assert cut is not None
    assert later is not None
    assert [line.length for line in cut.lines] == [inches("41/2")]
    assert [line.length for line in later.lines] == [inches(20)]
    assert all(line.starred for line in (*cut.lines, *later.lines))
    assert "opening less" in later.lines[0].notes[0].text(INCH)


def test_solid_wood_with_nothing_over_waits_as_it_was_milled():
    design = late(plain_design(ROUGH, [(1, inches(4), inches(20)), (1, inches(4), inches(10))]), "0")
    cut, later = stage(design, "cut"), stage(design, "later")
    assert cut is not None
    assert later is not None
    assert [line.mark for line in cut.lines] == ["B"]
    assert [line.mark for line in later.lines] == ["A"]


def test_a_spare_blank_is_milled_and_never_cut():
    design = plain_design(ROUGH, [(2, inches(3), inches(20)), (1, inches(5), inches(30))])
    design = replace(design, shop=replace(design.shop, spare=1))
    mill, cut = stage(design, "mill"), stage(design, "cut")
    assert mill is not None
    assert cut is not None
    assert [(line.mark, line.spare) for line in mill.lines] == [("B", False), ("B", True), ("A", False)]
    assert not any(line.spare for line in cut.lines)


@pytest.mark.parametrize(("wish", "warned"), [("1/8", False), ("1/4", False), ("5/16", True)])
def test_too_little_to_plane(wish, warned):
    """4/4 less 3/4 leaves a quarter."""
    design = plain_design(replace(ROUGH, thickness=inches("3/4")), [(1, inches(3), inches(20))])
    design = replace(design, shop=replace(design.shop, rough=Allowances(thickness=inches(wish))))
    findings = Findings()
    report_thin_stock(design, findings)
    assert ("little-to-plane" in kinds(findings)) is warned


def test_dressed_softwood_need_not_be_planed():
    """Nominal 1 in dressed dry is 3/4 in: PS 20, Table 3."""
    stock = pine(label_thickness=inches(1), thickness=inches("3/4"), species="white pine")
    design = plain_design(stock, [(1, inches(3), inches(20))])
    design = replace(design, shop=replace(design.shop, rough=Allowances(thickness=inches("1/2"))))
    findings = Findings()
    report_thin_stock(design, findings)
    assert not kinds(findings)
    mill = stage(design, "mill")
    assert mill is not None
    assert mill.lines[0].rough_thickness is None


def test_what_comes_out_of_a_blank_is_milled_once_and_cut_piece_by_piece():
    """Two blanks of a stile and a rail: 18 + 12 and a saw cut of 1/8, 1/2 over."""
    text = (Path(__file__).parents[2] / "docs/examples/blanks.yaml").read_bytes()
    made = check(Source("blanks", "blanks.yaml", text)).checked
    assert made is not None
    found = {one.name: one for one in made.take_off.stages}
    assert [(line.number, line.width, line.length) for line in found["mill"].lines] == [
        (2, inches("15/8"), inches("245/8"))
    ]
    cut = found["cut"].lines
    assert [(line.number, line.length) for line in cut] == [(2, inches(18)), (2, inches(12))]
    for line in cut:
        assert "sawn out of the blank frame stock" in [note.text(INCH) for note in line.notes]


ROWS = st.lists(
    st.tuples(st.integers(1, 4), st.integers(1, 8), st.integers(2, 60), st.integers(1, 3), st.booleans()),
    min_size=1,
    max_size=8,
)


@settings(max_examples=12, deadline=None)
@given(ROWS, st.booleans(), st.integers(0, 2))
def test_every_piece_stands_in_each_list_as_often_as_it_must(rows, solid, spare):
    stock = ROUGH if solid else plywood()
    design = plain_design(
        stock, [(number, inches(width), inches(length)) for number, width, length, *_ in rows]
    )
    design = replace(design, shop=replace(design.shop, spare=spare))
    parts = []
    for part, (_, _, _, boards, over) in zip(design.parts, rows, strict=True):
        made = part
        if boards > 1 and solid:
            made = replace(made, glue_up=GlueUp("boards", boards, part.width / boards, part.thickness))
        if over:
            size = FromWork(Axis.ACROSS, phrase("opening"), part.length, inches("1/4"))
            made = replace(made, from_work=(size,))
        parts.append(made)
    design = replace(design, parts=tuple(parts))
    found = {one.name: one for one in taken(design)[0].stages}
    copies = Counter({part.key: len(part.copies) for part in parts})
    assert counted(found["cut"]) == copies
    starred = Counter({part.key: len(part.copies) for part in parts if part.from_work})
    assert (counted(found["later"]) if "later" in found else Counter()) == starred
    if solid:
        boards = Counter(
            {part.key: len(part.copies) * (part.glue_up.number if part.glue_up else 1) for part in parts}
        )
        assert counted(found["mill"]) == boards
        assert sum(line.number for line in found["mill"].lines if line.spare) == spare
        rough = {line.part: line for line in found["mill"].lines if not line.spare}
        for line in found["cut"].lines:
            assert rough[line.part].length >= line.length, "a piece is cut from a longer one"
    for one in found.values():
        keys = [(-line.thickness.mm, -line.width.mm, -line.length.mm) for line in one.lines]
        assert keys == sorted(keys), "as a shop works"


def counted(one: Stage) -> Counter[str]:
    found: Counter[str] = Counter()
    for line in one.lines:
        if not line.spare:
            found[line.part] += line.number
    return found
