"""Projects written out for the rules of the order of work that need real joints and hardware."""

from __future__ import annotations

from plangen.description import read_description
from plangen.design.build import make_design
from plangen.design.model import Design
from plangen.findings import Findings
from plangen.sequence import OrderOfWork, order_of_work

HEAD = """\
plangen: 1
project: {title: A piece, units: inch}
shop: {kerf: 1/8in, planer: 12in, glue: {wood glue: {open time: 10}}}
"""


def ordered(text: str) -> tuple[Design, OrderOfWork, Findings]:
    """Read, solve and order a project that is written without its first lines."""
    findings = Findings()
    description = read_description((HEAD + text).encode(), "project.yaml", findings)
    assert description is not None, list(findings)
    solved = make_design(description, findings)
    assert solved is not None, list(findings)
    return solved.design, order_of_work(solved.design, description.steps, findings), findings
