"""Glue-ups by hand calculation: how many boards, in which sections, how wide before and after."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from plangen.description import read_description
from plangen.description.model import Description
from plangen.design.build import _make_frame
from plangen.design.frame import Frame
from plangen.design.gluing import glue_up
from plangen.design.gluing_order import Size
from plangen.design.model import GlueUp
from plangen.findings import Finding, Findings
from plangen.units import ZERO, LengthStyle, inches
from tests.design.small import project

INCH = LengthStyle()
TOP = ("48", "24", "3/4")  # length, width, thickness in inches


def text_of(typed: str, widths: str, planer: str, species: str) -> str:
    stock = f"oak: {{kind: solid, species: {species}, rough: 4/4, thickness: 3/4in, widths: {widths}}}"
    return project(
        f"top:\n  stock: oak\n  runs: across\n  thick: up\n  glue up: {typed}\n"
        "  place: {left: 0, right: 4in, front: 0, back: 4in, bottom: 0}\n",
        stock=stock,
    ).replace("shop: {", f"shop: {{planer: {planer}, " if planer else "shop: {")


def opened(typed: str, widths: str, planer: str, species: str = "red oak") -> tuple[Frame, Description]:
    findings = Findings()
    description = read_description(text_of(typed, widths, planer, species).encode(), "project.yaml", findings)
    assert description is not None, [one.message for one in findings]
    return _make_frame(description, findings), description


def attempt(
    typed: str,
    size: tuple[str, str, str] = TOP,
    *,
    widths: str = "[5-1/2in, 7-1/4in]",
    planer: str = "13in",
    species: str = "red oak",
) -> tuple[GlueUp | None, list[Finding], str]:
    """Work out the glue-up of one top, straight from what is typed."""
    frame, description = opened(typed, widths, planer, species)
    made = glue_up(description.parts["top"], "top", Size(*map(inches, size)), frame)
    return made, list(frame.findings), text_of(typed, widths, planer, species)


def made_up(typed: str, size: tuple[str, str, str] = TOP, **stock: str) -> GlueUp:
    made, findings, _ = attempt(typed, size, **stock)
    assert not findings, [one.message for one in findings]
    assert made is not None
    return made


def fault_of(typed: str, size: tuple[str, str, str] = TOP, **stock: str) -> tuple[Finding, str]:
    made, (finding,), text = attempt(typed, size, **stock)
    assert made is None
    assert finding.place is not None
    line = text.splitlines()[finding.place.line - 1]
    return finding, line[finding.place.column - 1 :]


def said(made: GlueUp) -> str:
    return " ".join(one.text(INCH) for one in made.say).replace("\u00a0", " ")


class TestBoards:
    @pytest.mark.parametrize(
        ("width", "widths", "number"),
        [
            ("12", "[5-1/2in]", 3),  # 12 / 3 = 4, ripped 4-1/8; two would be 6-1/8
            ("12", "[6in]", 3),  # two of 6 have nothing left to joint
            ("12", "[6-1/8in]", 2),
            ("12", "[4in]", 4),
            ("24", "4in to 9in", 3),  # 8, ripped 8-1/8: the widest that may come is 9
            ("20", "4in to 9in", 3),  # 6-2/3, ripped on the tape's line above 6.791 in: 6-13/16
        ],
    )
    def test_best_is_the_fewest_that_can_be_jointed(self, width: str, widths: str, number: int) -> None:
        made = made_up("{boards: best}", ("30", width, "3/4"), widths=widths, planer="")
        assert (made.kind, made.number, made.width) == ("boards", number, inches(width) / number)

    def test_best_takes_no_board_wider_than_the_planer(self) -> None:
        """24 from boards of up to 12: two of 12-1/8 are too wide; with a planer of 6, five of 4-15/16."""
        made = made_up("{boards: best}", widths="[12in]", planer="6in")
        assert made.number == 5
        assert made.rough_width == inches("79/16")  # 4.8 + 1/8 = 4.925

    def test_best_of_what_one_board_gives_is_no_glue_up(self) -> None:
        made, findings, _ = attempt("{boards: best}", ("30", "29/4", "3/4"))
        assert made is None
        assert not findings

    def test_a_typed_number_stays(self) -> None:
        made = made_up("{boards: 5}")
        assert (made.number, made.width, made.rough_width) == (5, inches(24) / 5, inches("79/16"))
        assert made.rough_length is None
        # 4.8 in is 4-13/16 on the tape: five make 24-1/16, and 1/16 is trimmed off.
        assert [(one.boards, one.width) for one in made.sections] == [(5, inches("385/16"))]
        assert "They make 24 1/16 in." in said(made).replace("Glue them edge to edge: they", "They")
        assert "Trim it to 24 in wide." in said(made)

    @pytest.mark.parametrize(("wide", "number", "over"), [("24", 5, "0"), ("33", 6, "1/2"), ("31", 7, "2/3")])
    def test_what_is_printed_adds_up(self, wide: str, number: int, over: str) -> None:
        typed = f"{{boards: {number}, sections: 2, allowance: {{width: {over}in}}}}"
        made = made_up(typed, (TOP[0], wide, TOP[2]), planer="24in")
        # On a line of the tape every width prints as it is, so that sums of printed numbers are exact.
        lengths = [made.sections[0].board_width, *(one.width for one in made.sections), made.rough_width]
        assert all((length.inches * 16).denominator == 1 for length in lengths if length is not None)
        whole = sum((one.width for one in made.sections), ZERO)
        assert whole == made.sections[0].board_width * number == inches(Fraction(wide)) + made.over_width
        assert ZERO <= whole - inches(Fraction(wide)) - inches(over) < inches(Fraction(number, 16))

    def test_boards_thinner_than_their_stock_are_planed_first(self) -> None:
        made = made_up("{boards: 4}", (TOP[0], TOP[1], "1/2"))
        assert said(made).startswith("Plane the boards to 1/2 in thick. Rip 4 boards")
        assert "Plane" not in said(made_up("{boards: 4}"))

    def test_a_panel_too_wide_to_plane_is_kept_flush(self) -> None:
        assert "does not pass the planer, which takes 13 in" in said(made_up("{boards: 4}"))
        assert "planer" not in said(made_up("{boards: 4}", planer="24in"))

    def test_allowance_is_ripped_with_the_boards(self) -> None:
        """24 and 1/2 over: four of 6-1/8, ripped 6-1/4; 48 and 1 over long."""
        made = made_up("{boards: 4, allowance: {length: 1in, width: 1/2in}}")
        assert (made.width, made.rough_width, made.rough_length) == (inches(6), inches("25/4"), inches(49))
        assert said(made).endswith("Trim it to 24 in wide and 48 in long.")


class TestSections:
    def test_a_top_wider_than_the_planer(self) -> None:
        """24 and 1/8 for each of two sections: 24-1/4 from four boards of 6-1/16, ripped 6-3/16."""
        made = made_up("{boards: best, sections: 2}")
        assert made.number == 4
        assert [(one.number, one.boards, one.width) for one in made.sections] == [
            (1, 2, inches("97/8")),
            (2, 2, inches("97/8")),
        ]
        assert {(one.board_width, one.board_rough) for one in made.sections} == {
            (inches("97/16"), inches("99/16"))
        }
        assert (
            "Plane each section to 3/4 in thick before joining them, because the finished piece, 24 in wide, "
            "does not pass the planer, which takes 13 in."
        ) in said(made)
        assert "2 of 2 boards each, 12 1/8 in wide" in said(made)

    def test_boards_of_sections_are_left_thick_enough_to_plane(self) -> None:
        """Oak of 4/4 is 1 in as bought: 1/16 stays on. Pine bought at 3/4 has none to spare."""
        made = made_up("{boards: best, sections: 2}")
        assert made.over_thickness == inches("1/16")
        assert "Leave them 13/16 in thick until they are glued." in said(made)
        tight = made_up("{boards: best, sections: 2}", ("48", "24", "31/32"))
        assert tight.over_thickness == inches("1/32")
        dressed = made_up("{boards: best, sections: 2}", species="eastern white pine")
        assert not dressed.over_thickness
        assert "Level the seams of each section before joining them, because" in said(dressed)
        assert "Plane" not in said(dressed)

    def test_boards_that_do_not_share_out_go_to_the_first(self) -> None:
        """Five of 4.8, 4-13/16 on the tape, in two sections: 14-7/16 and 9-5/8."""
        made = made_up("{boards: 5, sections: 2, allowance: {width: 0}}", planer="15in")
        assert [(one.boards, one.width.inches) for one in made.sections] == [
            (3, Fraction("14.4375")),
            (2, Fraction("9.625")),
        ]
        assert sum((one.width.inches for one in made.sections), Fraction(0)) == 24 + Fraction(1, 16)

    def test_best_keeps_every_section_within_the_planer(self) -> None:
        """Three boards would make a section of two that is 16 in wide; four make two of 12-1/8."""
        made = made_up("{boards: best, sections: 2}", widths="[9in]")
        assert made.number == 4
        assert all(one.width <= inches(13) for one in made.sections)

    def test_without_a_planer_no_reason_is_given(self) -> None:
        assert "because" not in said(made_up("{boards: 4, sections: 2}", planer=""))

    @pytest.mark.parametrize(
        ("typed", "at", "words", "remedy"),
        [
            ("{boards: 6, sections: 2, allowance: {width: 3in}}", "sections", "13-1/2 in", "`sections: 3`"),
            ("{boards: 2, sections: 3}", "sections", "2 boards do not make 3 sections", "3 boards"),
            ("{layers: 2, sections: 2}", "sections", "layers", "boards"),
            ("{boards: best, sections: 0}", "sections", "0 sections", "1 or more"),
        ],
    )
    def test_what_is_no_section(self, typed: str, at: str, words: str, remedy: str) -> None:
        finding, line = fault_of(typed, ("48", "24", "3/2" if "layers" in typed else "3/4"))
        assert finding.kind == "glue-up"
        assert line.startswith(at)
        assert words in finding.message
        assert remedy in finding.remedy


class TestLayers:
    def test_two_make_a_thick_leg(self) -> None:
        made = made_up("{layers: 2, grain: same}", ("28", "3/2", "3/2"))
        assert (made.kind, made.number, made.width, made.thickness) == (
            "layers",
            2,
            inches("3/2"),
            inches("3/4"),
        )
        assert made.rough_width == inches("13/8")
        assert "they make 1 1/2 in" in said(made)
        assert "curving the same way" in said(made)

    def test_what_is_over_is_planed_off(self) -> None:
        made = made_up("{layers: 2, allowance: {thickness: 1/8in}}", ("28", "3/2", "11/8"))
        assert made.over_thickness == inches("1/8")
        assert "Plane the piece to 1 3/8 in thick" in said(made)

    @pytest.mark.parametrize(
        ("thickness", "words", "remedy"),
        [
            ("9/4", "2 layers of 3/4 in make 1-1/2 in, and `top` is 2-1/4 in thick", "give 3 layers"),
            (
                "2",
                "make 1-1/2 in, and `top` is 2 in thick",
                "give 3 layers and `allowance: {thickness: 1/4in}`",
            ),
            ("11/8", "make 1-1/2 in, and `top` is 1-3/8 in thick", "`allowance: {thickness: 1/8in}`"),
        ],
    )
    def test_layers_that_do_not_come_to_it(self, thickness: str, words: str, remedy: str) -> None:
        finding, line = fault_of("{layers: 2}", ("28", "3/2", thickness))
        assert (finding.kind, line.startswith("layers")) == ("glue-up", True)
        assert words in finding.message
        assert finding.remedy.startswith(remedy)


class TestStrips:
    BENCH = ("60", "21/2", "7/4")  # 10-1/2 wide, 1-3/4 thick

    def test_strips_on_edge(self) -> None:
        """14 of 3/4 make 10-1/2; each is ripped 1-7/8 and stands 1-3/4 high."""
        made = made_up("{strips: 14, strip: 3/4in x 1-3/4in}", self.BENCH)
        assert (made.kind, made.number, made.width, made.thickness, made.rough_width) == (
            "strips",
            14,
            inches("3/4"),
            inches("7/4"),
            inches("15/8"),
        )
        assert "Turn every strip on edge" in said(made)

    def test_strips_in_sections(self) -> None:
        """Seven of 3/4 are 5-1/4."""
        made = made_up("{strips: 14, strip: 3/4in x 1-3/4in, sections: 2}", self.BENCH, planer="6in")
        assert [(one.boards, one.width) for one in made.sections] == [(7, inches("21/4"))] * 2

    @pytest.mark.parametrize(
        ("typed", "at", "words", "remedy"),
        [
            (
                "{strips: 13, strip: 3/4in x 1-3/4in}",
                "strips",
                "13 strips of 3/4 in make 9-3/4 in, and `top` is 10-1/2 in wide",
                "give 14 strips",
            ),
            (
                "{strips: 14, strip: 3/4in x 1-1/2in}",
                "strip:",
                "1-1/2 in thick, and it is 1-3/4 in",
                "1-3/4 in",
            ),
            ("{strips: 12, strip: 7/8in x 1-3/4in}", "strip:", "`oak` is 3/4 in", "thickness first"),
            ("{strips: 14}", "strips", "does not say what a strip measures", "strip: 3/4in x 1-3/4in"),
            ("{strip: 3/4in x 1-3/4in}", "strip:", "no number of strips", "`strips: 14`"),
            (
                "{strips: 14, strip: 3/4in x 1-3/4in, sections: 2}",
                "sections",
                "5-1/4 in wide as it is glued, and the planer takes 4 in",
                "`sections: 3`",
            ),
        ],
    )
    def test_strips_that_do_not_fill(self, typed: str, at: str, words: str, remedy: str) -> None:
        planer = "4in" if "sections" in typed else ""
        finding, line = fault_of(typed, self.BENCH, planer=planer)
        assert (finding.kind, line.startswith(at)) == ("glue-up", True), line
        assert words in finding.message
        assert remedy in finding.remedy


@pytest.mark.parametrize(
    ("typed", "kind", "at", "words"),
    [
        ("{boards: 2, layers: 2}", "glue-up", "layers", "from boards and from layers"),
        ("{boards: 40}", "glue-up", "boards", "5/8 in wide and 3/4 in thick"),
        ("{boards: 2, allowance: {width: -1in}}", "bad-value", "width", "smaller than it is in the end"),
        ("{boards: 4, allowance: {thickness: 1/2in}}", "glue-up", "allowance", "1-1/4 in thick until"),
        ("{boards: 1000}", "glue-up", "boards", "no number of boards"),
    ],
)
def test_what_cannot_be_glued_up(typed: str, kind: str, at: str, words: str) -> None:
    finding, line = fault_of(typed)
    assert (finding.kind, line.startswith(at)) == (kind, True), line
    assert words in finding.message


def test_boards_of_plywood() -> None:
    frame, description = opened("{boards: 2}", "[5-1/2in]", "")
    frame.stock["oak"] = replace(frame.stock["oak"], kind="plywood")
    assert glue_up(description.parts["top"], "top", Size(*map(inches, TOP)), frame) is None
    (finding,) = frame.findings
    assert "plywood" in finding.message


def test_boards_wider_than_the_planer() -> None:
    finding, line = fault_of("{boards: 2}", ("30", "14", "3/4"), planer="6in")
    assert line.startswith("boards")
    assert "7-1/8 in wide as it is ripped, and the planer takes 6 in" in finding.message
    assert "3 boards" in finding.remedy


def test_a_fault_is_told_once_for_both_hands() -> None:
    frame, description = opened("{layers: 2}", "[5-1/2in]", "")
    for _ in range(2):
        assert glue_up(description.parts["top"], "top", Size(*map(inches, TOP)), frame) is None
    assert [one.kind for one in frame.findings] == ["glue-up"]
