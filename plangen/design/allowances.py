"""What the shop cuts over, and how it saws sheets: the maker's rules, checked."""

from __future__ import annotations

from dataclasses import fields
from typing import Literal, TypeAlias

from plangen.description.model import ShopEntry
from plangen.design.model import Allowances
from plangen.design.values import fault, in_words
from plangen.expressions import Scope
from plangen.units import Length

Aim: TypeAlias = Literal["stock", "settings", "off-cut"]
AIMS: tuple[Aim, ...] = ("stock", "settings", "off-cut")
_KEYS = {"end": "ends", "sheet_edge": "sheet_edges", "tape": "round_up_to"}


def allowances(entry: ShopEntry, scope: Scope) -> Allowances:
    """Give what is typed under ``rough``. Raises ProjectError ``zero-size`` for a rule that is below zero."""
    rough = entry.rough
    if rough is None:
        return Allowances()
    typed: dict[str, Length] = {}
    for name in (one.name for one in fields(Allowances)):
        key = _KEYS.get(name, name)
        value = getattr(rough, key)
        if value is None:
            continue
        length = typed[name] = value.length(scope)
        least_is_zero = name != "tape"
        if length.mm < 0 or (length.mm == 0 and not least_is_zero):
            word = key.replace("_", " ")
            remedy = "give zero or more" if least_is_zero else "give the step of your tape, such as `1/16in`"
            raise fault("zero-size", f"the rough {word} is below what can be", rough.place_of(word), remedy)
    return Allowances(**typed)


def saw_bench(entry: ShopEntry, scope: Scope) -> tuple[Length, Length] | None:
    """Give the longer and the shorter side of the largest piece that goes over the saw bench."""
    if entry.saw_bench is None:
        return None
    sides = (entry.saw_bench.width.length(scope), entry.saw_bench.length.length(scope))
    if min(sides).mm <= 0:
        raise fault(
            "zero-size",
            "the saw bench takes nothing",
            entry.place_of("saw bench"),
            "give two sizes above zero",
        )
    return max(sides), min(sides)


def rail(entry: ShopEntry, scope: Scope) -> Length | None:
    """Give the longest cut that a hand-held saw makes along a rail. Raises ProjectError."""
    length = entry.rail.length(scope) if entry.rail is not None else None
    if length is None:
        return None
    if entry.saw_bench is None:
        raise fault(
            "rail-alone",
            f"every sheet goes over the saw bench, and the rail of {in_words(length, scope.units)} lies idle",
            entry.place_of("rail"),
            "say beside it what the bench takes, such as `saw bench: 30in x 60in`, or take the rail out",
        )
    if length.mm <= 0:
        raise fault("zero-size", "the rail has no length", entry.place_of("rail"), "give what it measures")
    return length


def aims(entry: ShopEntry) -> tuple[Aim, ...]:
    """Give what counts among cutting plans, first things first; the others follow in the usual order."""
    typed = list(entry.prefer)
    twice = next((aim for aim in typed if typed.count(aim) > 1), None)
    if twice is not None:
        raise fault(
            "twice",
            f"`{twice}` is preferred twice",
            entry.place_of("prefer"),
            "name each of them once at most",
        )
    return (*typed, *(aim for aim in AIMS if aim not in typed))
