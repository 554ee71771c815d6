"""Pieces glued up from boards, layers or strips: how many, how wide before and after, in which sections."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.description.model import GlueUpEntry, PartEntry
from plangen.design.allowances import allowances
from plangen.design.frame import Frame
from plangen.design.gluing_number import best_number, widest
from plangen.design.gluing_order import (
    MOST,
    GlueOrder,
    Over,
    Size,
    comes_dressed,
    counted,
    jointed_width,
    rough_width,
    rounded_up,
    shared_out,
)
from plangen.design.gluing_words import board_sentences, layer_sentences, strip_sentences
from plangen.design.model import GlueUp, Section, Stock
from plangen.design.values import Values, fault
from plangen.expressions import Expression
from plangen.findings import ProjectError
from plangen.units import ZERO, Length


def glue_up(entry: PartEntry, part: str, size: Size, frame: Frame) -> GlueUp | None:
    """Work out how a part is glued up; None where it is not, or where `best` finds one board enough.

    What cannot be is added to the findings of the frame, and gives None: the errors ``glue-up``, and
    ``bad-value`` for an allowance below zero.
    """
    if entry.glue_up is None:
        return None
    try:
        return _worked_out(entry.glue_up, part, size, frame.stock[str(entry.stock)], frame.values)
    except ProjectError as error:
        # The two hands of a pair have one entry, and its fault is told once.
        frame.findings.extend(one for one in error.findings if one not in frame.findings.items)
        return None


def _worked_out(made: GlueUpEntry, part: str, size: Size, stock: Stock, scope: Values) -> GlueUp | None:
    typed = [key for key in ("boards", "layers", "strips") if getattr(made, key) is not None]
    if len(typed) > 1:
        raise fault(
            "glue-up",
            f"`{part}` is glued up from {' and from '.join(typed)}",
            made.place_of(typed[1]),
            "write one of `boards`, `layers` and `strips`",
            part,
        )
    typed_planer = scope.description.shop.planer
    planer = typed_planer.length(scope) if typed_planer is not None else None
    order = GlueOrder(
        made,
        part,
        size,
        stock,
        planer,
        _typed_over(made, part, scope),
        scope.units,
        allowances(scope.description.shop, scope),
    )
    if made.strip is not None and made.strips is None:
        raise fault(
            "glue-up",
            f"`{part}` has a strip and no number of strips",
            made.place_of("strip"),
            "say how many: `strips: 14`",
            part,
        )
    if made.layers is not None:
        return _layers(order, made.layers)
    if made.strips is not None:
        return _strips(order, made.strips, scope)
    return _boards(order)


def _typed_over(made: GlueUpEntry, part: str, scope: Values) -> Over:
    allowance = made.allowance
    if allowance is None:
        return Over(None, None, None)

    def worth(key: str) -> Length | None:
        typed: Expression | None = getattr(allowance, key)
        if typed is None:
            return None
        length = typed.length(scope)
        if length < ZERO:
            raise fault(
                "bad-value",
                f"`{part}` is glued up smaller than it is in the end",
                allowance.place_of(key),
                "give how much over to leave until it is trimmed",
                part,
            )
        return length

    return Over(worth("length"), worth("width"), worth("thickness"))


def _rough_length(order: GlueOrder) -> Length | None:
    if order.over.length is None:
        return None
    return rounded_up(order.size.length + order.over.length, order.rules.tape)


def _boards(order: GlueOrder) -> GlueUp | None:
    made, size, rules = order.made, order.size, order.rules
    if order.stock.kind == "plywood":
        raise fault(
            "glue-up",
            f"`{order.part}` is of plywood, whose edges do not hold glue as boards' do",
            made.place_of("boards"),
            "take solid stock, or glue `layers` face to face",
            order.part,
        )
    number_of_sections = counted(order, "sections", made.sections, 1) if made.sections is not None else 1
    usual = rules.section * number_of_sections if number_of_sections > 1 else ZERO
    whole = size.width + (order.over.width if order.over.width is not None else usual)
    if made.boards is None or str(made.boards) == "best":
        if number_of_sections == 1 and order.over.width is None and _one_board_does(order):
            return None
        number = _best(order, whole, number_of_sections)
    else:
        number = _typed_number(order)
        if number < number_of_sections:
            raise fault(
                "glue-up",
                f"{number} boards do not make {number_of_sections} sections",
                made.place_of("sections"),
                f"give {number_of_sections} boards or more, or fewer sections",
                order.part,
            )
    each, over = jointed_width(order, whole, number), order.over.thickness
    if over is None:
        over = _left_to_plane(order) if number_of_sections > 1 else ZERO
    _report_boards(order, number, each)
    sections = shared_out(number, number_of_sections, each, rough_width(order, each))
    _report_sections(order, sections, number, each)
    if size.thickness + over > order.stock.label_thickness:
        raise fault(
            "glue-up",
            f"the boards of `{order.part}` would be {order.says(size.thickness + over)} thick until they are "
            f"glued, and `{order.stock.name}` is {order.says(order.stock.label_thickness)} as bought",
            made.place_of("allowance"),
            "leave less over the thickness, or take thicker stock",
            order.part,
        )
    made_up = GlueUp(
        "boards",
        number,
        size.width / number,
        order.stock.thickness,
        sections,
        order.over.length or ZERO,
        each * number - size.width,
        over,
        _rough_length(order),
        rough_width(order, each),
        grain=made.grain,
    )
    return board_sentences(made_up, size.length, size.width, size.thickness, order.planer)


def _left_to_plane(order: GlueOrder) -> Length:
    """Give what the boards of a section are left over their thickness: nothing where they come dressed."""
    stock = order.stock
    if stock.label_thickness > stock.thickness and comes_dressed(stock):
        return ZERO
    return max(ZERO, min(order.rules.planing, stock.label_thickness - order.size.thickness))


def _typed_number(order: GlueOrder) -> int:
    typed = order.made.boards
    if not str(typed).isdecimal() or not 1 <= int(str(typed)) <= MOST:
        raise fault(
            "glue-up",
            f"`{typed}` is no number of boards",
            order.made.place_of("boards"),
            "write a number such as `3`, or `best`",
            order.part,
        )
    return int(str(typed))


def _one_board_does(order: GlueOrder) -> bool:
    return order.size.width <= widest(order)


def _best(order: GlueOrder, whole: Length, sections: int) -> int:
    number = best_number(order, whole, sections)
    if number is not None:
        return number
    raise fault(
        "glue-up",
        f"`{order.part}` is {order.says(order.size.width)} wide, and no boards of `{order.stock.name}` make "
        f"it in {sections} section{'' if sections == 1 else 's'}",
        order.made.place_of("sections" if sections > 1 else "boards"),
        "make more sections, or list wider boards",
        order.part,
    )


def _report_boards(order: GlueOrder, number: int, each: Length) -> None:
    """Refuse boards that the planer does not take, and boards narrower than they are thick."""
    rough = rough_width(order, each)
    if number > 1 and order.planer is not None and rough > order.planer:
        enough = next(
            (n for n in range(2, MOST + 1) if rough_width(order, each * number / n) <= widest(order)), MOST
        )
        raise fault(
            "glue-up",
            f"each board of `{order.part}` is {order.says(rough)} wide as it is ripped, "
            f"and the planer takes {order.says(order.planer)}",
            order.made.place_of("boards"),
            f"glue it up from {enough} boards, or write `boards: best`",
            order.part,
        )
    if each < order.size.thickness:
        raise fault(
            "glue-up",
            f"each of {number} boards of `{order.part}` would be {order.says(each)} wide and "
            f"{order.says(order.size.thickness)} thick",
            order.made.place_of("boards"),
            "glue it up from fewer boards, or from `strips` on edge",
            order.part,
        )


def _report_sections(order: GlueOrder, sections: Sequence[Section], number: int, each: Length) -> None:
    """Refuse sections that the planer does not take; one alone is no section, and may be planed by hand."""
    largest = max(section.width for section in sections)
    if len(sections) == 1 or order.planer is None or largest <= order.planer:
        return
    fits = [k for k in range(2, number + 1) if each * -(-number // k) <= order.planer]
    raise fault(
        "glue-up",
        f"a section of `{order.part}` is {order.says(largest)} wide as it is glued, "
        f"and the planer takes {order.says(order.planer)}",
        order.made.place_of("sections"),
        f"write `sections: {fits[0]}`" if fits else "glue it up from more and narrower boards",
        order.part,
    )


def _layers(order: GlueOrder, layers: int) -> GlueUp:
    made, size, stock = order.made, order.size, order.stock
    number = counted(order, "layers", layers, 2)
    if made.sections is not None:
        raise fault(
            "glue-up",
            f"`{order.part}` is glued up from layers; sections lie side by side",
            made.place_of("sections"),
            "take `sections` out, or write `boards` in place of `layers`",
            order.part,
        )
    over, sum_of_them = order.over.thickness or ZERO, stock.thickness * number
    if sum_of_them != size.thickness + over:
        _refuse_layers(order, number, sum_of_them, over)
    rough = rounded_up(size.width + (order.over.width or ZERO) + order.rules.jointing, order.rules.tape)
    made_up = GlueUp(
        "layers",
        number,
        size.width,
        stock.thickness,
        (),
        order.over.length or ZERO,
        order.over.width or ZERO,
        over,
        _rough_length(order),
        rough,
        grain=made.grain,
    )
    return layer_sentences(made_up, size.length, size.width, size.thickness)


def _refuse_layers(order: GlueOrder, number: int, made: Length, over: Length) -> None:
    wanted, each = order.size.thickness + over, order.stock.thickness
    fit = -(-wanted.mm // each.mm)
    spare = each * fit - order.size.thickness
    more = "" if fit == number else f"give {fit} layers"
    plane = f"`allowance: {{thickness: {order.says(spare).replace(' ', '')}}}` planes it down"
    exact = each * fit == wanted
    raise fault(
        "glue-up",
        f"{number} layers of {order.says(each)} make {order.says(made)}, and `{order.part}` is "
        f"{order.says(order.size.thickness)} thick" + (f", {order.says(over)} over" if over else ""),
        order.made.place_of("layers"),
        more if exact else " and ".join(words for words in (more, plane) if words),
        order.part,
    )


def _strips(order: GlueOrder, strips: int, scope: Values) -> GlueUp:
    made, size, stock = order.made, order.size, order.stock
    number = counted(order, "strips", strips, 2)
    if made.strip is None:
        raise fault(
            "glue-up",
            f"`{order.part}` does not say what a strip measures",
            made.place_of("strips"),
            "write thickness and width: `strip: 3/4in x 1-3/4in`",
            order.part,
        )
    thick, high = made.strip.width.length(scope), made.strip.length.length(scope)
    over_width, over_thickness = order.over.width or ZERO, order.over.thickness or ZERO
    place = made.place_of("strip")
    if not ZERO < thick <= stock.thickness:
        raise fault(
            "glue-up",
            f"a strip of `{order.part}` is {order.says(thick)} thick, and `{stock.name}` is "
            f"{order.says(stock.thickness)}",
            place,
            "give the thickness first, at most that of the stock, then the width",
            order.part,
        )
    if thick * number != size.width + over_width:
        fit = thick * -(-(size.width + over_width).mm // thick.mm)
        spare = fit - size.width
        raise fault(
            "glue-up",
            f"{number} strips of {order.says(thick)} make {order.says(thick * number)}, and `{order.part}` "
            f"is {order.says(size.width)} wide" + (f", {order.says(over_width)} over" if over_width else ""),
            made.place_of("strips"),
            f"give {fit.mm / thick.mm} strips"
            + (
                f" and `allowance: {{width: {order.says(spare).replace(' ', '')}}}` to trim off"
                if spare != over_width
                else ""
            ),
            order.part,
        )
    if high != size.thickness + over_thickness:
        raise fault(
            "glue-up",
            f"strips {order.says(high)} wide on edge make `{order.part}` {order.says(high)} thick, and it is "
            f"{order.says(size.thickness)}"
            + (f", {order.says(over_thickness)} over" if over_thickness else ""),
            place,
            f"make strips {order.says(size.thickness + over_thickness)} wide, or say under `allowance` how "
            "much `thickness` is planed off",
            order.part,
        )
    count = counted(order, "sections", made.sections, 1) if made.sections is not None else 1
    if count > number:
        raise fault(
            "glue-up",
            f"{number} strips do not make {count} sections",
            made.place_of("sections"),
            "give fewer sections",
            order.part,
        )
    rough = rounded_up(high + order.rules.jointing, order.rules.tape)
    sections = shared_out(number, count, thick, rough)
    _report_sections(order, sections, number, thick)
    made_up = GlueUp(
        "strips",
        number,
        thick,
        high,
        sections,
        order.over.length or ZERO,
        over_width,
        over_thickness,
        _rough_length(order),
        rough,
        grain=made.grain,
    )
    return strip_sentences(made_up, size.length, size.width, size.thickness, order.planer)
