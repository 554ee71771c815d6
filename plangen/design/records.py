"""The parts of a design: each with its operations in its own frame, and its copies."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from plangen.description.model import FromWorkEntry, PartEntry
from plangen.design.alike import Same, Worked
from plangen.design.bounds import bounds
from plangen.design.frame import Frame
from plangen.design.gluing import glue_up
from plangen.design.gluing_order import Size
from plangen.design.model import Copy, FromWork, Part
from plangen.design.values import fault, in_words
from plangen.expressions import Expression, Text, parse_expression, piece
from plangen.expressions.syntax import Chain
from plangen.joinery.operation import Operation
from plangen.joinery.piece import Piece
from plangen.joinery.ranks import work_rank
from plangen.joinery.saying import say
from plangen.joinery.shaped import wants_pattern
from plangen.joinery.space import ORIGIN, Axis, Box, Pose, Stance
from plangen.joinery.transform import Transform, Turn, box_onto_box, moved, transform_operation
from plangen.units import inches, millimetres, phrase


@dataclass(frozen=True)
class Group:
    """The copies of one part, told apart; ``name`` says which part in the whole project: ``drawer.face``.

    ``local`` and ``frame`` say where it is described, ``by`` carries it from there as it first stands.
    """

    name: str
    local: str
    frame: Frame
    sames: tuple[Same, ...]
    first: str  # the first copy, by its name in ``frame``
    by: Transform
    variant: str = ""  # the placed assembly, where its like are given other sizes


@dataclass(frozen=True)
class Whereabouts:
    """Where a copy stands in the whole project, besides its upright box."""

    path: tuple[str, ...]
    stance: Stance | None


def make_records(groups: Sequence[Group], where: Mapping[str, Whereabouts]) -> tuple[Part, ...]:
    """Give the parts in order of declaration, hands next to each other. Raises ProjectError."""
    parts: list[Part] = []
    for group in groups:
        for index, same in enumerate(group.sames):
            key, mirror, suffix = group.name, None, ""
            if same.hand is not None:
                key, suffix = f"{group.name} {same.hand}", f", {same.hand}"
                mirror = f"{group.name} {'right' if same.hand == 'left' else 'left'}"
            elif len(group.sames) > 1:
                key, suffix = f"{group.name} {index + 1}", f" {index + 1}"
            parts.append(_record(group, key, mirror, suffix, same, where))
    return tuple(parts)


def _record(
    group: Group,
    key: str,
    mirror: str | None,
    suffix: str,
    same: Same,
    where: Mapping[str, Whereabouts],
) -> Part:
    first = same.first.piece
    entry = group.frame.copied(group.first).entry
    home = moved(ORIGIN - first.finished.low)
    operations = tuple(
        replace(transform_operation(operation, home), say=say(operation, first))
        for operation in sorted(same.first.operations, key=work_rank)
    )
    copies = tuple(
        _copy(worked, key, _pose(transform.turn, first.finished, worked.piece.finished), where)
        for worked, transform in same.copies
    )
    title = str(entry.title) if entry.title is not None else _title(group)
    return Part(
        key=key,
        name=group.name,
        title=title + suffix,
        mark="",
        hand=same.hand,
        mirror=mirror,
        stock=str(entry.stock),
        runs=first.runs,
        wide=first.wide,
        thick=first.thick,
        blank=home.box(first.finished),
        shoulder_length=first.shoulders.size(first.runs),
        shoulder_width=first.shoulders.size(first.wide),
        operations=operations,
        copies=copies,
        from_work=tuple(
            replace(size, axis=group.by.axis(size.axis)) for size in sizes_from_work(group.first, group.frame)
        ),
        glue_up=glue_up(entry, group.name, Size.of(first, operations), group.frame),
        inside=first.inside if first.thick is Axis.ACROSS else None,
        pattern=_pattern(entry, operations, home.box(first.finished), first),
        note=str(entry.note or ""),
        finish=tuple(str(name) for name in entry.finish) if entry.finish is not None else None,
        place=first.place,
        may_turn=bool(entry.may_turn),
        one_board=str(entry.one_board or ""),
    )


def _copy(worked: Worked, key: str, pose: Pose, where: Mapping[str, Whereabouts]) -> Copy:
    piece = worked.piece
    at = where[piece.copy]
    box, shoulders = piece.finished, piece.shoulders
    if at.stance is not None:
        box, shoulders = (bounds(room, worked.operations, at.stance) for room in (box, shoulders))
    return Copy(piece.copy, key, pose, box, shoulders, piece.place, at.path, at.stance)


def _title(group: Group) -> str:
    """What a part is called anywhere: ``Side``, ``Drawer face``, ``Face, top drawer``."""
    words = group.local[:1].upper() + group.local[1:]
    if group.variant:
        return f"{words}, {group.variant}"
    *holders, _ = group.name.split(".")
    if not holders or set(holders[-1].split()) & set(group.local.split()):
        return words
    return f"{holders[-1][:1].upper()}{holders[-1][1:]} {group.local}"


def _pose(turn: Turn, first: Box, box: Box) -> Pose:
    """The pose that carries the part's own frame, whose origin is the blank's low corner, onto a copy."""
    blank = Box(ORIGIN, first.high - first.low)
    found = box_onto_box(turn, blank, box)
    assert found is not None
    return found.pose


def _pattern(entry: PartEntry, operations: tuple[Operation, ...], blank: Box, first: Piece) -> bool:
    """Whether the part gets a full-size pattern: as the maker says, else where its shape wants one."""
    if entry.pattern is not None:
        return bool(entry.pattern)
    return wants_pattern(operations, blank, first.runs, first.thick)


def sizes_from_work(name: str, frame: Frame) -> tuple[FromWork, ...]:
    """Give the sizes of a copy that are measured on the work.

    Raises ProjectError where the formula and the pins say different things.
    """
    copied = frame.copied(name)
    units = frame.description.project.units
    box = frame.finished(name)
    found = []
    for axis in (copied.runs, copied.wide, copied.thick):
        key = copied.measure(axis)
        typed = getattr(copied.entry, key)
        if not isinstance(typed, FromWorkEntry):
            continue
        expected = typed.from_work.length(frame.values.owned_by(name))
        if expected != box.size(axis):
            raise fault(
                "from-work-differs",
                f"the {key} from the work comes to {in_words(expected, units)}, "
                f"and the pins and joints give {in_words(box.size(axis), units)}",
                typed.place_of("from_work"),
                "let the formula and the pins say the same size",
                copied.part,
            )
        leave = inches(1) if units == "inch" else millimetres(25)
        if typed.leave is not None:
            leave = typed.leave.length(frame.values)
        if leave.mm < 0:
            raise fault(
                "bad-value",
                f"`{copied.part}` leaves less than nothing over",
                typed.place_of("leave"),
                "give how much to leave over until it is measured",
                copied.part,
            )
        reading_text = leading_term(typed.from_work)
        reading = parse_expression(reading_text).length(frame.values.owned_by(name))
        measured = phrase(str(typed.measure) if typed.measure is not None else str(reading_text))
        change = expected - reading
        formula = measured
        if change:
            formula += phrase(", less " if change.mm < 0 else ", plus ", abs(change))
        found.append(FromWork(axis, formula, expected, leave, measured, change))
    return tuple(found)


def leading_term(expression: Expression) -> Text:
    """The first term of a sum, which is what is measured: ``opening`` of ``opening - 1/8in``."""
    tree = expression.tree
    if isinstance(tree, Chain) and tree.rest[0][0] in "+-":
        return piece(expression.text, tree.first.start, tree.first.end)
    return expression.text
