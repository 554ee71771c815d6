"""Where the tenons of a rail stand: their thickness, width, shoulders, haunches and spaces."""

from __future__ import annotations

from typing import TYPE_CHECKING

from plangen.handbook import joinery_rules
from plangen.joinery.body import Meeting, metric, sides_said
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import Box, Side
from plangen.joinery.tenon import Tenons, haunch_box, parted
from plangen.units import ZERO, Length, inches, millimetres

if TYPE_CHECKING:
    from plangen.joinery.joints.mortise_and_tenon import MortiseAndTenon


def laid_out(entry: MortiseAndTenon, meeting: Meeting, length: Length, bench: Bench) -> Tenons | None:
    """Give the tenons in the frame; None, with a finding, for what the rail has no room for."""
    two, number = meeting.two, entry.number or 1
    haunches = _haunches(entry, meeting, length, bench)
    tongue = _tongue(entry, meeting, length, bool(haunches), bench) if haunches is not None else None
    if haunches is None or tongue is None:
        return None
    row = two.thick if entry.twin else two.wide
    size = tongue.size(row)
    space = entry.space.length(bench.scope) if entry.space is not None else size / (number * 2 - 1)
    each = parted(tongue, row, number, space)
    if space.mm < 0 or each[0].size(row).mm <= 0 or (number > 1 and not space):
        bench.findings.error(
            "tenon-too-wide",
            f"{number} tenons and the spaces between them do not fit on {two.copy}",
            entry.place_of("space" if entry.space is not None else "number"),
            "leave `space` out, or take fewer tenons",
            part=two.part,
        )
        return None
    if entry.ends == "round" and each[0].size(two.thick) > each[0].size(two.wide):
        bench.findings.error(
            "tenon-too-wide",
            f"the tenon of {two.copy} is thicker than it is wide, and cannot have round ends",
            entry.place_of("ends"),
            "write `ends: square`",
            part=two.part,
        )
        return None
    end = meeting.side.opposite
    boxes = tuple((edge, haunch_box(tongue, two, end, edge, long)) for edge, long in haunches.items())
    for _edge, box in boxes:
        if box.size(two.wide).mm <= 0:
            bench.findings.error(
                "haunch",
                f"the tenon of {two.copy} has no shoulder where its haunch should be",
                entry.place_of("haunch"),
                "give `shoulders` there: a third of the rail's width is usual",
                part=two.part,
            )
            return None
    return Tenons(end, tongue, each, row, boxes)


def _haunches(
    entry: MortiseAndTenon, meeting: Meeting, length: Length, bench: Bench
) -> dict[Side, Length] | None:
    edges = (Side.of(meeting.two.wide, False), Side.of(meeting.two.wide, True))
    said = sides_said(entry.haunch, meeting.two, edges, "haunch", entry, bench)
    if said is None or all(ZERO < haunch < length for haunch in said.values()):
        return said
    bench.findings.error(
        "haunch",
        "a haunch is shorter than its tenon, and has some length",
        entry.place_of("haunch"),
        "as long as the groove is deep, or a third of the tenon",
        part=meeting.two.part,
    )
    return None


def _tongue(
    entry: MortiseAndTenon, meeting: Meeting, length: Length, haunched: bool, bench: Bench
) -> Box | None:
    """The box of all tenons in the frame, from the shoulder out to their end."""
    two, side = meeting.two, meeting.side
    rail_thick, rail_wide = two.finished.size(two.thick), two.finished.size(two.wide)
    thickness = _thickness(entry, rail_thick, bench)
    edges = (Side.of(two.wide, False), Side.of(two.wide, True))
    said = sides_said(entry.shoulders, two, edges, "shoulders", entry, bench)
    if said is None:
        return None
    if haunched:
        third = {edge: bench.nearest(rail_wide / 3) for edge in edges if _named(entry, two, edge)}
        said = {**third, **said} if entry.width is None else said
    shoulders = _shoulders(entry, said, edges, rail_wide, bench)
    width = rail_wide - shoulders[edges[0]] - shoulders[edges[1]]
    if entry.width is not None and width != entry.width.length(bench.scope):
        bench.findings.error(
            "tenon-sum",
            f"the tenon of {two.copy} and its shoulders do not come to the width of {two.part}",
            entry.place_of("width"),
            "leave out `width`, or one of the shoulders",
            part=two.part,
        )
        return None
    if (
        thickness > rail_thick
        or width > rail_wide
        or width.mm <= 0
        or thickness.mm <= 0
        or any(s < ZERO for s in shoulders.values())
    ):
        key = "thickness" if thickness > rail_thick else "width" if entry.width is not None else "shoulders"
        bench.findings.error(
            "tenon-too-wide",
            f"the tenon is wider or thicker than {two.part}, or nothing is left of it",
            entry.place_of(key),
            "leave out `width` and `thickness` for the usual proportions",
            part=two.part,
        )
        return None
    shoulder_plane = two.shoulders.side(side.opposite)
    tongue = two.finished.with_side(side, shoulder_plane).with_side(
        side.opposite, shoulder_plane - length * side.sign
    )
    for edge in edges:
        tongue = tongue.grown(edge, -shoulders[edge])
    spare = (rail_thick - thickness) / 2
    for face in (Side.of(two.thick, False), Side.of(two.thick, True)):
        tongue = tongue.grown(face, -spare)
    return tongue


def _shoulders(
    entry: MortiseAndTenon, said: dict[Side, Length], edges: tuple[Side, Side], rail: Length, bench: Bench
) -> dict[Side, Length]:
    """What the tenon leaves free at each edge: as typed, else by the width, else a small shoulder each."""
    if entry.width is None or len(said) == 2:
        usual = min(inches("1/4") if bench.units == "inch" else millimetres(6), bench.nearest(rail / 8))
        return {edge: said.get(edge, usual) for edge in edges}
    spare = rail - entry.width.length(bench.scope)
    if not said:
        return dict.fromkeys(edges, spare / 2)
    ((edge, typed),) = said.items()
    return {edge: typed, edge.opposite: spare - typed}


def _thickness(entry: MortiseAndTenon, rail: Length, bench: Bench) -> Length:
    """How thick the tenons are together, with the spaces of twin ones."""
    number = (entry.number or 1) if entry.twin else 1
    parts = number * 2 - 1
    each = (
        entry.thickness.length(bench.scope)
        if entry.thickness is not None
        else joinery_rules.tenon_thickness(rail * 3 / (parts + 2), metric=metric(bench))
    )
    space = entry.space.length(bench.scope) if entry.space is not None else each
    return each * number + space * (number - 1)


def _named(entry: MortiseAndTenon, two: Piece, side: Side) -> bool:
    return any(two.face(str(word)) is side for word in entry.haunch or {})
