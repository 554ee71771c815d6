"""The kinds of operation a maker may write under ``cut``: one module each, one line in this table."""

from plangen.joinery.kinds import OperationKind
from plangen.joinery.operations import chamfer, curve, hole, mitre, notch, round_over, taper

OPERATIONS: dict[str, OperationKind] = {
    kind.name: kind
    for kind in (
        notch.KIND,
        hole.KIND,
        hole.PLURAL,
        chamfer.KIND,
        round_over.KIND,
        taper.KIND,
        curve.KIND,
        mitre.KIND,
    )
}
