"""The cut list: one line for every mark, at finished size, tenons and tongues included."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Protocol

from plangen.design.model import Design, Part
from plangen.joinery.joints import JOINTS
from plangen.joinery.space import Axis, Side
from plangen.takeoff.banding import banding_length, before_banding
from plangen.takeoff.model import CutLine
from plangen.takeoff.naming import own_name, says_more
from plangen.takeoff.notes import blank_notes, making_notes, matched_notes, round_diameter
from plangen.units import ZERO, Length, Phrase, phrase


class MeasuringStep(Protocol):
    """What the lists need to know of a step: its number, what it measures from the work, and its tools."""

    @property
    def number(self) -> int:
        """The step's number, from 1."""

    @property
    def measured(self) -> tuple[str, ...]:
        """Keys of the parts whose size this step reads from the work."""

    @property
    def tools(self) -> tuple[str, ...]:
        """Its tools as text, where ``<=381/20>`` is an exact length in mm."""


class WorkOrder(Protocol):
    """The order of work as far as the lists look into it."""

    @property
    def steps(self) -> Sequence[MeasuringStep]:
        """All steps in order."""


def mark_order(mark: str) -> tuple[int, str, str]:
    """Order marks as they run: A … Z, AA …, the left hand of a pair before the right."""
    found = re.match(r"[A-Z]*", mark)
    letters = found[0] if found else ""
    return len(letters) or 99, letters, mark[len(letters) :]


def cut_list(design: Design, order: WorkOrder | None) -> tuple[CutLine, ...]:
    """Give a line for every part, in the order of marks; each hand of a pair has a line of its own."""
    measuring = measuring_steps(order)
    parts = sorted(design.parts, key=lambda part: mark_order(part.mark))
    return tuple(_line(design, part, measuring.get(part.key)) for part in parts)


def measuring_steps(order: WorkOrder | None) -> Mapping[str, int]:
    """Give, by part, the number of the step that first reads a size of it from the work."""
    steps: dict[str, int] = {}
    for step in order.steps if order else ():
        for key in step.measured:
            steps.setdefault(key, step.number)
    return steps


def _line(design: Design, part: Part, step: int | None) -> CutLine:
    cut_length, cut_width = before_banding(part)
    banded = banding_length(part) > ZERO
    return CutLine(
        part=part.key,
        mark=part.mark,
        title=part.title,
        number=len(part.copies),
        stock=part.stock,
        thickness=part.thickness,
        width=part.width,
        length=part.length,
        shoulder_length=part.shoulder_length if part.shoulder_length != part.length else None,
        shoulder_width=part.shoulder_width if part.shoulder_width != part.width else None,
        from_work=bool(part.from_work),
        notes=tuple(_notes(design, part, step)),
        cut_length=cut_length if banded else None,
        cut_width=cut_width if banded else None,
        banding=banding_length(part),
        diameter=round_diameter(part),
    )


def _notes(design: Design, part: Part, step: int | None) -> list[Phrase]:
    notes = []
    if part.mirror:
        notes.append(phrase(f"mirror of {design.part(part.mirror).mark}"))
    names = list(dict.fromkeys(own_name(copy.name) for copy in part.copies))
    if part.hand and any(says_more(part, name) for name in names):
        notes.append(phrase(", ".join(names)))
    notes.extend(_in_each(design, part))
    notes.extend(_entering(design, part))
    for size in part.from_work:
        when = f" in step {step}" if step else ""
        word = part.side_word(size.axis)
        over = phrase(", cut ", size.leave, " over until then") if size.leave > ZERO else Phrase()
        notes.append(phrase(f"take the {word} from the work{when}: ", size.formula, over))
    notes.extend(making_notes(part))
    notes.extend(matched_notes(design, part))
    notes.extend(blank_notes(design, part))
    if part.pattern:
        notes.append(phrase("full-size pattern"))
    if part.note:
        notes.append(phrase(part.note))
    return notes


def _in_each(design: Design, part: Part) -> list[Phrase]:
    """Say how many go into each copy of the assembly that a part belongs to, where there are several."""
    assembly = next((one for one in design.assemblies if one.key == part.assembly), None)
    if assembly is None or len(assembly.copies) == 1:
        return []
    here = frozenset(assembly.copies[0].members)
    return [phrase(f"{sum(copy.name in here for copy in part.copies)} in each {own_name(assembly.name)}")]


def _entering(design: Design, part: Part) -> list[Phrase]:
    """Say how far the part enters its joints: what they add to it, side by side with their name."""
    # The boxes of a copy that leans only bound it.
    copy = next((copy for copy in part.copies if copy.stance is None), None)
    if copy is None:
        return _entering_at_a_lean(part)
    found: dict[tuple[Length, str, Axis | None], list[Side]] = {}
    for axis in (part.runs, part.wide, part.thick):
        for side in (Side.of(axis, False), Side.of(axis, True)):
            added = (copy.box.side(side) - copy.shoulders.side(side)) * side.sign
            if added > ZERO:
                title = _joint_at(design, copy.name, axis, copy.shoulders.side(side))
                found.setdefault((added, title, axis if "tenon" in title else None), []).append(side)
    return [_entry_note(part, added, title, sides) for (added, title, _), sides in found.items()]


def _entering_at_a_lean(part: Part) -> list[Phrase]:
    """Say what the joints of a leaning piece add to it in all."""
    added = ((part.length - part.shoulder_length, "length"), (part.width - part.shoulder_width, "width"))
    return [phrase(more, f" of the {what} in its joints") for more, what in added if more > ZERO]


def _entry_note(part: Part, added: Length, title: str, sides: Sequence[Side]) -> Phrase:
    """Say what one joint adds: a tenon by its end, anything else by what it goes into."""
    if "tenon" not in title:
        return phrase(added, " into each " if len(sides) > 1 else " into the ", title)
    where = "end" if sides[0].axis is part.runs else "edge"
    if len(sides) > 1:
        return phrase("tenon ", added, f" long at each {where}")
    return phrase(added, f" tenon at the {sides[0].word} {where}")


def _joint_at(design: Design, copy: str, axis: Axis, shoulder: Length) -> str:
    """Name what a piece enters at a shoulder: by the joint whose touching face lies there."""
    for joint in design.joints:
        for contact in joint.contacts:
            face = contact.face
            if (
                copy in (contact.moving, contact.fixed)
                and not face.size(axis)
                and face.low.at(axis) == shoulder
            ):
                kind = JOINTS.get(joint.kind)
                return (kind.enters if kind is not None else "") or joint.title.lower()
    return "joint"
