"""Marks of parts: plain letters, the same from build to build, a retired one never reused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plangen.design.marks import KeptMarks, assign_marks, read_marks, write_marks
from tests.design.small import kinds, line_at, project, solve, the_fault


def marks(names: str, kept: KeptMarks | None = None, **typed: str) -> KeptMarks:
    return assign_marks(names.split(), typed, kept or KeptMarks())


def test_letters_in_order_without_i_and_o() -> None:
    names = [f"part {n}" for n in range(24)]
    assert "".join(assign_marks(names, {}, KeptMarks()).used.values()) == "ABCDEFGHJKLMNPQRSTUVWXYZ"


def test_two_letters_after_z() -> None:
    names = [f"part {n}" for n in range(27)]
    assert list(assign_marks(names, {}, KeptMarks()).used.values())[24:] == ["AA", "AB", "AC"]


def test_a_part_keeps_its_mark_when_another_comes_before_it() -> None:
    first = marks("side shelf")
    assert dict(marks("door side shelf", first).used) == {"door": "C", "side": "A", "shelf": "B"}


def test_a_retired_mark_is_never_given_again() -> None:
    first = marks("side shelf rail")
    second = marks("side rail", first)
    assert dict(second.retired) == {"shelf": ("B",)}
    third = marks("side rail back", second)
    assert third.used["back"] == "D"
    # The part that comes back has its old mark again.
    fourth = marks("side rail back shelf", third)
    assert fourth.used["shelf"] == "B"
    assert dict(fourth.retired) == {}


def test_a_mark_changed_twice_retires_both() -> None:
    kept = marks("side")
    for typed in ("X", "Y"):
        kept = marks("side", kept, side=typed)
    kept = marks("door", kept)
    assert dict(kept.retired) == {"side": ("A", "X", "Y")}
    assert kept.used["door"] == "B"
    later = assign_marks([f"p {n}" for n in range(24)], {}, kept)
    assert not {"A", "X", "Y"} & set(later.used.values())


def test_a_typed_mark_goes_before_what_was_kept() -> None:
    kept = marks("side shelf")
    assert dict(marks("side shelf", kept, shelf="A").used) == {"side": "C", "shelf": "A"}


@given(
    st.lists(
        st.lists(st.sampled_from("abcdefgh"), unique=True, min_size=1, max_size=6), min_size=1, max_size=8
    )
)
def test_over_any_history_no_mark_ever_names_two_parts(builds: list[list[str]]) -> None:
    kept = KeptMarks()
    owner: dict[str, str] = {}
    for names in builds:
        kept = assign_marks(names, {}, kept)
        assert len(set(kept.used.values())) == len(names)
        for name, mark in kept.used.items():
            assert owner.setdefault(mark, name) == name
        kept = read_marks(write_marks(kept))


def test_the_file_comes_back_as_it_was() -> None:
    kept = marks("side rail", marks("side shelf rail"))
    assert read_marks(write_marks(kept)) == kept
    assert write_marks(kept) == write_marks(read_marks(write_marks(kept)))


@pytest.mark.parametrize(
    "data",
    [
        None,
        b"",
        b"{",
        b"[]",
        b"null",
        b"7",
        b"{}",
        b'{"used": [], "retired": {}}',
        b'{"used": {}}',
        b"\xff\xfe",
    ],
)
def test_a_damaged_file_counts_as_none(data: bytes | None) -> None:
    assert read_marks(data) == KeptMarks()


def test_a_file_with_one_retired_mark_for_a_name_is_read() -> None:
    kept = read_marks(b'{"used": {"side": "A"}, "retired": {"shelf": "B"}}')
    assert kept == KeptMarks({"side": "A"}, {"shelf": ("B",)})


PARTS = """
low:
  stock: pine
  runs: across
  thick: up
  width: 5in
  mark: LOW
  place: {left: 0, right: 20in, front: 0, bottom: 0}
high:
  like: low
  mark: HIGH
  place: {same as: low, bottom: 10in}
"""


def with_marks(low: str, high: str) -> str:
    return project(PARTS.replace("LOW", low).replace("HIGH", high))


def test_typed_marks_are_printed() -> None:
    assert [part.mark for part in solve(with_marks("T", "Q2")).parts] == ["T", "Q2"]


def test_one_mark_for_two_parts_is_refused() -> None:
    text = with_marks("T", "T")
    assert line_at(text, the_fault(text, "mark-taken")).startswith("T")


@pytest.mark.parametrize("mark", ["A-L", "A B", "ABCDE", "é!"])
def test_what_is_no_mark(mark: str) -> None:
    assert kinds(with_marks(mark, "B")) == ["bad-mark"]


def test_marks_kept_reach_the_design() -> None:
    text = project(PARTS.replace("  mark: LOW\n", "").replace("  mark: HIGH\n", ""))
    design = solve(text, KeptMarks({"high": "F"}, {"gone": ("A",)}))
    assert [(part.name, part.mark) for part in design.parts] == [("low", "B"), ("high", "F")]
