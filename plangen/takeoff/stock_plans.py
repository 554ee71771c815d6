"""Buy and cut: which boards and sheets, how every piece comes out of them, and whether fewer would do."""

from __future__ import annotations

from collections.abc import Sequence
from math import lcm

from plangen.design.model import Design, Shop, Stock
from plangen.findings import Findings
from plangen.takeoff.cutting import (
    Direction,
    GuideTooShortError,
    Margins,
    Panel,
    Piece,
    Sawing,
    TogetherError,
    TooFewError,
    plan_boards,
    plan_sheets,
)
from plangen.takeoff.cutting.sheets import DEFAULT as SHEET_EFFORT
from plangen.takeoff.goods import board_goods, fewer, sheet_goods, sound_length, weigh
from plangen.takeoff.misfits import report_misfits, report_rail, report_together, report_too_few
from plangen.takeoff.model import StockPlan
from plangen.takeoff.practice import Practice, practice
from plangen.takeoff.spares import with_spares
from plangen.takeoff.stock_diagrams import stock_plan
from plangen.takeoff.wanted import Wanted, pieces_wanted
from plangen.units import ZERO, Length

_EACH = 20_000  # work spent for each piece on a sheet, where they are few
_FIRST: dict[str | None, Direction | None] = {"rip": "x", "crosscut": "y", None: None}


def plan_stock(design: Design, stock: Stock, findings: Findings, currency: str | None) -> StockPlan | None:
    """Plan what to buy of one stock and how to cut it; None when none of its parts can be cut.

    Adds the errors ``part-exceeds-stock``, ``kerf-exceeds-part``, ``too-few-boards``, ``not-one-board``,
    ``rail-too-short``, ``nothing-left`` and ``no-sheet-size``, and the warnings ``assumed-board-sizes`` and
    ``factory-edge``.
    """
    rules = practice(design)
    pieces = pieces_wanted(design, stock, rules)
    plan_one = _plan_sheets if stock.kind == "plywood" else _plan_boards
    try:
        return plan_one(design, stock, pieces, rules, findings, currency)
    except TogetherError as error:
        report_together(stock, pieces, error.piece.name, error.together, findings)
    except TooFewError as error:
        report_too_few(stock, pieces, error.piece.name, findings)
    except GuideTooShortError as error:
        report_rail(design, stock, pieces, error.piece.name, findings)
    return None


def _plan_sheets(
    design: Design,
    stock: Stock,
    pieces: Sequence[Wanted],
    rules: Practice,
    findings: Findings,
    currency: str | None,
) -> StockPlan | None:
    goods = sheet_goods(stock, currency)
    if not goods:
        findings.error(
            "no-sheet-size", f"{stock.name} has no sheet size", stock.place, "give it a sheet, width × length"
        )
        return None
    kerf = design.shop.kerf
    trim = rules.factory_edge
    if ZERO < trim <= kerf:
        trim = kerf * 2
    clear = [(one.length - trim * 2, one.width - trim * 2) for one in goods]
    if all(min(sides) <= ZERO for sides in clear):
        findings.error(
            "nothing-left",
            f"of the largest sheet of {stock.name} nothing is left once its edges are trimmed",
            stock.place,
            "trim less off the `sheet edges` in `rough` under `shop`, or list larger sheets",
        )
        return None
    kept = report_misfits(design, stock, pieces, [(one.length, one.width) for one in goods], rules, findings)
    full = [piece for piece in kept if not any(piece.fits(length, width) for length, width in clear)]
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
    shop = design.shop
    bench, guide = shop.bench or (), (shop.guide,) if shop.guide is not None else ()
    sides = [side for one in goods for side in (one.length, one.width)]
    unit = _unit([*sides, kerf, trim, *bench, *guide], kept)
    _, weights = weigh(stock, goods)
    panels = [
        Panel(str(index), _count(one.length, unit), _count(one.width, unit), weight, one.have)
        for index, (one, weight) in enumerate(zip(goods, weights, strict=True))
    ]
    edge = 0 if full else _count(trim, unit)
    sawing = _sheet_sawing(shop, unit, edge)
    effort = min(SHEET_EFFORT, _EACH * sum(piece.number for piece in kept))
    plan = plan_sheets(_pieces(kept, unit), panels, sawing, effort)
    return stock_plan(design, stock, plan, goods, kept, unit, rules, currency)


def _sheet_sawing(shop: Shop, unit: int, edge: int) -> Sawing:
    bench = None
    if shop.bench is not None:
        bench = (_count(max(shop.bench), unit), _count(min(shop.bench), unit))
    return Sawing(
        _count(shop.kerf, unit),
        Margins(edge, edge, edge, edge),
        shop.prefer,
        bench,
        None if shop.guide is None else _count(shop.guide, unit),
        _FIRST[shop.first_cut],
    )


def _plan_boards(
    design: Design,
    stock: Stock,
    pieces: Sequence[Wanted],
    rules: Practice,
    findings: Findings,
    currency: str | None,
) -> StockPlan | None:
    kerf = design.shop.kerf
    ends = (rules.end + kerf if rules.end else ZERO, rules.end)
    if stock.defects and not rules.end:
        ends = (ZERO, kerf)  # the piece before the defects is still to be sawn off
    goods = board_goods(stock, pieces, rules, currency, findings)
    sound = [sound_length(one.length, stock, rules) for one in goods]
    rooms = [(length - ends[0] - ends[1], one.width) for length, one in zip(sound, goods, strict=True)]
    kept = with_spares(report_misfits(design, stock, pieces, rooms, rules, findings), design.shop.spare)
    if not kept:
        return None
    lost = [one.length - room for one, (room, _) in zip(goods, rooms, strict=True)]
    goods = fewer(goods, kept, lost)
    sound = [sound_length(one.length, stock, rules) for one in goods]
    unit = _unit([kerf, *ends, *sound, *(one.width for one in goods)], kept)
    _, weights = weigh(stock, goods)
    panels = [
        Panel(str(index), _count(length, unit), _count(one.width, unit), weight, one.have)
        for index, (one, length, weight) in enumerate(zip(goods, sound, weights, strict=True))
    ]
    margins = Margins(left=_count(ends[0], unit), right=_count(ends[1], unit))
    sawing = Sawing(_count(kerf, unit), margins, design.shop.prefer)
    return stock_plan(
        design, stock, plan_boards(_pieces(kept, unit), panels, sawing), goods, kept, unit, rules, currency
    )


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
            piece.may_turn,
            _count(piece.least_width, unit),
            piece.together,
        )
        for piece in pieces
    ]
