"""How a glue-up is said, one sentence for each thing to do, after its boards are milled."""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby

from plangen.design.model import GlueUp, Section
from plangen.units import ZERO, Length, Phrase, phrase


def board_sentences(
    made: GlueUp, length: Length, width: Length, thickness: Length, planer: Length | None
) -> GlueUp:
    """Give the glue-up of boards with its sentences. Sizes are those of the finished piece."""
    first, milled = made.sections[0], thickness + made.over_thickness
    said = []
    if made.thickness > milled and not made.over_thickness:
        said.append(phrase("Plane the boards to ", milled, " thick."))
    said += [
        phrase(
            f"Rip {made.number} boards ", first.board_rough, " wide and joint their edges: each is then ",
            first.board_width, " wide.",
        )
    ]  # fmt: skip
    if made.over_thickness:
        said.append(phrase("Leave them ", milled, " thick until they are glued."))
    said += _rings(made)
    said += _glued(made, "boards", width, thickness, planer)
    return replace(made, say=tuple(said) + _trimmed(made, length, width))


def strip_sentences(
    made: GlueUp, length: Length, width: Length, thickness: Length, planer: Length | None
) -> GlueUp:
    """Give the glue-up of strips with its sentences."""
    said = [
        phrase(
            f"Rip {made.number} strips ", made.rough_width or made.thickness, " wide out of wood planed to ",
            made.width, ", and joint one edge of each.",
        ),
        phrase("Turn every strip on edge, the jointed edge down: faces are glued, and edges make the faces."),
    ]  # fmt: skip
    said += _rings(made)
    said += _glued(made, "strips", width, thickness, planer)
    return replace(made, say=tuple(said) + _trimmed(made, length, width))


def layer_sentences(made: GlueUp, length: Length, width: Length, thickness: Length) -> GlueUp:
    """Give the glue-up of layers with its sentences."""
    said = [
        phrase(
            f"Glue {made.number} layers face to face, each ", made.thickness, " thick and ",
            made.rough_width or made.width, " wide: they make ", made.thickness * made.number, ".",
        )
    ]  # fmt: skip
    said += _rings(made)
    if made.over_thickness:
        said.append(phrase("Plane the piece to ", thickness, " thick when the glue is dry."))
    said.append(phrase("Joint one edge, where the layers all show, and rip the piece ", width, " wide."))
    return replace(made, say=tuple(said) + _trimmed(replace(made, over_width=ZERO), length, width))


def _rings(made: GlueUp) -> list[Phrase]:
    what = {"boards": "board", "layers": "layer", "strips": "strip"}[made.kind]
    if made.grain == "alternate":
        return [phrase(f"Turn every second {what} over: growth rings curve up and down by turns.")]
    if made.grain == "same":
        return [phrase(f"Lay every {what} with its growth rings curving the same way.")]
    return []


def _glued(made: GlueUp, what: str, width: Length, thickness: Length, planer: Length | None) -> list[Phrase]:
    edge = "edge to edge" if what == "boards" else "face to face"
    if len(made.sections) == 1:
        said = [phrase(f"Glue them {edge}: they make ", made.sections[0].width, ".")]
        if planer is not None and width > planer:
            said.append(
                phrase(
                    "Clamp them with their faces flush: the piece, ", width, " wide, "
                    "does not pass the planer, which takes ", planer, ".",
                )
            )  # fmt: skip
        if made.over_thickness or made.kind == "strips":
            said.append(phrase("Plane the piece to ", thickness, " thick."))
        return said
    level = phrase("Plane each section to ", thickness, " thick before joining them")
    if made.kind == "boards" and not made.over_thickness:
        level = phrase("Level the seams of each section before joining them")
    because = Phrase()
    if planer is not None and width > planer:
        because = phrase(
            ", because the finished piece, ", width, " wide, does not pass the planer, which takes ", planer
        )
    return [
        phrase(f"Glue up {len(made.sections)} sections {edge}: ") + _shares(made, what) + phrase("."),
        level + because + phrase("."),
        phrase("Joint the sections where they meet, and glue them together with their faces flush."),
    ]


def _shares(made: GlueUp, what: str) -> Phrase:
    """Say what each section is made of; sections alike share their words."""
    words = Phrase()

    def share(section: Section) -> tuple[int, Length]:
        return section.boards, section.width

    for (boards, width), found in groupby(made.sections, key=share):
        count = len(list(found))
        one = what.removesuffix("s") if boards == 1 else what
        each = f"{count} of {boards} {one} each, " if count > 1 else f"{count} of {boards} {one}, "
        words += phrase("; " if words else "", each, width, " wide")
    return words


def _trimmed(made: GlueUp, length: Length, width: Length) -> tuple[Phrase, ...]:
    if made.over_width and made.over_length:
        return (phrase("Trim it to ", width, " wide and ", length, " long."),)
    if made.over_width:
        return (phrase("Trim it to ", width, " wide."),)
    if made.over_length:
        return (phrase("Trim it to ", length, " long."),)
    return ()
