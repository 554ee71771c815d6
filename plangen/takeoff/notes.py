"""What the cut list says of pieces that do not come out of one board at their finished size."""

from __future__ import annotations

from plangen.design.model import Copy, Design, GlueUp, Part
from plangen.joinery.cuts import PlaneCut
from plangen.joinery.operation import Form
from plangen.takeoff.banding import added, banding_length, before_banding
from plangen.units import Length, Phrase, phrase


def making_notes(part: Part) -> list[Phrase]:
    """Give the notes on how a piece is made up: glued up, banded, round, sawn at its ends."""
    notes = [glue_up_note(part.glue_up)] if part.glue_up else []
    notes += banding_notes(part)
    across = round_diameter(part)
    if across is not None:
        notes.append(phrase("round, diameter ", across))
    if any(_leans(copy) for copy in part.copies) and _ends_lean(part):
        notes.append(phrase("ends cut at a compound angle; the length is the blank's"))
    return notes


def blank_notes(design: Design, part: Part) -> list[Phrase]:
    """Say of a part that it is milled as one with others and sawn apart later."""
    found = next((one for one in design.blanks if part.key in one.parts), None)
    if found is None:
        return []
    return [phrase(f"sawn out of the blank {found.name}, {found.how}")]


def matched_notes(design: Design, part: Part) -> list[Phrase]:
    """Say that all pieces come out of one board or sheet, and with which other parts."""
    if not part.one_board:
        return []
    marks = [one.mark for one in design.parts if one.one_board == part.one_board and one.key != part.key]
    one = "sheet" if design.stock[part.stock].kind == "plywood" else "board"
    return [phrase(f"out of one {one}" + (f" with {', '.join(marks)}" if marks else ""))]


def glue_up_note(glue_up: GlueUp) -> Phrase:
    """Say what a piece is glued up from: boards, layers or strips, and in how many sections."""
    if glue_up.kind == "layers":
        return phrase(f"glue up from {glue_up.number} layers, each ", glue_up.thickness, " thick")
    if glue_up.kind == "strips":
        words = phrase(
            f"glue up from {glue_up.number} strips on edge, each ", glue_up.width, " × ", glue_up.thickness
        )
    else:
        words = phrase(f"glue up from {glue_up.number} boards, each ") + _board_words(glue_up)
    sections = len(glue_up.sections)
    return words + phrase(f", in {sections} sections" if sections > 1 else "")


def _board_words(glue_up: GlueUp) -> Phrase:
    """Say how wide each board is: as it is ripped, and as it is jointed; in the piece it may be trimmed."""
    if not glue_up.sections:
        return phrase(glue_up.width, " wide")
    first = glue_up.sections[0]
    return phrase("ripped ", first.board_rough, " and jointed ", first.board_width, " wide")


def banding_notes(part: Part) -> list[Phrase]:
    """Say the size to cut before the banding, and how long the banding of one piece is."""
    bands = list(added(part))
    if not bands:
        return []
    length, width = before_banding(part)
    items = ", ".join(dict.fromkeys(band.item for band in bands))
    sides = ", ".join(band.side.word for band in bands)
    return [
        phrase("cut to ", width, " × ", length, " before banding"),
        phrase(f"{items} on {sides}: ", banding_length(part), " for each"),
    ]


def round_diameter(part: Part) -> Length | None:
    """Give the diameter of a piece that is round over its whole length; None where it is not."""
    for operation in part.operations:
        for feature in operation.features if operation.kind == "round" else ():
            span = feature.span(part.runs)
            if feature.form is Form.ROUND and span.high - span.low == part.length:
                return feature.diameter
    return None


def _leans(copy: Copy) -> bool:
    return copy.stance is not None


def _ends_lean(part: Part) -> bool:
    """Whether a saw cut that leans two ways goes through an end."""
    for operation in part.operations:
        for cut in operation.cuts:
            if isinstance(cut, PlaneCut) and sum(abs(way) > 1e-9 for way in cut.normal) == 3:
                return True
    return False
