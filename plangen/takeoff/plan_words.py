"""What a cutting plan says of itself: whether fewer would do, and what its measures count."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from plangen.design.model import Stock
from plangen.handbook.currencies import amount_words, minor_places, payable
from plangen.takeoff.banding import banding_length
from plangen.takeoff.cutting import Plan
from plangen.takeoff.goods import Measure
from plangen.takeoff.model import CuttingDiagram, StockPlan
from plangen.takeoff.practice import CUBIC_METRE, SQUARE_FOOT
from plangen.takeoff.wanted import Wanted
from plangen.units import EachWay, Length, Phrase, millimetres, phrase

_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def counted(number: int, noun: str) -> str:
    """Give a number of things in words where it is small: ``two boards``."""
    word = _COUNTS[number] if number < len(_COUNTS) else str(number)
    return f"{word} {noun}" if number == 1 else f"{word} {noun}s"


def figures(value: Fraction, places: int) -> str:
    """Print a measure to so many places, halves up, so that it reads the same wherever it stands."""
    scaled = int(value * 10**places + Fraction(1, 2))
    return f"{scaled // 10**places}.{scaled % 10**places:0{places}}"


def taken_words(plan: StockPlan) -> Phrase:
    """Say what a cutting plan buys, and what it takes from the rack: ``2 boards, 9.3 board feet``."""
    noun = "board" if plan.board_feet is not None else "sheet"
    number, rack = len(plan.bought), len(plan.diagrams) - len(plan.bought)
    words = phrase(f"{number} {noun}{'' if number == 1 else 's'}")
    if plan.board_feet is not None and number:
        feet = f"{figures(plan.board_feet, 1)} board feet"
        metres = f"{figures(plan.volume / CUBIC_METRE, 3)} m³"
        words += phrase(", ", EachWay(feet, metres))
    return words + phrase(f"; {rack} from the rack") if rack else words


def bound_words(
    plan: Plan, stock: Stock, unit: int, measure: Measure, currency: str | None, sizes: int
) -> Phrase:
    """Say why no plan can use fewer boards or sheets, or by how many this one might be beaten.

    ``unit`` is the number of small units in a millimetre, ``measure`` what the costs of the plan count, and
    ``sizes`` how many sizes there are to choose from: of several the fewest are not the cheapest, so that
    what they come to is told as well.
    """
    noun = "sheet" if stock.kind == "plywood" else "board"
    bound, taken = plan.bound, len(plan.layouts)
    if taken == bound.number == 1:
        words = phrase(f"One {noun} holds every piece.")
    elif sizes > 1 and taken > bound.number:
        words = phrase(f"This plan takes {counted(taken, noun)}.")  # of smaller ones more may well be less
    elif bound.number == 1:
        words = phrase(
            f"The area alone would ask for only one {noun}; this plan takes {counted(taken, noun)}."
        )
    else:
        reason = _reason(plan, noun, unit)
        if stock.random_widths:
            first, *rest = reason.pieces
            reason = Phrase((f"Of boards as wide as shown: {str(first)[0].lower()}{str(first)[1:]}", *rest))
        if taken == bound.number:
            words = phrase(reason, ": no plan can use fewer.")
        else:
            least, over = counted(bound.number, noun), counted(taken - bound.number, noun)
            words = phrase(
                reason,
                f", so no plan takes fewer than {least}; this plan takes {counted(taken, noun)} "
                f"and might be beaten by {over} at most.",
            )
    return words if sizes == 1 else words + _amounts(plan, noun, measure, currency)


def _amounts(plan: Plan, noun: str, measure: Measure, currency: str | None) -> Phrase:
    """Say what the boards or sheets of a plan come to, and by how much another plan might do with less."""
    if plan.proved:
        less = {"money": "costs less", "number": "takes fewer"}.get(measure, "takes less")
        return phrase(f" Of the sizes to be had no plan {less}.")
    if measure == "money" and currency is not None:
        unit = 10 ** minor_places(currency)
        cost = payable(plan.cost, currency)
        least = Fraction(plan.least_cost * unit // 1, unit)
        paid, under, over = (
            f"{amount_words(value, currency)} {currency}" for value in (cost, least, cost - least)
        )
        return phrase(f" It costs {paid}; none can cost less than {under}, so it might be beaten by {over}.")
    thousandths = -(-1000 * (plan.cost - plan.least_cost) // plan.cost)
    share = f"{thousandths // 10}.{thousandths % 10} %"
    another = f" Another choice of {noun}s might do with "
    if measure == "board feet":
        taken, under = _told_apart(plan.cost, plan.least_cost)
        over = figures(Fraction(taken) - Fraction(under), max(1, len(under.partition(".")[2])))
        return phrase(another, EachWay(f"{over} board feet", share), " less, at most.")
    return phrase(f"{another}{share} less, at most.")


def _told_apart(cost: Fraction, least: Fraction) -> tuple[str, str]:
    """Print two sizes with as many places as it takes to tell them apart, the lower one never above it."""
    for places in range(1, 7):
        under = Fraction(least * 10**places // 1, 10**places)
        printed = figures(cost, places), figures(under, places)
        if printed[0] != printed[1]:
            break
    return printed


def allowance_words(pieces: Sequence[Wanted], usual: tuple[Length, Length] | None) -> Phrase:
    """Say by how much the boards of each glue-up are drawn too long and too wide.

    ``usual`` is by how much all others are; None where there are no others.
    """
    words = Phrase()
    for piece in pieces:
        long, wide = piece.length - piece.net_length, piece.width - piece.net_width
        glue_up = piece.part.glue_up
        what, end = glue_up.kind if glue_up else "pieces", phrase(".")
        if glue_up is not None and glue_up.kind == "boards" and glue_up.sections:
            # Counted from the width that the step says: what the piece loses later is trimmed off it whole.
            wide = piece.width - glue_up.sections[0].board_width
            end = phrase(" before their edges are jointed.") if wide else end
        words += phrase(f" The {what} of {piece.part.mark} are drawn ") + _over(long, wide) + end
    if usual is not None:
        words += phrase(" All other pieces are drawn ") + _over(*usual) + phrase(".")
    return words + phrase(" They are trimmed to the finished size later.")


def banding_words(pieces: Sequence[Wanted]) -> Phrase:
    """Say which pieces are drawn smaller than the cut list has them: those that are banded later."""
    marks = list(dict.fromkeys(one.part.mark for one in pieces if banding_length(one.part)))
    if not marks:
        return Phrase()
    named = marks[0] if len(marks) == 1 else f"{', '.join(marks[:-1])} and {marks[-1]}"
    size = "is drawn at the size it is" if len(marks) == 1 else "are drawn at the sizes they are"
    return phrase(f" {named} {size} cut to before edge banding.")


def _over(long: Length, wide: Length) -> Phrase:
    both = [phrase(over, f" too {what}") for over, what in ((long, "long"), (wide, "wide")) if over]
    if len(both) == 2:
        return both[0] + phrase(" and ") + both[1]
    return both[0] if both else phrase("at their finished size")


def _reason(plan: Plan, noun: str, unit: int) -> Phrase:
    bound = plan.bound
    fewer = bound.number - 1
    have = bound.have * fewer

    def size(count: int) -> Length:
        return millimetres(Fraction(count, unit))

    gives = "gives" if fewer == 1 else "give"
    if bound.reason in ("lengths", "widths"):
        side, word = ("side by side", "lengths") if bound.reason == "lengths" else ("end to end", "widths")
        whole = bound.pieces == sum(len(layout.pieces) for layout in plan.layouts)
        some = f"No two pieces fit {side}" if whole else f"{bound.pieces} of the pieces never fit {side}"
        return phrase(
            f"{some}, so their {word} add up: with a saw cut each they come to ",
            size(bound.need), f", and {counted(fewer, noun)} {gives} only ", size(have),
        )  # fmt: skip
    if bound.reason == "pairs":
        return phrase(f"No two of {bound.need} large pieces come out of the same {noun}")
    if bound.reason == "area":
        need, given = _areas(Fraction(bound.need, unit**2), Fraction(have, unit**2))
        return phrase(
            "With a saw cut each the pieces cover ",
            need,
            f", and {counted(fewer, noun)} {gives} only ",
            given,
        )
    if bound.reason == "patterns":
        return phrase(
            f"Every way to fill a {noun} was weighed, and {counted(fewer, noun)} cannot hold everything"
        )
    return phrase(f"The large pieces leave no room for the rest on {counted(fewer, noun)}")


def _areas(need: Fraction, have: Fraction) -> tuple[EachWay, EachWay]:
    """Say two areas in mm2 with as many places as it takes to tell them apart."""

    def texts(per: Fraction, word: str) -> list[str]:
        printed: list[str] = []
        for places in range(1, 7):
            printed = [f"{figures(area / per, places)} {word}" for area in (need, have)]
            if printed[0] != printed[1]:
                break
        return printed

    inch, metric = texts(SQUARE_FOOT, "square feet"), texts(Fraction(10**6), "m²")
    return EachWay(inch[0], metric[0]), EachWay(inch[1], metric[1])


def measure_note(
    stock: Stock,
    diagrams: Sequence[CuttingDiagram],
    gross: Fraction | None,
    net: Fraction | None,
    nominal: bool,
    volumes: tuple[Fraction, Fraction],
) -> Phrase:
    """Say what board feet or cubic metres count, and how much of what is bought becomes waste.

    ``volumes`` are mm3 bought at the nominal thickness, and mm3 in the finished parts.
    """
    area = sum((diagram.length.mm * diagram.width.mm for diagram in diagrams), Fraction(0))
    used = sum((diagram.used * diagram.length.mm * diagram.width.mm for diagram in diagrams), Fraction(0))
    waste = round(100 * (1 - used / area)) if area else 0
    if gross is None or net is None:
        return phrase(
            f"Of what is bought {waste} % goes into trimmed edges, saw cuts and off-cuts; "
            "nothing is added for mistakes."
        )
    taken = "bought" if all(one.bought for one in diagrams) else "taken"
    left = phrase(
        f" Of the wood {taken} {waste} % goes into ends, saw cuts, what is cut over, and off-cuts; "
        "nothing is " + ("added for mistakes." if stock.defects else "added for knots or mistakes.")
    )
    widths = "the nominal width" if nominal else "the width of the boards"
    bought, finished = (figures(volume / CUBIC_METRE, 3) for volume in volumes)
    return (
        phrase(
            EachWay(f"Board feet count {widths} and the nominal thickness, ", "At the nominal thickness of "),
            stock.label_thickness,
            EachWay(
                f" (under 1 in counts as 1 in): {figures(gross, 1)} to buy, "
                f"{figures(net, 1)} in the finished parts.",
                f": {bought} m³ to buy; {finished} m³ in the finished parts, at their own thickness.",
            ),
        )
        + left
    )
