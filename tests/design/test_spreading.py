"""Copies in a row: at equal gaps between two places, or at a pitch."""

from __future__ import annotations

import pytest

from tests.design.small import box, copy, faults, kinds, length, line_at, project, solve, the_fault


def spread(keys: str, width: str = "2in") -> str:
    return project(
        f"""
        slat:
          stock: pine
          runs: up
          thick: deep
          width: {width}
          place: {{front: 0, bottom: 0, top: 10in, spread: {{going: across, {keys}}}}}
        """
    )


class TestSpread:
    @pytest.mark.parametrize(
        ("ends", "lefts"),
        [
            # Three of 2 in between 0 and 18: 12 in to share.
            ("", ["3", "8", "13"]),  # four gaps of 3
            (", ends: gap", ["3", "8", "13"]),
            (", ends: half gap", ["2", "8", "14"]),  # three gaps of 4, one of them at the two ends
            (", ends: flush", ["0", "8", "16"]),  # two gaps of 6
            (", ends: 1in", ["1", "8", "15"]),  # two gaps of 5
        ],
    )
    def test_ends(self, ends: str, lefts: list[str]) -> None:
        (slat,) = solve(spread(f"number: 3, from: 0, to: 18in{ends}")).parts
        assert [item.box.low.across for item in slat.copies] == [length(left) for left in lefts]
        assert [item.name for item in slat.copies] == ["slat 1", "slat 2", "slat 3"]

    def test_by_a_pitch_from_a_first(self) -> None:
        (slat,) = solve(spread("number: 4, first: 1in, pitch: 3in")).parts
        assert [float(item.box.low.across.inches) for item in slat.copies] == [1, 4, 7, 10]

    def test_names_and_references_to_them(self) -> None:
        text = spread("number: 2, from: 0, to: 10in, names: [near slat, far slat]")
        more = text.replace("project:", "expect:\n  - far slat.left = 6in\n  - slat.gap = 2in\nproject:")
        assert [item.name for item in solve(more).parts[0].copies] == ["near slat", "far slat"]

    def test_the_gap_of_a_pitch_is_what_is_free(self) -> None:
        text = spread("number: 2, first: 0, pitch: 5in")
        solve(text.replace("project:", "expect:\n  - slat.gap = 3in\nproject:"))

    def test_gap_at_most_holds(self) -> None:
        solve(spread("number: 3, from: 0, to: 18in, gap at most: 3in"))
        text = spread("number: 3, from: 0, to: 18in, gap at most: 2-1/2in")
        assert line_at(text, faults(text)[0]).startswith("gap at most")

    @pytest.mark.parametrize(
        ("keys", "kind"),
        [
            ("from: 0, to: 18in", "missing-key"),
            ("number: 3", "missing-key"),
            ("number: 3, from: 0", "missing-key"),
            ("number: 3, first: 0", "spread"),
            ("number: 3, pitch: 2in", "spread"),
            ("number: 3, first: 0, pitch: 0", "spread"),
            ("number: 3, first: 0, pitch: 2in, from: 0, to: 9in", "spread"),
            ("number: 0, from: 0, to: 18in", "spread"),
            ("number: 900, from: 0, to: 18in", "spread"),
            ("number: 10, from: 0, to: 18in", "spread"),
            ("number: 1, from: 0, to: 18in, ends: flush", "spread"),
            ("number: 2, from: 0, to: 18in, names: [one, two, three]", "spread"),
            ("number: 2, from: 0, to: 18in, names: [one, one]", "spread"),
            ("number: 2, from: 0, to: 18in, ends: loose", "undefined-name"),
        ],
    )
    def test_what_cannot_be_spread(self, keys: str, kind: str) -> None:
        assert set(kinds(spread(keys))) == {kind}

    def test_pins_along_the_row_are_too_many(self) -> None:
        text = spread("number: 3, from: 0, to: 18in").replace("front: 0,", "left: 1in, front: 0,")
        assert set(kinds(text)) == {"over-pinned"}

    def test_a_row_needs_the_size_of_its_copies(self) -> None:
        text = spread("number: 3, from: 0, to: 18in").replace("    width: 2in\n", "")
        assert set(kinds(text)) == {"under-pinned"}
        assert faults(text)[0].remedy == "add `width`"

    def test_a_copy_of_a_row_may_be_mirrored_and_the_row_may_not(self) -> None:
        more = """
        post:
          like: slat
          place: {mirror of: NAME, plane: across at 20in}
        """
        text = (
            spread("number: 2, from: 0, to: 10in") + "\n".join(line[6:] for line in more.splitlines()) + "\n"
        )
        assert copy(solve(text.replace("NAME", "slat 2")), "post").box == box(32, 0, 0, 34, "3/4", 10)
        wrong = the_fault(text.replace("NAME", "slat"), "undefined-name")
        assert "`slat 1`, `slat 2`" in wrong.remedy

    def test_names_of_a_row_clash_with_no_other_copy(self) -> None:
        text = (
            spread("number: 2, from: 0, to: 10in")
            + "\n".join(
                line[6:]
                for line in """
        post:
          stock: pine
          runs: up
          thick: deep
          width: 2in
          place:
            slat 2: {left: 20in, front: 0, bottom: 0, top: 9in}
            post 2: {left: 30in, front: 0, bottom: 0, top: 9in}
        """.splitlines()
            )
            + "\n"
        )
        assert kinds(text) == ["name-clash"]
