"""Values with a wording of their own: prices, lists of lengths, sheet sizes, pins, planes and turns."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, ClassVar, Literal, Self, cast

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from plangen.expressions.entry import place_of_value, trouble, troubles
from plangen.expressions.expression import Expression, parse_expression
from plangen.expressions.fact import piece
from plangen.expressions.syntax import Reference
from plangen.expressions.text import ExpressionError, Text
from plangen.expressions.words import check_name
from plangen.findings import Finding, Place, ProjectError

PricePer = Literal[
    "board foot", "piece", "metre", "foot", "sheet", "cubic metre", "square metre", "square foot"
]
AxisWord = Literal["across", "deep", "up"]

PRICE_UNITS: dict[str, PricePer] = {
    "bdft": "board foot",
    "bf": "board foot",
    "board foot": "board foot",
    "piece": "piece",
    "each": "piece",
    "m": "metre",
    "metre": "metre",
    "ft": "foot",
    "foot": "foot",
    "sheet": "sheet",
    "m3": "cubic metre",
    "m³": "cubic metre",
    "cubic metre": "cubic metre",
    "m2": "square metre",
    "m²": "square metre",
    "square metre": "square metre",
    "sqft": "square foot",
    "sq ft": "square foot",
    "ft2": "square foot",
    "square foot": "square foot",
}
_PRICE = re.compile(r"([0-9]{1,9}(?:\.[0-9]{1,4})?) ?([A-Z]{3})(?: ?(?:/|per) ?([\w²³ ]+))?")
_CENTRED = re.compile(r"cent(?:red|ered) +(on|between|at) +")
_AND = re.compile(r" +and +")
_TO = re.compile(r"\s+to\s+")
_TIMES = re.compile(r"\s+[x×]\s+|(?<=[\w\"'])\s*×\s*")
_PLANE = re.compile(r"(across|deep|up)(?: +at +(?=\S))?")
_TURN = re.compile(r"(-?)([0-9]{1,6}) ?(?:deg|°) +about +(across|deep|up)")


class TextValue:
    """A value that a model reads from one text (or, where ``from_value`` allows it, from a list)."""

    wanted: ClassVar[str] = "a value"
    example: ClassVar[str] = ""

    @classmethod
    def from_text(cls, text: Text) -> Self:
        """Read it; raises ExpressionError."""
        raise NotImplementedError

    @classmethod
    def from_value(cls, value: Any) -> Self:
        """Read it from what stands in the file."""
        if isinstance(value, str):
            return cls.from_text(value if isinstance(value, Text) else Text(value))
        raise trouble(
            "bad-value", f"{cls.wanted} is wanted here", place_of_value(value), f"for example `{cls.example}`"
        )

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        def read(value: Any) -> Any:
            if isinstance(value, cls):
                return value
            try:
                return cls.from_value(value)
            except ProjectError as error:
                raise troubles(error.findings) from None

        return core_schema.no_info_plain_validator_function(read)

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return {"type": ["string", "number"], "description": f"{cls.wanted}, for example {cls.example}"}

    @classmethod
    def fault(cls, text: Text, message: str, remedy: str = "") -> ExpressionError:
        """Make the error of a text that cannot be read."""
        place = text.place if text.place.line else None
        return ExpressionError(Finding("bad-value", message, place, remedy or f"for example `{cls.example}`"))


@dataclass(frozen=True, slots=True)
class PriceText(TextValue):
    """A price: an exact amount, an ISO 4217 currency code, and what it buys (None: not said)."""

    wanted: ClassVar[str] = "a price"
    example: ClassVar[str] = "4.20 USD/bdft"

    amount: Fraction
    currency: str
    per: PricePer | None
    place: Place = field(compare=False)

    @classmethod
    def from_text(cls, text: Text) -> Self:
        """Read ``4.20 USD/bdft``, ``38 USD/sheet`` or ``74 EUR``; raises ExpressionError."""
        match = _PRICE.fullmatch(text.strip())
        if not match:
            raise cls.fault(
                text,
                f"`{text}` is not a price",
                "an amount, a currency of three capitals, and what it buys: `4.20 USD/bdft`",
            )
        per = match.group(3)
        if per is not None and per.strip() not in PRICE_UNITS:
            raise cls.fault(
                text, f"`{per}` is not what a price is for", "write bdft, piece, m, ft, sheet, m2, sqft or m3"
            )
        bought = None if per is None else PRICE_UNITS[per.strip()]
        return cls(Fraction(match.group(1)), match.group(2), bought, text.place)


@dataclass(frozen=True, slots=True)
class LengthListText(TextValue):
    """Lengths that can be bought: each of them, or anything from the first to the second."""

    wanted: ClassVar[str] = "a length, a list of lengths or a range"
    example: ClassVar[str] = "8in to 10in"

    items: tuple[Expression, ...]
    is_range: bool
    place: Place = field(compare=False)

    @classmethod
    def from_text(cls, text: Text) -> Self:
        """Read one length, or ``8in to 10in``; raises ExpressionError."""
        if match := _TO.search(text):
            ends = piece(text, 0, match.start()), piece(text, match.end(), len(text))
            return cls(tuple(parse_expression(end) for end in ends), True, text.place)
        return cls((parse_expression(text),), False, text.place)

    @classmethod
    def from_value(cls, value: Any) -> Self:
        """Read a text, or a list of lengths."""
        if isinstance(value, list | tuple) and value and all(isinstance(item, str) for item in value):
            items = tuple(parse_expression(item) for item in value)
            return cls(items, False, place_of_value(value))
        # Zero-argument super() does not work in a dataclass with slots, which is a new class.
        return cast(Self, TextValue.from_value.__func__(cls, value))  # type: ignore[attr-defined]

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        one: JsonSchemaValue = {"type": ["string", "number"]}
        return {
            "description": f"{cls.wanted}, for example {cls.example}",
            "anyOf": [one, {"type": "array", "items": one, "minItems": 1}],
        }


@dataclass(frozen=True, slots=True)
class SheetSize(TextValue):
    """A sheet as sold; the longer way is found by the reader, the grain runs along it."""

    wanted: ClassVar[str] = "a sheet size"
    example: ClassVar[str] = "48in x 96in"

    width: Expression
    length: Expression
    place: Place = field(compare=False)

    @classmethod
    def from_text(cls, text: Text) -> Self:
        """Read ``48in x 96in``; raises ExpressionError."""
        cuts = list(_TIMES.finditer(text))
        if len(cuts) != 1:
            raise cls.fault(
                text,
                f"`{text}` is not a sheet size",
                "write width x length with a space on either side of the x: `48in x 96in`",
            )
        first = piece(text, 0, cuts[0].start())
        second = piece(text, cuts[0].end(), len(text))
        return cls(parse_expression(first), parse_expression(second), text.place)


@dataclass(frozen=True, slots=True)
class Centring(TextValue):
    """A pin that centres: ``on`` a copy, ``between`` two copies, ``at`` a coordinate.

    For ``on`` and ``between`` the ends are references to copies or parts (no property); for ``at``
    ``first`` is the coordinate.
    """

    wanted: ClassVar[str] = "what it is centred on"
    example: ClassVar[str] = "centred on door"

    kind: Literal["on", "between", "at"]
    first: Expression | Reference
    second: Reference | None
    place: Place = field(compare=False)

    @classmethod
    def from_text(cls, text: Text) -> Self:
        """Read the three wordings; raises ExpressionError."""
        match = _CENTRED.match(text)
        if not match:
            raise cls.fault(
                text,
                f"`{text}` does not say what it is centred on",
                "write `centred on X`, `centred between X and Y` or `centred at LENGTH`",
            )
        kind = cast(Literal["on", "between", "at"], match.group(1))
        rest = piece(text, match.end(), len(text))
        if kind == "at":
            return cls(kind, parse_expression(rest), None, text.place)
        if kind == "on":
            return cls(kind, copy_reference(rest), None, text.place)
        cuts = list(_AND.finditer(rest))
        if len(cuts) != 1:
            raise cls.fault(
                text, "centred between takes two names joined by `and`", "write `centred between X and Y`"
            )
        first = copy_reference(piece(rest, 0, cuts[0].start()))
        return cls(kind, first, copy_reference(piece(rest, cuts[0].end(), len(rest))), text.place)


@dataclass(frozen=True, slots=True)
class MirrorPlane(TextValue):
    """A plane to mirror in: square to an axis, at a coordinate, or through the middle of the frame."""

    wanted: ClassVar[str] = "a mirror plane"
    example: ClassVar[str] = "across at width / 2"

    axis: AxisWord
    at: Expression | None
    place: Place = field(compare=False)

    @classmethod
    def from_text(cls, text: Text) -> Self:
        """Read ``across at width / 2`` or ``across``; raises ExpressionError."""
        match = _PLANE.match(text)
        if not match or (match.end() < len(text.rstrip()) and not match.group().rstrip().endswith(" at")):
            raise cls.fault(
                text,
                f"`{text}` is not a mirror plane",
                "write `across at LENGTH`, or `across` alone for the middle; also deep and up",
            )
        axis = cast(AxisWord, match.group(1))
        rest = piece(text, match.end(), len(text))
        return cls(axis, parse_expression(rest) if rest else None, text.place)


@dataclass(frozen=True, slots=True)
class QuarterTurn(TextValue):
    """A turn by whole quarters, positive anticlockwise seen from the right, the front or above."""

    wanted: ClassVar[str] = "a quarter turn"
    example: ClassVar[str] = "90deg about up"

    degrees: int
    axis: AxisWord
    place: Place = field(compare=False)

    @classmethod
    def from_text(cls, text: Text) -> Self:
        """Read ``90deg about up``; raises ExpressionError."""
        match = _TURN.fullmatch(text.strip())
        if not match:
            raise cls.fault(text, f"`{text}` is not a turn")
        degrees = int(match.group(1) + match.group(2))
        if degrees % 90:
            raise cls.fault(
                text, f"`{text}` is not a whole number of quarter turns", "turn by 90, 180 or 270deg"
            )
        return cls(degrees, cast(AxisWord, match.group(3)), text.place)


def copy_reference(text: Text) -> Reference:
    """Read the name of a copy or part, perhaps inside an assembly: ``top drawer.face``."""
    names, start = [], 0
    for word in text.split("."):
        names.append(check_name(piece(text, start, start + len(word))))
        start += len(word) + 1
    return Reference(tuple(names), None, text.place)
