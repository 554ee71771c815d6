"""The kinds of joint a maker may write under ``joints``: one module each, one line in this table."""

from plangen.joinery.body import JointKind
from plangen.joinery.joints import (
    biscuited,
    bolted,
    bridle,
    butt,
    dado,
    dowelled,
    edge_glued,
    face_glued,
    finger,
    frame_and_panel,
    groove,
    half_lap,
    knock_down,
    loose_tenon,
    mitre,
    mortise_and_tenon,
    pocket_screwed,
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
        bolted.KIND,
        edge_glued.KIND,
        face_glued.KIND,
        frame_and_panel.KIND,
        knock_down.KIND,
        pocket_screwed.KIND,
    )
}
