"""A joint that gets no glue is nowhere told to be glued, nor warned of glue."""

from __future__ import annotations

import pytest

from plangen.pipeline import Source, check
from plangen.sequence.model import Step

FRAME = """
plangen: 1
project: {title: Frame, units: inch}
shop: {kerf: 1/8in, glue: {wood glue: {open time: 10}}}
stock:
  pine: {kind: solid, species: eastern white pine, rough: 4/4, thickness: 3/4in, widths: [7-1/4in], lengths: [96in]}
parts:
  post: {stock: pine, runs: up, thick: deep, width: 3in, place: {left: 0, front: 0, bottom: 0, top: 20in}}
  rail: {stock: pine, runs: across, thick: deep, width: 3in, place: {left: post.right, right: 20in, front: 0, bottom: 8in}}
joints:
  - JOINT
"""  # noqa: E501


def closing(joint: str) -> Step:
    made = check(Source("frame", "project.yaml", FRAME.replace("JOINT", joint).encode(), {})).checked
    assert made is not None
    (step,) = [one for one in made.order.steps if one.joints]
    return step


@pytest.mark.parametrize(
    "joint",
    [
        "mortise and tenon: {in: post, for: rail, length: 1in, apart: yes}",
        "mortise and tenon: {in: post, for: rail, length: 1in, glue: none}",
        "butt: {between: [rail, post], glue: none}",
    ],
)
def test_a_dry_joint_is_not_glued_in_words(joint: str) -> None:
    step = closing(joint)
    said = step.say.replace("Use no glue: this joint comes apart.", "")
    assert "glue" not in said.lower()
    assert "together dry" in said
    assert "glue" not in step.cautions


def test_a_glued_joint_still_is() -> None:
    step = closing("mortise and tenon: {in: post, for: rail, length: 1in}")
    assert "Brush glue into the mortises" in step.say
    assert "glue" in step.cautions
