"""Which characters can be printed: those that every weight of the booklet's typeface draws by themselves.

Source Sans Pro 2.020 (SIL Open Font Licence), read from the character maps of its regular, semibold and bold
weights, with the signs that the booklet adds. Accents that need a letter under them, characters that only
steer others, and private code points are left out. A test holds the table to the typeface.
"""

from __future__ import annotations

import unicodedata
from functools import cache

_RANGES = """
20-17e 180 18f 192-193 1a0-1a1 1af-1b0 1c2 1cd-1dc 1e2-1e3 1e6-1e7 1ea-1eb 1f4-1f5 1f8-1f9 1fc-1fd 218-21b
237 243 250-25c 25e-268 26a 26c-276 278-27b 27d-27e 280-284 288-292 294-295 298-299 29c-29d 29f 2a1-2a2 2b0
2b2-2b3 2b7-2b9 2bb-2bc 2be-2bf 2c1 2c6-2cc 2d0-2d1 2d8-2de 2e0-2e3 374-375 37a 37e 384-3ce 3d0-3d1 3d5 3d7
3d9 3db 3dd 3e1 400-45f 462-463 472-475 490-493 496-49b 4a0-4a3 4aa-4ab 4ae-4b3 4b6-4b7 4ba-4bb 4c0-4c2
4cf-4d1 4d4-4d9 4e2-4e3 4e6-4e9 4ee-4ef 4f2-4f3 1d43 1d47-1d49 1d4d 1d4f-1d50 1d52 1d56-1d58 1d5b 1d9c 1da0
1dbb 1e06-1e07 1e0c-1e0f 1e16-1e17 1e20-1e21 1e24-1e25 1e2a-1e2b 1e32-1e3b 1e3e-1e49 1e52-1e53 1e58-1e63
1e6c-1e6f 1e80-1e85 1e8e-1e8f 1e92-1e97 1e9e 1ea0-1ef9 1f00-1ffe 2007 2012-2016 2018-201a 201c-201e
2020-2022 2026 202f-2030 2032-2033 2035 2039-203a 203c-203f 2044 2047-2049 2070-2079 207d-2089 208d-208e
2094 20a1 20a4 20a6-20a7 20a9 20ab-20ac 20ae 20b1-20b2 20b4-20b5 20b8-20ba 20bd 2113 2116-2117 2120 2122
2126 212e 2150-215e 2189 2190-2193 2202 2206 220f 2211-2212 2215 2219-221a 221e 222b 2248 2260 2264-2265
2300 231c-231f 25a0-25a1 25b2-25b3 25b6-25b7 25bc-25bd 25c0-25c1 25c6 25c9-25ca 25cc 2605 2610-2611 266a
2713 2752 27e6-27e7 2e22-2e25 2e3a-2e3b fb00-fb04 1f16a-1f16b
"""
_NOT_ALONE = frozenset(("Mn", "Me", "Mc", "Cf", "Cc", "Cs", "Co", "Cn"))  # categories that draw nothing alone
_STEERING = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


@cache
def _printable() -> frozenset[int]:
    points: set[int] = set()
    for words in _RANGES.split():
        low, _, high = words.partition("-")
        points.update(range(int(low, 16), int(high or low, 16) + 1))
    return frozenset(points)


def can_be_printed(character: str) -> bool:
    """Tell whether a character can be printed."""
    return ord(character) in _printable() and unicodedata.category(character) not in _NOT_ALONE


def why_not(character: str) -> tuple[str, str]:
    """Say in a maker's words why a character cannot be printed, and what would be right."""
    name = unicodedata.name(character, "").capitalize()
    called = f"U+{ord(character):04X}" + (f", {name.lower()}," if name else "")
    category = unicodedata.category(character)
    if character in _STEERING:
        return (
            f"{called} turns the order of letters and is not seen",
            "take it out",
        )
    if category in ("Cf", "Cc") or 0xFE00 <= ord(character) <= 0xFE0F or 0xE0100 <= ord(character) <= 0xE01EF:
        return f"{called} is not seen and cannot be printed", "take it out"
    if category in ("Mn", "Me", "Mc"):
        return (
            f"{called} is an accent that makes no letter with what stands before it",
            "use a letter that has its accent, or leave the accent out",
        )
    if category == "Co":
        return f"{called} is a character of private use, which means nothing to others", "take it out"
    if category.startswith("L"):
        return (
            f"the typeface has no `{character}` ({called.rstrip(',')})",
            "write it in Latin, Greek or Cyrillic letters",
        )
    return f"the typeface has no `{character}` ({called.rstrip(',')})", "write it in words"
