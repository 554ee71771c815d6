"""Hardware counted a second time: by what is drilled for it, by where it goes, and by the bill."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from plangen.design.model import Design
from plangen.takeoff.hardware_bill import hardware_bill
from tests.design.small import solve

ROOT = Path(__file__).resolve().parents[2]
FILES = [
    *sorted((ROOT / "docs" / "examples").glob("*.yaml")),
    ROOT / "projects" / "step-stool" / "project.yaml",
]


def load(path: Path) -> Design:
    return solve(path.read_text(encoding="utf-8"))


def drilled(design: Design, joint: str, kind: str) -> int:
    """Holes of a kind that a joint has bored, over all copies of the parts that they are in."""
    return sum(
        len(operation.cuts) * len(part.copies)
        for part in design.parts
        for operation in part.operations
        if operation.joint == joint and operation.kind == kind
    )


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_the_bill_counts_every_place_once(path: Path) -> None:
    """A joint's hardware has a place for each piece of it."""
    design = load(path)
    counts: Counter[str] = Counter()
    for joint in design.joints:
        for use in joint.hardware:
            assert use.number == len(use.spots), (joint.name, use.item)
            counts[use.item] += len(use.spots)
    for fit in design.fits:
        counts[fit.hardware.item] += fit.hardware.number
    bill = hardware_bill(design, None)
    assert {line.item: line.count for line in bill} == {
        item: count for item, count in counts.items() if count
    }
    assert all(sum(number for _, number in line.by) == line.count for line in bill)


HOLES = {
    "screwed": ("screw", "lead hole", 1),
    "dowelled": ("dowel", "dowel hole", 2),  # one in either piece
    "biscuited": ("biscuit", "biscuit slot", 2),
}


@pytest.mark.parametrize("name", HOLES)
def test_the_holes_that_are_drawn_are_as_many_as_what_goes_in(name: str) -> None:
    design = load(ROOT / "docs" / "examples" / f"{name}.yaml")
    item, kind, each = HOLES[name]
    (joint,) = (one for one in design.joints if one.kind == name)
    (line,) = (one for one in hardware_bill(design, None) if one.item == item)
    assert drilled(design, joint.name, kind) == each * line.count > 0


def test_the_stool_by_hand() -> None:
    """Through each side two screws into the rail and two into each tread: twelve, all plugged."""
    design = load(ROOT / "projects" / "step-stool" / "project.yaml")
    assert {line.item: line.count for line in hardware_bill(design, "USD")} == {"screw": 12, "plug": 12}
