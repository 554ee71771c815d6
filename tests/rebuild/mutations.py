"""Spoil a sheet: a figure that is printed wrong, one that is left out, two that are confused."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from tests.rebuild.figures import FIGURE, System, plain
from tests.rebuild.written import Said, Sheet


def figures_of(group: Said) -> Iterator[tuple[int, int]]:
    """Give the place of every length in a group: the number of its text, and where it begins there."""
    for number, text in enumerate(group.texts):
        counted = re.match(r"\d+ (?:×|holes?)(?: |$)", plain(text))
        start = counted.end() if counted and number == 0 else 0
        for found in re.finditer(FIGURE, plain(text)[start:]):
            after = plain(text)[start + found.end() :]
            if not after.startswith(("°", ":")) and not plain(text)[: start + found.start()].endswith(":"):
                yield number, start + found.start()


def misprinted(sheet: Sheet, key: str, at: tuple[int, int], steps: int, system: System) -> Sheet:
    """Move one printed length by some rounding steps; a row's whole keeps adding up."""
    group = sheet.called(key)
    text = plain(group.texts[at[0]])
    found = re.compile(FIGURE).match(text, at[1])
    assert found is not None, text
    wrong = text[: found.start()] + moved(found[0], steps, system) + text[found.end() :]
    texts = (*group.texts[: at[0]], wrong, *group.texts[at[0] + 1 :])
    return _with(sheet, replace(group, texts=texts))


def moved(figure: str, steps: int, system: System) -> str:
    """Print a figure some rounding steps larger: 1/64 in under an inch, 1/32 in above it, half a mm."""
    value = sum((Fraction(piece) for piece in figure.split()), Fraction(0))
    step = Fraction(1, 2) if system == "mm" else Fraction(1, 64 if value < 1 else 32)
    value += steps * step
    if system == "mm":
        return f"{float(value):.2f}".rstrip("0").rstrip(".")
    whole, rest = divmod(value, 1)
    return " ".join(str(piece) for piece in (whole, rest) if piece) or "0"


def without(sheet: Sheet, key: str) -> Sheet:
    """Leave a group out."""
    return Sheet(tuple(group for group in sheet.groups if group.key != key))


def confused(sheet: Sheet, one: str, two: str) -> Sheet:
    """Print the texts of two groups in each other's place."""
    first, second = sheet.called(one), sheet.called(two)
    mixed = _with(sheet, replace(first, texts=second.texts))
    return _with(mixed, replace(second, texts=first.texts))


def _with(sheet: Sheet, group: Said) -> Sheet:
    return Sheet(tuple(group if other.key == group.key else other for other in sheet.groups))
