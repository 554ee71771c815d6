"""Pieces that cannot be had: too large for every board or sheet, or too few of these."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from plangen.design.model import Design, Part, Stock
from plangen.findings import Findings
from plangen.takeoff.practice import Practice
from plangen.takeoff.wanted import Wanted
from plangen.units import ZERO, Length, LengthStyle, phrase


def report_misfits(
    design: Design,
    stock: Stock,
    pieces: Sequence[Wanted],
    rooms: Sequence[tuple[Length, Length]],
    practice: Practice,
    findings: Findings,
) -> tuple[Wanted, ...]:
    """Report every piece that no board or sheet can give; return the others.

    ``rooms`` are the clear lengths and widths that can be had. Adds the errors ``part-exceeds-stock``,
    ``kerf-exceeds-part``, ``nothing-left`` and ``turned-board``.
    """
    if all(length <= ZERO for length, _ in rooms):
        findings.error(
            "nothing-left",
            f"of the longest board of {stock.name} nothing is left once its ends and defects are off",
            stock.place,
            "cut less off the `ends` in `rough` under `shop`, allow less for `defects`, or list longer ones",
        )
        return ()
    kept = []
    for piece in pieces:
        _report_turned(stock, piece, findings)
        if _too_thick(design, stock, piece, findings) or _too_small(design, piece, findings):
            continue
        if any(piece.fits(length, width) for length, width in rooms):
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


def _report_turned(stock: Stock, piece: Wanted, findings: Findings) -> None:
    part = piece.part
    if part.may_turn and stock.kind == "solid":
        findings.error(
            "turned-board",
            f"{part.name} may turn, and it is made of boards of {stock.name}, whose grain runs along them",
            part.place,
            "take `may turn` out; where the grain may run the other way, say so with `runs`",
            ((stock.place, "the stock"),),
            part.key,
        )


def _too_small(design: Design, piece: Wanted, findings: Findings) -> bool:
    """Report a piece that is smaller than what the saw takes away beside it."""
    kerf, text = design.shop.kerf, _printer(design)
    side, word = min((piece.net_length, "long"), (piece.net_width, "wide"))
    if side >= kerf:
        return False
    findings.error(
        "kerf-exceeds-part",
        f"{piece.part.name} is {text(side)} {word}, and each saw cut takes {text(kerf)}",
        piece.part.place,
        "make it larger, or give under `shop` the kerf of the thinner blade that cuts it",
        part=piece.part.key,
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
    turned = [room for room in rooms if piece.least_width <= room[0] and piece.length <= room[1]]
    if turned and stock.kind == "plywood":
        nearest = min(turned, key=lambda room: (room[0].mm * room[1].mm, room[0]))
        message = (
            f"{part.name} is {text(piece.net_length)} long with the grain and {text(piece.net_width)} wide, "
            f"and fits only turned: a sheet of {stock.name} gives {text(nearest[0])} along its grain and "
            f"{text(nearest[1])} across"
        )
        remedy = (
            "let the part run the other way, write `may turn: yes` where its grain does not matter, "
            "or list a larger sheet"
        )
    elif piece.length > longest:
        message = (
            f"{part.name} is {text(piece.net_length)} long{as_cut}, and the longest {noun} of {stock.name} "
            f"gives {text(longest)}"
        )
        remedy = f"list a longer {noun}, or make the part shorter"
        if piece.least_width > widest:
            message += f"; it is {text(piece.net_width)} wide as well, and the widest gives {text(widest)}"
    elif piece.least_width > widest:
        message = (
            f"{part.name} is {text(piece.net_width)} wide, and the widest {noun} of {stock.name} "
            f"gives {text(widest)}"
        )
        remedy = f"list a wider {noun}, or make the part narrower"
        if stock.kind == "solid":
            planer = design.shop.planer
            room = (widest if planer is None else min(widest, planer)) - practice.over_width
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
    other = _other_stock(design, stock, piece, practice)
    if other is not None:
        remedy += f"; `{other.name}` of this project is large enough"
    if piece.blank is not None:
        remedy = f"share its pieces out into more blanks with `number`, or list a larger {noun}"
    findings.error("part-exceeds-stock", message, part.place, remedy, ((stock.place, "the stock"),), part.key)


def _other_stock(design: Design, stock: Stock, piece: Wanted, practice: Practice) -> Stock | None:
    """Give another stock of the same kind that is thick and large enough; the thinnest of those."""
    ends = (practice.end + design.shop.kerf) * 2 if stock.kind == "solid" else ZERO

    def gives(other: Stock) -> bool:
        sizes = [(offer.length, offer.width) for offer in other.offers]
        sizes += [(length, width) for length in other.lengths for width in other.widths]
        sizes += [(other.sheet[1], other.sheet[0])] if other.sheet is not None else []
        return any(piece.fits(length * (1 - other.defects) - ends, width) for length, width in sizes)

    others = [
        other
        for other in design.stock.values()
        if other.kind == stock.kind and other.thickness >= piece.net_thickness and other is not stock
    ]
    return min(filter(gives, others), key=lambda other: other.thickness, default=None)


def _printer(design: Design) -> Callable[[Length], str]:
    style = LengthStyle(design.project.units)
    return lambda length: phrase(length).text(style)


def _part_of(pieces: Sequence[Wanted], name: str) -> Part:
    return next((piece.part for piece in pieces if piece.name == name), pieces[0].part)


def report_too_few(stock: Stock, pieces: Sequence[Wanted], name: str, findings: Findings) -> None:
    """Report that the boards or sheets on the rack do not hold everything."""
    part = _part_of(pieces, name)
    noun = "sheets" if stock.kind == "plywood" else "boards"
    findings.error(
        "too-few-boards",
        f"the {noun} of {stock.name} that there are do not hold all its parts; {part.name} finds no place",
        stock.place,
        f"list {noun} that can be bought besides, without `have`",
        ((part.place, "the part"),),
        part.key,
    )


def report_together(
    stock: Stock, pieces: Sequence[Wanted], name: str, together: str, findings: Findings
) -> None:
    """Report parts that are to come out of one board and fit on none."""
    part = _part_of(pieces, name)
    noun = "sheet" if stock.kind == "plywood" else "board"
    names = dict.fromkeys(piece.part.name for piece in pieces if piece.together == together)
    findings.error(
        "not-one-board",
        f"no single {noun} of {stock.name} gives all of {', '.join(names) or part.name}",
        part.place,
        f"list a larger {noun}, or match fewer pieces",
        ((stock.place, "the stock"),),
        part.key,
    )


def report_rail(
    design: Design, stock: Stock, pieces: Sequence[Wanted], name: str, findings: Findings
) -> None:
    """Report a part that only a cut longer than the rail would set free."""
    part, guide = _part_of(pieces, name), design.shop.guide
    reach = "" if guide is None else f" of {_printer(design)(guide)}"
    findings.error(
        "rail-too-short",
        f"no cut along a rail{reach} sets {part.name} free from a sheet of {stock.name}, and the sheet is "
        "too large for the saw bench",
        part.place,
        "give under `shop` a longer rail or a larger bench, or list smaller sheets",
        ((stock.place, "the stock"),),
        part.key,
    )
