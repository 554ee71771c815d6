"""Warn of screws into the edge of thin sheet goods, which split before they hold."""

from __future__ import annotations

from plangen.checks.frame import printed
from plangen.design.model import Design
from plangen.findings import Findings
from plangen.solids import Solids
from plangen.units import millimetres

# The least thickness of plywood into whose edge a screw may be driven: common practice, no source.
LEAST_EDGE = millimetres(15)


def screws_hold_in_edges(design: Design, solids: Solids, findings: Findings) -> None:
    """Add ``screw-into-thin-edge`` where a lead hole enters the edge of plywood under 15 mm."""
    for part in design.parts:
        stock = design.stock[part.stock]
        if stock.kind != "plywood" or part.thickness >= LEAST_EDGE:
            continue
        for operation in part.operations:
            if operation.kind == "lead hole" and operation.side.axis is not part.thick:
                findings.warning(
                    "screw-into-thin-edge",
                    f"a screw enters the edge of `{part.name}`, only "
                    f"{printed(part.thickness, design)} thick, and may split it",
                    operation.place,
                    "use thicker plywood there, or a glued dado",
                    part=part.name,
                )
                break
