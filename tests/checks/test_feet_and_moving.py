"""Feet that reach one floor and carry the piece; leaves with enough hinges; drawers on two slides."""

from __future__ import annotations

from fractions import Fraction

import pytest

from plangen.checks.masses import mass_of
from plangen.findings import Severity
from tests.checks.planting import found, only
from tests.design.small import solve

# Two uprights on feet of their own, a door on the left one, a rail between them.
CART = """\
plangen: 1
project: {title: Cart, units: inch}
shop: {glue: {wood glue: {}}}
stock:
  oak: {kind: solid, species: red oak, rough: 8/4, thickness: 1-3/4in, widths: 30in, lengths: [8ft]}
hardware:
  caster: {kind: stem caster, height: 3in, stem: 7/16in, stem length: 1-1/2in, load: 60}
  foot: {kind: leveler, bore: 3/8in, depth: 1in, least: 2-1/2in, most: 3-1/2in}
  hinge: {kind: butt hinge, length: 3in, leaf: 1in, thickness: 1/16in}
parts:
  left leg:
    stock: oak
    runs: up
    thick: deep
    width: 3in
    fit:
      - caster: {face: bottom, at: middle}
    place: {left: 0, front: 0, bottom: 0, top: 30in}
  right leg:
    stock: oak
    runs: up
    thick: deep
    width: 3in
    fit:
      - foot: {face: bottom, at: middle}
    place: {left: 40in, front: 0, bottom: 0, top: 30in}
  rail:
    stock: oak
    runs: across
    thick: deep
    width: 2in
    place: {left: left leg.right, right: right leg.left, front: 0, top: 30in}
  door:
    stock: oak
    runs: up
    thick: deep
    place: {left: left leg.right + 1/16in, right: 30in, front: 0, bottom: 2in, top: 27in}
joints:
  - butt: {name: left end, between: [left leg, rail]}
  - butt: {name: right end, between: [right leg, rail]}
  - hinged: {name: hinges, leaf: door, to: left leg, with: hinge, number: 4, swing: front 100deg, gap: 1/16in}
steps: [draft]
"""
BOX = """\
plangen: 1
project: {title: Box, units: inch}
shop: {glue: {wood glue: {}}}
stock:
  pine: {kind: solid, species: white pine, rough: 4/4, thickness: 3/4in, widths: 30in, lengths: [8ft]}
hardware:
  runner: {kind: drawer slide, length: 12in}
parts:
  side:
    stock: pine
    runs: up
    thick: across
    place:
      left side: {left: 0, front: 0, back: 14in, bottom: 0, top: 10in}
      right side: {right: 20in, same as: left side}
  top:
    stock: pine
    runs: across
    thick: up
    place: {left: left side.right, right: right side.left, front: 0, back: 14in, top: 10in}
  drawer side:
    stock: pine
    runs: deep
    thick: across
    place:
      drawer left: {left: left side.right + 1/2in, front: 0, back: 13in, bottom: 2in, top: 8in}
      drawer right: {right: right side.left - 1/2in, same as: drawer left}
  drawer front:
    stock: pine
    runs: across
    thick: deep
    place: {left: drawer left.right, right: drawer right.left, front: 0, bottom: 2in, top: 8in}
groups:
  drawer: [drawer side, drawer front]
joints:
  - butt: {name: top joints, between: [side, top]}
  - butt: {name: front joints, between: [drawer side, drawer front]}
  - slides: {name: runners, out: drawer side, in: side, with: runner}
steps: [draft]
"""


def test_sound_work_is_left_alone() -> None:
    mine = {"rocks", "foot-load", "few-hinges", "one-slide"}
    for project in (CART, BOX):
        assert [
            one.message for one in found(project) if one.kind in mine or one.severity is Severity.ERROR
        ] == []


@pytest.mark.parametrize(
    ("slip", "differ"),
    [
        (
            ("least: 2-1/2in", "least: 3-1/4in"),
            "1/4",
        ),  # the foot can go no lower than a quarter over the caster
        (("most: 3-1/2in", "most: 2-3/4in"), "1/4"),
        (("stem caster, height: 3in", "stem caster, height: 5in"), "1 1/2"),
    ],
)
def test_feet_that_cannot_reach_one_floor(slip: tuple[str, str], differ: str) -> None:
    fault = only(found(CART, slip), "rocks", Severity.ERROR)
    assert f"ends {differ} in above" in fault.message.replace("\u00a0", " ")
    assert fault.also


def test_a_leg_may_be_shorter_by_the_difference() -> None:
    slips = [
        ("stem caster, height: 3in", "stem caster, height: 5in"),
        ("place: {left: 0, front: 0, bottom: 0,", "place: {left: 0, front: 0, bottom: 1-1/2in,"),
    ]
    assert [one.kind for one in found(CART, *slips) if one.kind == "rocks"] == []


def test_feet_too_weak_for_a_third_of_the_weight() -> None:
    design = solve(CART.replace("steps: [draft]\n", ""))
    mass = mass_of(design, design.copies)
    weak = int(mass / 3)  # kg, just below a third
    slip = ("load: 60", f"load: {weak}")
    fault = only(found(CART, slip), "foot-load", Severity.WARNING)
    assert f"{float(mass):.0f} kg" in fault.message
    assert not [one for one in found(CART, ("load: 60", f"load: {weak + 1}")) if one.kind == "foot-load"]


def test_too_few_hinges_for_the_weight_of_the_leaf() -> None:
    design = solve(CART.replace("steps: [draft]\n", ""))
    mass = mass_of(design, ["door"])
    assert Fraction(7) < mass < Fraction(14)  # kg: more than a pair carries, not more than two pairs
    fault = only(found(CART, ("number: 4", "number: 2")), "few-hinges", Severity.WARNING)
    assert "on 2 hinges" in fault.message


def test_a_drawer_that_meets_a_slide_on_one_side_only() -> None:
    slips = [  # of parts of their own, for a pair with one slide is reported as no pair
        ("      right side: {", "  far side:\n    like: side\n    place:\n      right side: {"),
        (
            "      drawer right: {right: right side.left - 1/2in",
            "  far drawer side:\n    like: drawer side\n    place:\n"
            "      drawer right: {right: right side.left - 3/4in",
        ),
        ("between: [side, top]", "between: [either side, top]"),
        ("between: [drawer side, drawer front]", "between: [either drawer side, drawer front]"),
        ("out: drawer side, in: side,", "out: [drawer side, far drawer side], in: [side, far side],"),
        (
            "drawer: [drawer side, drawer front]",
            "drawer: [drawer side, far drawer side, drawer front]\n  either side: [side, far side]\n"
            "  either drawer side: [drawer side, far drawer side]",
        ),
    ]
    fault = only(found(BOX, *slips), "one-slide", Severity.ERROR)
    # 18-1/2 in of opening, less 1/2 in and 3/4 in; with two slides it wants an inch more.
    message = fault.message.replace("\u00a0", " ")
    assert "is 17 1/4 in wide, and 18 1/4 in with" in message
