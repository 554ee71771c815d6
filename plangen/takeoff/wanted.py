"""What has to come out of the wood: rough pieces for boards, net pieces for sheets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from plangen.design.model import Blank, Design, GlueUp, Part, Stock
from plangen.joinery.space import ORIGIN, Axis, Box, Point
from plangen.takeoff.banding import before_banding
from plangen.takeoff.practice import Practice, rounded_up
from plangen.units import ZERO, Length, Phrase, listed, phrase


@dataclass(frozen=True, slots=True)
class Wanted:
    """Equal pieces of one part. ``net`` sizes are finished, the others as cut; lengths along the grain."""

    part: Part
    number: int
    length: Length
    width: Length
    least_width: Length  # the least that will do: a board of this width needs no rip
    net_length: Length
    net_width: Length
    spare: bool = False  # more than the parts need, to cut again where one is spoiled
    may_turn: bool = False  # may lie across the grain of its sheet
    together: str = ""  # all pieces of one such word come out of one board
    blank: Blank | None = None  # where the piece is sawn apart into several parts later

    @property
    def name(self) -> str:
        """What the pieces are called in a cutting plan: by their part, spares apart from the others."""
        name = self.part.key if self.blank is None else f"{self.part.key}, blank"
        return f"{name}, spare" if self.spare else name

    def fits(self, length: Length, width: Length) -> bool:
        """Whether a piece comes out of a clear length and width."""
        ways = [(self.length, self.least_width)]
        if self.may_turn:
            ways.append((self.least_width, self.length))
        return any(long <= length and wide <= width for long, wide in ways)

    @property
    def mark(self) -> str:
        """The mark of the part, and whether they are spare."""
        return f"{self.part.mark} spare" if self.spare else self.part.mark

    @property
    def volume(self) -> Fraction:
        """The finished wood of all the pieces in mm3."""
        return self.net_length.mm * self.net_width.mm * self.net_thickness.mm * self.number

    @property
    def own_allowance(self) -> bool:
        """Whether the glue-up says itself how much over its boards are, in place of the usual."""
        glue_up = self.part.glue_up
        return glue_up is not None and (glue_up.rough_length is not None or bool(glue_up.over_width))

    @property
    def net_thickness(self) -> Length:
        """The thickness of the wood they are cut from: for a strip on edge, its share of the width."""
        glue_up = self.part.glue_up
        if glue_up is None or glue_up.kind == "boards":
            return self.part.thickness
        return glue_up.thickness if glue_up.kind == "layers" else glue_up.width


def pieces_wanted(design: Design, stock: Stock, practice: Practice) -> list[Wanted]:
    """Give the pieces to cut from one stock: those of its parts, and the blanks that hold several parts."""
    blanks = {blank.parts[0]: blank for blank in design.blanks}
    held = {key for blank in design.blanks for key in blank.parts}
    found = []
    for part in (part for part in design.parts if part.stock == stock.name):
        if part.key in blanks:
            blank = blanks[part.key]
            found.append(replace(wanted(as_part(design, blank), stock, practice), blank=blank))
        elif part.key not in held:
            found.append(wanted(part, stock, practice))
    return found


def as_part(design: Design, blank: Blank) -> Part:
    """Give a blank as if it were a part, in place of the first that it holds."""
    first = design.part(blank.parts[0])
    marks = dict.fromkeys(design.part(key).mark for key in blank.parts)
    size = {first.runs: blank.length, first.wide: blank.width, first.thick: blank.thickness}
    high = Point(*(size[axis] for axis in (Axis.ACROSS, Axis.DEEP, Axis.UP)))
    return replace(
        first, name=blank.name, title=blank.title, mark="+".join(marks), blank=Box(ORIGIN, high),
        operations=(), copies=first.copies[: blank.number], place=blank.place,
    )  # fmt: skip


def finished_pieces(
    design: Design, pieces: Sequence[Wanted], stock: Stock, practice: Practice
) -> list[Wanted]:
    """Give what the pieces become: no spares, and in place of each blank the parts that it holds."""
    found: list[Wanted] = []
    for piece in (one for one in pieces if not one.spare):
        held = piece.blank.parts if piece.blank is not None else ()
        found += [wanted(design.part(key), stock, practice) for key in held] or [piece]
    return found


def held_words(design: Design, blank: Blank) -> str:
    """Say what one blank is sawn apart into: ``1 of A and 2 of B``."""
    each = zip(blank.parts, blank.each, strict=True)
    return listed([f"{count} of {design.part(key).mark}" for key, count in each])


def blank_words(design: Design, pieces: Sequence[Wanted]) -> Phrase:
    """Say what the blanks among the pieces are sawn apart into; nothing where there are none."""
    words = Phrase()
    for blank, mark in ((piece.blank, piece.mark) for piece in pieces if piece.blank and not piece.spare):
        words += phrase(f" {mark} is a blank for {held_words(design, blank)}, {blank.how}: mill it whole.")
    return words


def wanted(part: Part, stock: Stock, practice: Practice) -> Wanted:
    """Give the pieces to cut for a part: its copies, or the boards or layers it is glued up from."""
    number, (part_length, width) = len(part.copies), before_banding(part)
    rough_length = rough_width = None
    if part.glue_up:
        number *= part.glue_up.number
        width = _board_width(part.glue_up)
        rough_length, rough_width = part.glue_up.rough_length, part.glue_up.rough_width
    leave = {size.axis: size.leave for size in part.from_work}
    late_length, late_width = leave.get(part.runs, ZERO), leave.get(part.wide, ZERO)
    if stock.kind == "plywood":
        length = max(rough_length or ZERO, part_length + late_length)
        rough = max(rough_width or ZERO, width + late_width)
        turns = stock.turns or part.may_turn
        return Wanted(
            part, number, length, rough, rough, part_length, width, may_turn=turns, together=part.one_board
        )
    length = rounded_up(part_length + max(practice.over_length, late_length), practice.tape)
    # What the file leaves over a glued-up piece holds in place of the usual.
    length = length if rough_length is None else max(rough_length, part_length + late_length)
    rough = rounded_up(width + max(practice.over_width, late_width), practice.tape)
    # Boards that are glued up are drawn as wide as their step has them ripped.
    rough = rough if rough_width is None else max(rough_width, width + late_width)
    # A board of the finished width is used as it is bought; what is glued up loses wood at its joints.
    least = rough if part.glue_up else width + late_width
    return Wanted(part, number, length, rough, least, part_length, width, together=part.one_board)


def _board_width(glue_up: GlueUp) -> Length:
    """Give the finished width of each board that is cut: a strip stands on edge, so it is its height."""
    return glue_up.thickness if glue_up.kind == "strips" else glue_up.width
