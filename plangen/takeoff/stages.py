"""What to mill now, what to cut now, what to cut later: one set of pieces, listed as the shop comes to it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from plangen.design.gluing_order import comes_dressed
from plangen.design.model import Blank, Design, FromWork, GlueUp, Part, Stock
from plangen.findings import Findings
from plangen.takeoff.banding import banding_length, before_banding
from plangen.takeoff.cut_list import WorkOrder, measuring_steps
from plangen.takeoff.model import Stage, StagedLine, StockPlan
from plangen.takeoff.practice import Practice, practice
from plangen.takeoff.shop_order import in_shop_order
from plangen.takeoff.spares import with_spares
from plangen.takeoff.wanted import Wanted, held_words, pieces_wanted, wanted
from plangen.units import ZERO, Length, LengthStyle, Phrase, phrase


def stages(design: Design, order: WorkOrder | None, plans: Sequence[StockPlan]) -> tuple[Stage, ...]:
    """Give the lists ``mill``, ``cut`` and ``later``; a list of nothing is left out.

    Milled is solid wood, to rough sizes: the very pieces that the cutting diagrams show. Cut now are all
    parts, to their finished sizes or, where a size is read from the work, as much over as the file says.
    Cut later are those sizes. In each list the lines of one stock stand together, thick before thin, wide
    before narrow, long before short.
    """
    rules = practice(design)
    steps = measuring_steps(order)
    drawn = _drawn_widths(plans)
    milled = [line for stock in _solid(design) for line in _mill_lines(design, stock, rules, drawn)]
    cut = [line for part in design.parts for line in _cut_lines(design, part)]
    later = [_later_line(design, part, steps) for part in design.parts if part.from_work]
    made = (
        Stage("mill", "Mill now", _mill_words(design, milled, rules), in_shop_order(design, milled)),
        Stage("cut", "Cut now", _cut_words(design, cut), in_shop_order(design, cut)),
        Stage("later", "Cut later, from the work", _later_words(), in_shop_order(design, later)),
    )
    return tuple(stage for stage in made if stage.lines)


def report_thin_stock(design: Design, findings: Findings) -> None:
    """Warn of parts that leave less of their rough stock to plane than the shop's rule asks for."""
    wish = design.shop.rough.thickness
    if wish is None:
        return
    style, rules = LengthStyle(design.project.units), practice(design)
    for part in design.parts:
        stock = design.stock[part.stock]
        if stock.kind != "solid" or comes_dressed(stock):
            continue
        left = stock.label_thickness - wanted(part, stock, rules).net_thickness
        if ZERO <= left < wish:
            words = phrase(
                f"{part.name} leaves ", left, f" of {stock.name} to plane, and the shop wants ", wish
            )
            findings.warning(
                "little-to-plane",
                words.text(style),
                part.place,
                "take thicker stock, or make sure that the boards are flat",
                ((stock.place, "the stock"),),
                part.key,
            )


def pieces_of(design: Design, stock: Stock, rules: Practice) -> tuple[Wanted, ...]:
    """Give the pieces that come out of one stock, those of solid wood with the shop's spare blanks."""
    pieces = tuple(pieces_wanted(design, stock, rules))
    return with_spares(pieces, design.shop.spare) if stock.kind == "solid" else pieces


def _solid(design: Design) -> list[Stock]:
    used = {part.stock for part in design.parts}
    return [stock for stock in design.stock.values() if stock.kind == "solid" and stock.name in used]


def _drawn_widths(plans: Sequence[StockPlan]) -> Mapping[tuple[str, str], frozenset[Length]]:
    """Give how wide the pieces are drawn on the cutting diagrams, by part and mark."""
    found: dict[tuple[str, str], set[Length]] = {}
    for piece in (piece for plan in plans for diagram in plan.diagrams for piece in diagram.pieces):
        found.setdefault((piece.part, piece.mark), set()).add(piece.width)
    return {key: frozenset(widths) for key, widths in found.items()}


def _mill_lines(
    design: Design, stock: Stock, rules: Practice, drawn: Mapping[tuple[str, str], frozenset[Length]]
) -> Iterator[StagedLine]:
    for piece in pieces_of(design, stock, rules):
        part, notes = piece.part, list[Phrase]()
        widths = drawn.get((part.key, piece.mark), frozenset())
        # Where a board is as wide as its piece has to be, nothing is ripped off it.
        width = max(widths, default=piece.width)
        if min(widths, default=piece.width) < piece.width:
            all_of_them = "" if len(widths) == 1 else "some of them "
            notes.append(phrase(f"{all_of_them}as wide as the board"))
        if part.glue_up is not None:
            notes.append(phrase(f"{_share(piece)} to glue up"))
        if piece.blank is not None:
            notes.append(_apart(design, piece.blank))
        if piece.spare:
            notes.append(phrase("spare blank"))
        if any(size.leave > ZERO for size in part.from_work):
            notes.append(phrase("holds what is left over until the work is measured"))
        yield StagedLine(
            part=part.key,
            mark=part.mark,
            title=part.title,
            number=piece.number,
            stock=stock.name,
            thickness=piece.net_thickness,
            width=width,
            length=piece.length,
            notes=tuple(notes),
            starred=bool(part.from_work),
            spare=piece.spare,
            rough_thickness=None if comes_dressed(stock) else stock.label_thickness,
        )


def _apart(design: Design, blank: Blank) -> Phrase:
    return phrase(f"one blank for {held_words(design, blank)}, {blank.how}")


def _share(piece: Wanted) -> str:
    """Say how many boards, layers or strips go into each piece."""
    glue_up = piece.part.glue_up
    assert glue_up is not None
    return f"{glue_up.number} {glue_up.kind} for each"


def _cut_lines(design: Design, part: Part) -> Iterator[StagedLine]:
    """Give the line of a part in the list of what is cut now; none where nothing of it is."""
    length, width = before_banding(part)
    late = {size.axis: size for size in part.from_work}
    notes: list[Phrase] = []
    if part.glue_up is not None:
        notes.append(_from_glue_up(part.glue_up))
    blank = next((one for one in design.blanks if part.key in one.parts), None)
    if blank is not None:
        notes.append(phrase(f"sawn out of the blank {blank.name}"))
    if part.shoulder_length != part.length:
        notes.append(phrase(part.shoulder_length, " between shoulders"))
    if banding_length(part) > ZERO:
        notes.append(phrase("before banding"))
    if late and all(size.leave <= ZERO for size in late.values()) and set(late) >= {part.runs, part.wide}:
        return  # both sizes wait for the work
    if any(size.leave <= ZERO for size in late.values()):
        if design.stock[part.stock].kind == "solid":
            return  # it stays as it was milled until then
        notes.append(phrase("leave it on the sheet until the work is measured, or cut it over"))
    else:
        for axis, word in ((part.runs, "length"), (part.wide, "width")):
            if axis in late:
                notes.append(phrase(f"{word} ", late[axis].leave, " over, for now"))
    if part.wide in late:
        width += late[part.wide].leave
    if part.runs in late:
        length += late[part.runs].leave
    yield _part_line(part, length, width, notes)


def _from_glue_up(glue_up: GlueUp) -> Phrase:
    return phrase(f"from {glue_up.number} {glue_up.kind}, glued up")


def _later_line(design: Design, part: Part, steps: Mapping[str, int]) -> StagedLine:
    length, width = before_banding(part)
    step = steps.get(part.key)
    when = f", in step {step}" if step else ""
    return _part_line(part, length, width, [_reading(part, size) + phrase(when) for size in part.from_work])


def _part_line(part: Part, length: Length, width: Length, notes: Sequence[Phrase]) -> StagedLine:
    """Give the line of all copies of a part at the size they get in a stage after milling."""
    return StagedLine(
        part=part.key,
        mark=part.mark,
        title=part.title,
        number=len(part.copies),
        stock=part.stock,
        thickness=part.thickness,
        width=width,
        length=length,
        notes=tuple(notes),
        starred=bool(part.from_work),
    )


def _reading(part: Part, size: FromWork) -> Phrase:
    return phrase(f"{part.side_word(size.axis)}: ", size.formula)


def _mill_words(design: Design, lines: Sequence[StagedLine], rules: Practice) -> Phrase:
    own = any(design.part(line.part).glue_up is not None for line in lines)
    words = phrase(
        "Rough sizes of solid wood: ", rules.over_length, " too long and ", rules.over_width,
        " too wide, so that ends can be squared and edges jointed, rounded up to ", rules.tape, ". ",
    )  # fmt: skip
    if own:
        words += phrase("What is glued up has allowances of its own. ")
    words += phrase("Tenons, tongues and all else that enters a joint are in them.")
    if any(line.rough_thickness is not None for line in lines):
        words += phrase(" Plane to the thickness given; what it is planed from stands beside it.")
    return words


def _cut_words(design: Design, lines: Sequence[StagedLine]) -> Phrase:
    banded = any(banding_length(design.part(line.part)) > ZERO for line in lines)
    before = ", before edge banding" if banded else ""
    star = " A starred size is still over; it is read from the work later." if _any_star(lines) else ""
    return phrase(
        f"Finished sizes{before}, with all that enters a joint; the length runs along the grain.{star}"
    )


def _any_star(lines: Sequence[StagedLine]) -> bool:
    return any(line.starred for line in lines)


def _later_words() -> Phrase:
    return phrase(
        "Do not cut these until you can measure: the sizes here are what the drawing expects, "
        "and what you measure is what counts."
    )
