"""What fasteners are told in: inches where the project has inches, millimetres where it has those."""

from __future__ import annotations

from typing import Literal

import pytest

from tests.design.small import faults, project

PARTS = {
    "inch": """
side:
  stock: pine
  runs: up
  thick: across
  place: {left: 0, front: 0, back: 10in, bottom: 0, top: 20in}
rail:
  stock: pine
  runs: across
  thick: deep
  width: 4in
  place: {left: side.right, right: 15in, back: 10in, top: 19in}
""",
    "mm": """
side:
  stock: pine
  runs: up
  thick: across
  place: {left: 0, front: 0, back: 250mm, bottom: 0, top: 500mm}
rail:
  stock: pine
  runs: across
  thick: deep
  width: 100mm
  place: {left: side.right, right: 380mm, back: 250mm, top: 480mm}
""",
}
HARDWARE = """
screw: {kind: wood screw, gauge: 8, length: 1-1/2in}
dowel: {kind: dowel, diameter: 10mm, length: 40mm}
"""


@pytest.mark.parametrize(
    ("units", "joint", "words"),
    [
        (
            "inch",
            "screwed: {through: side, into: rail, with: screw, per joint: 60}",
            "the face is 4 in by 3/4 in",
        ),
        ("mm", "screwed: {through: side, into: rail, with: screw, per joint: 60}", "is 100 mm by 20 mm"),
        (
            "inch",
            "screwed: {through: side, into: rail, with: screw, sunk: 5/8in}",
            "only 1/8 in of side is left under the head",
        ),
        ("mm", "screwed: {through: side, into: rail, with: screw, sunk: 17mm}", "only 3 mm of side is left"),
        # half of 40 mm and 2 mm, or 1/16 in (0.85 in, 27/32 in on the rule)
        ("mm", "dowelled: {between: [side, rail], with: dowel}", "hole, 22 mm deep, would come out of side"),
        ("inch", "dowelled: {between: [side, rail], with: dowel}", "hole, 27/32 in deep, would come out of"),
    ],
)
def test_lengths_are_told_as_the_project_measures(
    units: Literal["inch", "mm"], joint: str, words: str
) -> None:
    wrong = faults(project(PARTS[units], f"- {joint}", units=units, hardware=HARDWARE), only_errors=False)
    told = [item.message.replace("\u00a0", " ") for item in wrong]
    assert any(words in message for message in told), told
