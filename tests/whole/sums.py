"""Arithmetic of its own for the maker's file: it shares nothing with the program.

Lengths are exact fractions of an inch.
"""

from __future__ import annotations

import ast
import operator
import re
from fractions import Fraction
from typing import Any

from ruamel.yaml import YAML

from tests.whole.making import project_file

MM = Fraction(254, 10)  # in one inch
GALLON = 231 * MM**3 / 10**6  # litres; 231 cubic inches (NIST Handbook 44, Appendix C)
_OF_A_GALLON = {"fl oz": Fraction(1, 128), "pt": Fraction(1, 8), "qt": Fraction(1, 4), "gal": Fraction(1)}
_AMOUNT = re.compile(r"(?<![\w.])(?:(\d+)-)?(\d+(?:\.\d+)?)(?:/(\d+))?\s*(in|mm)\b")
_OPERATORS = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv}


class Project:
    """A maker's file as plain text values, with the sizes it names worked out."""

    def __init__(self, name: str) -> None:
        self.data = YAML(typ="base").load(project_file(name).read_text("utf-8"))
        self.names: dict[str, Fraction] = {}
        self.stock: dict[str, dict[str, Any]] = self.data["stock"]
        self.hardware: dict[str, dict[str, Any]] = self.data["hardware"]
        for stock, fields in self.stock.items():
            self.names[f"{stock}.thickness"] = self.sum(fields["thickness"])
        waiting = dict(self.data["sizes"])
        while waiting:
            solved = [name for name in waiting if self._known(waiting[name], waiting)]
            assert solved, f"the sizes {sorted(waiting)} wait for each other"
            for name in solved:
                self.names[name] = self.sum(waiting.pop(name))

    def __getitem__(self, name: str) -> Fraction:
        return self.names[name]

    def _known(self, text: str, waiting: dict[str, str]) -> bool:
        return not any(re.search(rf"(?<![\w.]){re.escape(name)}(?!\w)", text) for name in waiting)

    def sum(self, text: str) -> Fraction:
        """Work out an expression of lengths, numbers and named sizes."""
        values: list[Fraction] = []

        def held(value: Fraction) -> str:
            values.append(value)
            return f" _v[{len(values) - 1}] "

        def amount(found: re.Match[str]) -> str:
            whole, number, below, unit = found.groups()
            value = Fraction(whole or 0) + Fraction(number) / Fraction(below or 1)
            return held(value / MM if unit == "mm" else value)

        words = _AMOUNT.sub(amount, text)
        for name in sorted(self.names, key=len, reverse=True):
            words = re.sub(
                rf"(?<![\w.]){re.escape(name)}(?!\w)", lambda _, n=name: held(self.names[n]), words
            )
        return _value(ast.parse(words.strip(), mode="eval").body, values)

    def price(self, text: str) -> Fraction:
        """The amount of a price."""
        return Fraction(text.split()[0])

    def called(self, stock: str) -> str:
        """What a stock is called in the lists: its title, with its label where others have that title too."""
        title = self.stock[stock]["title"]
        alike = [fields for fields in self.stock.values() if fields["title"] == title]
        return title if len(alike) == 1 else f"{title}, {self.stock[stock]['label'].removesuffix('in')} in"

    def gallons(self, text: str) -> Fraction:
        """What a bottle or a can holds, ``16 fl oz``."""
        number, unit = text.split(" ", 1)
        return Fraction(number) * _OF_A_GALLON[unit]

    def coverage(self, text: str) -> Fraction:
        """Square inches that a gallon covers, of ``450 sqft/gal``."""
        return Fraction(text.removesuffix(" sqft/gal")) * 144

    def joint(self, name: str) -> dict[str, Any]:
        """The fields of the joint with a name."""
        return next(
            fields for entry in self.data["joints"] for fields in entry.values() if fields["name"] == name
        )


def _value(node: ast.expr, values: list[Fraction]) -> Fraction:
    match node:
        case ast.BinOp():
            return Fraction(_OPERATORS[type(node.op)](_value(node.left, values), _value(node.right, values)))  # type: ignore[index]
        case ast.Constant(value=int() | float()):
            return Fraction(str(node.value))
        case ast.Subscript(slice=ast.Constant(value=int() as index)):
            return values[index]
    raise AssertionError(f"cannot work out {ast.unparse(node)}")


def inch_text(value: Fraction) -> str:
    """Print inches to the nearest 32nd, under one inch to the nearest 64th, halves up; common spaces."""
    parts = 64 if value < 1 else 32
    steps = (2 * value * parts + 1) // 2
    whole, rest = divmod(Fraction(steps, parts), 1)
    fraction = f"{rest.numerator}/{rest.denominator}" if rest else ""
    return " ".join(word for word in (str(whole) if whole or not rest else "", fraction) if word)


def mm_text(value: Fraction) -> str:
    """Print inches as millimetres to the nearest half, halves up."""
    steps = (2 * (value * MM * 2) + 1) // 2
    whole, half = divmod(int(steps), 2)
    return f"{whole}.5" if half else str(whole)


def decimal(value: Fraction, places: int) -> str:
    """Print a number with so many places, halves up."""
    steps = int((2 * value * 10**places + 1) // 2)
    return f"{steps / 10**places:.{places}f}"
