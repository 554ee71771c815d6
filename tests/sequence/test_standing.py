"""Whole assemblies that only stand on each other: put in place in one step, from the bottom up."""

from __future__ import annotations

from tests.sequence.designs import kinds
from tests.sequence.written_projects import ordered

CRATES = """
stock:
  pine:
    {kind: solid, species: white pine, rough: 4/4, thickness: 3/4in, widths: [9-1/4in], lengths: [8ft]}
hardware:
  glide: {kind: leveler, thread: 5/16in, bore: 3/8in, depth: 1/2in, least: 1/2in, most: 1in, foot: 1-1/2in}
parts:
  base:
    stock: pine
    runs: across
    thick: up
    fit: [{glide: {face: bottom, at: corners, from edges: 1-1/2in, from ends: 2in}}]
    place: {left: 0, right: 18in, front: 0, back: 9in, bottom: 1/2in}
assemblies:
  crate:
    title: Apple crate
    parts:
      end:
        stock: pine
        runs: up
        thick: across
        width: 9in
        place:
          left end: {left: 0, front: 0, bottom: 3/4in, top: 9in}
          right end: {mirror of: left end, plane: across at 9in}
      bottom:
        {stock: pine, runs: across, thick: up, width: 9in, place: {left: 0, right: 18in, front: 0, bottom: 0}}
    joints:
      - butt: {name: ends, between: [end, bottom], contacts: 2}
    place:
      stack:
        left: 0
        front: 0
        spread: {number: 3, going: up, first: 1-1/4in, pitch: 9in, names: [low crate, mid crate, high crate]}
joints:
  - rests: {name: stacked, between: [crate, crate]}
  - rests: {name: on the base, between: [low crate, base]}
"""
CRATE_NAMES = ("low crate", "mid crate", "high crate")


def test_one_drafted_step_stands_whole_assemblies_from_the_bottom_up() -> None:
    _, order, findings = ordered(CRATES)
    assert kinds(findings) == []
    (step,) = (step for step in order.steps if "stacked" in step.joints)
    assert set(step.joints) == {"stacked", "on the base"}
    assert step.title == "Stand the apple crates on the base"
    assert "one on another, from the bottom up" in step.say
    assert step.brought == CRATE_NAMES
    assert [use.part for use in step.parts] == ["base"]  # no piece of a crate is handled by itself


def test_the_picture_tints_the_whole_of_what_is_stood() -> None:
    design, order, _ = ordered(CRATES)
    (step,) = (step for step in order.steps if "stacked" in step.joints)
    crates = {member for copy in design.assemblies[0].copies for member in copy.members}
    assert set(step.picture.new) == crates
    assert dict(step.picture.offsets).keys() == crates
    assert "base" in step.picture.context


def test_hardware_goes_on_before_anything_stands_loose_on_it() -> None:
    _, order, _ = ordered(CRATES)
    (fitted,) = (step for step in order.steps if step.fits)
    (step,) = (step for step in order.steps if "stacked" in step.joints)
    assert fitted.number < step.number


def test_a_written_step_that_places_the_assemblies_closes_what_they_rest_on() -> None:
    _, order, findings = ordered(
        CRATES + "steps:\n  - draft\n  - step: Stack them\n    place: [low crate, mid crate, high crate]\n"
    )
    assert kinds(findings) == []
    assert [step.title for step in order.steps if "stacked" in step.joints] == ["Stack them"]
    assert not any(step.title.startswith("Stand") for step in order.steps)
