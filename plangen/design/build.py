"""Make the design of a description: everything solved, in one pass, with every fault reported."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from difflib import get_close_matches
from fractions import Fraction

from plangen.description.model import Description, FitEntry, FromWorkEntry, PartEntry, ProjectEntry
from plangen.design.alike import Same, Worked, group_alike
from plangen.design.fits import fit_holes
from plangen.design.frame import Frame
from plangen.design.joining import Joined, join, warn_of_loose_contacts
from plangen.design.marks import KeptMarks, assign_marks, mark_names, with_marks
from plangen.design.materials import default_kerf, make_hardware, make_stock
from plangen.design.model import (
    Copy,
    Design,
    Fact,
    Fit,
    FromWork,
    GlueUp,
    HardwareUse,
    Part,
    Project,
    Revision,
    Shop,
    Stock,
)
from plangen.design.placing import lay_out_copies, resolve_like
from plangen.design.values import AlreadySaid, Memo, Values
from plangen.expressions import NO_PLACE, Quantity, Reference, Text, parse_expression
from plangen.findings import Finding, Findings, Place, ProjectError
from plangen.joinery.cuts import PrismCut, RoundCut
from plangen.joinery.operation import Operation
from plangen.joinery.operations import OPERATIONS
from plangen.joinery.outline import outline_operation
from plangen.joinery.saying import say
from plangen.joinery.space import ORIGIN, Axis, Box, Point, Pose, Side
from plangen.joinery.transform import Turn, box_onto_box, moved, transform_operation
from plangen.units import Length, inches, millimetres, phrase


@dataclass(frozen=True)
class Solved:
    """The design, and what a reference in prose is worth."""

    design: Design
    resolve: Callable[[str], Quantity]  # raises ProjectError


def make_design(description: Description, findings: Findings, kept: KeptMarks | None = None) -> Solved | None:
    """Solve a description; None when nothing can be made of it. Errors are in the findings."""
    memo = Memo(findings)
    parts = resolve_like(description.parts, findings)
    copies = lay_out_copies(description, parts, findings)
    plain = Values(
        description.project.units,
        description,
        memo,
        {},
        _nothing_placed,
        lambda name, prop, place: None,
    )
    stock = {
        name: made
        for name, entry in description.stock.items()
        if (made := make_stock(name, entry, plain, findings))
    }
    units = description.project.units
    hardware = {
        name: item
        for name, row in description.hardware.items()
        if (item := make_hardware(name, row, plain, units, findings))
    }
    _check_stock_names(parts, description, findings)
    frame = Frame(description, copies, stock, hardware, findings, memo)
    if not _solve_everything(frame, description, findings):
        return None
    joined = join(frame, findings)
    fits = _fit_entries(description, frame, findings)
    groups = _make_parts(frame, joined, fits, findings)
    if findings.has_errors:
        return None
    warn_of_loose_contacts(frame, joined, findings)
    made_parts = _records(groups, frame, findings)
    boxes = [copy.box for part in made_parts for copy in part.copies]
    overall = Box(
        Point(*(min(box.low.at(axis) for box in boxes) for axis in Axis)),
        Point(*(max(box.high.at(axis) for box in boxes) for axis in Axis)),
    )
    design = Design(
        project=_project(description.project, frame),
        shop=_shop(description, frame, findings),
        stock=stock,
        hardware=hardware,
        parts=made_parts,
        joints=tuple(joined.joints),
        fits=_fits(fits, groups),
        facts=_facts(description, frame, findings),
        sizes=_sizes(description, frame),
        overall=overall,
    )
    typed = {name: str(entry.mark) for name, entry in parts.items() if entry.mark is not None}
    marks = assign_marks(mark_names(design), typed, kept or KeptMarks())
    return (
        None if findings.has_errors else Solved(with_marks(design, marks), lambda text: _resolve(text, frame))
    )


def _nothing_placed(name: str, prop: str, place: Place) -> Quantity:
    raise AlreadySaid


def _resolve(text: str, frame: Frame) -> Quantity:
    """The value of what stands between < and > in prose. Raises ProjectError."""
    return parse_expression(text if isinstance(text, Text) else Text(text)).value(frame.values)


def _check_stock_names(parts: dict[str, PartEntry], description: Description, findings: Findings) -> None:
    for entry in parts.values():
        if entry.stock is not None and str(entry.stock) not in description.stock:
            near = get_close_matches(str(entry.stock), list(description.stock), 1)
            findings.error(
                "undefined-name",
                f"there is no stock called `{entry.stock}`",
                entry.stock.place,
                f"did you mean `{near[0]}`?" if near else "add it under `stock`",
            )


def _solve_everything(frame: Frame, description: Description, findings: Findings) -> bool:
    """Work out every size, side and addition once, so that all faults come out in one run."""
    sound = True
    for name in description.sizes:
        sound = _attempt(lambda name=name: frame.values.lookup(_reference(name)), findings) and sound  # type: ignore[misc]
    for name in frame.copies:
        for axis in Axis:
            sound = _attempt(lambda name=name, axis=axis: frame.axis(name, axis), findings) and sound  # type: ignore[misc]
    if not sound:
        return False
    for name, copied in frame.copies.items():
        if not _attempt(lambda name=name: frame.added(name), findings):  # type: ignore[misc]
            sound = False
            continue
        _check_typed_sizes(name, frame, findings)
        if any(
            isinstance(size, FromWorkEntry)
            for size in (copied.entry.length, copied.entry.width, copied.entry.thickness)
        ):
            sound = _attempt(lambda name=name: _from_work(name, frame), findings) and sound  # type: ignore[misc]
    return sound


def _reference(name: str) -> Reference:
    return Reference((name,), None, NO_PLACE)


def _attempt(work: Callable[[], object], findings: Findings) -> bool:
    try:
        work()
    except ProjectError as error:
        findings.extend(error.findings)
        return False
    return True


def _check_typed_sizes(name: str, frame: Frame, findings: Findings) -> None:
    """A typed size is the finished one, so a joint may not add to it behind the maker's back."""
    copied = frame.copies[name]
    runs, wide, _ = copied.turn
    for axis, key in ((runs, "length"), (wide, "width")):
        typed = getattr(copied.entry, key)
        added = [(side, length) for side, length in frame.added(name).items() if side.axis is axis and length]
        if typed is None or isinstance(typed, FromWorkEntry) or not added:
            continue
        total = sum((length for _, length in added), Length(Fraction(0)))
        words = (
            f"{float(total.inches):.5g} in"
            if frame.description.project.units == "inch"
            else f"{float(total):.5g} mm"
        )
        findings.error(
            "size-and-joint",
            f"the {key} of `{copied.part}` is typed, and joints would add {words} to it",
            copied.entry.place_of(key),
            f"take `{key}` out and pin both shoulders; the finished {key} follows",
            part=copied.part,
        )


@dataclass(frozen=True)
class _Fitted:
    """One fit: its name, the hardware, the part or copy it goes on, and what is said of it."""

    name: str
    hardware: str
    on: str
    entry: FitEntry


def _fit_entries(description: Description, frame: Frame, findings: Findings) -> list[_Fitted]:
    """Every fit, the top-level ones last; those with unknown names are reported and left out."""
    items = [(part, item) for part, entry in description.parts.items() for item in entry.fit]
    found: list[_Fitted] = []
    counts: dict[str, int] = {}
    for under, item in [*items, *((None, item) for item in description.fit)]:
        for hardware, entry in item.items():
            place = hardware.place if isinstance(hardware, Text) else entry.place
            if hardware not in description.hardware:
                near = get_close_matches(hardware, list(description.hardware), 1)
                findings.error(
                    "undefined-name",
                    f"there is no hardware called `{hardware}`",
                    place,
                    f"did you mean `{near[0]}`?" if near else "add it under `hardware`",
                )
                continue
            on = str(entry.part) if entry.part is not None else under
            if on is None or on not in frame.named:
                near = get_close_matches(on or "", list(frame.named), 1)
                findings.error(
                    "undefined-name",
                    f"there is no part called `{on}`" if on else f"`{hardware}` does not say its `part`",
                    entry.part.place if entry.part is not None else place,
                    f"did you mean `{near[0]}`?" if near else "name a part",
                )
                continue
            if entry.face is None and entry.number is None:
                findings.error(
                    "missing-key",
                    f"how many of `{hardware}` go on `{on}` is not said",
                    entry.place,
                    "add `number:`, or `face:` and where on it",
                )
                continue
            counts[hardware] = counts.get(hardware, 0) + 1
            numbered = hardware + (f" {counts[hardware]}" if counts[hardware] > 1 else "")
            name = str(entry.name) if entry.name is not None else numbered
            found.append(_Fitted(name, str(hardware), on, entry))
    return found


def _make_parts(
    frame: Frame, joined: Joined, fits: list[_Fitted], findings: Findings
) -> list[tuple[str, tuple[Same, ...]]]:
    groups = []
    for part in frame.description.parts:
        copies = frame.named.get(part, ())
        if not copies or part not in {frame.copies[copy].part for copy in copies}:
            continue
        piece = frame.piece(copies[0])
        entry = frame.copies[copies[0]].entry
        bench = frame.bench(copies[0])
        own: list[Operation] = []
        for item in entry.cut:
            try:
                own.extend(OPERATIONS[str(item.kind)].work(item.body, piece, bench))
            except ProjectError as error:
                findings.extend(error.findings)
        try:
            if entry.outline is not None:
                own.extend(outline_operation(entry.outline, piece, bench, entry.place_of("outline")))
            for fit in fits:
                if fit.on == part or (len(copies) == 1 and fit.on == copies[0]):
                    fastener = bench.fastener(fit.hardware)
                    if fastener is not None:
                        own.extend(fit_holes(fit.name, fit.entry, fastener, piece, bench))
        except ProjectError as error:
            findings.extend(error.findings)
        groups.append((part, group_alike(part, copies, tuple(own), joined.operations, frame, findings)))
    return groups


def _records(
    groups: list[tuple[str, tuple[Same, ...]]], frame: Frame, findings: Findings
) -> tuple[Part, ...]:
    parts: list[Part] = []
    for name, sames in groups:
        keys = (
            [name]
            if len(sames) == 1
            else [
                f"{name} {same.hand}" if same.hand else f"{name} {index + 1}"
                for index, same in enumerate(sames)
            ]
        )
        for index, same in enumerate(sames):
            mirror = keys[1 - index] if len(sames) == 2 else None
            parts.append(_record(name, keys[index], mirror, same, frame))
    return tuple(parts)


def _record(name: str, key: str, mirror: str | None, same: Same, frame: Frame) -> Part:
    first = same.first.piece
    entry = frame.copies[first.copy].entry
    home = moved(ORIGIN - first.finished.low)
    operations = tuple(
        replace(transform_operation(operation, home), say=say(operation, first))
        for operation in same.first.operations
    )
    copies = tuple(
        Copy(
            worked.piece.copy,
            key,
            _pose(transform.turn, first.finished, worked.piece.finished),
            worked.piece.finished,
            worked.piece.shoulders,
            worked.piece.place,
        )
        for worked, transform in same.copies
    )
    title = str(entry.title) if entry.title is not None else name[:1].upper() + name[1:]
    if same.hand is not None:
        title = f"{title}, {same.hand}"
    return Part(
        key=key,
        name=name,
        title=title,
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
        from_work=_from_work(first.copy, frame),
        glue_up=_glue_up(entry, first.finished.size(first.wide), frame.stock[str(entry.stock)]),
        inside=first.inside if first.thick is Axis.ACROSS else None,
        pattern=any(_curved(operation) for operation in operations),
        note=str(entry.note or ""),
        place=first.place,
    )


def _pose(turn: Turn, first: Box, box: Box) -> Pose:
    """The pose that carries the part's own frame, whose origin is the blank's low corner, onto a copy."""
    blank = Box(ORIGIN, first.high - first.low)
    found = box_onto_box(turn, blank, box)
    assert found is not None
    return found.pose


def _curved(operation: Operation) -> bool:
    """Whether the shape is one to saw to a line from a pattern."""
    return operation.kind in ("curve", "outline") and any(isinstance(cut, PrismCut) for cut in operation.cuts)


def _from_work(name: str, frame: Frame) -> tuple[FromWork, ...]:
    copied = frame.copies[name]
    runs, wide, thick = copied.turn
    box = frame.finished(name)
    found = []
    for axis, key in ((runs, "length"), (wide, "width"), (thick, "thickness")):
        typed = getattr(copied.entry, key)
        if not isinstance(typed, FromWorkEntry):
            continue
        expected = typed.from_work.length(frame.values.owned_by(name))
        if expected != box.size(axis):
            raise ProjectError(
                [
                    Finding(
                        "from-work-differs",
                        f"the {key} from the work comes to {_words(expected, frame)}, and the pins and joints give {_words(box.size(axis), frame)}",
                        typed.place_of("from_work"),
                        "let the formula and the pins say the same size",
                        part=copied.part,
                    )
                ]
            )
        leave = (
            typed.leave.length(frame.values)
            if typed.leave is not None
            else (inches(1) if frame.description.project.units == "inch" else millimetres(25))
        )
        words = phrase(str(typed.measure)) if typed.measure is not None else phrase(str(typed.from_work.text))
        found.append(FromWork(axis, words, expected, leave))
    return tuple(found)


def _words(length: Length, frame: Frame) -> str:
    return (
        f"{float(length.inches):.5g} in"
        if frame.description.project.units == "inch"
        else f"{float(length):.5g} mm"
    )


def _glue_up(entry: PartEntry, width: Length, stock: Stock) -> GlueUp | None:
    made = entry.glue_up
    if made is None:
        return None
    if made.layers is not None:
        return GlueUp("layers", made.layers, width, stock.thickness)
    widest = max(stock.widths, default=width)
    if made.boards is not None and str(made.boards).isdigit():
        number = max(1, int(str(made.boards)))
    else:
        number = -(-int(width.mm * 1000) // max(1, int(widest.mm * 1000)))
    return GlueUp("boards", number, width / number, stock.thickness)


def _fits(fits: list[_Fitted], groups: list[tuple[str, tuple[Same, ...]]]) -> tuple[Fit, ...]:
    made = []
    every: list[Worked] = [worked for _, sames in groups for same in sames for worked, _ in same.copies]
    for fit in fits:
        members = [worked for worked in every if fit.on in (worked.piece.part, worked.piece.copy)]
        spots = [
            (worked.piece.copy, cut.mouth.floats(), cut.side)
            for worked in members
            for operation in worked.operations
            if operation.joint == fit.name
            for cut in operation.cuts
            if isinstance(cut, RoundCut)
        ]
        number = fit.entry.number if fit.entry.number is not None else len(spots)
        use = HardwareUse(fit.hardware, number, fit.name, tuple(spots))
        copies = tuple(worked.piece.copy for worked in members)
        made.append(Fit(fit.name, copies, use, phrase(str(fit.entry.say or "")), fit.entry.place))
    return tuple(made)


def _facts(description: Description, frame: Frame, findings: Findings) -> tuple[Fact, ...]:
    facts = []
    for expression in description.expect:
        try:
            holds, found = expression.check(frame.values)
        except ProjectError as error:
            findings.extend(error.findings)
            continue
        facts.append(Fact(str(expression.text), holds, expression.place))
        if not holds:
            findings.error(
                "fact-fails",
                f"`{expression.text}` does not hold: {found}",
                expression.place,
                "correct the fact, or what it depends on",
            )
    return tuple(facts)


def _sizes(description: Description, frame: Frame) -> dict[str, Length | Fraction]:
    sizes: dict[str, Length | Fraction] = {}
    for name in description.sizes:
        quantity = frame.values.lookup(_reference(name))
        sizes[name] = Length(quantity.value) if quantity.kind == "length" else quantity.value
    return sizes


def _project(entry: ProjectEntry, frame: Frame) -> Project:
    revisions = tuple(Revision(str(row.revision), row.date, str(row.words)) for row in entry.revisions)
    dated = next(
        (row.day for row in reversed(revisions) if row.letter == str(entry.revision) and row.day), None
    )
    prices = [item.price for item in frame.description.stock.values()]
    prices += [item.price for item in frame.description.hardware.values()]
    currencies = sorted({price.currency for price in prices if price is not None})
    return Project(
        title=str(entry.title),
        code=str(entry.code),
        revision=str(entry.revision),
        revised=entry.revised or dated,
        line=str(entry.line),
        maker=str(entry.maker),
        level=str(entry.level),
        hours=tuple((str(phase), hours.number(frame.values)) for phase, hours in entry.hours.items()),
        units=entry.units,
        licence=tuple(str(words) for words in entry.licence),
        revisions=revisions,
        contact=str(entry.contact),
        currency=currencies[0] if len(currencies) == 1 else None,
        priced=entry.prices_of,
    )


def _shop(description: Description, frame: Frame, findings: Findings) -> Shop:
    entry = description.shop
    glues = tuple(
        (str(name), glue.open_time.number(frame.values) if glue.open_time is not None else None)
        for name, glue in entry.glue.items()
    )
    change = None
    if entry.moisture_change is not None:
        text = str(entry.moisture_change).strip().removesuffix("%").strip()
        try:
            change = Fraction(text)
        except (ValueError, ZeroDivisionError):
            findings.error(
                "bad-value",
                f"`{entry.moisture_change}` is no change of moisture",
                entry.place_of("moisture_change"),
                "write a percentage such as `4%`",
            )
    return Shop(
        entry.kerf.length(frame.values)
        if entry.kerf is not None
        else default_kerf(description.project.units),
        entry.planer.length(frame.values) if entry.planer is not None else None,
        glues,
        change,
    )
