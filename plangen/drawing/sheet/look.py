"""From what a line or a fill means to how it looks.

Widths and patterns: ISO 128-2:2020 (wide to narrow 2:1; dashes as multiples of the line width). The
narrowest, 0.18 mm, is the next step down of the same series. The tints are this project's own; meaning
never hangs on a tint alone, so every booklet also reads in grey.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from plangen.drawing.sheet.model import Meaning, Tone

WIDE, THIN, FINE = 0.5, 0.25, 0.18  # mm


@dataclass(frozen=True, slots=True)
class LineLook:
    """A line's width, its dashes (on, off, …) in millimetres, its colour and whether its ends are round."""

    width: float
    dash: tuple[float, ...] = ()
    colour: str = "#000000"
    round: bool = False


LINES: Mapping[Meaning, LineLook] = MappingProxyType(
    {
        Meaning.VISIBLE: LineLook(WIDE, round=True),
        Meaning.HIDDEN: LineLook(THIN, (3.0, 0.75)),  # ISO 128-2 type 02: 12 d and 3 d
        Meaning.RIM: LineLook(FINE, round=True),
        Meaning.CONTEXT: LineLook(THIN, round=True),
        # ISO 128-2 type 05, long dash and two short ones: 24 d and 3 d; the short ones as in a centre line.
        Meaning.PHANTOM: LineLook(THIN, (6.0, 0.75, 0.5, 0.75, 0.5, 0.75)),
        Meaning.CENTRE: LineLook(FINE, (2.0, 0.6, 0.5, 0.6)),
        Meaning.DIMENSION: LineLook(THIN),
        Meaning.EXTENSION: LineLook(THIN),
        Meaning.LEADER: LineLook(THIN),
        Meaning.FLOW: LineLook(THIN, (2.0, 1.0)),
        Meaning.CUT: LineLook(THIN),
        Meaning.HATCH: LineLook(FINE, colour="#808080"),
        Meaning.FRAME: LineLook(WIDE),
        Meaning.RULE: LineLook(WIDE),
        Meaning.HAIR: LineLook(FINE),
        Meaning.BALLOON: LineLook(THIN),
        Meaning.BALLOON_NEW: LineLook(WIDE),
    }
)

TONES: Mapping[Tone, str] = MappingProxyType(
    {
        Tone.INK: "#000000",
        Tone.SECONDARY: "#595959",
        Tone.PAPER: "#FFFFFF",
        Tone.NEW_TOP: "#F7EDE1",
        Tone.NEW_FRONT: "#F4E7D8",
        Tone.NEW_SIDE: "#F1E1CE",
        Tone.PLAIN_TOP: "#FFFFFF",
        Tone.PLAIN_FRONT: "#F3F3F3",
        Tone.PLAIN_SIDE: "#E2E2E2",
        Tone.COVER_TOP: "#FAF4ED",
        Tone.COVER_FRONT: "#F3E6D6",
        Tone.COVER_SIDE: "#EBD4B8",
        Tone.SHADOW: "#EBEBEB",
        Tone.WASTE: "#808080",
        Tone.STOCK: "#F4E7D8",
        Tone.BLACK_DISC: "#000000",
    }
)


def line_look(meaning: Meaning) -> LineLook:
    """Give the look of a line."""
    return LINES[meaning]


def colour(tone: Tone) -> str:
    """Give the colour of a tone as ``#RRGGBB``."""
    return TONES[tone]


def rgb(hexadecimal: str) -> tuple[float, float, float]:
    """Give red, green and blue from 0 to 1."""
    return (int(hexadecimal[1:3], 16) / 255, int(hexadecimal[3:5], 16) / 255, int(hexadecimal[5:7], 16) / 255)
