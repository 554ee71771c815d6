"""Where copies stand: two facts in each direction, and every way of giving them."""

from __future__ import annotations

from itertools import permutations

import pytest

from tests.design.small import (
    box,
    box_cut,
    copy,
    faults,
    kinds,
    length,
    line_at,
    one,
    placed,
    project,
    solve,
    the_fault,
)


class TestTwoFacts:
    @pytest.mark.parametrize(
        ("across", "keys"),
        [
            ("left: 2in, right: 12in", ""),
            ("left: 2in", "  length: 10in\n"),
            ("right: 12in", "  length: 10in\n"),
            ("across: centred at 7in", "  length: 10in\n"),
        ],
    )
    def test_every_pair_of_facts_gives_the_same_board(self, across: str, keys: str) -> None:
        design = solve(placed(f"{across}, front: 1in, back: 6in, bottom: 3in", keys=keys))
        assert copy(design, "board").box == box(2, 1, 3, 12, 6, "3-3/4")
        assert copy(design, "board").box == copy(design, "board").shoulders

    def test_the_thickness_is_known(self) -> None:
        design = solve(placed("left: 0, right: 10in, front: 0, back: 5in, top: 3in"))
        assert copy(design, "board").box == box(0, 0, "2-1/4", 10, 5, 3)

    def test_a_typed_thickness_and_layers(self) -> None:
        pins = "left: 0, right: 10in, front: 0, back: 5in, bottom: 0"
        assert solve(placed(pins, keys="  thickness: 1/2in\n")).part("board").thickness == length("1/2")
        thick = solve(placed(pins, keys="  glue up: {layers: 3}\n")).part("board")
        assert thick.thickness == length("2-1/4")
        assert thick.glue_up is not None
        assert (thick.glue_up.kind, thick.glue_up.number) == ("layers", 3)

    def test_pins_in_any_order(self) -> None:
        pins = ("left: 0", "right: 10in", "front: 0", "back: 5in", "bottom: 1in")
        found = {
            copy(solve(placed(", ".join(order))), "board").box for order in list(permutations(pins))[::17]
        }
        assert found == {box(0, 0, 1, 10, 5, "1-3/4")}

    @pytest.mark.parametrize(
        ("pins", "keys", "words"),
        [
            ("front: 0, back: 5in, bottom: 0", "", ("nothing is given", "`left` or `right` or `length`")),
            ("left: 0, front: 0, back: 5in, bottom: 0", "", ("`left` alone", "`right` or `length`")),
            ("front: 0, back: 5in, bottom: 0", "  length: 9in\n", ("`length` alone", "`left` or `right`")),
            ("left: 0, right: 9in, front: 0, bottom: 0", "", ("`front` alone", "`back` or `width`")),
            ("left: 0, right: 9in, front: 0, back: 5in", "", ("`thickness` alone", "`bottom` or `top`")),
        ],
    )
    def test_too_few(self, pins: str, keys: str, words: tuple[str, str]) -> None:
        text = placed(pins, keys=keys)
        wrong = the_fault(text, "under-pinned")
        assert words[0] in wrong.message
        assert words[1] in wrong.remedy
        assert line_at(text, wrong).startswith("{")

    @pytest.mark.parametrize(
        ("pins", "keys", "named"),
        [
            ("left: 0, right: 9in, front: 0, back: 5in, bottom: 0", "  length: 9in\n", "right"),
            ("left: 0, right: 9in, front: 0, back: 5in, bottom: 0, top: 3/4in", "", "top"),
            ("left: 0, right: 9in, front: 0, back: 5in, bottom: 0, across: centred at 3in", "", "across"),
            ("left: 0, front: 0, back: 5in, bottom: 0, across: centred at 3in", "", "across"),
        ],
    )
    def test_too_many(self, pins: str, keys: str, named: str) -> None:
        text = placed(pins, keys=keys)
        assert line_at(text, the_fault(text, "over-pinned")).startswith(named)

    @pytest.mark.parametrize(
        ("pins", "words"),
        [
            ("left: 9in, right: 9in, front: 0, back: 5in, bottom: 0", "no size across"),
            ("left: 9in, right: 2in, front: 0, back: 5in, bottom: 0", "a negative size across"),
        ],
    )
    def test_nothing_and_less_than_nothing(self, pins: str, words: str) -> None:
        text = placed(pins)
        wrong = the_fault(text, "zero-size")
        assert words in wrong.message
        assert line_at(text, wrong).startswith("right")

    @pytest.mark.parametrize("key", ["length: 0", "width: -3in", "thickness: 0"])
    def test_typed_sizes_are_above_zero(self, key: str) -> None:
        pins = {"l": "left: 0, front: 0, back: 5in", "w": "left: 0, right: 9in, front: 0"}.get(
            key[0], "left: 0, right: 9in, front: 0, back: 5in"
        )
        text = placed(f"{pins}, bottom: 0", keys=f"  {key}\n")
        assert line_at(text, the_fault(text, "zero-size")).startswith(key[:5])

    def test_a_part_that_runs_and_is_thick_one_way(self) -> None:
        text = placed("left: 0").replace("thick: up", "thick: across")
        assert kinds(text) == ["runs-and-thick"]

    def test_a_part_says_what_it_is_made_of(self) -> None:
        text = project("board:\n  place: {left: 0}\n")
        assert kinds(text) == ["missing-key"] * 3


BOARDS = """
low:
  stock: pine
  runs: across
  thick: up
  width: 5in
  place: {left: 0, right: 20in, front: 0, bottom: 0}
high:
  like: low
  place: {same as: low, bottom: 10in}
"""


class TestCentred:
    def test_on_another(self) -> None:
        pins = "{left: 0, right: 5in, deep: centred on low, bottom: 3in}"
        more = f"cleat:\n  like: low\n  width: 2in\n  place: {pins}\n"
        assert copy(solve(project(BOARDS + more)), "cleat").box == box(0, "1-1/2", 3, 5, "3-1/2", "3-3/4")

    @pytest.mark.parametrize("between", ["low and high", "high and low"])
    def test_between_two_in_either_order(self, between: str) -> None:
        more = f"middle:\n  like: low\n  place: {{same as: low, up: centred between {between}}}\n"
        # The clear space goes from 3/4 to 10.
        assert copy(solve(project(BOARDS + more)), "middle").box == box(0, 0, 5, 20, 5, "5-3/4")

    def test_on_nothing_known(self) -> None:
        more = "middle:\n  like: low\n  place: {same as: low, up: centred on hihg}\n"
        text = project(BOARDS + more)
        assert the_fault(text, "undefined-name").remedy == "did you mean `high`?"

    def test_on_a_part_whose_copies_stand_apart(self) -> None:
        text = project(
            """
            leg:
              stock: pine
              runs: up
              thick: deep
              width: 2in
              place:
                left leg: {left: 0, front: 0, bottom: 0, top: 9in}
                right leg: {same as: left leg, left: 10in}
            rail:
              stock: pine
              runs: across
              thick: deep
              width: 2in
              length: 6in
              place: {across: centred on leg, front: 0, bottom: 0}
            """
        )
        assert "`left leg`, `right leg`" in the_fault(text, "copies-differ-here").remedy


class TestSameAs:
    def test_a_key_takes_the_place_of_both_pins_of_its_direction(self) -> None:
        more = "third:\n  like: low\n  place: {same as: high, left: 2in, right: 6in}\n"
        assert copy(solve(project(BOARDS + more)), "third").box == box(2, 0, 10, 6, 5, "10-3/4")

    def test_a_ring_is_told_with_its_path(self) -> None:
        text = project(BOARDS.replace("{left: 0, right: 20in, front: 0, bottom: 0}", "{same as: high}"))
        assert any("low → high → low" in item.message for item in faults(text))

    def test_an_unknown_copy(self) -> None:
        text = project(BOARDS.replace("same as: low", "same as: lwo"))
        assert the_fault(text, "undefined-name").remedy == "did you mean `low`?"

    def test_like_fills_in_all_but_mark_and_place(self) -> None:
        design = solve(
            project(
                BOARDS.replace("  width: 5in\n", "  width: 5in\n  mark: X\n  note: Knots out\n").replace(
                    "  like: low\n", "  like: low\n  width: 4in\n"
                )
            )
        )
        assert design.part("high").width == length("4")
        assert design.part("high").note == "Knots out"
        assert [part.mark for part in design.parts] == ["X", "A"]

    @pytest.mark.parametrize(("base", "words"), [("lwo", "no part"), ("high", "like it in turn")])
    def test_like_nothing_and_like_itself(self, base: str, words: str) -> None:
        text = project(BOARDS.replace("like: low", f"like: {base}"))
        assert words in faults(text)[0].message


class TestMirror:
    PARTS = """
    leg:
      stock: pine
      runs: up
      thick: deep
      width: 2in
      place:
        first: {left: 1in, front: 0, bottom: 0, top: 9in}
        second: {MIRROR}
    """

    def test_in_a_plane_across(self) -> None:
        design = solve(
            project(
                self.PARTS.replace("MIRROR", "mirror of: first, plane: across at width / 2"),
                sizes="width: 20in",
            )
        )
        assert copy(design, "second").box == box(17, 0, 0, 19, "3/4", 9)

    def test_in_a_plane_deep_with_a_pin_of_its_own(self) -> None:
        design = solve(
            project(self.PARTS.replace("MIRROR", "mirror of: first, plane: deep at 5in, left: 4in"))
        )
        assert copy(design, "second").box == box(4, "9-1/4", 0, 6, 10, 9)

    def test_without_a_plane(self) -> None:
        text = project(self.PARTS.replace("MIRROR", "mirror of: first"))
        assert the_fault(text, "mirror-plane").remedy.startswith("add `plane: across at")

    def test_a_plane_alone_is_no_mirror(self) -> None:
        text = project(self.PARTS.replace("MIRROR", "same as: first, left: 9in, plane: across at 5in"))
        assert kinds(text) == ["missing-key"]

    def test_of_a_piece_of_another_size(self) -> None:
        text = project(
            self.PARTS.replace("        second: {MIRROR}\n", "")
            + """
    thin:
      stock: pine
      runs: up
      thick: deep
      thickness: 1/2in
      width: 2in
      place: {mirror of: first, plane: across at 10in}
    """
        )
        assert the_fault(text, "mirror-size").part == "thin"

    def test_a_mirror_of_itself_is_a_ring(self) -> None:
        text = project(self.PARTS.replace("MIRROR", "mirror of: second, plane: across at 5in"))
        assert set(kinds(text)) == {"cycle"}


class TestTurned:
    def test_a_quarter_turn_swaps_length_and_width(self) -> None:
        design = solve(
            project(
                """
                slab:
                  stock: pine
                  runs: across
                  thick: up
                  length: 10in
                  width: 4in
                  place:
                    one slab: {left: 0, front: 0, bottom: 0}
                    other slab: {left: 20in, front: 0, bottom: 0, turned: 90deg about up}
                    third slab: {same as: other slab, left: 30in}
                """
            )
        )
        (slab,) = design.parts
        assert [item.box for item in slab.copies] == [
            box(0, 0, 0, 10, 4, "3/4"),
            box(20, 0, 0, 24, 10, "3/4"),
            box(30, 0, 0, 34, 10, "3/4"),  # turned as the one it is the same as
        ]

    @pytest.mark.parametrize(
        ("turn", "corner"),
        [
            # The right back corner: to the left back by a quarter turn, to the left front by a half turn.
            ("90deg about up", (0, 9, 0, 1, 10, "3/4")),
            ("180deg about up", (0, 0, 0, 1, 1, "3/4")),
            ("-90deg about up", (2, 0, 0, 3, 1, "3/4")),
            ("270deg about up", (2, 0, 0, 3, 1, "3/4")),
        ],
    )
    def test_the_turn_is_anticlockwise_seen_from_above(
        self, turn: str, corner: tuple[str | int, ...]
    ) -> None:
        """A notch at the right back corner of a board of 10 by 3 shows which way it went."""
        design = solve(
            project(
                f"""
                slab:
                  stock: pine
                  runs: across
                  thick: up
                  length: 10in
                  width: 3in
                  cut:
                    - notch: {{at: [right, back], across: 1in, deep: 1in}}
                  place:
                    one slab: {{left: 0, front: 10in, bottom: 0}}
                    other slab: {{left: 0, front: 0, bottom: 0, turned: {turn}}}
                """
            )
        )
        (slab,) = design.parts
        assert slab.copies[1].pose.box(box_cut(one(slab, "notch"))) == box(*corner)

    def test_a_mirror_of_a_turned_copy_is_turned_too(self) -> None:
        design = solve(
            project(
                """
                slab:
                  stock: pine
                  runs: across
                  thick: up
                  length: 10in
                  width: 4in
                  place:
                    one slab: {left: 0, front: 0, bottom: 0}
                    other slab: {left: 20in, front: 0, bottom: 0, turned: 90deg about up}
                    third slab: {mirror of: other slab, plane: across at 30in}
                """
            )
        )
        assert copy(design, "third slab").box == box(36, 0, 0, 40, 10, "3/4")
