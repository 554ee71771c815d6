"""What has to come out of the wood: rough pieces for boards, net pieces for sheets, and what cannot."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from plangen.design.model import Design, GlueUp, Part, Stock
from plangen.findings import Findings
from plangen.takeoff.banding import before_banding
from plangen.takeoff.practice import Practice, rounded_up
from plangen.units import ZERO, Length, LengthStyle, phrase


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

    @property
    def name(self) -> str:
        """What the pieces are called in a cutting plan: by their part, spares apart from the others."""
        return f"{self.part.key}, spare" if self.spare else self.part.key

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
        return Wanted(part, number, length, rough, rough, part_length, width)
    length = rounded_up(part_length + max(practice.over_length, late_length), practice.tape)
    # What the file leaves over a glued-up piece holds in place of the usual.
    length = length if rough_length is None else max(rough_length, part_length + late_length)
    rough = rounded_up(width + max(practice.over_width, late_width), practice.tape)
    # Boards that are glued up are drawn as wide as their step has them ripped.
    rough = rough if rough_width is None else max(rough_width, width + late_width)
    # A board of the finished width is used as it is bought; what is glued up loses wood at its joints.
    least = rough if part.glue_up else width + late_width
    return Wanted(part, number, length, rough, least, part_length, width)


def _board_width(glue_up: GlueUp) -> Length:
    """Give the finished width of each board that is cut: a strip stands on edge, so it is its height."""
    return glue_up.thickness if glue_up.kind == "strips" else glue_up.width


def report_misfits(
    design: Design,
    stock: Stock,
    pieces: Sequence[Wanted],
    rooms: Sequence[tuple[Length, Length]],
    practice: Practice,
    findings: Findings,
) -> tuple[Wanted, ...]:
    """Report every piece that no board or sheet can give; return the others.

    ``rooms`` are the clear lengths and widths that can be had.
    """
    kept = []
    for piece in pieces:
        if _too_thick(design, stock, piece, findings):
            continue
        if any(piece.length <= length and piece.least_width <= width for length, width in rooms):
            kept.append(piece)
        else:
            _report(design, stock, piece, rooms, practice, findings)
    return tuple(kept)


def _too_thick(design: Design, stock: Stock, piece: Wanted, findings: Findings) -> bool:
    part, thickness = piece.part, piece.net_thickness
    if thickness <= stock.thickness:
        return False
    number = -(-thickness.mm // stock.thickness.mm)
    text = _printer(design)
    findings.error(
        "part-exceeds-stock",
        f"{part.name} is {text(thickness)} thick, and {stock.name} is {text(stock.thickness)}",
        part.place,
        f"give it thicker stock, or glue it up from {number} layers",
        ((stock.place, "the stock"),),
        part.key,
    )
    return True


def _report(
    design: Design,
    stock: Stock,
    piece: Wanted,
    rooms: Sequence[tuple[Length, Length]],
    practice: Practice,
    findings: Findings,
) -> None:
    part, text = piece.part, _printer(design)
    noun = "sheet" if stock.kind == "plywood" else "board"
    longest, widest = max(length for length, _ in rooms), max(width for _, width in rooms)
    over = piece.length - piece.net_length
    as_cut = f" ({text(piece.length)} as cut)" if over > ZERO else ""
    if piece.length > longest:
        message = (
            f"{part.name} is {text(piece.net_length)} long{as_cut}, and the longest {noun} of {stock.name} "
            f"gives {text(longest)}"
        )
        remedy = f"list a longer {noun}, or make the part shorter"
    elif piece.least_width > widest:
        message = (
            f"{part.name} is {text(piece.net_width)} wide, and the widest {noun} of {stock.name} "
            f"gives {text(widest)}"
        )
        remedy = f"list a wider {noun}, or make the part narrower"
        if stock.kind == "solid":
            room = widest - practice.over_width
            boards = int(-(-part.width.mm // max(room.mm, Fraction(1))))
            each = text(part.width / boards)
            remedy = f"glue it up from {boards} boards, each {each} wide, or list a wider board"
            if part.glue_up:
                what = part.glue_up.kind.removesuffix("s")
                message = (
                    f"each {what} of {part.name} is {text(piece.net_width)} wide, and "
                    f"{text(piece.width)} before its edges are jointed; the widest board of "
                    f"{stock.name} gives {text(widest)}"
                )
                if what != "board":
                    remedy = "list a wider board, or make the part narrower"
    else:
        nearest = min(rooms, key=lambda room: (piece.length > room[0], room[0] * -1, room[1] * -1))
        message = (
            f"{part.name} is {text(piece.net_length)} long and {text(piece.net_width)} wide{as_cut}, and no "
            f"{noun} of {stock.name} is both; the nearest gives {text(nearest[0])} by {text(nearest[1])}"
        )
        remedy = f"list a {noun} that is long and wide enough, or glue the part up from narrower boards"
    findings.error("part-exceeds-stock", message, part.place, remedy, ((stock.place, "the stock"),), part.key)


def _printer(design: Design) -> Callable[[Length], str]:
    style = LengthStyle(design.project.units)
    return lambda length: phrase(length).text(style)
