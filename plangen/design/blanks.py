"""Blanks: parts that are milled together as one piece of wood and sawn apart later."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

from plangen.description.model import BlankEntry, Description
from plangen.design.model import Blank, Part, Shop, Stock
from plangen.design.values import fault, in_words, meant
from plangen.findings import Findings, ProjectError
from plangen.units import ZERO, Length

_SAME = {  # what must be equal, so that the parts come off as they lie
    "side by side": ("length", "thickness"),
    "end to end": ("width", "thickness"),
    "stacked": ("length", "width"),
}


def make_blanks(
    description: Description,
    parts: Sequence[Part],
    stock: Mapping[str, Stock],
    shop: Shop,
    findings: Findings,
) -> tuple[Blank, ...]:
    """Give the blanks of the file; every fault of one is in the findings, and the others are given.

    A blank is as large as its parts laid in a row with a saw cut between any two. Allowances are not in it:
    the take-off adds them once, round the whole.
    """
    made: list[Blank] = []
    taken: dict[str, str] = {}
    for name, entry in description.blanks.items():
        try:
            blank = _blank(str(name), entry, parts, stock, shop, taken, description.project.units)
        except ProjectError as error:
            findings.extend(error.findings)
            continue
        taken |= dict.fromkeys(blank.parts, blank.name)
        made.append(blank)
    return tuple(made)


def _blank(
    name: str,
    entry: BlankEntry,
    parts: Sequence[Part],
    stock: Mapping[str, Stock],
    shop: Shop,
    taken: dict[str, str],
    units: Literal["inch", "mm"],
) -> Blank:
    held = _held(entry, parts, taken)
    first, place = held[0], entry.place_of("parts")
    other = next((part for part in held if part.stock != first.stock), None)
    if other is not None:
        raise fault(
            "blank",
            f"{first.name} is of {first.stock}, and {other.name} is of {other.stock}: no blank gives both",
            place,
            "put parts of one stock into a blank",
        )
    for side in _SAME[entry.how]:
        sizes = {part.key: getattr(part, side) for part in held}
        other = next((part for part in held if sizes[part.key] != sizes[first.key]), None)
        if other is not None:
            one, two = (in_words(sizes[part.key], units) for part in (first, other))
            raise fault(
                "blank",
                f"the {side} of {first.name} is {one}, that of {other.name} is {two}: {entry.how} they make "
                "no straight blank",
                place,
                f"give them one {side}, lay them another way, or put them into blanks of their own",
            )
    number = 1 if entry.number is None else int(entry.number)
    each = []
    for part in held:
        if number < 1 or len(part.copies) % number:
            pieces, verb = (
                ("1 piece", "does") if len(part.copies) == 1 else (f"{len(part.copies)} pieces", "do")
            )
            raise fault(
                "blank",
                f"{pieces} of {part.name} {verb} not share out into {number} blanks",
                entry.place_of("number"),
                "give a number that divides the pieces of every part",
            )
        each.append(len(part.copies) // number)
    row = [part for part, count in zip(held, each, strict=True) for _ in range(count)]
    length, width, thickness = first.length, first.width, first.thickness
    if entry.how == "end to end":
        length = _in_a_row([part.length for part in row], shop.kerf)
    elif entry.how == "side by side":
        width = _in_a_row([part.width for part in row], shop.kerf)
    else:
        thickness = _in_a_row([part.thickness for part in row], shop.kerf)
    if entry.how == "stacked" and thickness > stock[first.stock].thickness:
        need, have = (in_words(one, units) for one in (thickness, stock[first.stock].thickness))
        raise fault(
            "blank",
            f"stacked they come to {need} with a saw cut between them, and {first.stock} is {have} thick",
            place,
            "give the parts thicker stock, or share them out into more blanks",
            also=((stock[first.stock].place, "the stock"),),
        )
    return Blank(
        name,
        str(entry.title or name.capitalize()),
        first.stock,
        entry.how,
        number,
        tuple(part.key for part in held),
        tuple(each),
        length,
        width,
        thickness,
        place,
    )


def _held(entry: BlankEntry, parts: Sequence[Part], taken: dict[str, str]) -> list[Part]:
    held: list[Part] = []
    for word in entry.parts:
        found = [part for part in parts if part.name == str(word)]
        if not found:
            known = list(dict.fromkeys(part.name for part in parts))
            raise fault(
                "undefined-name",
                f"no part is called `{word}`",
                word.place,
                meant(str(word), known, "name one of the parts"),
            )
        for part in found:
            if part in held:
                raise fault(
                    "twice",
                    f"{part.name} is typed twice",
                    word.place,
                    "name it once: a blank holds all its pieces, or as many of them as `number` shares out",
                )
            if part.key in taken:
                raise fault(
                    "blank",
                    f"{part.name} is in the blank {taken[part.key]} already",
                    word.place,
                    "put each part into one blank",
                )
            if part.glue_up is not None or part.from_work:
                why = "is glued up" if part.glue_up is not None else "waits for a size from the work"
                raise fault(
                    "blank",
                    f"{part.name} {why}, and cannot be sawn out of a blank",
                    word.place,
                    "take it out of the blank",
                )
        held += found
    return held


def _in_a_row(sizes: Sequence[Length], kerf: Length) -> Length:
    return sum(sizes, ZERO) + kerf * (len(sizes) - 1)
