"""The order in which the trade works a piece, as one table."""

from __future__ import annotations

from typing import Final

from plangen.joinery.operation import Operation

# Joints first, while ends and edges are square to measure from; then holes; then the shapes that
# leave nothing square; edges last. Common practice, no source.
WORK_ORDER: Final[tuple[tuple[str, ...], ...]] = (
    ("half-lap", "dado", "groove", "rabbet", "mortise", "tenon"),
    ("dowel hole", "lead hole", "screw hole", "hole"),
    ("notch", "taper", "curve", "outline", "mitre"),
    ("chamfer", "round over"),
)
_ORDER: Final = tuple(kind for group in WORK_ORDER for kind in group)


def work_rank(operation: Operation) -> int:
    """Where an operation stands in the order of work; equal ranks keep the order they came in.

    A kind that is not in the table stands with the outlines.
    """
    if operation.kind == "notch" and operation.joint is not None:
        return len(WORK_ORDER[0]) - 1  # it fits a piece round a stopped housing
    return _ORDER.index(operation.kind if operation.kind in _ORDER else "outline")
