"""Drawer slides: the room they bridge, their holes, how far the drawer comes out, and what does not run."""

from __future__ import annotations

import pytest

from plangen.joinery.space import Axis, Side
from plangen.units import LengthStyle
from tests.design.small import kinds, length, line_at, one, project, rounds, solve, the_fault, work

RUNNER = "runner: {{kind: drawer slide, length: 12in{more}}}"
PARTS = """
left side:
  stock: pine
  runs: up
  thick: across
  place: {left: 0, front: 0, back: 14in, bottom: 0, top: 20in}
drawer side:
  stock: pine
  runs: deep
  thick: across
  place: {left: 1-1/4in, front: 1/2in, back: 13in, bottom: 4in, top: 8in}
"""
HOLES = ", screws: {number: 4, length: 1/2in}, holes: [1in, 9in], drawer holes: [1-1/2in, 10in]"


def runs(keys: str = "", more: str = "", parts: str = PARTS) -> str:
    joint = f"- slides: {{name: runners, out: drawer side, in: left side, with: runner{keys}}}"
    return project(parts, joint, hardware=RUNNER.format(more=more))


def test_it_comes_out_to_the_front_as_far_as_it_travels() -> None:
    (motion,) = solve(runs(more=", travel: 9in")).motions
    assert (motion.kind, motion.way, motion.moves) == ("slides", (0, -1, 0), ("drawer side",))
    assert motion.most == length("9").mm


def test_it_travels_its_own_length_unless_said() -> None:
    (motion,) = solve(runs()).motions
    assert motion.most == length("12").mm


def test_the_holes_are_counted_from_the_front_end_of_the_slide() -> None:
    design = solve(runs(", setback: 1/2in, up: 1-1/2in", HOLES))
    carcase = [rounds(operation)[0] for operation in work(design.part("left side"), "lead hole")]
    assert [cut.mouth.deep for cut in carcase] == [length("1-1/2"), length("9-1/2")]
    assert {(cut.mouth.up, cut.side, cut.depth) for cut in carcase} == {
        (length("5-1/2"), Side.RIGHT, length("1/2"))
    }
    # In the drawer side's own frame the front edge is the origin.
    drawer = [rounds(operation)[0] for operation in work(design.part("drawer side"), "lead hole")]
    assert [cut.mouth.deep for cut in drawer] == [length("1-1/2"), length("10")]
    assert {use.item: use.number for use in design.joints[0].hardware} == {"runner": 1, "runner screw": 4}


def test_the_room_is_the_slide_s_thickness() -> None:
    assert kinds(runs(more=", thickness: 3/8in")) == ["nothing-meets"]
    assert kinds(runs(more=", thickness: 3/8in").replace("1-1/4in", "1-1/8in")) == []


@pytest.mark.parametrize(
    ("keys", "more", "kind", "at"),
    [
        (", setback: 3in", "", "slide-too-long", "with: runner"),
        (", up: 1/2in", "", "slide-off-part", "up: 1/2in"),
        (", toward: left", "", "wrong-side", "toward: left"),
        ("", ", screws: {number: 4, length: 3/4in}", "screw-too-long", "with: runner"),
    ],
)
def test_what_does_not_run(keys: str, more: str, kind: str, at: str) -> None:
    text = runs(keys, more)
    assert line_at(text, the_fault(text, kind)).startswith(at)


def test_a_slide_longer_than_the_carcase_says_by_how_much() -> None:
    fault = the_fault(runs(more="").replace("length: 12in", "length: 16in"), "slide-too-long")
    assert "by 2\u00a0in" in fault.message  # 16 in less 14 in


@pytest.mark.parametrize(
    ("more", "key"),
    [
        (", screws: 4, holes: [1in, 13in]", "holes"),
        (", screws: 6, holes: [1in, 9in]", "screws"),
        (", holes: [1in, 9in]", "holes"),
    ],
)
def test_holes_that_do_not_add_up(more: str, key: str) -> None:
    text = runs(more=more)
    assert line_at(text, the_fault(text, "hardware-size")).startswith(f"{key}: ")


@pytest.mark.parametrize(
    ("keys", "front", "words"),
    [
        (", setback: 3/4in", "3/4", "front end of the slide, on its middle line"),
        (
            ", setback: 1/4in",
            "1/2",
            "middle line of the slide, whose front end stands 1/4 in before this end",
        ),
    ],
)
def test_the_line_and_the_front_end_are_marked_on_both_sides(keys: str, front: str, words: str) -> None:
    design = solve(runs(keys))
    carcase, drawer = (one(design.part(name), "mark").features[0] for name in ("left side", "drawer side"))
    setback = keys.rpartition(" ")[2].removesuffix("in")
    assert carcase.span(Axis.DEEP).low == length(setback)
    assert carcase.span(Axis.UP).low == length("6")  # the drawer side stands from 4 in to 8 in
    # In its own frame the drawer side begins 1/2 in behind the carcase, 4 in above its foot.
    assert drawer.span(Axis.DEEP).low == length(front) - length("1/2")
    assert drawer.span(Axis.UP).low == length("2")
    assert drawer.note.text(LengthStyle("inch")).replace("\u00a0", " ") == words
