"""How much is in a bottle or a can, what it covers, and shares in percent, as a label prints them.

Volumes are kept in cubic millimetres, masses in grams, areas in square millimetres; all exact. The gallon
is that of the United States, 231 cubic inches; inch and pound are those of the agreement of 1959 (NIST
Handbook 44, Appendix C, which has the relations between all of them).
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction
from typing import ClassVar, Final, Literal, Self

from plangen.expressions.phrases import TextValue
from plangen.expressions.text import Text
from plangen.findings import Place

Bulk = Literal["volume", "mass"]

_INCH: Final = Fraction(254, 10)
_FOOT: Final = _INCH * 12
_GALLON: Final = 231 * _INCH**3
_POUND: Final = Fraction(45359237, 100_000)  # g

# What may be typed: (kind, its worth, the trade's own word for it).
_UNITS: Final[dict[str, tuple[Bulk, Fraction, str]]] = {
    **dict.fromkeys(("ml", "millilitre", "millilitres"), ("volume", Fraction(1000), "ml")),
    **dict.fromkeys(("cl", "centilitre", "centilitres"), ("volume", Fraction(10_000), "cl")),
    **dict.fromkeys(("l", "litre", "litres", "liter", "liters"), ("volume", Fraction(10**6), "l")),
    **dict.fromkeys(("floz", "fl oz", "fluid ounce", "fluid ounces"), ("volume", _GALLON / 128, "fl oz")),
    **dict.fromkeys(("pt", "pint", "pints"), ("volume", _GALLON / 8, "pt")),
    **dict.fromkeys(("qt", "quart", "quarts"), ("volume", _GALLON / 4, "qt")),
    **dict.fromkeys(("gal", "gallon", "gallons"), ("volume", _GALLON, "gal")),
    **dict.fromkeys(("g", "gram", "grams"), ("mass", Fraction(1), "g")),
    **dict.fromkeys(("kg", "kilogram", "kilograms"), ("mass", Fraction(1000), "kg")),
    **dict.fromkeys(("oz", "ounce", "ounces"), ("mass", _POUND / 16, "oz")),
    **dict.fromkeys(("lb", "pound", "pounds"), ("mass", _POUND, "lb")),
}
_AREAS: Final[dict[str, tuple[Fraction, str]]] = {
    **dict.fromkeys(("m2", "m²", "square metre", "square metres"), (Fraction(10**6), "m²")),
    **dict.fromkeys(("sqft", "sq ft", "ft2", "ft²", "square foot", "square feet"), (_FOOT**2, "sq ft")),
}
_AMOUNT: Final = re.compile(r"([0-9]{1,6}(?:\.[0-9]{1,4})?|[0-9]{1,3}/[0-9]{1,3}) ?([A-Za-z ]+)")
_COVERS: Final = re.compile(
    r"([0-9]{1,6}(?:\.[0-9]{1,4})?) ?([A-Za-z0-9² ]+?) ?(?:/|\bper\b) ?([A-Za-z0-9² ]+)"
)
_SHARE: Final = re.compile(r"([0-9]{1,3}(?:\.[0-9]{1,3})?) ?(?:%|percent)")
# No coat is 5 mm thick; a gram is about 1000 mm3. What is typed the wrong way about comes to far more.
_THICKEST: Final[dict[Bulk, Fraction]] = {"volume": Fraction(1, 5), "mass": Fraction(200)}
_VOLUMES: Final = "ml, l, fl oz, pt, qt or gal"
_MASSES: Final = "g, kg, oz or lb"


@dataclass(frozen=True, slots=True)
class AmountText(TextValue):
    """How much a bottle or a can holds: mm3 of a volume, g of a mass; ``words`` as a label has it."""

    wanted: ClassVar[str] = "an amount"
    example: ClassVar[str] = "16 fl oz"

    amount: Fraction
    kind: Bulk
    words: str = field(compare=False)
    place: Place = field(compare=False)

    @classmethod
    def from_text(cls, text: Text) -> Self:
        """Read ``16 fl oz``, ``1 qt``, ``750 ml`` or ``500 g``; raises ExpressionError."""
        match = _AMOUNT.fullmatch(text.strip())
        unit = _UNITS.get(match.group(2).strip()) if match else None
        if match is None or unit is None:
            raise cls.fault(
                text,
                f"`{text}` is no amount of glue or finish",
                f"write what the label says, in {_VOLUMES}, or in {_MASSES}: `{cls.example}`",
            )
        if match.group(1).endswith("/0") or not Fraction(match.group(1)):
            raise cls.fault(text, f"`{text}` holds nothing", "write what the label says")
        kind, worth, word = unit
        return cls(Fraction(match.group(1)) * worth, kind, f"{match.group(1)} {word}", text.place)


@dataclass(frozen=True, slots=True)
class CoverageText(TextValue):
    """How far a glue or a finish goes: mm2 covered once by each mm3 (or g) of it."""

    wanted: ClassVar[str] = "what it covers"
    example: ClassVar[str] = "500 sqft/gal"

    rate: Fraction
    kind: Bulk
    words: str = field(compare=False)
    place: Place = field(compare=False)

    @classmethod
    def from_text(cls, text: Text) -> Self:
        """Read ``500 sqft/gal``, ``12 m2/l``, or the other way about ``200 g/m2``; raises ExpressionError."""
        match = _COVERS.fullmatch(text.strip())
        first, second = (match.group(side).strip() for side in (2, 3)) if match else ("", "")
        spread = first in _UNITS  # so much for an area
        area, unit = (
            (_AREAS.get(second), _UNITS.get(first)) if spread else (_AREAS.get(first), _UNITS.get(second))
        )
        if match is None or area is None or unit is None:
            raise cls.fault(
                text,
                f"`{text}` does not say what it covers",
                f"write sqft or m2 for one of {_VOLUMES}, or of {_MASSES}: `{cls.example}` or `12 m2/l`; "
                "or the other way about, `200 g/m2`",
            )
        number = Fraction(match.group(1))
        if not number:
            wrong = "spreads nothing" if spread else "covers nothing"
            raise cls.fault(text, f"`{text}` {wrong}", "write what the label says")
        kind, worth, word = unit
        if spread:
            words, rate = f"{match.group(1)} {word}/{area[1]}", area[0] / (number * worth)
        else:
            words, rate = f"{match.group(1)} {area[1]}/{word}", number * area[0] / worth
        if rate < _THICKEST[kind]:
            raise cls.fault(
                text,
                f"`{text}` lays it on more than 5 mm thick",
                f"write the area for an amount, `{cls.example}`, or the amount for an area, `200 g/m2`",
            )
        return cls(rate, kind, words, text.place)


@dataclass(frozen=True, slots=True)
class ShareText(TextValue):
    """A share of what is bought, in percent: from nothing up to all but nothing."""

    wanted: ClassVar[str] = "a share in percent"
    example: ClassVar[str] = "30%"

    share: Fraction  # 0 <= share < 1
    place: Place = field(compare=False)

    @classmethod
    def from_text(cls, text: Text) -> Self:
        """Read ``30%`` as three tenths; raises ExpressionError."""
        match = _SHARE.fullmatch(text.strip())
        if match is None:
            raise cls.fault(text, f"`{text}` is not a share in percent", f"write it as `{cls.example}`")
        share = Fraction(match.group(1)) / 100
        if share >= 1:
            raise cls.fault(
                text,
                f"`{text}` of what is bought would leave nothing",
                f"write less than 100%, such as `{cls.example}`: the share of what is bought that is lost",
            )
        return cls(share, text.place)
