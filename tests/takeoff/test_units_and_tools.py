"""Measures in the edition's own units, prices by the right unit, allowances that are there, and the tools."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from types import SimpleNamespace

import pytest

from plangen.design.model import Copy, GlueUp, Money
from plangen.findings import Findings, Severity
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.space import IDENTITY_TURN, Axis, Pose, Side
from plangen.takeoff import file_tables, take_off
from plangen.takeoff.tool_list import operation_tools, tool_list
from plangen.units import LengthStyle, Phrase, inches, millimetres, phrase
from tests.sample_design import PLACE, sample_design
from tests.takeoff.cases import kinds, pine, plain_design, plywood, taken

INCH, MM, BOTH = LengthStyle("inch"), LengthStyle("mm"), LengthStyle("both")
IMPERIAL = ("board feet", "board foot", "square feet")
METRIC = ("m³", "m²")


def oak(**changes: object):
    """Boards of 27 mm, planed to 20; 2 m long and 120 mm wide."""
    whole = {
        "name": "oak",
        "species": "white oak",
        "label": phrase(millimetres(27)),
        "label_thickness": millimetres(27),
        "thickness": millimetres(20),
        "widths": (millimetres(120),),
        "lengths": (millimetres(2000),),
        **changes,
    }
    return pine(**whole)


def words_of(design, lists, style: LengthStyle) -> str:
    # Densities are in kg/m³ in every edition, as the handbook has them.
    tables = [table for table in file_tables(design, lists, style) if table.name != "weights"]
    words = [cell for table in tables for row in table.rows for cell in row if isinstance(cell, str)]
    words += [table.note for table in tables]
    words += [plan.bound_words.text(style) for plan in lists.plans]
    return " ".join(words)


def many(stock, units: str):
    """So many pieces that a bound by area is said."""
    rows = [(number, millimetres(width), millimetres(length)) for number, width, length in
            ((7, 60, 700), (9, 50, 450), (5, 90, 330), (6, 33, 810))]  # fmt: skip
    return plain_design(stock, rows, units)


@pytest.mark.parametrize("units", ["inch", "mm"])
@pytest.mark.parametrize("per", ["board foot", "cubic metre", "piece"])
def test_each_edition_keeps_to_its_own_measures(units: str, per: str) -> None:
    design = many(oak(price=Money(Fraction(5), "USD"), price_per=per), units)
    lists, findings = taken(design)
    assert not findings.has_errors
    inch, metric = words_of(design, lists, INCH), words_of(design, lists, MM)
    assert "board feet" in inch
    assert not any(word in inch for word in METRIC)
    assert "m³" in metric
    assert not any(word in metric for word in IMPERIAL)
    both = words_of(design, lists, BOTH)
    assert "board feet" in both
    assert "m³" in both


def test_the_bound_by_area_is_said_in_the_edition() -> None:
    square = plain_design(plywood(sheet=(inches(24), inches(48))), [(40, inches(5), inches(7))])
    (plan,) = taken(square)[0].plans
    assert "square feet" in plan.bound_words.text(INCH)
    assert "m²" in plan.bound_words.text(MM)
    assert "square feet" not in plan.bound_words.text(MM)
    assert "m²" not in plan.bound_words.text(INCH)


def test_finished_volume_counts_the_real_thickness() -> None:
    """3 pieces of 100 by 500 by 20 mm are 0.003 m3; one board of 27 by 120 by 2000 mm is 0.006 48 m3."""
    design = plain_design(oak(), [(3, millimetres(100), millimetres(500))], "mm")
    (plan,) = taken(design)[0].plans
    assert plan.net_volume == 3 * 100 * 500 * 20
    assert plan.volume == 27 * 120 * 2000
    assert "0.006 m³ to buy; 0.003 m³ in the finished parts" in plan.measure_note.text(MM)
    costs = next(table for table in file_tables(design, taken(design)[0], MM) if table.name == "costs")
    assert costs.rows[0][1] == "1 board, 0.006 m³"


def test_layers_count_by_their_own_thickness() -> None:
    design = plain_design(oak(), [(1, millimetres(60), millimetres(500))], "mm")
    high = design.parts[0].blank.high.with_(Axis.UP, millimetres(40))
    layered = replace(
        design.parts[0],
        blank=replace(design.parts[0].blank, high=high),
        glue_up=GlueUp("layers", 2, millimetres(60), millimetres(20)),
    )
    (plan,) = taken(replace(design, parts=(layered,)))[0].plans
    assert plan.net_volume == 60 * 500 * 40


def test_halves_of_board_feet_round_up() -> None:
    """Two boards 9-1/4 in wide and 6 ft long: 2 × 9.25 × 6 / 12 = 9.25 board feet."""
    design = plain_design(pine(species="red oak"), [(2, inches(9), inches(60))])
    lists, _ = taken(design)
    assert lists.plans[0].board_feet == Fraction(37, 4)
    assert lists.costs[0].quantity == "2 boards, 9.3 board feet"


@pytest.mark.parametrize(
    ("stock", "per", "wrong"),
    [
        (plywood, "board foot", True),
        (plywood, "cubic metre", True),
        (plywood, "metre", True),
        (plywood, "sheet", False),
        (plywood, "piece", False),
        (oak, "sheet", True),
        (oak, "board foot", False),
        (oak, "cubic metre", False),
        (oak, "foot", False),
    ],
)
def test_a_price_has_a_unit_that_is_sold(stock, per: str, wrong: bool) -> None:
    goods = stock(price=Money(Fraction(22), "USD"), price_per=per)
    lists, findings = taken(plain_design(goods, [(1, inches(4), inches(20))]))
    assert kinds(findings) == (["price-unit"] if wrong else [])
    if wrong:
        (error,) = findings
        assert error.severity is Severity.ERROR
        assert f"per {per}" in error.message
        assert ("USD/sheet" if stock is plywood else "USD/bdft") in error.remedy
    else:
        assert lists.plans[0].cost is not None


def glued(width: int, number: int, board: int, kind: str = "boards"):
    design = plain_design(
        oak(widths=(millimetres(board),)), [(1, millimetres(width), millimetres(460))], "mm"
    )
    each = millimetres(Fraction(width, number if kind == "boards" else 1))
    thickness = millimetres(20 if kind == "boards" else 10)
    part = replace(design.parts[0], glue_up=GlueUp(kind, number, each, thickness))
    return replace(design, parts=(part,))


def test_boards_to_be_glued_have_their_jointing() -> None:
    lists, findings = taken(glued(230, 2, 120))
    assert not list(findings)
    (plan,) = lists.plans
    assert plan.allowance_width == millimetres(3)
    widths = [piece.width for one in plan.diagrams for piece in one.pieces]
    assert len(widths) == 2
    assert all(millimetres(118) <= width <= millimetres(120) for width in widths)


@pytest.mark.parametrize("kind", ["boards", "layers"])
def test_stock_without_room_for_jointing_is_an_error(kind: str) -> None:
    lists, findings = taken(glued(240 if kind == "boards" else 120, 2, 120, kind))
    (error,) = findings
    assert (error.kind, error.severity) == ("part-exceeds-stock", Severity.ERROR)
    assert "120 mm wide, and 123 mm before its edges are jointed" in error.message.replace("\u00a0", " ")
    assert ("3 boards" in error.remedy) is (kind == "boards")
    assert lists.plans == ()


def test_what_takes_the_whole_board_is_said_to_be_no_wider() -> None:
    rows = [(1, millimetres(120), millimetres(460)), (2, millimetres(50), millimetres(460))]
    (plan,) = taken(plain_design(oak(), rows, "mm"))[0].plans
    assert not plan.allowance_width
    assert "3 mm too wide, but for those as wide as their board" in plan.bound_words.text(MM).replace(
        "\u00a0", " "
    )
    (plan,) = taken(plain_design(oak(), rows[1:], "mm"))[0].plans
    assert plan.allowance_width == millimetres(3)
    assert "too wide" not in plan.bound_words.text(MM)


def texts(tools: tuple[Phrase, ...]) -> list[str]:
    return [tool.text(INCH).replace("\u00a0", " ") for tool in tools]


def order_with(*tools: str) -> SimpleNamespace:
    return SimpleNamespace(steps=(SimpleNamespace(number=1, measured=(), tools=tools),))


def bare():
    """The sample without work or joints, so that only the steps name tools."""
    design = sample_design()
    parts = tuple(replace(part, operations=()) for part in design.parts)
    return replace(design, parts=parts, joints=(), fits=())


def test_tools_come_from_the_steps_machines_first_then_bits_by_size() -> None:
    order = order_with(
        "Clamps", "Drill, <=381/40> bit", "Jointer and planer, or hand planes", "Drill, <=127/40> bit",
        "Countersink bit", "Jigsaw or bandsaw", "Sandpaper to 180 grit", "Table saw or hand saw",
    )  # fmt: skip
    assert texts(tool_list(bare(), order)) == [
        "Jointer and planer, or hand planes", "Jigsaw or bandsaw", "Table saw or hand saw",
        "Drill, 1/8 in bit", "Drill, 3/8 in bit", "Countersink bit", "Clamps", "Sandpaper to 180 grit",
    ]  # fmt: skip


def test_one_tool_is_listed_once_however_it_is_said() -> None:
    order = order_with(
        "Bandsaw or jigsaw", "Jigsaw or bandsaw.", "Bandsaw, jigsaw or handsaw", "bandsaw or jigsaw"
    )
    assert texts(tool_list(bare(), order)) == ["Bandsaw or jigsaw"]
    apart = order_with(
        "Table saw or hand saw", "Table saw or tenon saw", "Hand plane", "Jointer or hand planes"
    )
    assert len(tool_list(bare(), apart)) == 4


def test_a_narrower_tool_drops_the_wider_choice_whichever_comes_first() -> None:
    for tools in (("Router", "Router or chisel"), ("Router or chisel", "Router")):
        assert texts(tool_list(bare(), order_with(*tools))) == ["Router"]


def test_what_a_maker_refers_to_is_put_in() -> None:
    design = bare()
    name, size = next((name, size) for name, size in design.sizes.items() if not isinstance(size, Fraction))
    order = order_with(
        f"A stop at <{name}>", "A {hardware:screw} to try", "A gauge \\<fine>", "Set to <odd.thing>"
    )
    assert texts(tool_list(design, order)) == [
        f"A stop at {phrase(size).text(INCH)}".replace("\u00a0", " "),
        "A wood screw, flat head to try",
        "A gauge <fine>",
    ]  # fmt: skip


def test_glue_is_no_tool_and_has_its_open_time() -> None:
    design = sample_design()
    lists = take_off(design, order_with("Wood glue, open 10 minutes", "Clamps"), Findings())
    assert not any("glue" in text.lower() for text in texts(lists.tools))
    assert lists.glues == (("wood glue", Fraction(10)),)


def test_glues_are_those_of_the_joints_and_the_shops_for_panels_and_plugs() -> None:
    design = sample_design()
    shop = replace(design.shop, glues=())
    assert taken(replace(design, shop=shop))[0].glues == (("wood glue", None),)
    assert taken(replace(bare(), shop=shop))[0].glues == ()
    panel = replace(bare().parts[0], mirror=None, glue_up=GlueUp("boards", 2, inches("4.5"), inches("3/4")))
    alone = replace(bare(), parts=(panel,), shop=shop)
    assert taken(alone)[0].glues == (("wood glue", None),)
    hide = replace(alone, shop=replace(shop, glues=(("hide glue", Fraction(5)), ("epoxy", Fraction(30)))))
    assert taken(hide)[0].glues == (("hide glue", Fraction(5)),)
    (screws,) = [joint for joint in design.joints if any(use.item == "plug" for use in joint.hardware)]
    dry = replace(design, joints=(replace(screws, glue=None),), shop=shop)
    assert taken(dry)[0].glues == (("wood glue", None),)


def test_a_countersunk_hole_asks_for_its_bit() -> None:
    hole = Feature(Form.HOLE, Side.TOP, (), countersink=True)
    drilled = Operation("hole", "Hole", Side.TOP, (), (hole,), phrase(), (phrase("Drill"),), place=PLACE)
    assert texts(operation_tools(drilled)) == ["Drill", "Countersink bit"]
    assert texts(operation_tools(replace(drilled, tools=(phrase("Countersink"),)))) == ["Countersink"]
    assert texts(operation_tools(replace(drilled, features=(replace(hole, countersink=False),)))) == ["Drill"]


def note_of(part, joints=()) -> list[str]:
    design = replace(sample_design(), parts=(part,), joints=joints, fits=())
    return [note.text(INCH).replace("\u00a0", " ") for note in taken(design)[0].cut_list[0].notes]


def test_tenons_are_noted_by_their_ends() -> None:
    design = sample_design()
    shelf = design.part("shelf")
    (housings,) = [joint for joint in design.joints if joint.kind == "dado"]
    assert note_of(shelf, (housings,)) == ["1/4 in into each dado"]
    tenons = replace(housings, kind="mortise and tenon", title="Mortise and tenon")
    assert note_of(shelf, (tenons,)) == ["tenon 1/4 in long at each end"]
    first = shelf.copies[0]
    one_end = replace(first, shoulders=first.shoulders.with_side(Side.LEFT, first.box.low.across))
    assert note_of(replace(shelf, copies=(one_end,)), (tenons,)) == ["1/4 in tenon at the right end"]


def test_a_hand_says_which_copies_it_is() -> None:
    leg = replace(sample_design().part("side left"), name="leg", mirror=None, pattern=False)

    def copies(*names: str) -> tuple[Copy, ...]:
        box = leg.copies[0].box
        return tuple(Copy(name, leg.key, Pose(IDENTITY_TURN, box.low), box, box, PLACE) for name in names)

    named = replace(leg, copies=copies("front left leg", "back right leg"))
    assert note_of(named) == ["front left leg, back right leg"]
    assert note_of(replace(leg, copies=copies("left leg", "leg 2"))) == []
    assert note_of(replace(named, hand=None)) == []
