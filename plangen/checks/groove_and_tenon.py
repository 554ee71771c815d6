"""Grooves for panels that run into the tenons of the same piece."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from plangen.checks.frame import printed
from plangen.design.model import Design, Part
from plangen.findings import Findings
from plangen.joinery.operation import Feature, Operation, Span
from plangen.joinery.space import Axis
from plangen.solids import Solids
from plangen.units import ZERO, Length

TENONS = ("tenon", "tenons", "haunched tenon")


def grooves_keep_off_tenons(design: Design, solids: Solids, findings: Findings) -> None:
    """Add warnings where the groove for a panel runs on over a tenon of its rail.

    ``groove-cuts-tenon`` where the shoulder at the groove's edge is less than the groove is deep, so
    that the groove takes wood from the tenon, and ``groove-out-of-line`` where groove and tenon do not
    lie in one line, so that the mortise comes out beside the groove that it should be chopped in.
    Shoulder at least as deep as the groove, or a haunch that fills it: common practice, no source.
    """
    told: set[tuple[object, ...]] = set()
    for part in design.parts:
        for meeting in _meetings(part):
            groove, tenon = meeting.groove, meeting.tenon
            key = (part.name, groove.place, tenon.place, meeting.cut > ZERO)
            if key in told:
                continue
            told.add(key)
            if meeting.cut > ZERO:
                _tell_cut(part, meeting, design, findings)
            elif not meeting.in_line:
                _tell_line(part, meeting, design, findings)


@dataclass(frozen=True)
class _Meeting:
    """A groove in an edge of a part, and a tenon that it runs on to."""

    groove: Operation
    tenon: Operation
    cut: Length  # what the groove takes of the tenon's width
    width: Length
    in_line: bool  # one lies within the other's thickness
    spans: tuple[Span, Span]  # of groove and tenon, through the thickness


def _meetings(part: Part) -> Iterator[_Meeting]:
    grooves = [
        one for one in part.operations
        if one.kind == "groove" and one.joint is not None and one.side.axis is part.wide
    ]  # fmt: skip
    tenons = [one for one in part.operations if one.kind in TENONS]
    for groove in grooves:
        trough = groove.features[0]
        for tenon in tenons:
            # Of a haunched tenon the first feature is the tenon, and a haunch may fill the groove.
            number = 1 if tenon.kind == "haunched tenon" else len(tenon.features)
            for tongue in tenon.features[:number]:
                if _common(trough, tongue, part.runs) > ZERO:
                    yield _meeting(part, groove, tenon, tongue)


def _meeting(part: Part, groove: Operation, tenon: Operation, tongue: Feature) -> _Meeting:
    trough = groove.features[0]
    lies, stands = trough.span(part.thick), tongue.span(part.thick)
    over = _common(trough, tongue, part.thick) > ZERO
    cut = max(ZERO, _common(trough, tongue, part.wide)) if over else ZERO
    wide = tongue.span(part.wide)
    return _Meeting(
        groove,
        tenon,
        cut,
        wide.high - wide.low,
        _within(lies, stands) or _within(stands, lies),
        (lies, stands),
    )


def _common(one: Feature, two: Feature, axis: Axis) -> Length:
    first, second = one.span(axis), two.span(axis)
    return min(first.high, second.high) - max(first.low, second.low)


def _within(one: Span, two: Span) -> bool:
    return two.low <= one.low and one.high <= two.high


def _tell_cut(part: Part, meeting: _Meeting, design: Design, findings: Findings) -> None:
    edge, deep = meeting.groove.side.word, meeting.groove.features[0].depth
    beside = "" if meeting.in_line else f", and {_lines(meeting, design)}"
    findings.warning(
        "groove-cuts-tenon",
        f"the groove in the {edge} of `{part.name}` takes {printed(meeting.cut, design)} off its tenon, and "
        f"leaves it {printed(meeting.width - meeting.cut, design)} wide where it runs{beside}",
        meeting.tenon.place,
        f"make the tenon's shoulder there as deep as the groove: `shoulders: {{{edge}: "
        f"{_typed(deep or meeting.cut, design)}}}`, or let a `haunch` fill the groove",
        ((meeting.groove.place, "the groove is here"),) if meeting.groove.place is not None else (),
        part.key,
    )


def _tell_line(part: Part, meeting: _Meeting, design: Design, findings: Findings) -> None:
    findings.warning(
        "groove-out-of-line",
        f"groove and tenon do not lie in one line at the {meeting.groove.side.word} of `{part.name}`: "
        + _lines(meeting, design),
        meeting.tenon.place,
        "move the panel, or make tenon or groove of another thickness, so that one lies within the other",
        ((meeting.groove.place, "the groove is here"),) if meeting.groove.place is not None else (),
        part.key,
    )


def _lines(meeting: _Meeting, design: Design) -> str:
    lies, stands = (f"{printed(span.low, design)} to {printed(span.high, design)}" for span in meeting.spans)
    return f"the groove lies {lies} through the thickness, the tenon {stands}"


def _typed(length: Length, design: Design) -> str:
    number, unit = printed(length, design).rsplit("\u00a0", 1)
    return number.replace("\u00a0", "-") + unit
