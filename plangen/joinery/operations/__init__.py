"""The kinds of operation a maker may write under ``cut``: one module each, one line in this table.

Within a group of the order of work, they are worked in the order of this table.
"""

from plangen.joinery.kinds import OperationKind
from plangen.joinery.operations import (
    bevel,
    chamfer,
    compound_mitre,
    curve,
    edge_banding,
    hole,
    leaf_recess,
    mitre,
    notch,
    pocket,
    profile,
    round_over,
    rounding,
    slot,
    taper,
)

OPERATIONS: dict[str, OperationKind] = {
    kind.name: kind
    for kind in (
        slot.KIND,
        pocket.KIND,
        leaf_recess.KIND,
        hole.KIND,
        hole.PLURAL,
        notch.KIND,
        rounding.KIND,
        taper.KIND,
        curve.KIND,
        mitre.KIND,
        bevel.KIND,
        compound_mitre.KIND,
        edge_banding.KIND,
        chamfer.KIND,
        round_over.KIND,
        profile.KIND,
    )
}
