"""Make the design of a description: everything solved, in one pass, with every fault reported."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from plangen.description.model import Description, FromWorkEntry, PartEntry
from plangen.design.alike import Same, group_alike
from plangen.design.fit_holes import fit_holes
from plangen.design.fits import Fitted, fit_entries, make_fits
from plangen.design.frame import Frame
from plangen.design.heading import make_project, make_shop
from plangen.design.joining import Joined, join, warn_of_loose_contacts
from plangen.design.marks import KeptMarks, assign_marks, check_typed_marks, mark_names, with_marks
from plangen.design.materials import make_hardware, make_stock
from plangen.design.model import Design, Fact
from plangen.design.placing import lay_out_copies, resolve_like
from plangen.design.records import make_records, sizes_from_work
from plangen.design.values import AlreadySaidError, Memo, Values, in_words, meant
from plangen.expressions import NO_PLACE, Quantity, Reference, Text, parse_expression
from plangen.findings import Findings, Place, ProjectError, Severity
from plangen.joinery.operation import Operation
from plangen.joinery.operations import OPERATIONS
from plangen.joinery.outline import outline_operation
from plangen.joinery.space import Axis, Box, Point
from plangen.units import ZERO, Length


@dataclass(frozen=True)
class Solved:
    """The design, and what a reference in prose is worth."""

    design: Design
    resolve: Callable[[str], Quantity]  # raises ProjectError


def make_design(description: Description, findings: Findings, kept: KeptMarks | None = None) -> Solved | None:
    """Solve a description; None when nothing can be made of it. Errors are in the findings."""
    earlier = len(findings)
    try:
        solved = _make(description, findings, kept or KeptMarks())
    except ProjectError as error:
        findings.extend(error.findings)
        return None
    except RecursionError:
        # Python bounds the depth; the command raises the bound to what its stack is known to hold.
        findings.error(
            "too-deep",
            "values stand on one another through too long a chain of names",
            None,
            "place rows of copies with `spread`, and let sizes stand on fewer others",
        )
        return None
    return None if any(item.severity is Severity.ERROR for item in findings.items[earlier:]) else solved


def _make(description: Description, findings: Findings, kept: KeptMarks) -> Solved | None:
    parts = resolve_like(description.parts, findings)
    frame = _make_frame(description, parts, findings)
    if not frame.copies and not findings.has_errors:
        findings.error("no-parts", "there is no part in this project", None, "describe one under `parts`")
    if not _solve_everything(frame, findings):
        return None
    joined = join(frame, findings)
    fits = fit_entries(description, frame, findings)
    groups = _work_parts(frame, joined, fits, findings)
    if findings.has_errors:
        return None
    warn_of_loose_contacts(frame, joined, findings)
    made_parts = make_records(groups, frame)
    boxes = [copy.box for part in made_parts for copy in part.copies]
    overall = Box(
        Point(*(min(box.low.at(axis) for box in boxes) for axis in Axis)),
        Point(*(max(box.high.at(axis) for box in boxes) for axis in Axis)),
    )
    design = Design(
        project=make_project(description.project, frame),
        shop=make_shop(description, frame),
        stock=frame.stock,
        hardware=frame.hardware,
        parts=made_parts,
        joints=tuple(joined.joints),
        fits=make_fits(fits, groups, findings),
        facts=_facts(description, frame, findings),
        sizes=_sizes(description, frame),
        overall=overall,
    )
    typed = check_typed_marks(parts, findings)
    marks = assign_marks(mark_names(design), typed, kept)
    return Solved(with_marks(design, marks), lambda text: _resolve(text, frame))


def _make_frame(description: Description, parts: dict[str, PartEntry], findings: Findings) -> Frame:
    memo = Memo(findings)
    copies = lay_out_copies(description, parts, findings)
    units = description.project.units
    plain = Values(units, description, memo, {}, _nothing_placed, lambda name, prop, place: None)
    stock = {
        name: made
        for name, entry in description.stock.items()
        if (made := make_stock(name, entry, plain, findings))
    }
    hardware = {
        name: item
        for name, row in description.hardware.items()
        if (item := make_hardware(name, row, plain, units, findings))
    }
    for entry in parts.values():
        if entry.stock is not None and str(entry.stock) not in description.stock:
            findings.error(
                "undefined-name",
                f"there is no stock called `{entry.stock}`",
                entry.stock.place,
                meant(str(entry.stock), description.stock, "add it under `stock`"),
            )
    return Frame(description, copies, stock, hardware, findings, memo)


def _nothing_placed(name: str, prop: str, place: Place) -> Quantity:
    raise AlreadySaidError


def _resolve(text: str, frame: Frame) -> Quantity:
    """The value of what stands between < and > in prose. Raises ProjectError."""
    return parse_expression(text if isinstance(text, Text) else Text(text)).value(frame.values)


def _solve_everything(frame: Frame, findings: Findings) -> bool:
    """Work out every size, side and addition once, so that all faults come out in one run."""
    sound = True
    for size in frame.description.sizes:
        sound = _sound(lambda size=size: frame.values.lookup(_reference(size)), findings) and sound  # type: ignore[misc]
    for name in frame.copies:
        for axis in Axis:
            sound = _sound(lambda name=name, axis=axis: frame.axis(name, axis), findings) and sound  # type: ignore[misc]
    if not sound:
        return False
    for name, copied in frame.copies.items():
        if not _sound(lambda name=name: frame.added(name), findings):  # type: ignore[misc]
            sound = False
            continue
        _check_typed_sizes(name, frame, findings)
        if any(
            isinstance(size, FromWorkEntry)
            for size in (copied.entry.length, copied.entry.width, copied.entry.thickness)
        ):
            sound = _sound(lambda name=name: sizes_from_work(name, frame), findings) and sound  # type: ignore[misc]
    return sound


def _reference(name: str) -> Reference:
    return Reference((name,), None, NO_PLACE)


def _sound(work: Callable[[], object], findings: Findings) -> bool:
    try:
        work()
    except ProjectError as error:
        findings.extend(error.findings)
        return False
    return True


def _check_typed_sizes(name: str, frame: Frame, findings: Findings) -> None:
    """A typed size is the finished one, so a joint may not add to it behind the maker's back."""
    copied = frame.copied(name)
    for axis, key in ((copied.runs, "length"), (copied.wide, "width")):
        typed = getattr(copied.entry, key)
        total = sum((length for side, length in frame.added(name).items() if side.axis is axis), ZERO)
        if typed is None or isinstance(typed, FromWorkEntry) or not total:
            continue
        findings.error(
            "size-and-joint",
            f"the {key} of `{copied.part}` is typed, "
            f"and joints would add {in_words(total, frame.description.project.units)} to it",
            copied.entry.place_of(key),
            f"take `{key}` out and pin both shoulders; the finished {key} follows",
            part=copied.part,
        )


def _work_parts(
    frame: Frame, joined: Joined, fits: list[Fitted], findings: Findings
) -> list[tuple[str, tuple[Same, ...]]]:
    """For each part the one or two pieces that its copies are, with all that is worked on them."""
    groups = []
    for part in frame.description.parts:
        copies = tuple(name for name in frame.named.get(part, ()) if frame.copies[name].part == part)
        if copies:
            own = _own_work(part, copies[0], frame, fits, findings)
            groups.append((part, group_alike(part, copies, own, joined.operations, frame, findings)))
    return groups


def _own_work(
    part: str, first: str, frame: Frame, fits: list[Fitted], findings: Findings
) -> tuple[Operation, ...]:
    """What is typed under the part itself, as its first copy stands: cuts, the outline, fitted hardware."""
    piece, bench, entry = frame.piece(first), frame.bench(first), frame.copied(first).entry
    work: list[Callable[[], tuple[Operation, ...]]] = [
        lambda item=item: OPERATIONS[str(item.kind)].work(item.body, piece, bench)  # type: ignore[misc]
        for item in entry.cut
    ]
    outline = entry.outline
    if outline is not None:
        work.append(lambda: outline_operation(outline, piece, bench, entry.place_of("outline")))
    for fit in fits:
        fastener = bench.fastener(fit.hardware) if fit.on in (part, first) else None
        if fastener is not None:
            work.append(
                lambda fit=fit, fastener=fastener: fit_holes(fit.name, fit.entry, fastener, piece, bench)  # type: ignore[misc]
            )
    own: list[Operation] = []
    for make in work:
        try:
            own.extend(make())
        except ProjectError as error:
            findings.extend(error.findings)
    return tuple(own)


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
