"""Records of the sample design, made without setting a booklet: the pages are plain words."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from plangen.booklet.model import PageRecord
from plangen.design.model import Design, Part
from plangen.findings import Finding, Findings, Place, Severity
from plangen.joinery.space import Axis, Box, Side
from plangen.record import make_record
from plangen.sequence.model import OrderOfWork
from plangen.takeoff import take_off
from plangen.units import Length, LengthStyle
from tests.booklet.sample_book import order, resolve
from tests.sample_design import sample_design

INCH = LengthStyle("inch", 16)
PAGES = (
    PageRecord(1, "1", "Cover", (), (), 0.9),
    PageRecord(2, "2", "Parts", ("A-L", "A-R"), (), 0.8),
    PageRecord(3, "3", "Parts", ("B",), (), 0.8),
    PageRecord(4, "4", "Steps", ("B",), (1, 2), 0.7),
)
TEXTS = (
    "Open Case\nOC-1, revision B, 14 March 2026\n1 of 4",
    "Side\n18\nRevision\nB\n2026-03-14\n2 of 4",
    "Shelf\n23\nRevision\nB\n3 of 4",
    "Steps\nPlane the boards\n4 of 4",
)
FINDINGS = (
    Finding("plain-note", "a note", Place("/home/someone/case/project.yaml", 4, 2), severity=Severity.NOTE),
    Finding("plain-warning", "a warning", Place("project.yaml", 2, 1), "do better", Severity.WARNING),
    Finding("plain-error", "an error", None),
)


def record(
    design: Design | None = None,
    *,
    steps: OrderOfWork | None = None,
    style: LengthStyle = INCH,
    paper: Any = "letter",
    edition: Any = "publish",
    pages: tuple[PageRecord, ...] = PAGES,
    texts: tuple[str, ...] = TEXTS,
    resolver: Any = resolve,
) -> dict[str, Any]:
    made = design or sample_design()
    lists = take_off(made, None, Findings())
    return make_record(
        made, lists, steps or order(), style, paper, edition, FINDINGS, pages, "1.0", texts, resolver
    )


def with_part(design: Design, key: str, /, **changes: Any) -> Design:
    parts = tuple(replace(part, **changes) if part.key == key else part for part in design.parts)
    return replace(design, parts=parts)


def lengthened(part: Part, axis: Axis, by: Length) -> dict[str, Any]:
    """The fields of a part made longer at the high end of an axis, its copies with it."""

    def longer(box: Box) -> Box:
        return box.grown(Side.of(axis, True), by)

    copies = tuple(
        replace(copy, box=longer(copy.box), shoulders=longer(copy.shoulders)) for copy in part.copies
    )
    grown: dict[str, Any] = {"blank": longer(part.blank), "copies": copies}
    if axis is part.runs:
        grown["shoulder_length"] = part.shoulder_length + by
    if axis is part.wide:
        grown["shoulder_width"] = part.shoulder_width + by
    return grown


def with_longer_shelves(by: Length) -> Design:
    design = sample_design()
    shelf = design.part("shelf")
    return with_part(design, "shelf", **lengthened(shelf, shelf.runs, by))


def with_dadoes_moved(by: Length) -> Design:
    """The upper dado of the left side only, moved up."""
    design = sample_design()
    side = design.part("side left")
    first, upper, *rest = side.operations
    assert upper.kind == "dado"
    feature = upper.features[0]
    spans = tuple(
        (axis, replace(span, low=span.low + by, high=span.high + by) if axis is Axis.UP else span)
        for axis, span in feature.spans
    )
    cut = upper.cuts[0]
    box = cut.box.grown(Side.BOTTOM, -by).grown(Side.TOP, by)  # type: ignore[union-attr]
    moved = replace(upper, features=(replace(feature, spans=spans),), cuts=(replace(cut, box=box),))  # type: ignore[call-arg]
    return with_part(design, "side left", operations=(first, moved, *rest))
