"""A fact that the maker states: two values and how they compare, checked at every build."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from plangen.expressions.expression import Expression, Scope, parse_expression
from plangen.expressions.quantity import GRID, KIND_WORDS, Quantity
from plangen.expressions.syntax import Reference
from plangen.expressions.text import ExpressionError, Text
from plangen.findings import Finding, Place

Relation = Literal["=", "<=", ">="]

_RELATION = re.compile(r"<=|>=|=<|=>|==|!=|=|<|>|\u2264|\u2265")
_WITHIN = re.compile(r"\s+within\s+")
_MEANT = {"=<": "<=", "=>": ">=", "==": "=", "<": "<=", ">": ">=", "!=": "="}
_SIGNS: dict[str, Relation] = {"=": "=", "<=": "<=", ">=": ">=", "\u2264": "<=", "\u2265": ">="}


@dataclass(frozen=True, slots=True)
class FactExpression:
    """``left relation right``, within a tolerance where one is given."""

    left: Expression
    relation: Relation
    right: Expression
    within: Expression | None
    text: Text
    place: Place = field(compare=False)

    def references(self) -> tuple[Reference, ...]:
        """Every name in it."""
        within = self.within.references() if self.within else ()
        return self.left.references() + self.right.references() + within

    def check(self, scope: Scope) -> tuple[bool, str]:
        """Say whether it holds, and in words what was found. Raises ProjectError."""
        left, right = self._values(scope)
        if left.kind != right.kind:
            raise ExpressionError(
                Finding(
                    "mixed-kinds",
                    f"`{self.left.text}` is {KIND_WORDS[left.kind]} and `{self.right.text}` is "
                    f"{KIND_WORDS[right.kind]}",
                    self.right.place,
                    "compare two values of one kind",
                )
            )
        tolerance = Fraction(0) if left.exact and right.exact else GRID[left.kind]
        if self.within is not None:
            if left.kind == "length":
                tolerance = self.within.length(scope).mm
            else:
                tolerance = self.within.value(scope).value
        difference = left.value - right.value
        holds = {
            "=": abs(difference) <= tolerance,
            "<=": difference <= tolerance,
            ">=": -difference <= tolerance,
        }[self.relation]
        found = f"{self.left.text} is {left.printed(scope.units)}"
        if not self.right.is_plain and self.right.references():
            found += f", {self.right.text} is {right.printed(scope.units)}"
        return holds, found

    def _values(self, scope: Scope) -> tuple[Quantity, Quantity]:
        left, right = self.left.value(scope), self.right.value(scope)
        # A bare number beside a length is in project units, as everywhere.
        if self.left.is_plain and right.kind == "length":
            left = Quantity(self.left.length(scope).mm, "length")
        if self.right.is_plain and left.kind == "length":
            right = Quantity(self.right.length(scope).mm, "length")
        return left, right


def parse_fact(text: Text | str) -> FactExpression:
    """Read a fact such as ``clear = 8-1/8in within 1/32in``; raises ExpressionError."""
    text = text if isinstance(text, Text) else Text(text)
    signs = list(_RELATION.finditer(text))
    if len(signs) != 1:
        message = "a fact compares two values" if not signs else "a fact compares two values only"
        place = text.at(signs[1].start(), len(signs[1].group())) if signs else text.place
        raise ExpressionError(
            Finding(
                "bad-fact",
                f"{message}, and here is {'no' if not signs else 'another'} = <= or >=",
                place if place.line else None,
                "for example `clear = 8-1/8in` or `gap <= 3in`",
            )
        )
    (sign,) = signs
    if sign.group() not in _SIGNS:
        place = text.at(sign.start(), len(sign.group()))
        raise ExpressionError(
            Finding(
                "bad-fact",
                f"`{sign.group()}` is not a comparison here",
                place if place.line else None,
                f"write `{_MEANT[sign.group()]}`; a fact says what holds: = <= >=",
            )
        )
    end, within = len(text), None
    if match := _WITHIN.search(text, sign.end()):
        end = match.start()
        within = parse_expression(piece(text, match.end(), len(text)))
    left = parse_expression(piece(text, 0, sign.start()))
    right = parse_expression(piece(text, sign.end(), end))
    return FactExpression(left, _SIGNS[sign.group()], right, within, text, text.place)


def piece(text: Text, start: int, end: int) -> Text:
    """Cut a piece out of a text, without the spaces at its ends, keeping its place."""
    raw = text[start:end]
    lead = len(raw) - len(raw.lstrip())
    words = raw.strip()
    place = text.at(start + lead, len(words))
    return Text(words, place)
