"""The finishing step names the finishes with their coats, and what stays bare."""

from __future__ import annotations

import pytest

from plangen.findings import Findings
from plangen.sequence import order_of_work
from plangen.takeoff.tool_list import tool_list
from plangen.units import LengthStyle
from tests.design.small import project, solve

BOARD = (
    "{{stock: pine, runs: across, thick: up, width: 3in, length: 20in, "
    "place: {{left: 0, front: {}, bottom: 0}}{}}}"
)
VARNISH, STAIN = "varnish: {coats: 3}", "stain: {title: Walnut stain}"


def step_says(finishes: str, one: str = "", two: str = "") -> str:
    """What is said after the sanding, of two loose boards."""
    parts = f"shelf: {BOARD.format('0', one)}\nback: {BOARD.format('4in', two)}"
    design = solve(project(parts, head=f"finish: {{{finishes}}}\n" if finishes else ""))
    (step,) = (step for step in order_of_work(design, ["draft"], Findings()).steps if step.kind == "finish")
    return step.say.partition("Wipe off the dust")[2]


@pytest.mark.parametrize(
    ("finishes", "one", "two", "says"),
    [
        ("", "", "", ", then put on the finish as its label says."),
        (VARNISH, "", "", ", then put on three coats of varnish, as the label says."),
        (
            f"{STAIN}, {VARNISH}", "", "",
            ", then put on one coat of walnut stain, then three coats of varnish, each as its label says.",
        ),
        ("", ", finish: none", ", finish: none", "; no finish goes on."),
    ],
)  # fmt: skip
def test_what_goes_on(finishes: str, one: str, two: str, says: str) -> None:
    assert step_says(finishes, one, two) == says


def test_what_stays_bare_is_named() -> None:
    says = step_says(VARNISH, two=", finish: none")
    assert says.startswith(", then put on three coats of varnish, as the label says. Leave ")
    assert "back" in says
    assert "shelf" not in says
    assert says.endswith(" bare.")


def test_a_finish_of_some_parts_names_them() -> None:
    says = step_says(f"{STAIN}, {VARNISH}", one=", finish: [stain, varnish]", two=", finish: varnish")
    stained, _, varnished = says.partition(", then three coats of varnish")
    assert "one coat of walnut stain on " in stained
    assert "shelf" in stained
    assert "back" not in stained
    assert varnished == ", each as its label says."


def test_the_step_takes_the_finish_and_the_tool_list_does_not() -> None:
    parts = f"shelf: {BOARD.format('0', ', finish: varnish')}"
    design = solve(project(parts, head=f"finish: {{{STAIN}, {VARNISH}}}\n"))
    order = order_of_work(design, ["draft"], Findings())
    (step,) = (step for step in order.steps if step.kind == "finish")
    assert step.tools[-1] == "Varnish, three coats"
    assert not any("stain" in tool.lower() for tool in step.tools)
    listed = [tool.text(LengthStyle("inch")).lower() for tool in tool_list(design, order)]
    assert "sandpaper to 180 grit" in listed
    assert not any("varnish" in tool for tool in listed)
