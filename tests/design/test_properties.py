"""What must hold for any project: sizes add up, mirrors agree, and the order of the file says nothing."""

from __future__ import annotations

import random
from fractions import Fraction
from textwrap import dedent

from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.design.model import Design
from plangen.joinery.space import ORIGIN, Side
from plangen.units import ZERO, inches
from tests.design.small import project, sizes, solve, taken

sixteenths = st.integers(1, 64).map(lambda n: Fraction(n, 16))


def typed(value: Fraction) -> str:
    """A fraction of an inch as a maker types it."""
    whole, rest = divmod(abs(value), 1)
    sign = "-" if value < 0 else ""
    if not rest:
        return f"{sign}{whole}in"
    return f"{sign}{f'{whole}-' if whole else ''}{rest.numerator}/{rest.denominator}in"


@st.composite
def cases(draw: st.DrawFn) -> dict[str, Fraction]:
    """A case of two sides, a bottom and a back, all sizes free within reason."""
    return {
        "width": draw(st.integers(8, 40).map(Fraction)) + draw(sixteenths),
        "height": draw(st.integers(10, 60).map(Fraction)) + draw(sixteenths),
        "depth": draw(st.integers(4, 16).map(Fraction)) + draw(sixteenths),
        "ply": draw(st.integers(6, 16).map(lambda n: Fraction(n, 16))),
        "housing": draw(st.integers(1, 5).map(lambda n: Fraction(n, 16))),
        "gap": draw(st.integers(0, 3).map(lambda n: Fraction(n, 64))),
        "lap": draw(st.integers(1, 5).map(lambda n: Fraction(n, 16))),
        "stop": draw(st.integers(0, 16).map(lambda n: Fraction(n, 16))),
        "up": draw(st.integers(0, 5).map(Fraction)),
        "hole": draw(st.integers(8, 24).map(lambda n: Fraction(n, 8))),
    }


PARTS = [
    """
    side:
      stock: ply
      runs: up
      thick: across
      cut:
        - hole: {face: inside, from front: hole, from bottom: 7in, diameter: 1/4in, depth: 1/4in}
      place:
        left side: {left: 0, front: 0, back: depth, bottom: 0, top: height}
        right side: {mirror of: left side, plane: across at width / 2}
    """,
    """
    bottom:
      stock: ply
      runs: across
      thick: up
      place: {left: left side.right, right: right side.left, front: 0, back: back.front, bottom: up}
    """,
    """
    back:
      stock: thin
      runs: up
      thick: deep
      place: {left: left side.right, right: right side.left, bottom: 0, top: height, back: depth}
    """,
]
JOINTS = [
    "- dado: {name: housings, in: side, for: bottom, depth: housing, gap: gap, stopped: {front: stop}}",
    "- rabbet: {name: rabbets, in: side, for: back, width: lap}",
    "- rests: {name: rests, between: [bottom, back]}",
]


def case(values: dict[str, Fraction], seed: int | None = None) -> str:
    parts, joints, names = list(PARTS), list(JOINTS), [name for name in values if name != "ply"]
    if seed is not None:
        shuffled = random.Random(seed)
        for items in (parts, joints, names):
            shuffled.shuffle(items)
    return project(
        "\n".join(dedent(part).strip() for part in parts),
        "\n".join(joints),
        sizes="\n".join(f"{name}: {typed(values[name])}" for name in names),
        stock=f"ply: {{kind: plywood, label: 3/4in, thickness: {typed(values['ply'])}, sheet: 48in x 96in}}\n"
        "thin: {kind: plywood, label: 1/4in, thickness: 1/4in, sheet: 48in x 96in}",
    )


@given(cases())
@settings(max_examples=25, deadline=None, derandomize=True)
def test_finished_is_shoulders_and_what_joints_add(values: dict[str, Fraction]) -> None:
    design = solve(case(values))
    between = values["width"] - 2 * values["ply"]
    bottom, back = design.part("bottom"), design.part("back")
    assert bottom.shoulder_length == inches(between)
    assert bottom.length == inches(between + 2 * (values["housing"] - values["gap"]))
    assert back.width == inches(between + 2 * values["lap"])
    side = design.part_of["left side"]
    dado_long = values["depth"] - Fraction(1, 4) - values["stop"]
    removed = (
        dado_long * values["ply"] * values["housing"] + values["lap"] * Fraction(1, 4) * values["height"]
    )
    hole = 3.14159265 / 4 / 16 * 0.25
    # Up to the facets of the hole; the dado's notch in the back of the bottom is the rabbet's own.
    assert float(removed) + 0.95 * hole - 1e-6 <= taken(side) <= float(removed) + hole + 1e-6


@given(cases(), st.integers(0, 9))
@settings(max_examples=15, deadline=None, derandomize=True)
def test_the_order_of_the_file_changes_nothing_but_order(values: dict[str, Fraction], seed: int) -> None:
    one, two = solve(case(values)), solve(case(values, seed))
    assert {part.key: sizes(part) for part in one.parts} == {part.key: sizes(part) for part in two.parts}
    assert one.sizes == two.sizes
    assert one.overall == two.overall
    for part in one.parts:
        other = two.part(part.key)
        assert {operation.say for operation in part.operations} == {
            operation.say for operation in other.operations
        }
        assert {item.name: item.pose for item in part.copies} == {
            item.name: item.pose for item in other.copies
        }


def cut_list(design: Design) -> list[tuple[object, ...]]:
    return sorted(
        (part.name, part.hand is not None, sizes(part), len(part.copies), round(taken(part), 6))
        for part in design.parts
    )


@given(cases())
@settings(max_examples=10, deadline=None, derandomize=True)
def test_a_mirrored_project_has_the_same_cut_list(values: dict[str, Fraction]) -> None:
    """The right side is described first, and the left is its mirror image."""
    text = case(values)
    flipped = text.replace(
        "left side: {left: 0, front: 0, back: depth, bottom: 0, top: height}",
        "right side: {right: width, front: 0, back: depth, bottom: 0, top: height}",
    ).replace("right side: {mirror of: left side,", "left side: {mirror of: right side,")
    assert flipped != text
    one, two = solve(text), solve(flipped)
    assert cut_list(one) == cut_list(two)
    for design in (one, two):
        pair = [part for part in design.parts if part.name == "side"]
        assert {part.hand: part.copies[0].name for part in pair} == {
            "left": "left side",
            "right": "right side",
        }


@given(cases())
@settings(max_examples=10, deadline=None, derandomize=True)
def test_every_copy_is_its_part_as_posed(values: dict[str, Fraction]) -> None:
    design = solve(case(values))
    for part in design.parts:
        assert part.blank.low == ORIGIN
        for item in part.copies:
            assert item.pose.box(part.blank) == item.box
            assert all((item.box.side(side) - item.shoulders.side(side)) * side.sign >= ZERO for side in Side)


@given(cases())
@settings(max_examples=5, deadline=None, derandomize=True)
def test_twice_the_same_text_is_twice_the_same_design(values: dict[str, Fraction]) -> None:
    assert solve(case(values)) == solve(case(values))
