"""What a cutting plan says of itself: whether fewer would do, and what its measures count."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Literal

from plangen.design.model import Stock
from plangen.takeoff.cutting import Plan
from plangen.takeoff.model import CuttingDiagram
from plangen.takeoff.practice import SQUARE_FOOT
from plangen.units import Length, Phrase, millimetres, phrase

_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def counted(number: int, noun: str) -> str:
    """Give a number of things in words where it is small: ``two boards``."""
    word = _COUNTS[number] if number < len(_COUNTS) else str(number)
    return f"{word} {noun}" if number == 1 else f"{word} {noun}s"


def bound_words(plan: Plan, stock: Stock, unit: int, units: Literal["inch", "mm"]) -> Phrase:
    """Give one sentence that says why no plan can use fewer boards or sheets than the bound.

    ``unit`` is the number of small units in a millimetre. Where the plan takes more than the bound the
    sentence says both numbers.
    """
    noun = "sheet" if stock.kind == "plywood" else "board"
    bound, taken = plan.bound, len(plan.layouts)
    if taken == bound.number == 1:
        return phrase(f"One {noun} holds every piece.")
    reason = _reason(plan, noun, unit, units)
    if stock.random_widths:
        first, *rest = reason.pieces
        reason = Phrase((f"Of boards as wide as shown: {str(first)[0].lower()}{str(first)[1:]}", *rest))
    if taken == bound.number:
        return phrase(reason, ".")
    tail = f"; this plan takes {counted(taken, noun)}"
    if noun == "board" and stock.price_per in (None, "board foot") and units == "inch":
        tail += (
            f", {float(plan.cost):.1f} board feet, and none can do with less than {_under(plan.least_cost)}"
        )
    if bound.number == 1:
        return phrase(f"The area alone would ask for only one {noun}{tail}.")
    return phrase(reason, f", so no plan takes fewer than {counted(bound.number, noun)}{tail}.")


def _under(value: Fraction) -> str:
    """Print a number to a tenth, never above it."""
    return f"{float(Fraction(value * 10 // 1, 10)):.1f}"


def _reason(plan: Plan, noun: str, unit: int, units: Literal["inch", "mm"]) -> Phrase:
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
        need, given = _areas(Fraction(bound.need, unit**2), Fraction(have, unit**2), units)
        return phrase(
            f"With a saw cut each the pieces cover {need}, and {counted(fewer, noun)} {gives} only {given}"
        )
    return phrase(f"The large pieces leave no room for the rest on {counted(fewer, noun)}")


def _areas(need: Fraction, have: Fraction, units: Literal["inch", "mm"]) -> tuple[str, str]:
    """Print two areas in mm2 with as many places as it takes to tell them apart."""
    per, word = (SQUARE_FOOT, "square feet") if units == "inch" else (Fraction(10**6), "m²")
    for places in range(1, 7):
        texts = [f"{float(area / per):.{places}f}" for area in (need, have)]
        if texts[0] != texts[1]:
            break
    return f"{texts[0]} {word}", f"{texts[1]} {word}"


def measure_note(
    stock: Stock,
    diagrams: Sequence[CuttingDiagram],
    gross: Fraction | None,
    net: Fraction | None,
    nominal: bool,
    units: Literal["inch", "mm"],
) -> Phrase:
    """Say what the board feet (or sheets) count, and how much of what is bought becomes waste."""
    area = sum((diagram.length.mm * diagram.width.mm for diagram in diagrams), Fraction(0))
    used = sum((diagram.used * diagram.length.mm * diagram.width.mm for diagram in diagrams), Fraction(0))
    waste = round(100 * (1 - used / area)) if area else 0
    if gross is None or net is None:
        return phrase(
            f"Of what is bought {waste} % goes into trimmed edges, saw cuts and off-cuts; "
            "nothing is added for mistakes."
        )
    left = (
        f"Of the wood bought {waste} % goes into ends, saw cuts, what is cut over, and off-cuts; "
        "nothing is added for knots or mistakes."
    )
    if units == "mm":
        thick = stock.label_thickness.mm / 10**9
        bought = thick * area
        return phrase(
            "At the nominal thickness of ", stock.label_thickness,
            f": {float(bought):.3f} m³ to buy, {float(thick * used):.3f} m³ in the finished parts. {left}",
        )  # fmt: skip
    widths = "the nominal width" if nominal else "the width of the boards"
    return phrase(
        f"Board feet count {widths} and the nominal thickness, ", stock.label_thickness,
        f" (under 1 in counts as 1 in): {float(gross):.1f} to buy, {float(net):.1f} in the finished parts. ",
        left,
    )  # fmt: skip
