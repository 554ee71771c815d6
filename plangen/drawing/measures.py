"""What a picture has to keep, counted: what is seen of every part, leaders, balloons, texts, flow lines."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import shapely

from plangen.design.model import Design
from plangen.drawing.exploded import exploded_shot
from plangen.drawing.hidden_lines import View
from plangen.drawing.labels import PlacedLabel, labels_conflicts
from plangen.drawing.scene import Placing, Sight
from plangen.drawing.sheet.measure import bounds, texts_over_strokes, texts_over_texts
from plangen.drawing.sheet.model import Drawing, Meaning, Stroke
from plangen.drawing.step_pictures import step_shot
from plangen.sequence.model import OrderOfWork, Step
from plangen.solids import Solids
from plangen.takeoff.model import TakeOff


@dataclass(frozen=True)
class PictureMeasures:
    """Counts of what must not be, and shares of what must be seen.

    ``seen`` is, by copy, the share of its own outline that shows (0 to 1) and the area that does, in
    square millimetres on the paper. ``dots_astray`` counts leaders that end outside their own part.
    """

    label_conflicts: int
    dots_astray: int
    text_on_text: int
    text_on_line: int
    flow_crossings: int
    outside: float  # mm that any mark reaches past the sheet
    seen: Mapping[str, tuple[float, float]]

    @property
    def clean(self) -> bool:
        """Whether nothing was counted that must not be."""
        return not (
            self.label_conflicts
            or self.dots_astray
            or self.text_on_text
            or self.text_on_line
            or self.outside > 0.05
        )


def exploded_measures(
    design: Design,
    solids: Solids,
    order: OrderOfWork,
    take_off: TakeOff,
    view: View,
    width: float,
    height: float,
) -> PictureMeasures:
    """Measure the exploded view."""
    shot = exploded_shot(design, solids, order, take_off, view, width, height)
    ((angle, placing, _),) = shot.panels
    shares = seen(angle.stage.sight, list(design.copies), placing.factor)
    return measures(shot.drawing, shot.labels, shares)


def step_measures(
    design: Design,
    solids: Solids,
    step: Step,
    take_off: TakeOff,
    view: View,
    placing: Placing | None,
    width: float,
    height: float,
) -> PictureMeasures:
    """Measure the picture of a step; what is seen is given for its new copies (assembly pictures only)."""
    shot = step_shot(design, solids, step, take_off, view, placing, width, height)
    shares: dict[str, tuple[float, float]] = {}
    for angle, placed, _ in shot.panels:
        for name, found in seen(angle.stage.sight, step.picture.new, placed.factor).items():
            shares[name] = max(found, shares.get(name, found))
    return measures(shot.drawing, shot.labels, shares)


def measures(
    drawing: Drawing, placed: Sequence[PlacedLabel], shares: Mapping[str, tuple[float, float]]
) -> PictureMeasures:
    """Measure a drawing with its balloons."""
    flows = [
        shapely.LineString(mark.points)
        for mark in drawing.marks
        if isinstance(mark, Stroke) and mark.meaning is Meaning.FLOW
    ]
    box = bounds(drawing.marks) if drawing.marks else (0.0, 0.0, 0.0, 0.0)
    return PictureMeasures(
        label_conflicts=labels_conflicts(placed),
        dots_astray=sum(not shapely.intersects_xy(item.label.region, *item.anchor) for item in placed),
        text_on_text=len(texts_over_texts(drawing.marks)),
        text_on_line=len(texts_over_strokes(drawing.marks)),
        flow_crossings=sum(one.crosses(two) for one, two in combinations(flows, 2)),
        outside=max(0.0, -box[0], -box[1], box[2] - drawing.width, box[3] - drawing.height),
        seen=shares,
    )


def seen(sight: Sight, names: Sequence[str], factor: float) -> dict[str, tuple[float, float]]:
    """Give for each copy the share of its outline that shows and the area (mm²) at a scale."""
    return {name: (sight.share_seen(name), sight.regions[name].area * factor**2) for name in names}
