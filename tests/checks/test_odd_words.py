"""What is said of parts that differ by less than is printed, and of a box corner called a mitre."""

from __future__ import annotations

from plangen.findings import Finding
from plangen.pipeline import Source, check

BOARD = """
plangen: 1
project: {title: Board, units: inch}
shop: {kerf: 1/8in}
stock:
  pine: {kind: solid, density: 400, rough: 4/4, thickness: 3/4in, widths: [7-1/4in], lengths: [96in]}
parts:
"""


def said(parts: str, kind: str) -> Finding:
    findings = check(Source("board", "project.yaml", (BOARD + parts).encode(), {})).findings
    (finding,) = [one for one in findings if one.kind == kind]
    return finding


def test_a_difference_too_small_to_print_is_not_printed_as_nothing() -> None:
    one = "  left board: {stock: pine, runs: across, thick: up, length: 30in, width: 6in, place: "
    finding = said(
        one + "{left: 0, front: 0, bottom: 0}}\n"
        "  back board: {stock: pine, runs: across, thick: up, length: 30.001in, width: 6in, place: "
        "{left: 0, front: 10in, bottom: 0}}\n",
        "look-alikes",
    )
    assert "less than is printed (0.025 mm)" in finding.message
    assert " 0 in" not in finding.message


def test_a_mitre_with_a_face_the_long_one_is_told_of_the_bevel() -> None:
    finding = said(
        "  wall: {stock: pine, runs: across, thick: deep, "
        "cut: [{mitre: {end: left, angle: 30deg, long: front}}], "
        "place: {left: 0, right: 6in, front: 0, bottom: 0, top: 4in}}\n",
        "mitre",
    )
    assert "`bevel: {at: left, angle: …, long: front}`" in finding.remedy
