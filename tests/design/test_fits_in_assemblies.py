"""Hardware that is typed outside an assembly and goes on a part in it."""

from __future__ import annotations

import pytest

from tests.design.small import kinds, line_at, project, rounds, solve, the_fault, work

BOXES = """
assemblies:
  box:
    given: {wide: 6in}
    parts:
      face: {stock: pine, runs: across, thick: deep, width: 4in, length: wide,
             place: {left: 0, front: 0, bottom: 0}}
    assemblies:
      tray:
        parts:
          base: {stock: pine, runs: across, thick: up, length: 4in, width: 3in,
                 place: {left: 0, front: 0, bottom: 0}}
        place: {left: 0, front: face.back, bottom: 0}
    place:
      low box: {left: 0, front: 0, bottom: 0}
      high box: {left: 0, front: 0, bottom: 6in%s}
"""
KNOB = "knob: {kind: knob, diameter: 1in, bore: 3/16in}"


def boxes(fit: str, given: str = "") -> str:
    head = project("post: {stock: pine, runs: up, thick: across, width: 3in, length: 9in, "
                   "place: {left: 20in, front: 0, bottom: 0}}", hardware=KNOB, fit=fit)  # fmt: skip
    return head + BOXES % given


def test_it_is_bored_in_every_copy_as_if_it_stood_under_the_part() -> None:
    outside = solve(boxes("- knob: {part: box.face, face: front, along: centre, over: centre}"))
    under = solve(
        boxes("- knob: {part: post, number: 1}").replace(
            "length: wide,", "length: wide, fit: [{knob: {face: front, along: centre, over: centre}}],"
        )
    )
    one, two = outside.part("box.face"), under.part("box.face")
    assert [rounds(hole) for hole in work(one, "hole")] == [rounds(hole) for hole in work(two, "hole")]
    (fit,) = outside.fits
    assert fit.name == "box.knob"
    assert fit.hardware.number == 2
    assert set(fit.copies) == {"low box.face", "high box.face"}


def test_a_number_is_that_of_all_copies() -> None:
    (fit,) = solve(boxes("- knob: {part: box.face, number: 4}")).fits
    assert fit.hardware.number == 4


def test_an_assembly_in_an_assembly() -> None:
    (fit,) = solve(boxes("- knob: {part: box.tray.base, face: top, at: middle}")).fits
    assert fit.hardware.number == 2


def test_copies_that_are_given_other_sizes_all_take_it_or_one_of_them_does() -> None:
    every = solve(boxes("- knob: {part: box.face, face: front, at: middle}", ", given: {wide: 7in}"))
    assert sum(fit.hardware.number for fit in every.fits) == 2
    single = solve(boxes("- knob: {part: high box.face, face: front, at: middle}", ", given: {wide: 7in}"))
    assert [fit.copies for fit in single.fits] == [("high box.face",)]


@pytest.mark.parametrize(
    ("fit", "given", "kind", "at"),
    [
        ("{part: box.fase, number: 1}", "", "undefined-name", "box.fase"),
        ("{part: bocks.face, number: 1}", "", "undefined-name", "bocks.face"),
        ("{part: high box.face, face: front, at: middle}", "", "copies-differ", "high box.face"),
        ("{part: box.face, number: 2}", ", given: {wide: 7in}", "fit-elsewhere", "number"),
        ("{part: box.face}", "", "missing-key", "{part"),
        ("{part: box..face, number: 1}", "", "bad-name", ".face"),
    ],
)
def test_what_can_not_be(fit: str, given: str, kind: str, at: str) -> None:
    text = boxes(f"- knob: {fit}", given)
    assert kinds(text) == [kind]
    assert line_at(text, the_fault(text, kind)).startswith(at)
