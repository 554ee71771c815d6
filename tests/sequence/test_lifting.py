"""What is too heavy for one: by hand, from blanks of 1000 kg/m3, so that a litre weighs a kilogram."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from plangen.design.model import Design
from plangen.findings import Findings
from plangen.handbook.lifting import MOST_FOR_ONE
from plangen.joinery.space import Side
from plangen.sequence import OrderOfWork, order_of_work
from plangen.sequence.lifting import Weights
from plangen.sequence.model import Step
from plangen.takeoff.weights import mass_of
from tests.design.small import project, solve

# A bench top of 1200 × 400 × {thick} on two ends of 400 × 400 × 40 (6.4 kg each), glides under the ends.
BENCH = """
end:
  stock: oak
  runs: up
  thick: across
  fit:
    - glide: {{face: bottom, at: middle, depth: 10mm}}
  place:
    left end: {{left: 0, front: 0, back: 400mm, bottom: 0, top: 400mm}}
    right end: {{same as: left end, right: 1200mm}}
top:
  stock: oak
  runs: across
  thick: up
  thickness: {thick}
  place: {{left: 0, right: 1200mm, front: 0, back: 400mm, bottom: 400mm}}
"""
STOCK = (
    "oak: {kind: solid, species: white oak, rough: 60mm, thickness: 40mm, density: DENSITY, "
    "widths: [450mm], lengths: [2400mm]}"
)


def bench(thick: str, density: str = "1000") -> Design:
    return solve(
        project(
            BENCH.format(thick=thick),
            joints="- butt: {name: seat, between: [end, top], contacts: 2}",
            units="mm",
            stock=STOCK.replace("DENSITY", density),
            hardware="glide: {kind: glide, title: Nail-on glide, diameter: 4mm, length: 10mm}",
        )
    )


def steps_of(design: Design) -> OrderOfWork:
    return order_of_work(design, ["draft"], Findings())


def heavy(order: OrderOfWork) -> list[Step]:
    return [step for step in order.steps if step.lifts]


def test_the_most_for_one_is_the_load_constant() -> None:
    """23 kg, which the applications manual prints as 51 lb too: the same to half a pound."""
    assert MOST_FOR_ONE == 23
    assert abs(MOST_FOR_ONE / Fraction("0.45359237") - 51) < Fraction(1, 2)


def test_what_stands_on_glides_is_turned_over_whole() -> None:
    """The top is 1.2 × 0.4 × 0.04 m, 19.2 kg, which one can lift; with both ends it is 32 kg."""
    design = bench("40mm")
    assert Weights.of(design).whole == 32
    order = steps_of(design)
    (step,) = heavy(order)
    assert step.fits
    assert set(step.lifts) == {"left end", "right end", "top"}
    assert mass_of(design, step.lifts, Weights.of(design).masses) == 32
    assert "lifting" in step.cautions
    assert all("lifting" not in other.cautions for other in order.steps if other is not step)


def test_nothing_is_said_of_what_one_can_lift() -> None:
    """At 700 kg/m3 all of it is 22.4 kg."""
    design = bench("40mm", "700")
    assert Weights.of(design).whole == Fraction("22.4")
    assert heavy(steps_of(design)) == []


@pytest.mark.parametrize(("density", "kilograms"), [("1197", None), ("1198", "23.0016"), ("1250", "24")])
def test_a_heavy_piece_is_lifted_by_two_wherever_it_is_handled(density: str, kilograms: str | None) -> None:
    """The top alone passes 23 kg from 1198 kg/m3 on: 19.2 litres."""
    design = bench("40mm", density)
    (closing,) = (step for step in steps_of(design).steps if "seat" in step.joints)
    assert closing.lifts == (("top",) if kilograms else ())
    assert mass_of(design, closing.lifts, Weights.of(design).masses) == Fraction(kilograms or 0)
    assert ("lifting" in closing.cautions) == (kilograms is not None)


def test_a_lid_is_lifted_without_its_chest() -> None:
    """Hinge screws go into the lid from below before it is on: 4.8 kg of lid, and 25.6 kg of box stay put."""
    parts = """
base: {stock: oak, runs: across, thick: up, place: {left: 0, right: 800mm, front: 0, back: 400mm, bottom: 0}}
box:
  stock: oak
  runs: across
  thick: up
  place: {left: 0, right: 800mm, front: 0, back: 400mm, bottom: base.top}
lid:
  stock: oak
  runs: across
  thick: up
  place: {left: 0, right: 300mm, front: 0, back: 400mm, bottom: box.top}
"""
    joints = (
        "- butt: {name: stack, between: [base, box], contacts: 1}\n"
        "- screwed: {name: lid screws, through: lid, into: box, with: screw}"
    )
    design = solve(
        project(
            parts,
            joints,
            units="mm",
            stock=STOCK.replace("DENSITY", "1000"),
            hardware="screw: {kind: wood screw, diameter: 5mm, length: 70mm, head: flat}",
        )
    )
    (screws,) = (joint for joint in design.joints if joint.name == "lid screws")
    (use,) = screws.hardware
    below = replace(use, spots=tuple((copy, point, Side.BOTTOM) for copy, point, _ in use.spots))
    joints_below = tuple(
        replace(joint, hardware=(below,)) if joint is screws else joint for joint in design.joints
    )
    order = steps_of(replace(design, joints=joints_below))
    (closing,) = (step for step in order.steps if "lid screws" in step.joints)
    assert closing.lifts == ()
