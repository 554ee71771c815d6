"""Amounts of glue and finish as labels have them, against published relations and the unit library."""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest

from plangen.expressions import Amount, Coverage, ExpressionError, Share, Text

LITRE = 10**6  # mm3


@pytest.mark.parametrize(
    ("text", "kind", "amount", "words"),
    [
        # NIST Handbook 44 (2023), Appendix C, from memory: the liquid quart is 0.946 352 946 L, the gallon
        # 231 cubic inches, the fluid ounce 29.573 53 mL (rounded there), the avoirdupois ounce
        # 28.349 523 125 g.
        ("1 gal", "volume", Fraction("3.785411784") * LITRE, "1 gal"),
        ("1 qt", "volume", Fraction("0.946352946") * LITRE, "1 qt"),
        ("1/2 pint", "volume", Fraction("0.2365882365") * LITRE, "1/2 pt"),
        ("16 fl oz", "volume", Fraction("0.473176473") * LITRE, "16 fl oz"),
        ("16floz", "volume", Fraction("0.473176473") * LITRE, "16 fl oz"),
        ("750 ml", "volume", Fraction("0.75") * LITRE, "750 ml"),
        ("2.5l", "volume", Fraction("2.5") * LITRE, "2.5 l"),
        ("8 oz", "mass", 8 * Fraction("28.349523125"), "8 oz"),
        ("0.5 kg", "mass", Fraction(500), "0.5 kg"),
    ],
)
def test_amounts(text: str, kind: str, amount: Fraction, words: str) -> None:
    read = Amount.from_text(Text(text))
    assert (read.kind, read.amount, read.words) == (kind, amount, words)


@pytest.mark.parametrize("unit", ["gallon", "quart", "pint", "fluid_ounce", "liter", "milliliter"])
def test_volumes_as_the_unit_library_has_them(unit: str) -> None:
    litres = pint.UnitRegistry()(f"1 {unit}").to("liter").magnitude
    name = {"fluid_ounce": "fl oz", "liter": "l", "milliliter": "ml"}.get(unit, unit)
    assert float(Amount.from_text(Text(f"1 {name}")).amount / LITRE) == pytest.approx(litres, rel=1e-12)


def test_coverage_is_exact() -> None:
    """500 square feet are 46.4515 m2, a gallon 3.785411784 l: 12.2712 m2 to the litre."""
    read = Coverage.from_text(Text("500 sqft/gal"))
    assert read.rate == 500 * Fraction("0.09290304") / Fraction("3.785411784")  # m2/l is mm2/mm3
    assert read.words == "500 sq ft/gal"
    for same in ("500 sq ft per gal", "500 square feet/gallon", "500 ft2/gal"):
        assert Coverage.from_text(Text(same)) == read
    assert Coverage.from_text(Text("12 m2/l")).rate == 12
    assert Coverage.from_text(Text("5 m²/kg")).rate == 5000  # mm2 to the gram


def test_coverage_the_other_way_about() -> None:
    """200 g to the square metre are 5 m2 to the kilogram; 150 ml are 0.15 mm3 to the square millimetre."""
    read = Coverage.from_text(Text("200 g/m2"))
    assert (read.rate, read.kind, read.words) == (5000, "mass", "200 g/m²")
    assert read == Coverage.from_text(Text("5 m2/kg")) == Coverage.from_text(Text("0.2 kg per m²"))
    assert Coverage.from_text(Text("150 ml/m2")).rate == Fraction(100, 15)
    ounces = Coverage.from_text(Text("1 fl oz / sq ft"))
    assert ounces == Coverage.from_text(Text("128 sqft/gal"))


@pytest.mark.parametrize(
    ("text", "share"), [("30%", "0.3"), ("12.5 %", "0.125"), ("0%", "0"), ("15 percent", "0.15")]
)
def test_shares(text: str, share: str) -> None:
    assert Share.from_text(Text(text)).share == Fraction(share)


@pytest.mark.parametrize(
    ("kind", "text", "says"),
    [
        (Amount, "16", "no amount"),
        (Amount, "16 inches", "no amount"),
        (Amount, "0 ml", "holds nothing"),
        (Amount, "1/0 gal", "holds nothing"),
        (Coverage, "500", "does not say what it covers"),
        (Coverage, "500 gal/sqft", "more than 5 mm thick"),
        (Coverage, "200 g/l", "does not say what it covers"),
        (Coverage, "200 m2/m2", "does not say what it covers"),
        (Coverage, "0 g/m2", "spreads nothing"),
        (Coverage, "0 sqft/gal", "covers nothing"),
        (Share, "30", "not a share"),
        (Share, "100%", "would leave nothing"),
        (Share, "-5%", "not a share"),
    ],
)
def test_what_cannot_be_read_is_said_with_what_would_be_right(kind, text: str, says: str) -> None:
    with pytest.raises(ExpressionError) as caught:
        kind.from_text(Text(text))
    (finding,) = caught.value.findings
    assert says in finding.message
    assert finding.remedy
