"""Exact lengths, how they are printed, and phrases that hold lengths until an edition prints them."""

from plangen.units.length import ZERO, Length, inches, millimetres
from plangen.units.phrase import EachWay, Phrase, Reading, TradeSize, listed, phrase
from plangen.units.printing import LengthStyle, print_chain, print_length, print_reading

__all__ = [
    "ZERO",
    "EachWay",
    "Length",
    "LengthStyle",
    "Phrase",
    "Reading",
    "TradeSize",
    "inches",
    "listed",
    "millimetres",
    "phrase",
    "print_chain",
    "print_length",
    "print_reading",
]
