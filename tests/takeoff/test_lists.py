"""Tables and files: what a program reads back must add up to what the design says."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from fractions import Fraction

from plangen.takeoff import csv_files, file_tables
from plangen.units import LengthStyle, inches, millimetres
from tests.sample_design import sample_design
from tests.takeoff.cases import metric_plywood, pine, plain_design, taken


def named(tables, name: str):
    return next(table for table in tables if table.name == name)


def read(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode("utf-8"), newline="")))


def test_files_total_to_the_design():
    design = sample_design()
    lists, _ = taken(design)
    files = csv_files(design, lists, LengthStyle())
    assert {"to-buy.csv", "boards-and-sheets.csv", "costs.csv", "cut-list.csv", "hardware.csv"} <= set(files)
    rows = read(files["cut-list.csv"])
    found = sum(Fraction(row["Length exact, mm"]) * int(row["Number"]) for row in rows)
    assert found == sum(part.length.mm * len(part.copies) for part in design.parts)
    assert [row["Mark"] for row in rows] == ["A-L", "A-R", "B", "C", "D"]
    assert rows[2]["Between shoulders"] == "22 1/2 in"
    assert sum(int(row["Number"]) for row in read(files["hardware.csv"])) == 8
    costs = read(files["costs.csv"])
    assert sum(Fraction(row["Cost"]) for row in costs if row["Cost"]) == lists.total_cost.amount


def test_files_are_rfc_4180():
    design = sample_design()
    stock = {**design.stock, "pine": replace(design.stock["pine"], title='Pine, "clear"')}
    design = replace(design, stock=stock)
    data = csv_files(design, taken(design)[0], LengthStyle())["cut-list.csv"]
    assert data.endswith(b"\r\n")
    assert data.count(b"\r\n") == data.count(b"\n") == 6
    assert b'"Pine, ""clear"""' in data
    assert read(data)[0]["Stock"] == 'Pine, "clear"'


def test_tables_are_square_and_in_the_style_asked_for():
    design = sample_design()
    lists, _ = taken(design)
    for style in (LengthStyle(), LengthStyle("mm"), LengthStyle("both")):
        for table in file_tables(design, lists, style):
            assert all(len(row) == len(table.columns) for row in table.rows)
    metric = named(file_tables(design, lists, LengthStyle("mm")), "cut-list")
    assert metric.rows[0][4:7] == ("19.1 mm", "228.5 mm", "457 mm")
    heads = [column.head for column in metric.columns]
    assert metric.rows[0][heads.index("Length exact, mm")] == Fraction("457.2")


def test_unpriced_is_an_empty_cell_and_named():
    design = plain_design(pine(price=None), [(1, inches(6), inches(40))])
    lists, _ = taken(design)
    costs = named(file_tables(design, lists, LengthStyle()), "costs")
    assert costs.rows[0] == ("White pine", "1 board, 5.0 board feet", None, None)
    assert "White pine" in costs.note


def test_cutting_order_gathers_equal_settings():
    design = plain_design(metric_plywood(), [(6, millimetres(96), millimetres(450))], "mm")
    lists, _ = taken(design)
    [diagram] = lists.plans[0].diagrams
    table = named(file_tables(design, lists, LengthStyle("mm")), "cutting-orders")
    spelled = []
    for _, _, _, numbers, *_ in table.rows:
        first, _, last = numbers.partition(" to ")
        spelled += range(int(first), int(last or first) + 1)
    assert spelled == [cut.number for cut in diagram.cuts]
    assert ("96 mm", "6 × A, an off-cut") in {(row[6], row[7]) for row in table.rows}
    assert len(table.rows) < len(diagram.cuts)
