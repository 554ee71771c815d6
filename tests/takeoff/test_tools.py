"""Every kind of operation, joint and hardware names its tools, and a bit of one size is named once."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from plangen.design.model import Design
from plangen.joinery.hardware import HARDWARE_KINDS
from plangen.joinery.joints import JOINTS
from plangen.takeoff.tool_list import tool_list
from plangen.units import LengthStyle
from tests.design.small import project, solve
from tests.joinery.test_hardware import ROWS, top

EXAMPLES = Path(__file__).resolve().parents[2] / "docs" / "examples"
INCH = LengthStyle("inch")
# Closed with clamps and nothing else, or laid on; clamps are named by the step.
BARE = {"butt", "rests", "face-glued"}
# Put in or laid on by hand: nothing to turn, drive or bore besides the holes that are drawn.
BY_HAND = {"barrel nut", "washer", "magnet", "edge banding"}


def words(design: Design) -> list[str]:
    return [tool.text(INCH).replace("\u00a0", " ") for tool in tool_list(design)]


def example(name: str) -> Design:
    return solve((EXAMPLES / f"{name.replace(' ', '-')}.yaml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.yaml")), ids=lambda path: path.stem)
def test_every_operation_names_its_tools(path: Path) -> None:
    design = solve(path.read_text(encoding="utf-8"))
    without = {
        operation.kind for part in design.parts for operation in part.operations if not operation.tools
    }
    assert without == set()


@pytest.mark.parametrize("kind", JOINTS)
def test_every_joint_leaves_tools_in_the_list(kind: str) -> None:
    name = "mitre-joint" if kind == "mitre" else kind
    assert bool(words(example(name))) != (kind in BARE)


@pytest.mark.parametrize("kind", HARDWARE_KINDS)
def test_every_kind_of_hardware_names_its_tools(kind: str) -> None:
    screws = ", screws: {number: 2, gauge: 6, length: 1/2in}" if HARDWARE_KINDS[kind].screw else ""
    tools = words(solve(top("thing: {number: 2}", f"thing: {{kind: {kind}, {ROWS[kind]}{screws}}}")))
    assert bool(tools) == (kind not in BY_HAND)
    assert any("Screwdriver" in tool for tool in tools) or not screws
    assert any(tool.startswith("Drill") for tool in tools) or not screws


@pytest.mark.parametrize(
    ("row", "tools"),
    [
        # Lead holes by the table of wood screws: No. 8 in white pine 5/64 in.
        ("wood screw, gauge: 8, length: 1/2in", ["Drill, 5/64 in bit", "Screwdriver for the screws"]),
        ("wood screw, title: Wall screw, gauge: 8, length: 3in", ["Screwdriver for the screws"]),
        ("nail, diameter: 2mm, length: 1/2in", ["Hammer"]),
        ("glide, diameter: 1in", ["Hammer"]),
        ("plug, diameter: 3/8in", ["Flush-cut saw or chisel"]),
        ("plug, diameter: 3/8in, stock: pine", ["Flush-cut saw or chisel", "Plug cutter, 3/8 in"]),
        ("felt pad, diameter: 1in", []),
    ],
)
def test_plain_hardware(row: str, tools: list[str]) -> None:
    assert sorted(words(solve(top("thing: {number: 2}", f"thing: {{kind: {row}}}")))) == tools


def test_lead_holes_that_are_drawn_are_not_asked_for_twice() -> None:
    """Six holes of one size, at known places: one bit."""
    marked = words(example("hinged"))
    assert [tool for tool in marked if tool.startswith("Drill")] == ["Drill, 1/16 in bit"]
    known = (EXAMPLES / "hinged.yaml").read_text(encoding="utf-8")
    known = known.replace("screws: 6", "screws: {number: 6, pitch: 5/8in, inset: 1/4in}")
    drawn = words(solve(known))
    assert [tool for tool in drawn if tool.startswith("Drill")] == ["Drill, 1/16 in bit"]


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.yaml")), ids=lambda path: path.stem)
def test_a_bit_of_one_size_stands_once(path: Path) -> None:
    tools = words(solve(path.read_text(encoding="utf-8")))
    plain = [tool for tool in tools if re.fullmatch(r"Drill, [^,]* bit", tool)]
    assert len(plain) == len(set(plain))
    assert len(tools) == len({tool.lower() for tool in tools})


def test_a_project_without_work_needs_no_tools() -> None:
    place = "place: {left: 0, right: 9in, front: 0, back: 3in, bottom: 0}"
    assert words(solve(project(f"board: {{stock: pine, runs: across, thick: up, {place}}}"))) == []
