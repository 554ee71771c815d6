"""The kinds of hardware that a maker may list: a line in this table each.

A kind that is not in the table is a plain thing bought by the piece: a title, a size, a hole.
"""

from plangen.joinery.hardware import casters, drawer_slide, hinges, mounts, outlets, threaded
from plangen.joinery.hardware.ware import HardwareKind

HARDWARE_KINDS: dict[str, HardwareKind] = {
    name: kind
    for kind in (
        hinges.BUTT,
        hinges.CONTINUOUS,
        drawer_slide.KIND,
        casters.STEM,
        casters.PLATE,
        threaded.LEVELER,
        threaded.INSERT,
        threaded.T_NUT,
        threaded.BARREL_NUT,
        threaded.WASHER,
        mounts.PULL,
        mounts.FIGURE_EIGHT,
        mounts.TABLE_BUTTON,
        mounts.ANGLE_BRACKET,
        mounts.CLEAT_PLATE,
        mounts.WALL_ANCHOR,
        mounts.STRAP,
        mounts.MAGNET,
        mounts.CATCH,
        mounts.LID_STAY,
        mounts.EDGE_BANDING,
        outlets.KIND,
    )
    for name in (kind.name, *kind.also_called)
}
