"""The lists of the sample case, checked by hand, and everything the take-off has to refuse or warn of."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from types import SimpleNamespace

import pytest

from plangen.design.model import FromWork, GlueUp, Money
from plangen.findings import Findings, Severity
from plangen.joinery.space import Axis
from plangen.takeoff import take_off
from plangen.takeoff.cut_list import mark_order
from plangen.units import LengthStyle, inches, millimetres, phrase
from tests.sample_design import sample_design
from tests.takeoff.cases import kinds, metric_plywood, pine, plain_design, plywood, taken

INCH = LengthStyle()


@pytest.fixture(scope="module")
def sample():
    return taken(sample_design())


def test_cut_list_by_hand(sample):
    lists, findings = sample
    assert not list(findings)
    found = [
        (line.mark, line.number, line.thickness.inches, line.width.inches, line.length.inches)
        for line in lists.cut_list
    ]
    assert found == [
        ("A-L", 1, Fraction(3, 4), 9, 18),
        ("A-R", 1, Fraction(3, 4), 9, 18),
        ("B", 2, Fraction(3, 4), Fraction("8.78"), 23),  # 24 - 2 × 3/4 + 2 × 1/4
        ("C", 1, Fraction(3, 4), 3, Fraction("22.5")),
        ("D", 1, Fraction("0.22"), Fraction("23.25"), 18),  # 22.5 + 2 × 3/8 wide
    ]
    shelf = lists.cut_list[2]
    assert shelf.shoulder_length == inches("22.5")
    assert shelf.shoulder_width is None
    assert [note.text(INCH, unit=False) for note in shelf.notes] == ["1/4 into each dado"]
    assert lists.cut_list[0].notes[0].text(INCH) == "mirror of A-R"
    assert lists.cut_list[4].shoulder_width == inches("22.5")


def test_hardware_by_hand(sample):
    lists, _ = sample
    screw, plug = lists.hardware
    assert (screw.number_mark, screw.count, screw.packs, screw.by) == (1, 4, 1, (("rail screws", 4),))
    assert screw.cost == Money(Fraction(6), "USD")  # one box of 50 at 0.12 each
    assert (plug.number_mark, plug.count, plug.packs, plug.cost) == (2, 4, None, None)


def test_a_count_over_one_pack_takes_two():
    design = sample_design()
    screw = replace(design.hardware["screw"], pack=3)
    lists, _ = taken(replace(design, hardware={**design.hardware, "screw": screw}))
    assert lists.hardware[0].packs == 2
    assert lists.hardware[0].cost == Money(6 * Fraction("0.12"), "USD")


def test_boards_of_the_sample_by_hand(sample):
    """Two 1×10 of 6 ft: 2 × 10 × 6 / 12 = 10 board feet at 4.20; the sheet at 38."""
    lists, _ = sample
    boards, sheets = lists.plans
    assert [diagram.length for diagram in boards.diagrams] == [inches(72), inches(72)]
    assert boards.board_feet == 10
    assert boards.cost == Money(Fraction(42), "USD")
    net = 2 * 9 * 18 + 2 * Fraction("8.78") * 23 + 3 * Fraction("22.5")
    assert boards.net_board_feet == net / 144
    assert boards.bound == 2
    assert "lengths add up" in boards.bound_reason
    assert "107 5/8" in boards.bound_reason.replace("\u00a0", " ")  # 2 × 23-1/2 + 23 + 2 × 18-1/2 + 5 × 1/8
    assert sheets.square_feet == 32
    assert sheets.diagrams[0].used == Fraction("23.25") * 18 / (48 * 96)
    assert lists.total_cost == Money(Fraction(86), "USD")
    assert lists.unpriced == ("Wood glue",)


def test_mass_by_hand(sample):
    """A side's blank: 0.75 × 9 × 18 in = 121.5 cu in = 1.99103 litres, at 400 kg/m3 0.79641 kg."""
    lists, _ = sample
    assert float(lists.part_mass["side left"]) == pytest.approx(0.79641, abs=1e-5)
    assert lists.mass == sum(
        mass * len(sample_design().part(key).copies) for key, mass in lists.part_mass.items()
    )
    solid = take_off(sample_design(), None, Findings(), {"side left": 1_000_000.0})
    assert solid.part_mass["side left"] == Fraction(4, 10)
    assert "Parts as cut" in solid.mass_note


def test_areas_by_hand(sample):
    lists, _ = sample
    design = sample_design()
    assert lists.glue_area == sum(joint.glue_area for joint in design.joints)
    side = 2 * (9 * 18 + Fraction(3, 4) * (9 + 18)) * Fraction("645.16")
    assert 0 < lists.finish_area < side * 2 + 10**7
    bare, _ = taken(replace(design, joints=(), hardware={}))
    covered = bare.finish_area - lists.finish_area
    faces = sum(
        (
            contact.face.size(one).mm * contact.face.size(two).mm
            for joint in design.joints
            for contact in joint.contacts
            for one, two in [[axis for axis in Axis if contact.face.size(axis)]]
        ),
        Fraction(0),
    )
    assert covered == 2 * faces


def test_tools_once_and_grouped(sample):
    lists, _ = sample
    words = [tool.text(INCH, unit=False) for tool in lists.tools]
    assert len(words) == len(set(words))
    routers = [index for index, word in enumerate(words) if word.startswith("Router")]
    assert routers == list(range(routers[0], routers[0] + len(routers)))
    assert len(routers) == 2


def test_marks_run_as_letters_do():
    marks = ["AA", "B", "A-R", "Z", "A-L"]
    assert sorted(marks, key=mark_order) == ["A-L", "A-R", "B", "Z", "AA"]


def test_rough_sizes_are_over_and_on_the_tape(sample):
    lists, _ = sample
    for diagram in lists.plans[0].diagrams:
        for piece in diagram.pieces:
            part = sample_design().part(piece.part)
            assert piece.length >= part.length + inches("1/2")
            assert piece.width >= part.width + inches("1/8")
            assert (piece.length.inches * 16).denominator == (piece.width.inches * 16).denominator == 1


def test_sheet_pieces_are_cut_to_net_size(sample):
    lists, _ = sample
    piece = lists.plans[1].diagrams[0].pieces[0]
    assert (piece.length, piece.width) == (inches(18), inches("23.25"))
    assert piece.x == piece.y == inches("1/4")


def test_kerf_never_lets_two_halves_out_of_a_sheet():
    halves = plain_design(plywood(), [(2, inches("23.75"), inches(48)), (2, inches("23.75"), inches(47))])
    lists, findings = taken(halves)
    assert not list(findings)
    assert len(lists.plans[0].diagrams) == 2  # 48 + 48 is more than a sheet gives once the saw has passed


def test_part_too_long():
    design = plain_design(pine(), [(1, inches(6), inches(100)), (1, inches(6), inches(20))])
    lists, findings = taken(design)
    error = next(iter(findings))
    assert (error.kind, error.severity, error.part) == ("part-exceeds-stock", Severity.ERROR, "piece 0")
    assert "100" in error.message
    assert "longest board" in error.message
    assert [piece.part for diagram in lists.plans[0].diagrams for piece in diagram.pieces] == ["piece 1"]


def test_part_too_wide_is_told_its_glue_up():
    design = plain_design(pine(), [(1, inches(20), inches(30))])
    lists, findings = taken(design)
    error = next(iter(findings))
    assert error.kind == "part-exceeds-stock"
    assert "widest board" in error.message
    assert "3 boards" in error.remedy  # 20 from 9-1/4 less 1/8: three
    assert lists.plans == ()
    glued = replace(design.parts[0], glue_up=GlueUp("boards", 3, inches(20) / 3, inches("3/4")))
    lists, findings = taken(replace(design, parts=(glued,)))
    assert not list(findings)
    pieces = [piece for diagram in lists.plans[0].diagrams for piece in diagram.pieces]
    assert len(pieces) == 3
    assert "3 boards" in lists.cut_list[0].notes[0].text(INCH)
    assert lists.cut_list[0].number == 1
    assert lists.glue_area == 2 * 30 * Fraction(3, 4) * Fraction("645.16")


def test_part_too_thick_and_layers():
    design = plain_design(pine(), [(1, inches(3), inches(30))])
    thick = replace(
        design.parts[0],
        blank=replace(design.parts[0].blank, high=design.parts[0].blank.high.with_(Axis.UP, inches("1.5"))),
    )
    _, findings = taken(replace(design, parts=(thick,)))
    assert kinds(findings) == ["part-exceeds-stock"]
    assert "2 layers" in next(iter(findings)).remedy
    layered = replace(thick, glue_up=GlueUp("layers", 2, inches(3), inches("3/4")))
    lists, findings = taken(replace(design, parts=(layered,)))
    assert not list(findings)
    assert sum(len(diagram.pieces) for diagram in lists.plans[0].diagrams) == 2


def test_long_and_wide_on_no_board():
    goods = pine(widths=(inches(6), inches(10)), lengths=(inches(48),))
    assert not kinds(taken(plain_design(goods, [(1, inches(9), inches(40))]))[1])
    ply = plywood(sheet=(inches(24), inches(48)))
    _, findings = taken(plain_design(ply, [(1, inches(30), inches(20))]))
    assert kinds(findings) == ["part-exceeds-stock"]
    assert "sheet" in next(iter(findings)).message


def test_a_part_as_large_as_the_sheet_warns():
    lists, findings = taken(plain_design(plywood(), [(1, inches(48), inches(96))]))
    assert kinds(findings) == ["factory-edge"]
    assert lists.plans[0].diagrams[0].cuts == ()


def test_full_board_width_is_not_ripped():
    lists, findings = taken(plain_design(pine(widths=(inches("7.25"),)), [(1, inches("7.25"), inches(30))]))
    assert not list(findings)
    assert all(cut.along == "y" for cut in lists.plans[0].diagrams[0].cuts)


def test_random_widths_ask_for_what_is_needed():
    goods = pine(species="oak", widths=(inches(5), inches(10)), random_widths=True, lengths=(inches(96),))
    lists, _ = taken(plain_design(goods, [(2, inches(7), inches(40))]))
    [diagram] = lists.plans[0].diagrams
    assert inches("7.125") <= diagram.width <= inches("7.5")
    assert "at least" in diagram.title.text(INCH)


def test_boards_without_sizes_take_common_ones_and_say_so():
    lists, findings = taken(plain_design(pine(widths=(), lengths=()), [(1, inches(7), inches(40))]))
    assert kinds(findings) == ["assumed-board-sizes"]
    assert lists.plans


def test_softwood_counts_by_its_nominal_width_hardwood_by_its_own():
    rows = [(1, inches(9), inches(60))]
    soft = taken(plain_design(pine(lengths=(inches(96),)), rows))[0].plans[0]
    hard = taken(plain_design(pine(species="red oak", lengths=(inches(96),)), rows))[0].plans[0]
    assert soft.board_feet == Fraction(10 * 8, 12)
    assert hard.board_feet == Fraction(37, 4) * 8 / 12


@pytest.mark.parametrize(
    ("per", "amount"),
    [
        ("board foot", Fraction(20, 3) * 3), ("piece", Fraction(3)), ("foot", Fraction(24)),
        ("metre", Fraction("2.4384") * 3),
        ("cubic metre", Fraction("0.0254") * Fraction("0.23495") * Fraction("2.4384") * 3),
    ],
)  # fmt: skip
def test_price_by(per, amount):
    """One 1×10 of 8 ft at 3.00: board feet 10 × 8 / 12."""
    goods = pine(lengths=(inches(96),), price=Money(Fraction(3), "USD"), price_per=per)
    lists, _ = taken(plain_design(goods, [(1, inches(9), inches(60))]))
    assert lists.plans[0].cost == Money(amount, "USD")


def test_nothing_unpriced_counts_as_nothing():
    design = sample_design()
    stock = {**design.stock, "ply": replace(design.stock["ply"], price=None)}
    lists, _ = taken(replace(design, stock=stock))
    assert lists.unpriced == ("Birch plywood", "Wood glue")
    assert lists.total_cost == Money(Fraction(48), "USD")
    assert [line.cost for line in lists.costs if line.title == "Birch plywood"] == [None]


def test_mixed_currencies():
    design = sample_design()
    stock = {**design.stock, "ply": replace(design.stock["ply"], price=Money(Fraction(30), "EUR"))}
    lists, findings = taken(replace(design, stock=stock))
    [error] = list(findings)
    assert error.kind == "mixed-currencies"
    assert "EUR" in error.message
    assert "USD" in error.message
    assert "Birch plywood" in lists.unpriced


def test_unused_stock_and_hardware():
    design = sample_design()
    stock = {**design.stock, "oak": replace(design.stock["pine"], name="oak")}
    hardware = {**design.hardware, "knob": replace(design.hardware["screw"], name="knob")}
    _, findings = taken(replace(design, stock=stock, hardware=hardware))
    assert kinds(findings) == ["unused-stock", "unused-stock"]
    assert not findings.has_errors


def test_from_work_is_starred_and_left_over():
    design = plain_design(plywood(), [(1, inches(10), inches(20))])
    late = FromWork(Axis.ACROSS, phrase("opening less ", inches("1/8")), inches(20), inches("1/2"))
    part = replace(design.parts[0], from_work=(late,))
    order = SimpleNamespace(steps=(SimpleNamespace(number=7, measured=(part.key,), tools=()),))
    lists = take_off(replace(design, parts=(part,)), order, Findings())
    line = lists.cut_list[0]
    assert line.from_work
    note = line.notes[0].text(INCH, unit=False)
    assert "step 7" in note
    assert "opening less 1/8" in note
    assert lists.plans[0].diagrams[0].pieces[0].length == inches("20.5")


def test_no_density_is_said():
    lists, _ = taken(plain_design(pine(density=None), [(1, inches(7), inches(40))]))
    assert lists.mass == 0
    assert lists.part_mass == {}
    assert "no density known: White pine" in lists.mass_note


def test_metric_job_is_in_millimetres():
    rows = [(2, millimetres(520), millimetres(620)), (4, millimetres(96), millimetres(450))]
    lists, findings = taken(plain_design(metric_plywood(), rows, "mm"))
    assert not list(findings)
    assert lists.plans[0].diagrams[0].pieces[0].x == millimetres(6)


def test_same_design_same_lists(sample):
    assert taken(sample_design())[0] == sample[0]
