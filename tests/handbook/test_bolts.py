"""Machine bolts against reprints of the standards."""

from __future__ import annotations

import pytest

from plangen.handbook.bolts import find_bolt
from plangen.units import inches, millimetres

# Largest and least head height of hex bolts, and the largest width across flats, in thousandths of an
# inch: ASME B18.2.1, table of hex bolts, as reprinted.
HEX = {"1/4": (150, 188, 438), "5/16": (195, 235, 500), "3/8": (226, 268, 562), "1/2": (302, 364, 750)}
# ISO 273:1979 medium hole; BS EN ISO 4032:2001 largest nut height; ISO 4014 head height and width
# across flats; ISO 4762:2004 plain head; ISO 7089 washer diameter and thickness, as reprinted, mm.
METRIC = {
    4: ("4.5", "3.2", "2.8", "7", "7", "9", "0.8"),
    5: ("5.5", "4.7", "3.5", "8", "8.5", "10", "1"),
    6: ("6.6", "5.2", "4", "10", "10", "12", "1.6"),
    8: ("9", "6.8", "5.3", "13", "13", "16", "1.6"),
    10: ("11", "8.4", "6.4", "16", "16", "20", "2"),
    12: ("13.5", "10.8", "7.5", "18", "18", "24", "2.5"),
}


@pytest.mark.parametrize("size", METRIC)
def test_metric_bolts_are_those_of_the_standards(size: int) -> None:
    bolt = find_bolt(millimetres(size))
    assert bolt is not None
    found = (
        bolt.hole, bolt.nut, bolt.head, bolt.flats, bolt.socket, bolt.washer, bolt.washer_thickness,
    )  # fmt: skip
    assert found == tuple(millimetres(value) for value in METRIC[size])


@pytest.mark.parametrize("size", HEX)
def test_inch_heads_lie_within_the_limits_of_the_standard(size: str) -> None:
    bolt = find_bolt(inches(size))
    assert bolt is not None
    least, most, flats = HEX[size]
    assert least <= bolt.head.inches * 1000 <= most
    assert abs(bolt.flats.inches * 1000 - flats) < 1  # the table rounds to thousandths
