"""The cost table by hand: rounding, currencies, the waste rule, packs, and what the total leaves out."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from plangen.design.model import Design, Money
from plangen.findings import Findings
from plangen.handbook.currencies import amount_words, minor_places, payable
from plangen.takeoff.costs import total
from plangen.takeoff.model import CostLine, TakeOff
from plangen.takeoff.waste import waste_rule
from plangen.units import LengthStyle, inches, millimetres, phrase
from tests.design.small import faults, line_at, project, solve, the_fault
from tests.sample_design import sample_design
from tests.takeoff.cases import kinds, pine, plain_design, plywood, taken

INCH, MM = LengthStyle("inch"), LengthStyle("mm")
BOARD = """
board:
  stock: oak
  runs: across
  thick: up
  width: 6in
  length: 40in
  place: {one: {left: 0, front: 0, bottom: 0}, two: {left: 0, front: 8in, bottom: 0}}
"""
OAK = (
    "oak: {kind: solid, species: white oak, rough: 4/4, thickness: 3/4in, widths: 5in to 10in, "
    "lengths: [96in], price: 9.00 USD/bdft, KEYS}"
)


def oak_boards(keys: str, head: str = "") -> TakeOff:
    """Two boards of 6 by 40 in from oak: 2 × 240 / 144 = 3 1/3 board feet in the finished parts."""
    lists, findings = taken(solve(project(BOARD, stock=OAK.replace(", KEYS", keys), head=head)))
    assert not findings.has_errors
    return lists


def line(lists: TakeOff, item: str) -> CostLine:
    (found,) = (one for one in lists.costs if one.item == item)
    return found


# Rounding and currencies


@pytest.mark.parametrize(
    ("amount", "currency", "words"),
    [
        ("8.9125", "USD", "8.91"),
        ("8.915", "USD", "8.92"),  # halves up
        ("8.925", "USD", "8.93"),  # and not to the even cent
        ("0.005", "EUR", "0.01"),
        ("899.5", "JPY", "900"),
        ("1.2345", "KWD", "1.235"),
        ("12", "CHF", "12.00"),
    ],
)
def test_money_is_printed_as_it_is_paid(amount: str, currency: str, words: str) -> None:
    assert amount_words(Fraction(amount), currency) == words
    assert payable(Fraction(amount), currency) == Fraction(words)


def test_places_by_currency() -> None:
    """ISO 4217, list one, from memory: yen have no minor unit, dinars of Kuwait a thousandth."""
    assert [minor_places(code) for code in ("USD", "EUR", "JPY", "KWD", "CLF")] == [2, 2, 0, 3, 4]


def test_the_printed_lines_add_up_to_the_printed_total() -> None:
    """Three lines of 1.005 are printed as 1.01 each: 3.03, where the exact sum 3.015 would be 3.02."""
    lines = [CostLine("thing", "1", Money(Fraction("1.005"), "USD")) for _ in range(3)]
    assert total(lines) == Money(Fraction("3.03"), "USD")


@pytest.mark.parametrize("units", ["inch", "mm"])
def test_totals_add_up_whatever_is_bought(units: str) -> None:
    rows = [(3, millimetres(83), millimetres(577)), (2, millimetres(91), millimetres(333))]
    stock = pine(price=Money(Fraction("7.77"), "USD"), price_per="metre", lengths=(millimetres(1999),))
    lists, _ = taken(plain_design(stock, rows, units))
    printed = [Fraction(amount_words(one.cost.amount, "USD")) for one in lists.costs if one.cost]
    assert lists.total_cost is not None
    assert Fraction(amount_words(lists.total_cost.amount, "USD")) == sum(printed)


def mixed(**prices: str) -> Design:
    design = sample_design()
    stock = {
        name: replace(one, price=Money(Fraction(30), prices.get(name, "USD")))
        for name, one in design.stock.items()
    }
    return replace(design, project=replace(design.project, currency=None), stock=stock)


def test_the_currency_of_most_prices_counts() -> None:
    """The first price alone is in euro: it is the one that is wrong."""
    lists, findings = taken(mixed(pine="EUR"))
    (error,) = findings
    assert error.kind == "mixed-currencies"
    assert error.remedy == "give every price in USD"
    assert error.place == sample_design().stock["pine"].place
    assert [one.title for one in lists.costs if one.cost and one.cost.currency != "USD"] == []


def test_every_price_in_another_currency_is_pointed_at() -> None:
    text = project(
        BOARD,
        stock=OAK.replace("KEYS", ""),
        hardware=(
            "screw: {kind: wood screw, gauge: 8, length: 1in, packs: {25: 4.80 EUR, 100: 9.50 USD}}\n"
            "nail: {kind: nail, diameter: 2mm, length: 1in, price: 3 GBP}"
        ),
        head="finish: {oil: {can: 1 qt, price: 20 EUR}}\n",
    )
    _, findings = taken(solve(text))
    (error,) = (one for one in findings if one.kind == "mixed-currencies")
    assert line_at(text, error).startswith("{kind: wood screw")
    words = [words for _, words in error.also]
    assert words == ["nail in GBP", "oil in EUR"]
    assert [text.splitlines()[place.line - 1].split(":")[0].strip() for place, _ in error.also] == [
        "nail",
        "finish",
    ]


# The waste rule


def test_thirty_percent_waste_buys_the_need_over_seven_tenths() -> None:
    """3 1/3 board feet over 0.7 are 4.76, so five are bought, for 45.00 USD; times 1.3 would be 4 1/3."""
    lists = oak_boards(", waste: 30%, buy: by waste rule")
    (rule,) = lists.waste_rules
    assert (rule.need, rule.least, rule.buy) == (Fraction(10, 3), Fraction(100, 21), 5)
    assert (rule.unit, rule.governs, rule.cost) == ("board foot", True, Money(Fraction(45), "USD"))
    found = line(lists, "oak")
    assert found.cost == Money(Fraction(45), "USD")
    words = found.words.text(INCH)
    assert words.startswith(
        "Where 30 % of what is bought is lost, the need of 3.3 board feet over 0.7 is 4.8 "
    )
    assert "buy 5 board feet. The cutting plan buys 1 board, " in words
    assert lists.total_cost == Money(Fraction(45), "USD")


def test_the_rule_stands_beside_the_plan_that_is_bought() -> None:
    lists = oak_boards(", waste: 30%")
    (rule,) = lists.waste_rules
    (plan,) = lists.plans
    assert not rule.governs
    assert rule.buy == 5
    assert "the rule would buy 5 board feet" in rule.words.text(INCH)
    assert line(lists, "oak").cost == plan.cost
    assert plan.board_feet is not None
    assert plan.cost == Money(plan.board_feet * 9, "USD")


def test_the_shop_says_what_is_wasted_where_the_stock_does_not() -> None:
    shop = "shop: {waste: 20%}\n"
    text = project(BOARD, stock=OAK.replace(", KEYS", "")).replace("shop: {glue: {wood glue: {}}}\n", shop)
    (rule,) = taken(solve(text))[0].waste_rules
    assert (rule.share, rule.least) == (Fraction(1, 5), Fraction(25, 6))
    own = text.replace("price: 9.00 USD/bdft", "price: 9.00 USD/bdft, waste: 40%")
    assert taken(solve(own))[0].waste_rules[0].share == Fraction(2, 5)


def test_no_waste_is_no_rule() -> None:
    assert oak_boards("").waste_rules == ()


def test_sheets_are_bought_whole() -> None:
    """Twelve panels of 24 by 24 in are 48 square feet: of 32 each 1.5 sheets, over 0.7 2.14, so three."""
    goods = plywood(waste=Fraction(3, 10), buy="by waste rule", price=Money(Fraction(38), "USD"))
    lists, _ = taken(plain_design(goods, [(12, inches(24), inches(24))]))
    (rule,) = lists.waste_rules
    assert (rule.need, rule.buy, rule.unit) == (Fraction(3, 2), 3, "sheet")
    assert rule.cost == Money(Fraction(114), "USD")


def test_boards_with_a_price_of_their_own_are_bought_whole() -> None:
    """4 pieces of 9 by 60 in are 2160 sq in; a board of 9-1/4 by 96 has 888: 2.43, over 0.9 2.7, so three."""
    goods = pine(
        lengths=(inches(96),), widths=(inches("9.25"),), price=Money(Fraction(2), "USD"), price_per="foot",
        waste=Fraction(1, 10),
    )  # fmt: skip
    (rule,) = taken(plain_design(goods, [(4, inches(9), inches(60))]))[0].waste_rules
    assert (rule.need, rule.buy, rule.unit) == (Fraction(2160, 888), 3, "board")
    assert rule.cost == Money(Fraction(3 * 8 * 2), "USD")


def test_cubic_metres_are_rounded_to_hundredths() -> None:
    """3 pieces of 100 by 500 mm at 27 mm are 0.00405 m3; over 0.6 0.00675: 0.01 m3 at 3900 USD is 39 USD."""
    goods = pine(
        species="white oak", label=phrase(millimetres(27)), label_thickness=millimetres(27),
        thickness=millimetres(20), widths=(millimetres(120),), lengths=(millimetres(2000),),
        price=Money(Fraction(3900), "USD"), price_per="cubic metre", waste=Fraction(2, 5),
        buy="by waste rule",
    )  # fmt: skip
    lists, _ = taken(plain_design(goods, [(3, millimetres(100), millimetres(500))], "mm"))
    (rule,) = lists.waste_rules
    assert (rule.need, rule.buy) == (Fraction("0.00405"), Fraction("0.01"))
    assert rule.cost == Money(Fraction(39), "USD")
    assert "buy 0.01 m³" in rule.words.text(MM)
    assert "board feet" not in rule.words.text(MM)
    assert "m³" not in rule.words.text(INCH)


def test_a_published_count_with_waste() -> None:
    """Floor boards of a tent, 106 in from faces of 5-1/2 in with 15 % waste: 22.67, so 23 pieces of 10 ft.

    US Army engineer subcourse EN01136, lesson 5, answers to the self-test: 106 / 5.5 / 0.85.
    """
    goods = pine(price=Money(Fraction(4), "USD"), price_per="piece")
    (plan,) = taken(plain_design(goods, [(1, inches("5.5"), inches(40))]))[0].plans
    full = replace(plan.diagrams[0], length=inches(120), width=inches("5.5"), used=Fraction(1))
    boards = (*[full] * 19, replace(full, used=Fraction(3, 11)))  # 19 × 5-1/2 in and 1-1/2 in are 106
    rule = waste_rule(goods, Fraction(15, 100), replace(plan, diagrams=boards), "USD")
    assert rule.need == Fraction(106) / Fraction("5.5")
    assert rule.buy == 23
    assert rule.cost == Money(Fraction(92), "USD")


def test_a_rule_without_a_share_is_an_error() -> None:
    text = project(BOARD, stock=OAK.replace(", KEYS", ", buy: by waste rule"))
    fault = the_fault(text, "missing-key")
    assert line_at(text, fault).startswith("buy: by waste rule")
    assert "waste: 30%" in fault.remedy


@pytest.mark.parametrize(("typed", "says"), [("130%", "would leave nothing"), ("0.3", "not a share")])
def test_a_share_that_cannot_be_is_an_error(typed: str, says: str) -> None:
    text = project(BOARD, stock=OAK.replace(", KEYS", f", waste: {typed}"))
    (fault,) = faults(text)
    assert says in fault.message
    assert line_at(text, fault).startswith(typed)


# Hardware by the pack, and screws that come with it

HINGED = (
    "hinge: {{kind: butt hinge, length: 2in, leaf: 3/4in, thickness: 5/64in, knuckle: 1/4in, "
    "screws: {{number: 6, gauge: 6, length: 5/8in{more}}}, price: 4.00 USD}}"
)
DOOR = """
side: {stock: pine, runs: up, thick: across, place: {left: 0, front: 0, back: 8in, bottom: 0, top: 16in}}
door:
  stock: pine
  runs: up
  thick: deep
  place: {left: side.right + 1/16in, right: 10in, front: 0, bottom: 0, top: 16in}
"""


def hinged(more: str) -> TakeOff:
    joints = "- hinged: {leaf: door, to: side, with: hinge, number: 3, swing: front 110deg, gap: 1/16in}"
    text = project(DOOR, joints, hardware=HINGED.format(more=more))
    lists, findings = taken(solve(text))
    assert not findings.has_errors
    return lists


def test_screws_in_the_hinges_box_are_counted_and_not_bought() -> None:
    lists = hinged(", included: yes")
    screws = next(one for one in lists.hardware if one.item == "hinge screw")
    assert (screws.count, screws.included, screws.included_with) == (18, 18, "hinge")
    assert (screws.bought, screws.left, screws.cost) == ((), 0, None)
    assert [one.item for one in lists.costs if one.kind == "hardware"] == ["hinge"]
    assert not any("hinge" in title for title in lists.unpriced)


def test_screws_that_do_not_come_along_are_bought_or_named() -> None:
    lists = hinged("")
    assert "Wood screw, for the hinge" in lists.unpriced
    priced = hinged(", packs: {10: 2.00 USD, 50: 6.50 USD}")
    screws = next(one for one in priced.hardware if one.item == "hinge screw")
    assert (screws.count, screws.bought, screws.packs, screws.left) == (18, ((10, 2),), 2, 2)
    assert screws.cost == Money(Fraction(4), "USD")
    assert line(priced, "hinge screw").words.text(INCH) == "18 (2 packs of 10)"


@pytest.mark.parametrize(
    ("row", "kind", "at"),
    [
        ("packs: {0: 1 USD}", "zero-size", "packs"),
        ("packs: {10: 1 USD/ft}", "price-unit", "1 USD/ft"),
        ("packs: {10: 1 USD}, pack: 20", "bad-value", "pack: 20"),
    ],
)
def test_packs_that_cannot_be(row: str, kind: str, at: str) -> None:
    text = project(DOOR, hardware=f"screw: {{kind: wood screw, gauge: 8, length: 1in, {row}}}")
    fault = the_fault(text, kind)
    assert line_at(text, fault).startswith(at)


def test_equal_titles_are_told_apart() -> None:
    design = sample_design()
    screw = design.hardware["screw"]
    twice = {**design.hardware, "plug": replace(screw, name="plug", title=screw.title)}
    lists, _ = taken(replace(design, hardware=twice))
    titles = [one.title for one in lists.costs]
    assert len(titles) == len(set(titles))


# What is left out


def test_the_notes_say_what_is_left_out() -> None:
    lists, _ = taken(sample_design())
    words = " ".join(note.text(INCH) for note in lists.cost_notes)
    assert "Without a price, and not in the total: Wood glue." in words
    assert "No line counts finish, abrasives" in words
    assert "have no date" not in words
    undated = replace(sample_design(), project=replace(sample_design().project, priced=None))
    assert "have no date" in taken(undated)[0].cost_notes[0].text(INCH)


def test_nothing_priced_has_no_total() -> None:
    lists, findings = taken(plain_design(pine(price=None), [(1, inches(7), inches(40))]))
    assert lists.total_cost is None
    assert lists.unpriced == ("White pine",)
    assert kinds(findings) == []
    assert not any("rounded" in note.text(INCH) for note in lists.cost_notes)


def test_costs_ask_no_findings_of_their_own() -> None:
    findings = Findings()
    taken(sample_design())
    assert not list(findings)


# Sizes with prices of their own, and what stands on the rack

SIZES = """
oak:
  kind: solid
  species: white oak
  rough: 4/4
  thickness: 3/4in
  waste: 30%
  boards:
    - {width: 7in, length: 48in, price: 11 USD}
    - {width: 7in, length: 96in, price: 20 USD, HAVE}
"""


def test_boards_with_prices_of_their_own_are_counted_by_the_board() -> None:
    """480 sq in of need over 0.7 are 686: of the longer board, 672 sq in, two: 40 USD."""
    lists, findings = taken(solve(project(BOARD, stock=SIZES.replace(", HAVE", ""))))
    assert not findings.has_errors
    (rule,) = lists.waste_rules
    (plan,) = lists.plans
    largest = max(one.length for one in plan.bought)
    per = {inches(96): (Fraction(480, 672), 2, 40), inches(48): (Fraction(480, 336), 3, 33)}[largest]
    assert (rule.need, rule.buy, rule.unit) == (per[0], per[1], "board")
    assert rule.cost == Money(Fraction(per[2]), "USD")
    assert f"buys {len(plan.bought)} board" in rule.words.text(INCH)


def test_what_stands_on_the_rack_is_not_bought_again() -> None:
    lists, findings = taken(solve(project(BOARD, stock=SIZES.replace("price: 20 USD, HAVE", "have: 1"))))
    assert not findings.has_errors
    (plan,) = lists.plans
    assert plan.bought == ()
    assert lists.waste_rules == ()
    assert line(lists, "oak").words.text(INCH) == "0 boards; 1 from the rack"
    assert lists.unpriced == ()


def test_a_size_in_another_currency_is_found() -> None:
    text = project(BOARD, stock=SIZES.replace("20 USD, HAVE", "20 EUR"))
    _, findings = taken(solve(text))
    (error,) = (one for one in findings if one.kind == "mixed-currencies")
    assert "EUR" in error.message


def test_published_prices_add_up() -> None:
    """Ten square feet of 3/4 in chestnut at 7-1/2 cents and eight No. 10 screws at 1/4 cent: 77 cents.

    Prices: I. S. Griffith, Correlated Courses in Woodwork and Mechanical Drawing, 1912, price list; the sum
    is ours.
    """
    board = """
board:
  stock: chestnut
  runs: across
  thick: up
  fit:
    - screw: {number: 8}
  place: {one: {left: 0, right: 60in, front: 0, back: 12in, bottom: 0}, two: {same as: one, bottom: 2in}}
"""
    chestnut = (
        "chestnut: {kind: solid, species: American chestnut, rough: 3/4, thickness: 3/4in, widths: [14in], "
        "lengths: [144in], price: 0.075 USD/sqft, waste: 0%, buy: by waste rule}"
    )
    screw = "screw: {kind: wood screw, gauge: 10, length: 1/2in, head: flat, price: 0.0025 USD}"
    lists, findings = taken(solve(project(board, stock=chestnut, hardware=screw)))
    assert not findings.has_errors
    assert [one.cost for one in lists.costs if one.cost] == [
        Money(Fraction("0.75"), "USD"),
        Money(Fraction("0.02"), "USD"),
    ]
    assert lists.total_cost == Money(Fraction("0.77"), "USD")
