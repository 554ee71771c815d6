"""What has to come out of the wood: rough pieces for boards, net pieces for sheets, and what cannot."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from plangen.design.model import Design, Part, Stock
from plangen.findings import Findings
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

    @property
    def volume(self) -> Fraction:
        """The finished wood of all the pieces in mm3."""
        glue_up = self.part.glue_up
        layers = glue_up is not None and glue_up.kind == "layers"
        thickness = glue_up.thickness if glue_up and layers else self.part.thickness
        return self.net_length.mm * self.net_width.mm * thickness.mm * self.number


def wanted(part: Part, stock: Stock, practice: Practice) -> Wanted:
    """Give the pieces to cut for a part: its copies, or the boards or layers it is glued up from."""
    number, width = len(part.copies), part.width
    if part.glue_up:
        number *= part.glue_up.number
        width = part.glue_up.width
    leave = {size.axis: size.leave for size in part.from_work}
    late_length, late_width = leave.get(part.runs, ZERO), leave.get(part.wide, ZERO)
    if stock.kind == "plywood":
        length, rough = part.length + late_length, width + late_width
        return Wanted(part, number, length, rough, rough, part.length, width)
    length = rounded_up(part.length + max(practice.over_length, late_length), practice.tape)
    rough = rounded_up(width + max(practice.over_width, late_width), practice.tape)
    # A board of the finished width is used as it is bought; what is glued up loses wood at its joints.
    least = rough if part.glue_up else width + late_width
    return Wanted(part, number, length, rough, least, part.length, width)


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
    part = piece.part
    layers = part.glue_up is not None and part.glue_up.kind == "layers"
    thickness = part.glue_up.thickness if part.glue_up and layers else part.thickness
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
                what = "board" if part.glue_up.kind == "boards" else "layer"
                message = (
                    f"each {what} of {part.name} is {text(piece.net_width)} wide, and "
                    f"{text(piece.width)} before its edges are jointed; the widest board of "
                    f"{stock.name} gives {text(widest)}"
                )
                if what == "layer":
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
