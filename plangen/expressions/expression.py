"""An expression: parsed once, worked out in a scope, exact and with its units checked."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil, floor
from typing import NoReturn, Protocol

from plangen.expressions import curves
from plangen.expressions.quantity import (
    BY_POWER,
    GRID,
    KIND_WORDS,
    MOST_BITS,
    POWERS,
    Kind,
    Quantity,
    Units,
)
from plangen.expressions.scanner import Scanner
from plangen.expressions.syntax import Call, Chain, Literal, Named, Negative, Node, Parser, Reference
from plangen.expressions.text import ExpressionError, Text
from plangen.findings import Finding, Place
from plangen.units import Length


class Scope(Protocol):
    """What an expression may ask for: the project's units, and the value behind a name."""

    @property
    def units(self) -> Units:
        """The unit of a whole value that is a bare number."""

    def lookup(self, reference: Reference) -> Quantity:
        """Give the value behind a name; raises ProjectError with a finding of its own."""


@dataclass(frozen=True, slots=True)
class Expression:
    """One value of the file. Two expressions are equal when their text is."""

    text: Text
    tree: Node = field(compare=False, repr=False)
    is_plain: bool = field(compare=False)  # one bare number, such as 15 or 1-1/2
    named: tuple[Reference, ...] = field(compare=False, repr=False)

    @property
    def place(self) -> Place:
        """Where it stands in the file."""
        return self.text.place

    def references(self) -> tuple[Reference, ...]:
        """Every name in it, in order, repeats included."""
        return self.named

    def value(self, scope: Scope) -> Quantity:
        """Work it out; a bare number stays a plain number. Raises ProjectError."""
        return _Evaluation(self.text, scope).of(self.tree)

    def length(self, scope: Scope) -> Length:
        """Work it out as a length; a bare number is in project units. Raises ProjectError."""
        found = self.value(scope)
        if found.kind == "number" and (self.is_plain or not found.value):
            return Length(found.value * (Fraction(254, 10) if scope.units == "inch" else 1))
        self._must_be("length", found, scope)
        return Length(found.value)

    def number(self, scope: Scope) -> Fraction:
        """Work it out as a plain number. Raises ProjectError."""
        found = self.value(scope)
        self._must_be("number", found, scope)
        return found.value

    def angle(self, scope: Scope) -> Fraction:
        """Work it out as an angle in degrees. Raises ProjectError."""
        found = self.value(scope)
        if not found.value and found.kind == "number":
            return Fraction(0)
        self._must_be("angle", found, scope)
        return found.value

    def printed(self) -> str:
        """Print it in one spelling: single spaces round operators, only the brackets it needs."""
        return printed(self.tree)

    def _must_be(self, wanted: Kind, found: Quantity, scope: Scope) -> None:
        if found.kind == wanted:
            return
        remedy = f"give {KIND_WORDS[wanted]}"
        if found.kind == "number":
            unit = {"length": "in" if scope.units == "inch" else "mm", "angle": "deg"}.get(wanted)
            if unit and self.is_plain:
                remedy = f"write `{self.text}{unit}`"
            elif unit:
                remedy = f"{KIND_WORDS[wanted]} carries its unit: a number times `1{unit}`"
        elif found.kind == "length" and wanted == "number":
            remedy = "give a plain number, or divide by a length"
        _fail(
            self.text,
            "wrong-kind",
            f"`{self.text}` is {KIND_WORDS[found.kind]} ({found.printed(scope.units)}), "
            f"and {KIND_WORDS[wanted]} is wanted",
            0,
            len(self.text),
            remedy,
        )


def parse_expression(text: Text | str) -> Expression:
    """Read an expression; raises ExpressionError that points at the column at fault."""
    text = text if isinstance(text, Text) else Text(text)
    scanner = Scanner(text)
    if scanner.is_plain:
        quantity = Quantity(scanner.plain_number(), "number")
        return Expression(text, Literal(quantity, text.strip(), 0, len(text)), True, ())
    parser = Parser(text)
    tree = parser.whole()
    return Expression(text, tree, False, tuple(parser.references))


def printed(node: Node) -> str:
    """Print a tree so that reading it gives an equal tree."""
    match node:
        case Literal():
            return node.text
        case Named():
            return str(node.reference)
        case Negative():
            return f"-{_bracketed(node.inner, isinstance(node.inner, Chain | Negative))}"
        case Call():
            to = f", to {printed(node.to)}" if node.to else ""
            return f"{node.function}({', '.join(printed(a) for a in node.arguments)}{to})"
        case Chain():
            product = not _is_sum(node)
            operands = [node.first, *(operand for _, operand in node.rest)]
            words = [
                _bracketed(operand, isinstance(operand, Chain) and (product or _is_sum(operand)))
                for operand in operands
            ]
            signs = ["", *(f" {sign} " for sign, _ in node.rest)]
            return "".join(sign + word for sign, word in zip(signs, words, strict=True))


def _is_sum(chain: Chain) -> bool:
    return chain.rest[0][0] in "+-"


def _bracketed(node: Node, needed: bool) -> str:
    return f"({printed(node)})" if needed else printed(node)


def _fail(text: Text, kind: str, message: str, start: int, end: int, remedy: str) -> NoReturn:
    place = text.at(start, end - start)
    raise ExpressionError(Finding(kind, message, place if place.line else None, remedy))


class _Evaluation:
    """Works out one tree. The depth is bounded by the parser, the size of every result here."""

    def __init__(self, text: Text, scope: Scope) -> None:
        self.text = text
        self.scope = scope

    def of(self, node: Node) -> Quantity:
        match node:
            case Literal():
                result = node.quantity
            case Named():
                result = self.scope.lookup(node.reference)
            case Negative():
                inner = self.of(node.inner)
                result = Quantity(-inner.value, inner.kind, inner.exact)
            case Chain():
                return self._chain(node)
            case Call():
                result = self._call(node)
        return self._checked(result, node.start, node.end)

    def _chain(self, node: Chain) -> Quantity:
        result, left = self.of(node.first), node.first
        for sign, operand in node.rest:
            right = self.of(operand)
            if sign in "+-":
                result = self._sum(sign, result, right, left, operand)
            else:
                result = self._product(sign, result, right, node.start, operand)
            result = self._checked(result, node.start, operand.end)
            left = operand
        return result

    def _sum(self, sign: str, one: Quantity, two: Quantity, left: Node, right: Node) -> Quantity:
        if one.kind != two.kind:
            self._unlike(sign, one, two, left, right)
        value = one.value + two.value if sign == "+" else one.value - two.value
        return Quantity(value, one.kind, one.exact and two.exact)

    def _unlike(self, sign: str, one: Quantity, two: Quantity, left: Node, right: Node) -> NoReturn:
        verb = "added to" if sign == "+" else "taken from"
        plain, other = (left, two) if one.kind == "number" else (right, one)
        words = self._words(plain)
        remedy = "both sides of + and - must be of one kind"
        if other.kind in ("length", "angle") and "number" in (one.kind, two.kind):
            unit = "deg" if other.kind == "angle" else ("in" if self.scope.units == "inch" else "mm")
            if isinstance(plain, Literal):
                remedy = f"write `{words}{unit}`"
            else:
                remedy = f"{KIND_WORDS[other.kind]} carries its unit: multiply the number by `1{unit}`"
            mixed = (
                sign == "-"
                and isinstance(left, Literal)
                and isinstance(right, Literal)
                and plain is left
                and "/" in right.text
                and "-" not in right.text
            )
            if mixed:
                remedy = f"a mixed number has no spaces: `{words}-{self._words(right)}`; otherwise {remedy}"
        self._fail(
            "mixed-kinds",
            f"`{self._words(right)}` is {KIND_WORDS[two.kind]} and cannot be {verb} "
            f"`{self._words(left)}`, {KIND_WORDS[one.kind]}",
            plain if "number" in (one.kind, two.kind) else right,
            remedy,
        )

    def _product(self, sign: str, one: Quantity, two: Quantity, start: int, right: Node) -> Quantity:
        exact = one.exact and two.exact
        if sign == "/" and not two.value:
            self._fail(
                "divide-by-zero",
                f"`{self._words(right)}` is zero, and nothing is divided by zero",
                right,
                "check the value",
            )
        kind: Kind | None
        if one.kind == "angle" or two.kind == "angle":
            kind = self._angle_product(sign, one.kind, two.kind)
        else:
            power = POWERS[one.kind] + POWERS[two.kind] * (1 if sign == "*" else -1)
            kind = BY_POWER[power] if 0 <= power < len(BY_POWER) else None
        if kind is None:
            verb = "multiplied" if sign == "*" else "divided"
            self._fail(
                "mixed-kinds",
                f"{KIND_WORDS[one.kind]} cannot be {verb} by {KIND_WORDS[two.kind]}",
                right,
                "check which of the two should be a plain number",
            )
        value = one.value * two.value if sign == "*" else one.value / two.value
        return Quantity(value, kind, exact)

    @staticmethod
    def _angle_product(sign: str, one: Kind, two: Kind) -> Kind | None:
        if {one, two} == {"angle", "number"} and (sign == "*" or one == "angle"):
            return "angle"
        return "number" if one == two and sign == "/" else None

    def _call(self, node: Call) -> Quantity:
        values = [self.of(argument) for argument in node.arguments]
        first = values[0]
        match node.function:
            case "min" | "max":
                for value, argument in zip(values, node.arguments, strict=True):
                    if value.kind != first.kind:
                        self._fail(
                            "mixed-kinds",
                            f"`{self._words(argument)}` is {KIND_WORDS[value.kind]}, and the first "
                            f"value of `{node.function}` is {KIND_WORDS[first.kind]}",
                            argument,
                            "give all of one kind",
                        )
                choose = min if node.function == "min" else max
                return choose(values, key=lambda value: value.value)
            case "round" | "floor" | "ceil":
                return self._rounded(node, first)
            case "sqrt":
                return self._root(node, first)
            case _:
                return self._of_angle(node, first)

    def _rounded(self, node: Call, value: Quantity) -> Quantity:
        if node.to is not None:
            step = self.of(node.to)
            if step.kind != value.kind or step.value <= 0:
                self._fail(
                    "mixed-kinds",
                    f"`{self._words(node.to)}` is no step for {KIND_WORDS[value.kind]}",
                    node.to,
                    "for example `round(width, to 1/16in)`",
                )
            # Halves go away from zero, as printed lengths do.
            steps = floor(abs(value.value) / step.value + Fraction(1, 2))
            return Quantity(steps * step.value * (1 if value.value >= 0 else -1), value.kind)
        if value.kind != "number":
            self._fail(
                "wrong-kind",
                f"`{node.function}` takes a plain number, and "
                f"`{self._words(node.arguments[0])}` is {KIND_WORDS[value.kind]}",
                node.arguments[0],
                f"write `round({self._words(node.arguments[0])}, to 1/16in)`",
            )
        if node.function == "round":
            whole = floor(abs(value.value) + Fraction(1, 2)) * (1 if value.value >= 0 else -1)
        else:
            whole = floor(value.value) if node.function == "floor" else ceil(value.value)
        return Quantity(Fraction(whole), "number")

    def _root(self, node: Call, value: Quantity) -> Quantity:
        if value.kind not in ("number", "area"):
            self._fail(
                "wrong-kind",
                f"`sqrt` takes a plain number or an area, and "
                f"`{self._words(node.arguments[0])}` is {KIND_WORDS[value.kind]}",
                node.arguments[0],
                "for a diagonal: `sqrt(width * width + height * height)`",
            )
        if value.value < 0:
            self._fail(
                "negative-root",
                f"`{self._words(node.arguments[0])}` is below zero and has no root",
                node.arguments[0],
                "check the value",
            )
        kind: Kind = "number" if value.kind == "number" else "length"
        found, exact = curves.root(value.value, GRID[kind])
        return Quantity(found, kind, exact and value.exact)

    def _of_angle(self, node: Call, value: Quantity) -> Quantity:
        words = self._words(node.arguments[0])
        if value.kind != "angle":
            remedy = f"write `{words}deg`" if value.kind == "number" else "give an angle"
            self._fail(
                "wrong-kind",
                f"`{node.function}` takes an angle, and `{words}` is {KIND_WORDS[value.kind]}",
                node.arguments[0],
                remedy,
            )
        functions = {"sin": curves.sine, "cos": curves.cosine, "tan": curves.tangent}
        found = functions[node.function](value.value)
        if found is None:
            self._fail("divide-by-zero", f"`{words}` has no tangent", node.arguments[0], "check the angle")
        result, exact = found
        return Quantity(result, "number", exact and value.exact)

    def _checked(self, value: Quantity, start: int, end: int) -> Quantity:
        if not value.exact:
            value = value.on_grid()
        if value.too_large:
            bits = value.value.denominator.bit_length()
            what = "too many digits" if bits > MOST_BITS else "larger than anything in a workshop"
            _fail(
                self.text,
                "too-large",
                f"the value of `{self.text[start:end]}` is {what}",
                start,
                end,
                "check the numbers",
            )
        return value

    def _words(self, node: Node) -> str:
        return self.text[node.start : node.end]

    def _fail(self, kind: str, message: str, node: Node, remedy: str) -> NoReturn:
        _fail(self.text, kind, message, node.start, node.end, remedy)
