"""Grooves for panels that cut into tenons, or lie beside them. Sizes are worked by hand."""

from __future__ import annotations

import pytest

from plangen.checks.groove_and_tenon import grooves_keep_off_tenons
from plangen.checks.run import CHECKS
from plangen.findings import Finding, Findings, Severity
from plangen.solids import Solids
from tests.design.small import line_at, solve
from tests.joinery.test_frame_and_panel import PLAIN, RAILS, frame


def told(text: str) -> list[Finding]:
    findings = Findings()
    grooves_keep_off_tenons(solve(text), Solids({}), findings)
    return list(findings)


def words(finding: Finding) -> str:
    return f"{finding.message}; {finding.remedy}".replace("\u00a0", " ")


def with_tenons(keys: str, text: str = frame(PLAIN)) -> str:
    return text.replace("length: 1in}", f"length: 1in, {keys}}}")


def test_the_usual_shoulder_is_less_than_the_groove() -> None:
    """Rails 2 in wide with 1/4 in shoulders: tenons 1-1/2 in wide, of which 3/8 in of groove takes 1/8 in."""
    text = frame(PLAIN)
    assert RAILS in text
    first, *others = told(text)
    assert (first.kind, first.severity) == ("groove-cuts-tenon", Severity.WARNING)
    assert "takes 1/8 in off its tenon, and leaves it 1 3/8 in wide" in words(first)
    assert "`shoulders: {top: 3/8in}`" in words(first)
    assert "one line" not in words(first)
    assert line_at(text, first).startswith("{in: stile, for: rail") or "mortise" in line_at(text, first)
    assert not others


@pytest.mark.parametrize(
    "keys",
    [
        "shoulders: {top: 3/8in, bottom: 3/8in}",
        "haunch: {top: 3/8in, bottom: 3/8in}, shoulders: {top: 5/8in, bottom: 5/8in}",
    ],
)
def test_a_shoulder_as_deep_as_the_groove_is_right(keys: str) -> None:
    assert told(with_tenons(keys)) == []


def test_a_panel_beside_the_tenon() -> None:
    """The panel moved 1/8 in back: its groove lies from 3/8 to 5/8, the tenon from 1/4 to 1/2."""
    aside = frame(PLAIN).replace("centred at 3/8in", "centred at 1/2in")
    (cut,) = told(aside)
    assert cut.kind == "groove-cuts-tenon"
    assert "the groove lies 3/8 in to 5/8 in through the thickness, the tenon 1/4 in to 1/2 in" in words(cut)
    (line,) = told(with_tenons("shoulders: {top: 3/8in, bottom: 3/8in}", aside))
    assert line.kind == "groove-out-of-line"
    assert "the groove lies 3/8 in to 5/8 in through the thickness, the tenon 1/4 in to 1/2 in" in words(line)


def test_it_is_run_with_the_others() -> None:
    assert grooves_keep_off_tenons in CHECKS
