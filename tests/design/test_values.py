"""What pins and sizes may be: expressions, sizes from the work, glued-up pieces."""

from __future__ import annotations

import pytest

from plangen.design.values import in_words
from plangen.units import inches
from tests.design.small import box, copy, faults, kinds, length, line_at, placed, project, solve, the_fault


class TestValues:
    def test_sizes_follow_one_another(self) -> None:
        sizes = "width: half * 2\nhalf: base + 1in\nbase: 4in"
        design = solve(placed("left: 0, right: width, front: 0, back: base, bottom: 0", sizes=sizes))
        assert design.part("board").length == length("10")
        assert dict(design.sizes) == {"width": length("10"), "half": length("5"), "base": length("4")}

    def test_a_ring_of_sizes_and_copies_is_told_once_with_its_whole_path(self) -> None:
        sizes = "clear: board.right - 2in"
        text = placed("left: 0, right: clear, front: 0, back: 5in, bottom: 0", sizes=sizes)
        wrong = the_fault(text, "cycle")
        assert "clear → board (across) → clear" in wrong.message
        assert len(wrong.also) == 1

    def test_own_is_this_copy(self) -> None:
        pins = "left: own.width, right: 20in, front: 0, bottom: own.thickness"
        assert copy(solve(placed(pins, keys="  width: 3in\n")), "board").box == box(
            3, 0, "3/4", 20, 3, "1-1/2"
        )

    def test_a_size_of_its_own_is_a_ring(self) -> None:
        text = placed("left: 0, right: 5in, front: 0, bottom: 0", keys="  width: own.width\n")
        assert set(kinds(text)) == {"cycle"}

    @pytest.mark.parametrize(
        ("pin", "kind"),
        [
            ("nothing", "undefined-name"),
            ("board", "undefined-name"),
            ("pine", "undefined-name"),
            ("pine.colour", "unknown-property"),
            ("board.middle", "unknown-property"),
            ("board.gap", "unknown-property"),
            ("own", "bad-name"),
            ("one.two.left", "undefined-name"),
            ("3", ""),
            ("5deg", "wrong-kind"),
            ("2in * 2in", "wrong-kind"),
        ],
    )
    def test_what_a_pin_may_not_be(self, pin: str, kind: str) -> None:
        found = kinds(placed(f"left: {pin}, right: 40in, front: 0, back: 5in, bottom: 0"))
        assert found == ([kind] if kind else [])

    def test_a_fault_is_told_once_and_what_hangs_on_it_stays_silent(self) -> None:
        more = "other:\n    like: board\n    place: {same as: board, bottom: 5in}\n"
        text = placed(
            "left: missing, right: 9in, front: 0, back: 5in, bottom: 0", more=more.replace("    ", "  ")
        )
        assert kinds(text) == ["undefined-name"]

    def test_far_too_long_a_chain_is_a_finding(self) -> None:
        sizes = "\n".join(f"c{i}: c{i + 1} + 1in" for i in range(2000)) + "\nc2000: 1in"
        assert kinds(placed("left: 0, right: c0, front: 0, back: 5in, bottom: 0", sizes=sizes)) == [
            "too-deep"
        ]

    def test_a_long_chain_in_order_is_worked_out(self) -> None:
        sizes = "c0: 1in\n" + "\n".join(f"c{i + 1}: c{i} + 1in" for i in range(2000))
        design = solve(placed("left: 0, right: c40, front: 0, back: 5in, bottom: 0", sizes=sizes))
        assert design.part("board").length == length("41")


class TestFromWork:
    PINS = "left: 0, right: 10in, front: 0, back: 5in, bottom: 0"

    def test_it_agrees_with_the_pins(self) -> None:
        keys = "  length: {from work: 12in - 2in, leave: 1/2in, measure: the opening}\n"
        (size,) = solve(placed(self.PINS, keys=keys)).part("board").from_work
        assert (size.expected, size.leave, size.measured.pieces) == (
            length("10"),
            length("1/2"),
            ("the opening",),
        )
        assert size.change == -length("2")
        assert size.formula.pieces == ("the opening", ", less ", length("2"))

    def test_an_inch_is_left_over_unless_said(self) -> None:
        (size,) = solve(placed(self.PINS, keys="  length: {from work: 10in}\n")).part("board").from_work
        assert size.leave == length("1")

    @pytest.mark.parametrize(
        ("keys", "kind", "at"),
        [
            ("  length: {from work: 9in}\n", "from-work-differs", "from work"),
            ("  length: {from work: 10in, leave: -1in}\n", "bad-value", "leave"),
        ],
    )
    def test_what_does_not_agree(self, keys: str, kind: str, at: str) -> None:
        text = placed(self.PINS, keys=keys)
        assert line_at(text, the_fault(text, kind)).startswith(at)


class TestGlueUp:
    PINS = "left: 0, right: 10in, front: 0, back: 12in, bottom: 0"

    def boards(self, typed: str, widths: str = "5-1/2in") -> str:
        stock = f"oak: {{kind: solid, species: red oak, rough: 4/4, thickness: 3/4in, widths: [{widths}]}}"
        return project(
            f"board:\n  stock: oak\n  runs: across\n  thick: up\n  glue up: {{boards: {typed}}}\n"
            f"  place: {{{self.PINS}}}\n",
            stock=stock,
        )

    @pytest.mark.parametrize(
        ("typed", "widths", "number"),
        [("best", "5-1/2in", 3), ("best", "6in", 3), ("best", "4in", 4), ("5", "5-1/2in", 5)],
    )
    def test_how_many_boards(self, typed: str, widths: str, number: int) -> None:
        made = solve(self.boards(typed, widths)).part("board").glue_up
        assert made is not None
        assert (made.number, made.width) == (number, length("12") / number)

    @pytest.mark.parametrize("typed", ["two", "0", "500", "2.5"])
    def test_what_is_no_number_of_boards(self, typed: str) -> None:
        text = self.boards(typed)
        assert line_at(text, the_fault(text, "glue-up")).startswith("boards")

    def test_one_layer_is_nothing_to_glue(self) -> None:
        assert kinds(placed(self.PINS, keys="  glue up: {layers: 1}\n")) == ["glue-up"]


def test_a_file_with_no_parts_is_no_crash() -> None:
    text = project("board:\n  stock: pine\n").replace("  board:\n    stock: pine\n", "  {}\n")
    assert faults(text)


@pytest.mark.parametrize(
    ("size", "words"),
    [("1/16", "1/16 in"), ("5/4", "1-1/4 in"), ("3", "3 in"), ("-9/8", "-1-1/8 in"), ("1/3", "0.3333 in")],
)
def test_a_length_in_a_message_is_written_as_it_is_typed(size: str, words: str) -> None:
    assert in_words(inches(size), "inch") == words
