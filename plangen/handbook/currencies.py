"""How many decimal places a currency has.

Minor units of ISO 4217:2015 (list one of its maintenance agency), set down from memory; two places for
every code that is not listed.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

_PLACES: Final = {
    **dict.fromkeys(
        (
            "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "UYI", "VND", "VUV",
            "XAF", "XOF", "XPF",
        ),
        0,
    ),
    **dict.fromkeys(("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"), 3),
    **dict.fromkeys(("CLF", "UYW"), 4),
}  # fmt: skip
_USUAL: Final = 2


def minor_places(currency: str) -> int:
    """Give the number of decimal places in which a currency is paid."""
    return _PLACES.get(currency, _USUAL)


def payable(amount: Fraction, currency: str) -> Fraction:
    """Round an amount to the smallest unit that is paid, halves up."""
    unit = 10 ** minor_places(currency)
    return Fraction((amount * unit + Fraction(1, 2)) // 1, unit)


def amount_words(amount: Fraction, currency: str) -> str:
    """Print an amount as it is paid, without its currency: ``8.90``, in yen ``900``."""
    places = minor_places(currency)
    units = int(payable(amount, currency) * 10**places)
    if not places:
        return str(units)
    sign, units = ("-" if units < 0 else ""), abs(units)
    return f"{sign}{units // 10**places}.{units % 10**places:0{places}}"
