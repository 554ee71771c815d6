"""From characters to the words of an expression: literals by longest match, then names."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, NoReturn

from plangen.expressions.quantity import Quantity
from plangen.expressions.text import ExpressionError, Text
from plangen.findings import Finding

MOST_CHARACTERS = 400
MOST_DIGITS = 15
UNIT_MM = {
    "in": Fraction(254, 10),
    '"': Fraction(254, 10),
    "ft": Fraction(3048, 10),
    "'": Fraction(3048, 10),
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
}

_ALIKE = {
    "\u2010": "-",
    "\u2011": "-",
    "\u2012": "-",
    "\u2013": "-",
    "\u2212": "-",
    "\u00d7": "*",
    "\u00f7": "/",
    "\u2044": "/",
    "\u2215": "/",
    "\u2032": "'",
    "\u2033": '"',
    "\u2264": "<=",
    "\u2265": ">=",
    "\u00b0": "deg",
    "\u00a0": " ",
    "\u2009": " ",
    "\u202f": " ",
    "\u2002": " ",
    "\u2003": " ",
    "\n": " ",
}
_VULGAR = {
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅓": "1/3",
    "⅔": "2/3",
    "⅕": "1/5",
    "⅖": "2/5",
    "⅗": "3/5",
    "⅘": "4/5",
    "⅙": "1/6",
    "⅚": "5/6",
}
_CURLY = "\u2018\u2019\u201c\u201d"

_MIXED = r"(?:[0-9]+-[0-9]+/[0-9]+|[0-9]+ +[0-9]+/[0-9]+|[0-9]+/[0-9]+)"
_NUMBER = r"(?:[0-9]+\.[0-9]+|[0-9]+)"
_UNIT = r"""(?:(?:in|ft|mm|cm|m)(?!\w)|["'])"""
_FEET_INCHES = re.compile(rf"""([0-9]+) ?(?:ft|') ?({_MIXED}|{_NUMBER}) ?(?:in(?!\w)|")""")
_LENGTH = re.compile(rf"({_MIXED}|{_NUMBER}) ?({_UNIT})")
_ANGLE = re.compile(rf"({_MIXED}|{_NUMBER}) ?deg(?!\w)")
_BARE_MIXED = re.compile(r"(?:[0-9]+-[0-9]+/[0-9]+|[0-9]+ +[0-9]+/[0-9]+)(?![\w/.])")
_BARE = re.compile(_NUMBER)
_PLAIN = re.compile(rf"-?(?:{_MIXED}|{_NUMBER})\Z")
_NAME = re.compile(r"[^\W\d_]\w*(?: +\w+)*")
_SIGN = re.compile(r"<=|>=|[-+*/().,=]")

# What is written out where the short word is wanted.
_UNIT_WORDS = {
    **dict.fromkeys(("inch", "inches", "ins"), "in"),
    **dict.fromkeys(("foot", "feet"), "ft"),
    **dict.fromkeys(("millimetre", "millimetres", "millimeter", "millimeters", "mms"), "mm"),
    **dict.fromkeys(("centimetre", "centimetres", "centimeter", "centimeters", "cms"), "cm"),
    **dict.fromkeys(("metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("degree", "degrees"), "deg"),
}

TokenKind = Literal["quantity", "name", "sign", "end"]


@dataclass(frozen=True, slots=True)
class Token:
    """A word of an expression; ``start`` and ``end`` count characters of the text as typed."""

    kind: TokenKind
    text: str
    start: int
    end: int
    quantity: Quantity | None = None


def unit_meant(words: str) -> str | None:
    """Give the unit that the first word spells out, such as ``in`` for ``inches``; None for any other."""
    return _UNIT_WORDS.get(words.split()[0].lower())


class Scanner:
    """Reads one text; every fault is an ExpressionError that points at its column."""

    def __init__(self, text: Text) -> None:
        self.text = text
        if len(text) > MOST_CHARACTERS:
            self.fail(
                "too-long",
                f"the expression has {len(text)} characters",
                0,
                len(text),
                f"the limit is {MOST_CHARACTERS}: name a part of it under sizes",
            )
        self.plain_text, self.offsets = self._normalised()
        self.position = 0

    def fail(self, kind: str, message: str, start: int, end: int, remedy: str = "") -> NoReturn:
        """Raise the fault, pointing at characters of the text as typed."""
        place = self.text.at(start, end - start)
        raise ExpressionError(Finding(kind, message, place if place.line else None, remedy))

    @property
    def is_plain(self) -> bool:
        """Whether the whole text is one bare number such as ``15`` or ``1-1/2``."""
        return bool(_PLAIN.match(self.plain_text.strip()))

    def plain_number(self) -> Fraction:
        """Give the bare number that the whole text is."""
        stripped = self.plain_text.strip()
        negative = stripped.startswith("-")
        value = self._number(stripped.lstrip("-"), 0, len(self.text))
        return -value if negative else value

    def word(self, wanted: str) -> bool:
        """Take one exact word, if it comes next and ends there."""
        self._skip_spaces()
        match = re.compile(rf"{wanted}(?!\w)").match(self.plain_text, self.position)
        if match:
            self.position = match.end()
        return bool(match)

    def token(self) -> Token:
        """Take the next token."""
        self._skip_spaces()
        text, at = self.plain_text, self.position
        if at == len(text):
            return Token("end", "", len(self.text), len(self.text))
        if text[at].isdigit():
            return self._literal()
        for kind, pattern in (("name", _NAME), ("sign", _SIGN)):
            match = pattern.match(text, at)
            if match:
                found = " ".join(match.group().split()) if kind == "name" else match.group()
                return self._taken("name" if kind == "name" else "sign", found, match.end())
        self._bad_character(text[at])

    def _literal(self) -> Token:
        text, at = self.plain_text, self.position
        if match := _FEET_INCHES.match(text, at):
            start, end = self.offsets[at], self.offsets[match.end()]
            feet = self._number(match.group(1), start, end)
            rest = self._number(match.group(2), start, end)
            value = feet * UNIT_MM["ft"] + rest * UNIT_MM["in"]
            return self._taken("quantity", match.group(), match.end(), Quantity(value, "length"))
        if match := _LENGTH.match(text, at):
            value = self._number(match.group(1), self.offsets[at], self.offsets[match.end()])
            quantity = Quantity(value * UNIT_MM[match.group(2)], "length")
            return self._taken("quantity", match.group(), match.end(), quantity)
        if match := _ANGLE.match(text, at):
            value = self._number(match.group(1), self.offsets[at], self.offsets[match.end()])
            return self._taken("quantity", match.group(), match.end(), Quantity(value, "angle"))
        if match := _BARE_MIXED.match(text, at):
            bare = match.group()
            spread = bare.replace("-", " - ") if "-" in bare else " + ".join(bare.split())
            self.fail(
                "missing-unit",
                f"`{bare}` has no unit",
                self.offsets[at],
                self.offsets[match.end()],
                f"write `{bare}in` for a length, or `{spread}` for arithmetic",
            )
        match = _BARE.match(text, at)
        if not match:
            self._bad_character(text[at])
        end = match.end()
        if end < len(text) and (text[end].isalpha() or text[end] == "_"):
            word = re.compile(r"\w+").match(text, end)
            assert word is not None
            meant = unit_meant(word.group())
            self.fail(
                "unknown-unit",
                f"`{word.group()}` is not a unit",
                self.offsets[end],
                self.offsets[word.end()],
                f"did you mean `{match.group()}{meant}`?"
                if meant
                else "lengths end in in, \", ft, ', mm, cm or m; angles in deg",
            )
        value = self._number(match.group(), self.offsets[at], self.offsets[end])
        return self._taken("quantity", match.group(), end, Quantity(value, "number"))

    def _number(self, digits: str, start: int, end: int) -> Fraction:
        if max(len(run) for run in re.findall(r"\d+", digits)) > MOST_DIGITS:
            self.fail(
                "too-large",
                f"a number here has more than {MOST_DIGITS} digits",
                start,
                end,
                "check the number",
            )
        whole, _, fraction = digits.replace(" ", "-").rpartition("-")
        if "/" not in fraction:
            return Fraction(fraction)
        over, under = (int(part) for part in fraction.split("/"))
        if under == 0:
            self.fail("bad-fraction", f"`{digits}` divides by zero", start, end, "check the fraction")
        if whole.strip("-") and over >= under:
            self.fail(
                "bad-fraction",
                f"`{digits}` is not a mixed number: {over}/{under} is not below one",
                start,
                end,
                "check the fraction, or put spaces round the minus",
            )
        return Fraction(int(whole.strip("-") or 0)) + Fraction(over, under)

    def _taken(self, kind: TokenKind, text: str, end: int, quantity: Quantity | None = None) -> Token:
        start = self.offsets[self.position]
        self.position = end
        return Token(kind, text, start, self.offsets[end], quantity)

    def _skip_spaces(self) -> None:
        while self.position < len(self.plain_text) and self.plain_text[self.position] == " ":
            self.position += 1

    def _normalised(self) -> tuple[str, list[int]]:
        """Give the text in plain characters, and for each of them (and the end) its place as typed."""
        plain: list[str] = []
        offsets: list[int] = []
        for index, character in enumerate(self.text):
            if character in _VULGAR:
                joined = "-" if plain and plain[-1].isdigit() else ""
                replacement = joined + _VULGAR[character]
            else:
                replacement = _ALIKE.get(character, character)
            plain.extend(replacement)
            offsets.extend([index] * len(replacement))
        offsets.append(len(self.text))
        return "".join(plain), offsets

    def _bad_character(self, character: str) -> NoReturn:
        start = self.offsets[self.position]
        if character in _CURLY:
            self.fail(
                "curly-quote",
                f"`{character}` is a curly quote",
                start,
                start + 1,
                "type the straight ' for feet or \" for inches, or write ft and in",
            )
        remedies = {
            "[": "names are joined by a dot, and a copy by its own name: `left side.top`",
            ":": "names are joined by a dot: `front rail.top`",
            "<": "compare with `<=`",
            ">": "compare with `>=`",
            "!": "a fact says what holds: = <= >=",
            "^": "multiply a value by itself: `x * x`",
            "%": "write a percentage as a number: `0.04`",
            "{": "no braces here",
            ";": "one value only",
        }
        shown = character if character.isprintable() else f"U+{ord(character):04X}"
        self.fail(
            "bad-character",
            f"`{shown}` has no meaning in an expression",
            start,
            start + 1,
            remedies.get(character, "use + - * / ( ) numbers with units, and names"),
        )
