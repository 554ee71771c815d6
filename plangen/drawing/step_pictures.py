"""The picture of a step: pieces lying apart, or the work so far with what is new drawn out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from plangen.design.model import Design
from plangen.drawing.angles import LEAST_SEEN, Angle, angles
from plangen.drawing.detail import ROOM_FOR_DETAIL, choose, detail_of
from plangen.drawing.exploded import BALLOON_ROOM, flow_lines, hardware_labels, part_labels, put
from plangen.drawing.hidden_lines import View
from plangen.drawing.labels import Label, PlacedLabel, label_marks
from plangen.drawing.nested import upright
from plangen.drawing.pieces import pieces_picture
from plangen.drawing.scene import Placing, fitted, painted
from plangen.drawing.sheet.model import Drawing, Mark, Stroke, Text, Weight
from plangen.drawing.stage import Stage, stage
from plangen.joinery.space import Side
from plangen.sequence.model import Step
from plangen.solids import Solids
from plangen.takeoff.model import TakeOff

_BETWEEN, _WORDS_ROOM = 4.0, 5.0  # mm between two panels, and for the words under one
_CAPTION = 3.175  # mm of type size, 9 pt
_WORTH = 0.75  # the share of its size that a picture gives up for a detail at the most


def runs(steps: Sequence[Step]) -> tuple[tuple[Step, ...], ...]:
    """Group assembly steps that follow each other, build the same and show some of the same copies."""
    groups: list[list[Step]] = []
    for step in steps:
        if step.picture.kind != "assembly":
            continue
        shown = {*step.picture.new, *step.picture.context}
        last = groups[-1][-1] if groups else None
        same = last is not None and groups[-1][-1].assembly == step.assembly
        if last is not None and same and shown & {*last.picture.new, *last.picture.context}:
            groups[-1].append(step)
        else:
            groups.append([step])
    return tuple(tuple(group) for group in groups)


def run_scale(
    design: Design, solids: Solids, steps: Sequence[Step], view: View, width: float, height: float
) -> Placing:
    """Give the one scale and place in which every picture of a run of assembly steps fits.

    In the middle; to the left, a little smaller if need be, where one of the steps wants a detail beside it.
    """
    shown = [(step, stage(design, solids, step, view)) for step in steps if step.picture.kind == "assembly"]
    if not shown:
        return Placing(1.0, 0.0, 0.0)
    boxes = [item.sight.bounds for _, item in shown]
    box = (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )
    room = (BALLOON_ROOM, BALLOON_ROOM, width - BALLOON_ROOM, height - BALLOON_ROOM)
    placing = fitted(box, room)
    if any(choose(design, step, item, placing) is not None for step, item in shown):
        beside = fitted(box, (room[0], room[1], width - ROOM_FOR_DETAIL, room[3]))
        if beside.factor >= _WORTH * placing.factor:
            return beside
    return placing


def step_picture(
    design: Design,
    solids: Solids,
    step: Step,
    take_off: TakeOff,
    view: View,
    scale_for_run: Placing | None,
    width: float,
    height: float,
    already: frozenset[str] = frozenset(),
) -> Drawing:
    """Draw the picture of a step in ``width`` × ``height`` millimetres; an empty one for kind ``none``.

    ``already`` names the joints of which an earlier step has shown the detail.
    """
    drawing, _ = step_with_labels(design, solids, step, take_off, view, scale_for_run, width, height, already)
    return drawing


def step_with_labels(
    design: Design,
    solids: Solids,
    step: Step,
    take_off: TakeOff,
    view: View,
    scale_for_run: Placing | None,
    width: float,
    height: float,
    already: frozenset[str] = frozenset(),
) -> tuple[Drawing, tuple[PlacedLabel, ...]]:
    """Draw the picture of a step and give its balloons too, for measuring."""
    title = f"Step {step.number}: {step.title}"
    if step.picture.kind == "pieces":
        return pieces_picture(upright(design), solids, step, take_off, view, width, height)
    if step.picture.kind == "none" or not (step.picture.new or step.picture.context):
        return Drawing(width, height, (), title, ""), ()
    panels = angles(design, solids, step, view)
    if panels != (Angle(view),):
        return _panels(design, solids, step, take_off, panels, width, height, title)
    shown = panels[0].shown or stage(design, solids, step, view)
    placing = scale_for_run or run_scale(design, solids, [step], view, width, height)
    marks: list[Mark] = painted(shown.sight, placing)
    new = list(step.picture.new)
    flows: list[Stroke] = flow_lines(design, shown.offsets, shown.fittings, shown.sight, placing)
    partners = _partners(design, step)
    labels = _labels(design, step, take_off, shown, placing, new, partners)
    detail = detail_of(design, step, shown, placing, flows, width, height, already)
    placed = put(
        labels, shown.sight, placing, flows, width, height, detail.taken if detail is not None else None
    )
    marks += [*flows, *(detail.marks if detail is not None else ()), *label_marks(placed)]
    return Drawing(width, height, tuple(marks), title, _words(design, step)), placed


def _labels(
    design: Design,
    step: Step,
    take_off: TakeOff,
    shown: Stage,
    placing: Placing,
    new: Sequence[str],
    partners: Sequence[str],
) -> list[Label]:
    keys = {f"part:{design.part_of[name].key}" for name in new}
    others = part_labels(design, shown.sight, placing, only=partners, within=step.assembly)
    return [
        *part_labels(design, shown.sight, placing, new=new, only=new, within=step.assembly),
        *(label for label in others if label.target not in keys),
        *hardware_labels(take_off, shown.fittings, shown.sight, placing, new=True),
    ]


def _panels(
    design: Design,
    solids: Solids,
    step: Step,
    take_off: TakeOff,
    panels: Sequence[Angle],
    width: float,
    height: float,
    title: str,
) -> tuple[Drawing, tuple[PlacedLabel, ...]]:
    """Draw a step from other sides than the booklet's own, the panels side by side, each with its words."""
    room = (width - _BETWEEN * (len(panels) - 1)) / len(panels)
    marks: list[Mark] = []
    labels: list[PlacedLabel] = []
    told: set[str] = set()
    for number, angle in enumerate(panels):
        shown = angle.shown or stage(design, solids, step, angle.view, apart=angle.apart)
        foot = _WORDS_ROOM if any(panel.words for panel in panels) else 0.0
        edge = BALLOON_ROOM
        placing = fitted(shown.sight.bounds, (edge, edge, room - edge, height - foot - edge))
        seen = [name for name in step.picture.new if shown.sight.share_seen(name) > 0.01 and name not in told]
        flows = flow_lines(design, shown.offsets, shown.fittings, shown.sight, placing)
        partners = _partners(design, step) if number == 0 else []
        wanted = _labels(design, step, take_off, shown, placing, seen, partners)
        told.update(name for name in seen if shown.sight.share_seen(name) >= LEAST_SEEN)
        placed = put(wanted, shown.sight, placing, flows, room, height - foot)
        panel: list[Mark] = [*painted(shown.sight, placing), *flows, *label_marks(placed)]
        if angle.words:
            at = (room / 2, -foot + 1.2)
            panel.append(Text(at, angle.words, _CAPTION, "middle", Weight.SEMIBOLD, role="caption"))
        right = number * (room + _BETWEEN)
        marks += Drawing(room, height, tuple(panel), "", "").moved(right, foot)
        labels += [_shifted(label, right, foot) for label in placed]
    ways = [angle.words.lower() for angle in panels if angle.words]
    words = _words(design, step) + (f" {', '.join(ways).capitalize()}." if ways else "")
    return Drawing(width, height, tuple(marks), title, words.strip()), tuple(labels)


def _shifted(placed: PlacedLabel, right: float, up: float) -> PlacedLabel:
    (x, y), (to_x, to_y) = placed.centre, placed.anchor
    return replace(placed, centre=(x + right, y + up), anchor=(to_x + right, to_y + up))


def _partners(design: Design, step: Step) -> list[str]:
    new, context = set(step.picture.new), set(step.picture.context)
    found: list[str] = []
    for joint in design.joints:
        for contact in joint.contacts:
            for one, two in ((contact.moving, contact.fixed), (contact.fixed, contact.moving)):
                if one in new and two in context and two not in found:
                    found.append(two)
    for use in step.picture.hardware:
        for fit in design.fits:
            found += [
                copy for copy in fit.copies if fit.name == use and copy in context and copy not in found
            ]
    if not found:
        found = list(step.picture.context)[:4]
    return found


def _words(design: Design, step: Step) -> str:
    def named(names: Sequence[str]) -> str:
        parts = dict.fromkeys(
            f"{design.part_of[name].mark} {design.part_of[name].title.lower()}" for name in names
        )
        return ", ".join(parts)

    sentences = []
    if step.picture.new:
        sides = dict(step.picture.offsets)
        ways = ", ".join(
            dict.fromkeys(
                f"from {'the ' if side not in (Side.TOP, Side.BOTTOM) else ''}{_FROM[side]}"
                for side in sides.values()
            )
        )
        sentences.append(
            f"New in this step: {named(step.picture.new)}{', brought in ' + ways if ways else ''}."
        )
    if step.picture.context:
        sentences.append(f"Already in place: {named(step.picture.context)}.")
    items = [
        design.hardware[count.item].title.lower() for count in step.hardware if count.item in design.hardware
    ]
    if items and step.picture.hardware:
        sentences.append(f"Going in: {', '.join(dict.fromkeys(items))}.")
    return " ".join(sentences)


_FROM = {
    Side.LEFT: "left",
    Side.RIGHT: "right",
    Side.FRONT: "front",
    Side.BACK: "back",
    Side.TOP: "above",
    Side.BOTTOM: "below",
}
