"""Edge banding in the lists, by hand: the size to cut, the finished size, what to buy."""

from __future__ import annotations

import csv
import io
from fractions import Fraction

import pytest

from plangen.design.model import Design, Money
from plangen.takeoff import csv_files
from plangen.takeoff.banding import BandingLine, before_banding
from plangen.takeoff.model import TakeOff
from plangen.units import LengthStyle, inches
from tests.design.small import project, solve
from tests.takeoff.cases import kinds, taken

INCH = LengthStyle()
WORDS = "at least 0.72 in wide, 178 1/4 in long (162 in of edges and 10 % waste)"
PLY = "ply: {kind: plywood, label: 3/4in, thickness: 0.72in, sheet: 48in x 96in}"
SHELF = """
shelf:
  stock: ply
  runs: across
  thick: up
  cut:
    - edge banding: {edges: [front, left, right], with: birch tape, thickness: 1/32in}
  place:
    low:  {left: 0, right: 24in, front: 0, back: 10in, bottom: 0}
    mid:  {same as: low, bottom: 10in}
    high: {same as: low, bottom: 20in}
case:
  stock: ply
  runs: across
  thick: up
  cut:
    - edge banding: {edges: [back], with: birch tape, thickness: 1/32in}
  place: {left: 0, right: 30in, front: 0, back: 12in, bottom: 30in}
"""


@pytest.fixture(scope="module")
def design() -> Design:
    return solve(project(SHELF, stock=PLY, hardware="birch tape: {kind: banding, title: Birch tape}"))


@pytest.fixture(scope="module")
def lists(design: Design) -> TakeOff:
    found, findings = taken(design)
    assert kinds(findings) == ["unused-stock"]  # the pine of the test project, and not the tape
    return found


def test_the_panel_is_smaller_by_its_banding(design: Design) -> None:
    """24 less 1/32 at each end; 10 less 1/32 at the front."""
    assert before_banding(design.part("shelf")) == (
        inches("24") - inches("1/16"),
        inches(10) - inches("1/32"),
    )
    assert before_banding(design.part("case")) == (inches(30), inches(12) - inches("1/32"))


def test_the_cut_list_has_both_sizes_and_the_length_of_the_banding(lists: TakeOff) -> None:
    line = next(line for line in lists.cut_list if line.part == "shelf")
    assert (line.length, line.width) == (inches(24), inches(10))
    assert (line.cut_length, line.cut_width) == (inches("383/16"), inches("319/32"))
    assert line.banding == inches(24 + 10 + 10)
    notes = [note.text(INCH).replace("\u00a0", " ") for note in line.notes]
    assert "cut to 9 31/32 in × 23 15/16 in before banding" in notes
    assert "birch tape on front, left, right: 44 in for each" in notes


def test_the_sheet_is_laid_out_before_banding(lists: TakeOff) -> None:
    (plan,) = lists.plans
    sizes = sorted(
        (piece.part, *sorted((piece.length, piece.width))) for one in plan.diagrams for piece in one.pieces
    )
    assert sizes == [
        ("case", inches("383/32"), inches(30)),
        *[("shelf", inches("319/32"), inches("383/16"))] * 3,
    ]


def test_the_diagram_says_that_it_is_before_banding(lists: TakeOff) -> None:
    words = lists.plans[0].bound_words.text(INCH)
    assert words.endswith(" A and B are drawn at the sizes they are cut to before edge banding.")


def test_banding_is_bought_by_length_with_its_waste(lists: TakeOff) -> None:
    """Three shelves of 44 and one case of 30 are 162; a tenth more is 178.2, on the tape 178-1/4."""
    (line,) = lists.banding
    assert line == BandingLine(
        "birch tape",
        "Birch tape",
        inches("0.72"),
        inches("1/32"),
        inches(162),
        inches("713/4"),
        (("shelf", inches(132)), ("case", inches(30))),
    )
    assert line.words.text(INCH).replace("\u00a0", " ") == WORDS


def test_banding_is_glued_over_its_whole_face(lists: TakeOff) -> None:
    assert lists.glue_area == 162 * Fraction("0.72") * Fraction("645.16")


def test_the_file_reads_back(design: Design, lists: TakeOff) -> None:
    rows = list(
        csv.DictReader(io.StringIO(csv_files(design, lists, INCH)["cut-list.csv"].decode(), newline=""))
    )
    shelf = next(row for row in rows if row["Part"] == "Shelf")
    assert (shelf["Length exact, mm"], shelf["Width exact, mm"]) == ("609.6", "254")
    assert "cut to 9 31/32 in × 23 15/16 in before banding" in shelf["Note"].replace("\u00a0", " ")


def test_banding_has_a_line_in_the_costs(design: Design, lists: TakeOff) -> None:
    line = lists.costs[-1]
    assert (line.title, line.cost) == ("Birch tape", None)
    assert (
        line.words.text(INCH)
        .replace("\u00a0", " ")
        .endswith("178 1/4 in long (162 in of edges and 10 % waste)")
    )
    assert "Birch tape" in lists.unpriced


def test_banding_sold_by_the_foot_costs_its_length() -> None:
    """178-1/4 in at 0.60 USD for a foot: 14.854 ft are 8.9125 USD."""
    strip = (
        "birch tape: {kind: solid, title: Birch tape, species: yellow birch, rough: 4/4, thickness: 1/32in, "
        "price: 0.60 USD/ft}"
    )
    found, _ = taken(solve(project(SHELF, stock=f"{PLY}\n{strip}")))
    (line,) = (line for line in found.costs if line.kind == "banding")
    assert line.cost == Money(Fraction("8.9125"), "USD")


def test_banding_on_rolls_costs_whole_ones() -> None:
    """178-1/4 in from rolls of 10 ft, 120 in: two, at 7 USD each."""
    tape = (
        "birch tape: {kind: edge banding, title: Birch tape, width: 7/8in, thickness: 1/32in, length: 10ft, "
        "price: 7.00 USD}"
    )
    found, _ = taken(solve(project(SHELF, stock=PLY, hardware=tape)))
    line = found.costs[-1]
    assert line.cost == Money(Fraction(14), "USD")
    assert line.words.text(INCH).replace("\u00a0", " ") == f"{WORDS}; two rolls of 120 in"
