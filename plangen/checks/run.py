"""The table of checks; a check takes the design and its solids and adds findings."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from plangen.checks.lead_hole_in_sheet import screws_hold_in_edges
from plangen.checks.look_alikes import parts_tell_apart
from plangen.design.model import Design
from plangen.findings import Findings
from plangen.solids import Solids, check_interference, check_solids

Check: TypeAlias = Callable[[Design, Solids, Findings], None]

CHECKS: tuple[Check, ...] = (
    check_solids,
    check_interference,
    parts_tell_apart,
    screws_hold_in_edges,
)


def run_checks(design: Design, solids: Solids, findings: Findings) -> None:
    """Run every check."""
    for check in CHECKS:
        check(design, solids, findings)
