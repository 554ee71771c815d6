"""From a cutting plan to what is printed: boards and sheets with their pieces, cuts, off-cuts and sums."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from plangen.design.model import Design, Money, Stock
from plangen.handbook.lumber import board_feet
from plangen.takeoff.cutting import Cut, Layout, Plan
from plangen.takeoff.goods import Goods, weigh
from plangen.takeoff.model import CuttingDiagram, OffCut, Placed, SawCut, StockPlan
from plangen.takeoff.plan_words import allowance_words, banding_words, bound_words, measure_note
from plangen.takeoff.practice import SQUARE_FOOT, Practice
from plangen.takeoff.spares import spare_words
from plangen.takeoff.wanted import Wanted, blank_words, finished_pieces
from plangen.units import ZERO, Length, LengthStyle, Phrase, millimetres, phrase


def stock_plan(
    design: Design,
    stock: Stock,
    plan: Plan,
    goods: Sequence[Goods],
    pieces: Sequence[Wanted],
    unit: int,
    rules: Practice,
    currency: str | None,
) -> StockPlan:
    """Give the diagrams of a cutting plan with what they measure and cost.

    Panels of the plan are named by the place of their size among the goods; ``unit`` is how many small units
    make a millimetre.
    """
    by_name = {piece.name: piece for piece in pieces}
    layouts = sorted(plan.layouts, key=_sawing_order)
    taken = [goods[int(layout.panel.name)] for layout in layouts]
    bought = [one for one in taken if one.have is None]
    diagrams = tuple(
        _diagram(stock, number, layout, one, by_name, unit, rules)
        for number, (layout, one) in enumerate(zip(layouts, taken, strict=True), start=1)
    )
    solid = stock.kind == "solid"
    gross = net = area = None
    finished = finished_pieces(design, pieces, stock, rules)
    if solid:
        gross = sum(
            (board_feet(stock.label_thickness, one.nominal_width, one.length) for one in bought), Fraction(0)
        )
        net = sum(
            (
                board_feet(stock.label_thickness, one.net_width, one.net_length, one.number)
                for one in finished
            ),
            Fraction(0),
        )
    else:
        area = sum((one.length.mm * one.width.mm for one in bought), Fraction(0)) / SQUARE_FOOT
    spare = _spare_width(diagrams, {one.part.key: one for one in pieces}, rules) if solid else ZERO
    measure, _ = weigh(stock, goods)
    words = bound_words(plan, stock, unit, measure, currency, len(goods))
    own = [one for one in pieces if one.own_allowance and not one.spare]
    if own:
        usual = (rules.over_length, spare) if len(own) < len(pieces) else None
        words += allowance_words(own, usual)
    elif solid and spare < rules.over_width:
        words += phrase(
            " Pieces are drawn ", rules.over_width, " too wide, but for those as wide as their board."
        )
    words += (
        banding_words(pieces)
        + spare_words(pieces)
        + blank_words(design, pieces)
        + _defect_words(stock, diagrams)
    )
    net_volume = sum((one.volume for one in finished), Fraction(0)) if solid else Fraction(0)
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
        cost=_cost(taken, currency),
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

    def along(count: int) -> Length:
        """What defects may take is no part of the panel that was planned, but of the board that is sawn."""
        return goods.length if count == layout.panel.length else size(count)

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
        SawCut(
            index,
            cut.along,
            size(cut.at),
            size(cut.low),
            along(cut.high) if cut.along == "x" else size(cut.high),
            size(cut.position),
            cut.by,
        )
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
        bought=goods.have is None,
        unsound=goods.length - size(layout.panel.length),
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


def _cost(taken: Sequence[Goods], currency: str | None) -> Money | None:
    """Add up what boards and sheets cost; None where one of them has no price in the currency."""
    costs = [one.cost for one in taken if one.cost is not None]
    if currency is None or len(costs) < len(taken):
        return None
    return Money(sum(costs, Fraction(0)), currency)


def _defect_words(stock: Stock, diagrams: Sequence[CuttingDiagram]) -> Phrase:
    """Say what is left out of every board for defects, on the longest as an example."""
    if not stock.defects or stock.kind != "solid":
        return Phrase()
    longest = max(diagrams, key=lambda diagram: diagram.length)
    percent = f"{float(stock.defects * 100):g}"
    return phrase(
        f" Of the length of every board {percent} % is left for knots, checks and sapwood, "
        "hatched at its right end: of ",
        longest.length,
        ", ",
        longest.unsound,
        ". Where they lie in the middle, shift the pieces along the board around them.",
    )
