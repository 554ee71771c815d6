"""Boards and sheets of several sizes and prices, on the rack or to be bought, and what does not fit them."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from plangen.description import read_description
from plangen.design.build import make_design
from plangen.design.model import Design, Money, Offer
from plangen.findings import Findings
from plangen.takeoff.model import StockPlan
from plangen.units import LengthStyle, inches
from tests.takeoff.cases import kinds, pine, plain_design, plywood, taken

INCH = LengthStyle("inch")
MM = LengthStyle("mm")


def dollars(amount: int | str) -> Money:
    return Money(Fraction(amount), "USD")


def priced(design: Design) -> Design:
    return replace(design, project=replace(design.project, currency="USD"))


def boards(*offers: Offer, **changes: object):
    return pine(widths=(), lengths=(), price=None, price_per=None, offers=offers, **changes)


def sheets(*offers: Offer, **changes: object):
    return plywood(price=None, price_per=None, offers=offers, **changes)


def only(design: Design) -> StockPlan:
    lists, findings = taken(design)
    assert not findings.has_errors, [finding.message for finding in findings]
    return lists.plans[0]


SHORT = Offer(inches(6), inches(48), dollars(4))
LONG = Offer(inches(6), inches(96), dollars(12))


def test_the_cheapest_boards_not_the_fewest():
    plan = only(priced(plain_design(boards(SHORT, LONG), [(2, inches(5), inches(40))])))
    assert [one.length for one in plan.diagrams] == [inches(48), inches(48)]
    assert plan.cost == dollars(8)
    assert plan.bound_words.text(INCH).startswith("This plan takes two boards.")
    assert "no plan costs less" in plan.bound_words.text(INCH)


def test_the_rack_costs_nothing_and_is_not_bought():
    rack = replace(SHORT, price=None, have=1)
    plan = only(priced(plain_design(boards(LONG, rack), [(3, inches(5), inches(40))])))
    assert sorted((one.length, one.bought) for one in plan.diagrams) == [
        (inches(48), False),
        (inches(96), True),
    ]
    assert plan.cost == dollars(12)
    assert [one.length for one in plan.bought] == [inches(96)]
    assert plan.board_feet == 4  # 6 in by 8 ft of 4/4; the board on the rack is not counted
    assert any("from the rack" in one.title.text(INCH) for one in plan.diagrams)


def test_own_boards_too_few():
    rack = replace(SHORT, price=None, have=1)
    _, findings = taken(plain_design(boards(rack), [(3, inches(5), inches(40))]))
    (finding,) = [one for one in findings if one.kind == "too-few-boards"]
    assert "piece 0" in finding.message


def test_a_size_without_a_price_gives_no_sum():
    plan = only(priced(plain_design(boards(SHORT, replace(LONG, price=None)), [(1, inches(5), inches(80))])))
    assert plan.cost is None


def test_sheets_of_two_sizes():
    whole = Offer(inches(48), inches(96), dollars(78))
    quarter = Offer(inches(24), inches(48), dollars(24))
    plan = only(priced(plain_design(sheets(whole, quarter), [(1, inches(20), inches(40))])))
    assert plan.cost == dollars(24)
    plan = only(priced(plain_design(sheets(whole, quarter), [(6, inches(20), inches(40))])))
    assert plan.cost == dollars(78 + 24 * 2)  # four come out of a whole one, one out of each quarter


def test_defects_shorten_every_board():
    """Of 96 in a tenth is left out: 86-3/8 in of clear tape, less 1 in at each end and a saw cut."""
    rows = [(2, inches(5), inches(42))]
    assert len(only(plain_design(boards(LONG), rows)).diagrams) == 1
    plan = only(plain_design(boards(LONG, defects=Fraction(1, 10)), rows))
    assert len(plan.diagrams) == 2
    board = plan.diagrams[0]
    assert board.length == inches(96)
    assert max(cut.high for cut in board.cuts if cut.along == "x") <= inches(96)
    assert board.unsound == inches(Fraction(77, 8))
    # The rest may be unsound.
    assert max(one.x + one.length for one in board.off_cuts) == inches(Fraction(691, 8))
    words = plan.bound_words.text(INCH).replace("\u00a0", " ")
    left = "10 % is left for knots, checks and sapwood, hatched at its right end: of 96 in, 9 5/8 in."
    assert left in words


def test_grain_free_or_a_part_that_may_turn():
    fixed = plywood(sheet=(inches(24), inches(96)))
    rows = [(1, inches(40), inches(20))]
    _, findings = taken(plain_design(fixed, rows))
    assert kinds(findings) == ["part-exceeds-stock"]
    (finding,) = findings
    assert "fits only turned" in finding.message
    assert only(plain_design(replace(fixed, turns=True), rows)).diagrams[0].pieces[0].turned
    design = plain_design(fixed, rows)
    turning = replace(design, parts=tuple(replace(part, may_turn=True) for part in design.parts))
    assert only(turning).diagrams[0].pieces[0].turned


def test_a_part_thinner_than_the_saw_cut():
    design = plain_design(pine(), [(1, inches("1/16"), inches(20))])
    _, findings = taken(design)
    assert kinds(findings) == ["kerf-exceeds-part"]


def test_too_long_and_too_wide_says_both():
    _, findings = taken(plain_design(boards(SHORT), [(1, inches(9), inches(60))]))
    (finding,) = findings
    assert "60 in long" in finding.message.replace("\u00a0", " ")
    assert "9 in wide as well" in finding.message.replace("\u00a0", " ")


def test_another_stock_that_would_do_is_named():
    design = plain_design(boards(SHORT), [(1, inches(5), inches(60))])
    longer = replace(boards(LONG), name="long pine")
    _, findings = taken(replace(design, stock={**design.stock, "long pine": longer}))
    (finding,) = [one for one in findings if one.kind == "part-exceeds-stock"]
    assert finding.remedy.endswith("; `long pine` of this project is large enough")


FILE = """plangen: 1
project: {{title: Shelf, units: inch}}
shop: {{kerf: 1/8in, glue: {{wood glue: {{open time: 10}}}}}}
stock:
  wood: {stock}
parts:
  shelf:
    {{stock: wood, runs: across, thick: up, place: {{left: 0, right: 30in, front: 0, back: 5in, bottom: 0}}}}
"""


def read(stock: str) -> tuple[Design | None, Findings]:
    findings = Findings()
    description = read_description(FILE.format(stock=stock).encode(), "plan.yaml", findings)
    solved = make_design(description, findings) if description is not None else None
    return (solved.design if solved is not None else None), findings


@pytest.mark.parametrize(
    ("price", "amount"),
    [
        ("14.20 USD", Fraction("14.20")),
        ("3 USD/bdft", Fraction(11)),  # 5-1/2 in by 8 ft: 3-2/3 board feet
        ("2 USD/ft", Fraction(16)),
        ("12 USD/sqft", Fraction(44)),  # 3-2/3 square feet
    ],
)
def test_prices_of_one_board(price, amount):
    design, findings = read(
        "{kind: solid, species: white ash, rough: 4/4, thickness: 3/4in, "
        f"boards: [{{width: 5-1/2in, length: 8ft, price: {price}}}]}}"
    )
    assert not findings.has_errors
    assert design is not None
    (offer,) = design.stock["wood"].offers
    assert (offer.width, offer.length, offer.have) == (inches("11/2"), inches(96), None)
    assert offer.price == Money(amount, "USD")
    assert design.project.currency == "USD"


SOLID = "{kind: solid, species: white ash, rough: 4/4, thickness: 3/4in"
PLY = "{kind: plywood, species: birch, label: 3/4in, thickness: 3/4in"


TOP = """plangen: 1
project: {{title: Top, units: inch}}
shop: {{kerf: 1/8in, glue: {{wood glue: {{open time: 10}}}}}}
stock:
  wood: {{kind: solid, species: white ash, rough: 4/4, thickness: 3/4in, {sold}}}
parts:
  top:
    stock: wood
    runs: across
    thick: up
    glue up: {{boards: best}}
    place: {{left: 0, right: 30in, front: 0, back: {width}, bottom: 0}}
"""


@pytest.mark.parametrize(
    ("sold", "width", "number"),
    [
        ("widths: [9-1/4in]", "16in", 2),
        # Three of 5-1/2 in are 16-1/2, a ninth less than two of 9-1/4: worth one joint more.
        ("widths: [5-1/2in, 9-1/4in]", "16in", 3),
        # Three of 5-1/2 in are hardly less than two of 8-1/2.
        ("widths: [5-1/2in, 8-1/2in]", "16in", 2),
        ("widths: 4in to 9in", "16in", 2),
        ("boards: [{width: 6in, length: 8ft}]", "16in", 3),
    ],
)
def test_best_looks_at_the_boards_that_can_be_had(sold, width, number):
    findings = Findings()
    text = TOP.format(sold=sold, width=width)
    description = read_description(text.encode(), "plan.yaml", findings)
    assert description is not None, list(findings)
    solved = make_design(description, findings)
    assert solved is not None
    (part,) = solved.design.parts
    assert part.glue_up is not None
    assert part.glue_up.number == number
    section = part.glue_up.sections[0]
    assert section.board_width * number >= inches(16)


@pytest.mark.parametrize(
    ("stock", "kind", "words"),
    [
        (f"{SOLID}, sheets: [{{size: 24in x 48in}}]}}", "bad-value", "list them as `boards`"),
        (f"{PLY}, boards: [{{width: 24in, length: 48in}}]}}", "bad-value", "list them as `sheets`"),
        (
            f"{PLY}, sheet: 48in x 96in, sheets: [{{size: 24in x 48in}}]}}", "bad-value",
            "write `- {size: 48in x 96in}` among the `sheets`",
        ),
        (f"{SOLID}, boards: [{{width: 0, length: 8ft}}]}}", "zero-size", "give what it measures"),
        (f"{SOLID}, boards: [{{width: 6in, length: 8ft, have: 0}}]}}", "zero-size", "take the line out"),
    ],
)  # fmt: skip
def test_what_cannot_be_listed(stock, kind, words):
    _, findings = read(stock)
    assert any(one.kind == kind and words in (one.remedy or "") for one in findings), list(findings)


@pytest.mark.parametrize(
    ("stock", "turns"),
    [
        (f"{PLY}, sheet: 48in x 96in}}", False),
        (f"{PLY}, sheet: 48in x 96in, grain: free}}", True),
        ("{kind: plywood, species: MDF, label: 3/4in, thickness: 3/4in, sheet: 48in x 96in}", True),
        (
            "{kind: plywood, species: MDF, label: 3/4in, thickness: 3/4in, sheet: 48in x 96in, grain: fixed}",
            False,
        ),
    ],
)
def test_plain_sheets_turn(stock, turns):
    design, findings = read(stock)
    assert not findings.has_errors
    assert design is not None
    assert design.stock["wood"].turns is turns
