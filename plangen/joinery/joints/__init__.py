"""The kinds of joint a maker may write under ``joints``: one module each, one line in this table."""

from plangen.joinery.body import JointKind
from plangen.joinery.joints import (
    butt,
    dado,
    dowelled,
    groove,
    half_lap,
    mortise_and_tenon,
    rabbet,
    round_tenon,
    screwed,
)

JOINTS: dict[str, JointKind] = {
    kind.name: kind
    for kind in (
        butt.KIND,
        butt.RESTS,
        dado.KIND,
        rabbet.KIND,
        groove.KIND,
        half_lap.KIND,
        mortise_and_tenon.KIND,
        round_tenon.KIND,
        screwed.KIND,
        dowelled.KIND,
    )
}
