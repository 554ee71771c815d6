"""Buy and cut: which boards and sheets, how every piece comes out of them, and whether fewer would do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from plangen.design.model import Design, Money, Stock
from plangen.findings import Findings
from plangen.handbook.densities import find_species
from plangen.handbook.lumber import board_feet, dressed_thickness, dressed_width
from plangen.takeoff.cutting import (
    Cut,
    Layout,
    Margins,
    Panel,
    Piece,
    Plan,
    Sawing,
    plan_boards,
    plan_sheets,
)
from plangen.takeoff.model import CuttingDiagram, OffCut, Placed, SawCut, StockPlan
from plangen.takeoff.plan_words import allowance_words, banding_words, bound_words, measure_note
from plangen.takeoff.practice import SQUARE_FOOT, Practice, practice, rounded_up
from plangen.takeoff.spares import spare_words, with_spares
from plangen.takeoff.wanted import Wanted, report_misfits, wanted
from plangen.units import ZERO, Length, LengthStyle, Phrase, inches, millimetres, phrase

_MOST_SIZES = 12  # kinds of board tried together; more only slow the search


@dataclass(frozen=True, slots=True)
class Goods:
    """One size of board or sheet to be bought. ``nominal_width`` is what the yard counts."""

    length: Length
    width: Length
    nominal_width: Length
    title: Phrase


def plan_stock(design: Design, stock: Stock, findings: Findings, currency: str | None) -> StockPlan | None:
    """Plan what to buy of one stock and how to cut it; None when none of its parts can be cut.

    Adds the errors ``part-exceeds-stock`` and the warnings ``assumed-board-sizes``, ``factory-edge``.
    """
    rules = practice(design.project.units)
    pieces = [wanted(part, stock, rules) for part in design.parts if part.stock == stock.name]
    if stock.kind == "plywood":
        return _plan_sheets(design, stock, pieces, rules, findings, currency)
    return _plan_boards(design, stock, pieces, rules, findings, currency)


def _plan_sheets(
    design: Design,
    stock: Stock,
    pieces: Sequence[Wanted],
    rules: Practice,
    findings: Findings,
    currency: str | None,
) -> StockPlan | None:
    if stock.sheet is None:
        findings.error(
            "no-sheet-size", f"{stock.name} has no sheet size", stock.place, "give it a sheet, width × length"
        )
        return None
    width, length = stock.sheet
    kerf = design.shop.kerf
    trim = rules.factory_edge if rules.factory_edge > kerf else kerf * 2
    clear = (length - trim * 2, width - trim * 2)
    kept = report_misfits(design, stock, pieces, [(length, width)], rules, findings)
    full = [piece for piece in kept if piece.length > clear[0] or piece.width > clear[1]]
    for piece in full:
        findings.warning(
            "factory-edge",
            f"{piece.part.name} takes the whole sheet of {stock.name} from edge to edge, "
            "so that its sheets cannot be trimmed",
            piece.part.place,
            "check the edges of the sheet, or make the part smaller",
            part=piece.part.key,
        )
    if not kept:
        return None
    goods = Goods(length, width, width, phrase(f"{stock.title} ", stock.label, ", ", width, " × ", length))
    unit = _unit([length, width, kerf, trim], kept)
    panel = Panel("0", _count(length, unit), _count(width, unit))
    edge = 0 if full else _count(trim, unit)
    sawing = Sawing(_count(kerf, unit), Margins(edge, edge, edge, edge))
    plan = plan_sheets(_pieces(kept, unit), [panel], sawing)
    return _stock_plan(design, stock, plan, [goods], kept, unit, rules, currency)


def _plan_boards(
    design: Design,
    stock: Stock,
    pieces: Sequence[Wanted],
    rules: Practice,
    findings: Findings,
    currency: str | None,
) -> StockPlan | None:
    kerf = design.shop.kerf
    ends = (rules.end + kerf, rules.end)
    goods = _boards(stock, pieces, rules, findings)
    rooms = [(one.length - ends[0] - ends[1], one.width) for one in goods]
    kept = with_spares(report_misfits(design, stock, pieces, rooms, rules, findings), design.shop.spare)
    if not kept:
        return None
    if len(goods) > _MOST_SIZES:
        goods = _fewer(goods, kept, ends[0] + ends[1])
    unit = _unit([kerf, *ends, *(side for one in goods for side in (one.length, one.width))], kept)
    panels = [
        Panel(f"{index:03}", _count(one.length, unit), _count(one.width, unit), _weight(stock, one))
        for index, one in enumerate(goods)
    ]
    sawing = Sawing(_count(kerf, unit), Margins(left=_count(ends[0], unit), right=_count(ends[1], unit)))
    plan = plan_boards(_pieces(kept, unit), panels, sawing)
    return _stock_plan(design, stock, plan, goods, kept, unit, rules, currency)


def _boards(stock: Stock, pieces: Sequence[Wanted], rules: Practice, findings: Findings) -> list[Goods]:
    """Every size of board that can be asked for, narrow and short ones first.

    Of random widths one is sure of the least; wider ones are asked for where a piece wants them.
    """
    if not stock.widths or not stock.lengths:
        missing = " and ".join(
            word for word, given in (("widths", stock.widths), ("lengths", stock.lengths)) if not given
        )
        findings.warning(
            "assumed-board-sizes",
            f"{stock.name} lists no {missing} of its boards; common ones are taken",
            stock.place,
            f"list the {missing} that can be bought",
        )
    widths, random = stock.widths or rules.widths, stock.random_widths and bool(stock.widths)
    if random:
        low, high = min(widths), max(widths)
        step = rules.tape * 4
        asked = {min(rounded_up(piece.width, step), high) for piece in pieces if low < piece.width}
        widths = tuple(sorted({low, *asked}))
    goods = []
    for width in sorted(set(widths)):
        nominal = width if random else _nominal_width(stock, width)
        for length in sorted(set(stock.lengths or rules.lengths)):
            name = stock.label
            if nominal != width:
                name = phrase(f"{_inches(stock.label_thickness)}×{_inches(nominal)}")
            least = "at least " if random else ""
            goods.append(
                Goods(
                    length,
                    width,
                    nominal,
                    phrase(f"{stock.title} ", name, f", {least}", width, " wide, ", length, " long"),
                )
            )
    return goods


def _inches(length: Length) -> str:
    whole, rest = divmod(length.inches, 1)
    return f"{whole}" if not rest else f"{whole}-{rest}" if whole else f"{rest}"


def _nominal_width(stock: Stock, width: Length) -> Length:
    """Give the width that the yard counts: the nominal one for softwood dressed to PS 20, else the width."""
    species = find_species(stock.species)
    if species is None or species.hard or dressed_thickness(stock.label_thickness) != stock.thickness:
        return width
    names = (inches(nominal) for nominal in range(2, 17))
    return next((nominal for nominal in names if dressed_width(nominal) == width), width)


def _fewer(goods: Sequence[Goods], pieces: Sequence[Wanted], ends: Length) -> list[Goods]:
    """Keep the longest of each width, and the shortest that still hold each longest piece."""
    need = max(piece.length for piece in pieces)
    kept: list[Goods] = []
    for width in sorted({one.width for one in goods}):
        same = [one for one in goods if one.width == width]
        long_enough = [one for one in same if one.length - ends >= need]
        kept.extend(dict.fromkeys([*long_enough[:1], same[-1]]))
    return kept


def _weight(stock: Stock, goods: Goods) -> Fraction:
    """Weigh one board against another by what is paid for: by the piece, the length or the board foot."""
    if stock.price and stock.price_per == "piece":
        return Fraction(1)
    if stock.price and stock.price_per in ("foot", "metre"):
        return goods.length.mm
    return board_feet(stock.label_thickness, goods.nominal_width, goods.length)


def _unit(lengths: Sequence[Length], pieces: Sequence[Wanted]) -> int:
    """Give how many small units make a millimetre, so that every length is a whole number of them."""
    sizes = [side for piece in pieces for side in (piece.length, piece.width, piece.least_width)]
    return lcm(*(length.mm.denominator for length in (*lengths, *sizes)))


def _count(length: Length, unit: int) -> int:
    return int(length.mm * unit)


def _pieces(pieces: Sequence[Wanted], unit: int) -> list[Piece]:
    return [
        Piece(
            piece.name,
            _count(piece.length, unit),
            _count(piece.width, unit),
            piece.number,
            least_width=_count(piece.least_width, unit),
        )
        for piece in pieces
    ]


def _stock_plan(
    design: Design,
    stock: Stock,
    plan: Plan,
    goods: Sequence[Goods],
    pieces: Sequence[Wanted],
    unit: int,
    rules: Practice,
    currency: str | None,
) -> StockPlan:
    by_name = {piece.name: piece for piece in pieces}
    layouts = sorted(plan.layouts, key=_sawing_order)
    bought = [goods[int(layout.panel.name)] for layout in layouts]
    diagrams = tuple(
        _diagram(stock, number, layout, one, by_name, unit, rules)
        for number, (layout, one) in enumerate(zip(layouts, bought, strict=True), start=1)
    )
    solid = stock.kind == "solid"
    gross = net = area = None
    if solid:
        gross = sum(
            (board_feet(stock.label_thickness, one.nominal_width, one.length) for one in bought), Fraction(0)
        )
        net = sum(
            (
                board_feet(stock.label_thickness, one.net_width, one.net_length, one.number)
                for one in pieces
                if not one.spare
            ),
            Fraction(0),
        )
    else:
        area = sum((one.length.mm * one.width.mm for one in bought), Fraction(0)) / SQUARE_FOOT
    spare = _spare_width(diagrams, {one.part.key: one for one in pieces}, rules) if solid else ZERO
    words = bound_words(plan, stock, unit)
    own = [one for one in pieces if one.own_allowance and not one.spare]
    if own:
        usual = (rules.over_length, spare) if len(own) < len(pieces) else None
        words += allowance_words(own, usual)
    elif solid and spare < rules.over_width:
        words += phrase(
            " Pieces are drawn ", rules.over_width, " too wide, but for those as wide as their board."
        )
    words += banding_words(pieces) + spare_words(pieces)
    net_volume = sum((one.volume for one in pieces if not one.spare), Fraction(0)) if solid else Fraction(0)
    bought_area = sum((one.length.mm * one.width.mm for one in bought), Fraction(0))
    volume = bought_area * stock.label_thickness.mm if solid else Fraction(0)
    return StockPlan(
        stock=stock.name,
        diagrams=diagrams,
        bound=plan.bound.number,
        bound_reason=words.text(LengthStyle(design.project.units)),
        board_feet=gross,
        net_board_feet=net,
        square_feet=area,
        cost=_cost(stock, bought, gross, currency),
        kerf=design.shop.kerf,
        allowance_length=rules.over_length if solid and not own else ZERO,
        allowance_width=spare if not own else ZERO,
        bound_words=words,
        measure_note=measure_note(
            stock,
            diagrams,
            gross,
            net,
            any(one.nominal_width != one.width for one in bought),
            (volume, net_volume),
        ),
        volume=volume,
        net_volume=net_volume,
    )


def _spare_width(diagrams: Sequence[CuttingDiagram], by_part: dict[str, Wanted], rules: Practice) -> Length:
    """Give by how much every piece is drawn too wide: nothing where one takes the whole width of a board."""
    over = [piece.width - by_part[piece.part].net_width for one in diagrams for piece in one.pieces]
    return rules.over_width if min(over) >= rules.over_width else ZERO


def _diagram(
    stock: Stock,
    number: int,
    layout: Layout,
    goods: Goods,
    by_name: dict[str, Wanted],
    unit: int,
    rules: Practice,
) -> CuttingDiagram:
    def size(count: int) -> Length:
        return millimetres(Fraction(count, unit))

    pieces = tuple(
        Placed(
            by_name[laid.name].part.key,
            by_name[laid.name].mark,
            size(laid.x),
            size(laid.y),
            size(laid.length),
            size(laid.width),
            laid.turned,
            by_name[laid.name].spare,
        )
        for laid in layout.pieces
    )
    cuts = tuple(
        SawCut(index, cut.along, size(cut.at), size(cut.low), size(cut.high), size(cut.position), cut.by)
        for index, cut in enumerate(_by_hand_first(layout.cuts), start=1)
    )
    off_cuts = tuple(
        OffCut(size(rest.x), size(rest.y), size(rest.length), size(rest.width))
        for rest in layout.rests
        if _worth_keeping(stock, size(rest.length), size(rest.width), rules)
    )
    net = sum(
        (by_name[laid.name].net_length.mm * by_name[laid.name].net_width.mm for laid in layout.pieces),
        Fraction(0),
    )
    return CuttingDiagram(
        stock=stock.name,
        number=number,
        length=goods.length,
        width=goods.width,
        thickness=stock.thickness,
        title=goods.title,
        pieces=pieces,
        cuts=cuts,
        off_cuts=off_cuts,
        used=net / (goods.length.mm * goods.width.mm),
        kind="sheet" if stock.kind == "plywood" else "board",
    )


def _sawing_order(layout: Layout) -> tuple[object, ...]:
    """Order the largest and fullest panels first, and those that are sawn alike next to each other."""
    places = [(piece.name, piece.x, piece.y, piece.turned) for piece in layout.pieces]
    return -layout.panel.length, -layout.panel.width, -layout.used, places


def _by_hand_first(cuts: Sequence[Cut]) -> list[Cut]:
    """Bring the cuts by hand to the front: whatever they divide was parted from something larger still."""
    return sorted(cuts, key=lambda cut: cut.by != "hand")


def _worth_keeping(stock: Stock, length: Length, width: Length, rules: Practice) -> bool:
    """Say whether a rest is an off-cut: solid wood has to be long along the grain, a sheet either way."""
    if stock.kind == "plywood":
        length, width = max(length, width), min(length, width)
    return length >= rules.off_cut_length and width >= rules.off_cut_width


def _cost(
    stock: Stock, bought: Sequence[Goods], gross: Fraction | None, currency: str | None
) -> Money | None:
    """Price what is bought, in the unit the maker's price is for; None without a price in the currency."""
    if stock.price is None or stock.price.currency != currency:
        return None
    running = sum((one.length for one in bought), ZERO)
    amounts: dict[str | None, Fraction | None] = {
        "board foot": gross,
        "piece": Fraction(len(bought)),
        "sheet": Fraction(len(bought)),
        "foot": running.inches / 12,
        "metre": running.mm / 1000,
        "cubic metre": sum((one.length.mm * one.width.mm for one in bought), Fraction(0))
        * stock.label_thickness.mm
        / 10**9,
    }
    amount = amounts[stock.price_per or ("sheet" if stock.kind == "plywood" else "board foot")]
    return None if amount is None else Money(amount * stock.price.amount, stock.price.currency)
