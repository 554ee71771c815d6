"""The kinds of joint a maker may write under ``joints``: one module each, one line in this table."""

from plangen.joinery.body import JointKind
from plangen.joinery.joints import (
    biscuited,
    bridle,
    butt,
    dado,
    dowelled,
    finger,
    groove,
    half_lap,
    loose_tenon,
    mitre,
    mortise_and_tenon,
    rabbet,
    round_tenon,
    screwed,
    sliding_dovetail,
    through_dovetails,
    tongue_and_groove,
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
        bridle.KIND,
        finger.KIND,
        through_dovetails.KIND,
        sliding_dovetail.KIND,
        mitre.KIND,
        tongue_and_groove.KIND,
        loose_tenon.KIND,
        biscuited.KIND,
    )
}
