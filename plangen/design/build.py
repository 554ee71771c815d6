"""Make the design of a description: everything solved, in one pass, with every fault reported."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from plangen.description.model import Description, FromWorkEntry, PartEntry
from plangen.design.assembling import Whole, build_assemblies, group_parts, spread_fits
from plangen.design.blanks import make_blanks
from plangen.design.bounds import bounding
from plangen.design.consumables import make_finishes, make_glues
from plangen.design.feet import on_its_feet
from plangen.design.fit_holes import fit_holes
from plangen.design.fits import Fitted, fit_entries, hand_down, make_fits
from plangen.design.frame import Frame
from plangen.design.heading import make_project, make_shop
from plangen.design.joining import join, warn_of_loose_contacts
from plangen.design.layout import Layout, lay_out
from plangen.design.leaning import UPRIGHT
from plangen.design.marks import KeptMarks, assign_marks, check_typed_marks, mark_names, with_marks
from plangen.design.materials import make_hardware, make_stock, with_waste
from plangen.design.model import Design, Fact
from plangen.design.positions import with_positions
from plangen.design.records import Whereabouts, make_records, sizes_from_work
from plangen.design.rows import rows
from plangen.design.standing import Placement, placements
from plangen.design.values import AlreadySaidError, Memo, Values, fault, in_words, meant
from plangen.expressions import NO_PLACE, Quantity, Reference, Text, parse_expression
from plangen.findings import Findings, Place, ProjectError, Severity
from plangen.joinery.operation import Operation
from plangen.joinery.operations import OPERATIONS
from plangen.joinery.outline import outline_operation
from plangen.joinery.space import Axis
from plangen.units import ZERO, Length

MOST_CUTS = 2000  # typed for one part; each is cut, drawn and looked at against the others


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
    frame = _make_frame(description, findings)
    glues, finishes = make_glues(description, findings), make_finishes(description, findings)
    if not frame.layout.number and not findings.has_errors:
        findings.error("no-parts", "there is no part in this project", None, "describe one under `parts`")
    if not _solve_everything(frame, findings):
        return None
    places = placements(frame)
    frames = tuple(dict.fromkeys(place.frame for place in places))
    whole = Whole(places, {one: join(one, findings) for one in frames})
    handed = hand_down(whole.frames, findings)
    fits = {one: fit_entries(one, handed[one], findings) for one in frames}
    groups = group_parts(
        whole, lambda part, first, one: _own_work(part, first, one, fits[one], whole), findings
    )
    if findings.has_errors:
        return None
    for one in frames:
        warn_of_loose_contacts(one, whole.joined[one], findings)
    built = build_assemblies(whole, make_records(groups, _whereabouts(places)))
    overall = bounding([copy.box for part in built.parts for copy in part.copies])
    named = [(group.name, group.sames) for group in groups]
    shop = make_shop(description, frame)
    design = Design(
        project=make_project(description.project, frame),
        shop=shop,
        stock=frame.stock,
        hardware=frame.hardware,
        parts=built.parts,
        joints=built.joints,
        fits=make_fits(
            [fit for one in frames for fit in spread_fits(whole, one, fits[one])], named, findings
        ),
        facts=_facts(description, frame, findings),
        sizes=_sizes(description, frame),
        overall=overall,
        groups=frame.layout.groups,
        assemblies=built.assemblies,
        rows=tuple(rows(places)),
        glues=glues,
        finishes=finishes,
        blanks=make_blanks(description, built.parts, frame.stock, shop, findings),
    )
    design = replace(design, overall=on_its_feet(overall, design))
    design = with_positions(design, whole, description, findings)
    typed = check_typed_marks(_typed_marks(whole), findings)
    marks = assign_marks(mark_names(design), typed, kept)
    return Solved(with_marks(design, marks), lambda text: _resolve(text, frame))


def _whereabouts(places: tuple[Placement, ...]) -> dict[str, Whereabouts]:
    found = {}
    for place in places:
        for copy in place.frame.copies:
            stance = place.leaning(copy)
            found[place.called(copy)] = Whereabouts(place.path, stance if stance != UPRIGHT else None)
    return found


def _typed_marks(whole: Whole) -> dict[str, PartEntry]:
    """The parts by the names that their marks are kept under."""
    return {
        whole.called(frame, name): entry
        for frame in whole.frames
        for name, entry in frame.layout.parts.items()
    }


def _make_frame(description: Description, findings: Findings) -> Frame:
    layout = lay_out(description, findings)
    units = description.project.units
    plain = Values(
        units, description, Memo(findings), {}, (), _nothing_placed, lambda name, prop, place: None
    )
    stock = {
        name: with_waste(made, entry, description.shop, findings)
        for name, entry in description.stock.items()
        if (made := make_stock(name, entry, plain, findings))
    }
    hardware = {
        name: replace(item, size=item.size.read())
        for name, row in description.hardware.items()
        if (item := make_hardware(name, row, plain, units, findings))
    }
    _check_stock_names(layout, findings)
    return Frame(layout, stock, hardware, findings)


def _check_stock_names(layout: Layout, findings: Findings) -> None:
    known = layout.description.stock
    for entry in layout.parts.values():
        if entry.stock is not None and str(entry.stock) not in known:
            findings.error(
                "undefined-name",
                f"there is no stock called `{entry.stock}`",
                entry.stock.place,
                meant(str(entry.stock), known, "add it under `stock`"),
            )
        for finish in entry.finish or ():
            if str(finish) not in layout.description.finish:
                findings.error(
                    "undefined-name",
                    f"no finish is called `{finish}`",
                    finish.place,
                    meant(str(finish), layout.description.finish, "add it under `finish`, or write `none`"),
                )
    for inner in layout.inner.values():
        _check_stock_names(inner, findings)


def _nothing_placed(name: str, prop: str, place: Place) -> Quantity:
    raise AlreadySaidError


def _resolve(text: str, frame: Frame) -> Quantity:
    """The value of what stands between < and > in prose. Raises ProjectError."""
    return parse_expression(text if isinstance(text, Text) else Text(text)).value(frame.values)


def _solve_everything(frame: Frame, findings: Findings) -> bool:
    """Work out every size, side and addition once, so that all faults come out in one run."""
    sound = True
    for name in frame.nested:
        sound = _sound(lambda name=name: frame.inner(name), findings) and sound  # type: ignore[misc]
    if sound:
        for inner in frame.variants:
            sound = _solve_everything(inner, findings) and sound
    if not sound:
        return False
    for size in frame.description.sizes:
        sound = _sound(lambda size=size: frame.values.lookup(_reference(size)), findings) and sound  # type: ignore[misc]
    for name in (*frame.copies, *frame.nested):
        for axis in Axis:
            sound = _sound(lambda name=name, axis=axis: frame.axis(name, axis), findings) and sound  # type: ignore[misc]
    if not sound:
        return False
    for name in frame.layout.pieces:
        if name not in frame.copies:
            sound = _sound(lambda name=name: frame.added(name), findings) and sound  # type: ignore[misc]
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


def _own_work(part: str, first: str, frame: Frame, fits: list[Fitted], whole: Whole) -> tuple[Operation, ...]:
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
                lambda fit=fit, fastener=fastener: fit_holes(  # type: ignore[misc]
                    whole.called(frame, fit.name), fit.entry, fastener, piece, bench
                )
            )
    own: list[Operation] = []
    room = MOST_CUTS
    for make in work:
        try:
            made = make()
            room -= sum(len(operation.cuts) for operation in made)
            if room < 0:
                raise fault(
                    "too-many-cuts",
                    f"more than {MOST_CUTS:,} holes and cuts in `{part}`",
                    made[0].place,
                    "make fewer of them in one part",
                    part,
                )
            own.extend(made)
        except ProjectError as error:
            frame.findings.extend(error.findings)
            if room < 0:
                break
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
