"""The tree of an expression, and the parser that builds it."""

from __future__ import annotations

from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import NoReturn, TypeAlias

from plangen.expressions.quantity import Quantity
from plangen.expressions.scanner import Scanner, Token, unit_meant
from plangen.expressions.text import Text
from plangen.findings import Place

DEEPEST = 40
FUNCTIONS = ("min", "max", "round", "floor", "ceil", "sqrt", "sin", "cos", "tan")


@dataclass(frozen=True, slots=True)
class Reference:
    """A name in an expression: ``height``, ``pine.thickness``, ``top drawer.face.left``, ``own.width``."""

    names: tuple[str, ...]
    prop: str | None
    place: Place = field(compare=False)

    def __str__(self) -> str:
        return ".".join(self.names if self.prop is None else (*self.names, self.prop))


@dataclass(frozen=True, slots=True)
class Literal:
    """A number, length or angle as typed."""

    quantity: Quantity
    text: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Named:
    """A reference."""

    reference: Reference
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Negative:
    """Minus a factor."""

    inner: Node
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Chain:
    """A first operand, then signs and operands of one rank, worked from the left."""

    first: Node
    rest: tuple[tuple[str, Node], ...]
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Call:
    """A function of its arguments; ``to`` is the step of ``round(x, to 1/16in)``."""

    function: str
    arguments: tuple[Node, ...]
    to: Node | None
    start: int
    end: int


Node: TypeAlias = Literal | Named | Negative | Chain | Call


class Parser:
    """Reads one expression from a text by recursive descent, no deeper than its limit."""

    def __init__(self, text: Text) -> None:
        self.text = text
        self.scanner = Scanner(text)
        self.references: list[Reference] = []
        self.depth = 0
        self.after_name = False
        self.next = self.scanner.token()

    def whole(self) -> Node:
        """Read an expression that is the whole text."""
        node = self.expression()
        self.finished()
        return node

    def finished(self) -> None:
        """Make sure that nothing follows."""
        if self.next.kind != "end":
            self._unexpected(self.next)

    def _unexpected(self, token: Token) -> NoReturn:
        if token.text == ")":
            self._fail("bad-bracket", "`)` closes nothing", token, "take it out, or open it with `(`")
        if token.text in ("=", "<=", ">="):
            self._fail(
                "bad-value",
                f"`{token.text}` compares, and only facts under expect do",
                token,
                "give one value",
            )
        if token.text == ",":
            self._fail(
                "bad-value",
                "a comma only parts what is inside max( ), min( ) or round( )",
                token,
                "give one value; decimals are written with a point",
            )
        if token.text == "." and self.after_name:
            self._fail(
                "bad-name",
                "a dot must be followed by a name or a property",
                token,
                "for example `left side.top`",
            )
        if token.kind == "name" and (unit := unit_meant(token.text)):
            before = self.text[: token.start].rstrip()
            if before[-1:].isdigit():
                number = before.split()[-1]
                self._fail(
                    "unknown-unit",
                    f"`{token.text.split()[0]}` is not a unit",
                    token,
                    f"did you mean `{number}{unit}`?",
                )
        self._fail(
            "missing-operator",
            f"an operator is missing before `{token.text}`",
            token,
            "write + - * or / between two values",
        )

    def expression(self) -> Node:
        """Read terms joined by plus and minus."""
        return self._chain("+-")

    def _term(self) -> Node:
        return self._chain("*/")

    def _chain(self, signs: str) -> Node:
        read = self._term if signs == "+-" else self._factor
        first = read()
        rest: list[tuple[str, Node]] = []
        while self.next.kind == "sign" and self.next.text in signs:
            sign = self._take().text
            rest.append((sign, read()))
        if not rest:
            return first
        return Chain(first, tuple(rest), first.start, rest[-1][1].end)

    def _factor(self) -> Node:
        token = self.next
        if token.text == "-" and token.kind == "sign":
            self._take()
            if self.next.text == "-":
                self._fail("bad-value", "two minus signs in a row", self.next, "take one out")
            inner = self._factor()
            return Negative(inner, token.start, inner.end)
        self.after_name = False
        if token.kind == "quantity":
            self._take()
            assert token.quantity is not None
            return Literal(token.quantity, token.text, token.start, token.end)
        if token.kind == "name":
            return self._named()
        if token.text == "(":
            return self._bracket()
        if token.kind == "end":
            if not self.text.strip():
                self._fail("missing-value", "there is no value", token, "give one")
            self._fail(
                "unfinished",
                "the expression stops too early",
                token,
                "a comma inside { } ends a value: put the value in quotes, or on its own line",
            )
        self._fail("missing-value", f"a value is missing before `{token.text}`", token, "give one")

    def _bracket(self) -> Node:
        opening = self._take()
        self._deeper(opening)
        inner = self.expression()
        self._closing(opening)
        self.depth -= 1
        return inner

    def _named(self) -> Node:
        token = self._take()
        if self.next.text == "(" and self.next.kind == "sign":
            if token.text not in FUNCTIONS:
                near = get_close_matches(token.text, FUNCTIONS, 1)
                remedy = f"did you mean `{near[0]}`?" if near else f"the functions are {', '.join(FUNCTIONS)}"
                self._fail("unknown-function", f"`{token.text}` is not a function", token, remedy)
            return self._call(token)
        names, end = [token.text], token.end
        while self.next.text == "." and self.next.kind == "sign":
            dot = self._take()
            after = self.next
            if after.kind != "name":
                self._fail(
                    "bad-name",
                    "a dot must be followed by a name or a property",
                    dot,
                    "for example `left side.top`",
                )
            names.append(after.text)
            end = self._take().end
        if names == ["own"]:
            self._fail(
                "bad-name", "`own` is followed by a dot and a property", token, "for example `own.width`"
            )
        place = self.text.at(token.start, end - token.start)
        prop = names.pop() if len(names) > 1 else None
        reference = Reference(tuple(names), prop, place)
        self.references.append(reference)
        self.after_name = True
        return Named(reference, token.start, end)

    def _call(self, name: Token) -> Node:
        opening = self._take()
        self._deeper(opening)
        arguments, to = [self.expression()], None
        while self.next.text == "," and self.next.kind == "sign":
            # ``to`` would otherwise begin a name such as ``to 1``.
            if name.text == "round" and self.scanner.word("to"):
                self._take()
                to = self.expression()
                break
            self._take()
            arguments.append(self.expression())
        end = self._closing(opening).end
        self.depth -= 1
        most = None if name.text in ("min", "max") else 1
        if most is not None and len(arguments) > most:
            remedy = "for example `round(width, to 1/16in)`" if name.text == "round" else "give one value"
            self._fail("bad-call", f"`{name.text}` takes one value, here are {len(arguments)}", name, remedy)
        return Call(name.text, tuple(arguments), to, name.start, end)

    def _closing(self, opening: Token) -> Token:
        if self.next.text == ")" and self.next.kind == "sign":
            return self._take()
        if self.next.kind == "end":
            self._fail(
                "bad-bracket",
                "`(` is not closed",
                opening,
                "close it with `)`; a comma inside { } ends a value: put the value in quotes, "
                "or on its own line",
            )
        self._unexpected(self.next)

    def _deeper(self, token: Token) -> None:
        self.depth += 1
        if self.depth > DEEPEST:
            self._fail(
                "too-deep", f"brackets stand more than {DEEPEST} deep", token, "name a part of it under sizes"
            )

    def _take(self) -> Token:
        token = self.next
        self.next = self.scanner.token()
        return token

    def _fail(self, kind: str, message: str, token: Token, remedy: str) -> NoReturn:
        self.scanner.fail(kind, message, token.start, max(token.end, token.start + 1), remedy)
