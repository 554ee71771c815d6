"""From what a line or a fill means to how it looks.

Widths and patterns of lines follow a drawing standard, ISO 128-2:2020 or ASME Y14.2-2014, both with wide
lines twice as wide as narrow ones. The tints are this project's own; meaning never hangs on a tint alone,
so every booklet also reads in grey.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import floor
from types import MappingProxyType

from plangen.drawing.sheet.model import Meaning, Standard, Tone

WIDE, THIN, FINE = 0.5, 0.25, 0.18  # mm; FINE is the next step down of the series of ISO 128-2


@dataclass(frozen=True, slots=True)
class LineLook:
    """A line's width, its dashes (on, off, …) in millimetres, its colour and whether its ends are round.

    A line that is ``fitted`` begins and ends with its dash: see ``dashes``.
    """

    width: float
    dash: tuple[float, ...] = ()
    colour: str = "#000000"
    round: bool = False
    fitted: bool = False


def _table(
    wide: float,
    thin: float,
    fine: float,
    hidden: tuple[float, ...],
    centre: tuple[float, ...],
    phantom: tuple[float, ...],
) -> Mapping[Meaning, LineLook]:
    return MappingProxyType(
        {
            Meaning.VISIBLE: LineLook(wide, round=True),
            Meaning.HIDDEN: LineLook(thin, hidden, fitted=True),
            Meaning.RIM: LineLook(fine, round=True),
            Meaning.CONTEXT: LineLook(thin, round=True),
            Meaning.PHANTOM: LineLook(thin, phantom, fitted=True),
            Meaning.CENTRE: LineLook(thin, centre, fitted=True),
            Meaning.DIMENSION: LineLook(thin),
            Meaning.EXTENSION: LineLook(thin),
            Meaning.LEADER: LineLook(thin),
            Meaning.FLOW: LineLook(thin, (2.0, 1.0)),  # this project's own
            Meaning.CUT: LineLook(thin),
            Meaning.HAND_CUT: LineLook(0.7, (5.0, 1.5), fitted=True),  # this project's own
            Meaning.KEEP: LineLook(fine, (0.6, 1.4)),  # this project's own
            Meaning.CUTTING_PLANE: LineLook(wide),
            Meaning.HATCH: LineLook(fine, colour="#808080"),
            Meaning.FRAME: LineLook(wide),
            Meaning.RULE: LineLook(wide),
            Meaning.HAIR: LineLook(fine),
            Meaning.BALLOON: LineLook(thin),
            Meaning.BALLOON_NEW: LineLook(wide),
        }
    )


# ISO 128-2:2020, lengths in multiples of the width d (table 2 of ISO 128-20:1996, as remembered): a dash
# 12 d, a long dash 24 d, a gap 3 d, a dot 0.5 d. Dashed 02.1; long-dashed dotted 04.1; long-dashed
# double-dotted 05.1.
LINES: Mapping[Meaning, LineLook] = _table(
    WIDE,
    THIN,
    FINE,
    (12 * THIN, 3 * THIN),
    (24 * THIN, 3 * THIN, 0.5 * THIN, 3 * THIN),
    (24 * THIN, 3 * THIN, 0.5 * THIN, 3 * THIN, 0.5 * THIN, 3 * THIN),
)

# ASME Y14.2-2014 (thick 0.6 mm and thin 0.3 mm at least). It shows lengths in its figures and lets them vary
# with the size of the drawing: dashes of about 3 mm with gaps of about 1 mm, chain lines with dashes of 19 mm
# and more, 3 mm and gaps of 1.5 mm (common practice, no source); the chains here are at half of that.
ASME_LINES: Mapping[Meaning, LineLook] = _table(
    0.6, 0.3, 0.3, (3.0, 1.0), (9.5, 0.75, 1.5, 0.75), (9.5, 0.75, 1.5, 0.75, 1.5, 0.75)
)

LEAST_LETTERING: Mapping[Standard, float] = MappingProxyType(
    # mm of figure height: ISO 3098-1:2015 recommends 2.5, ASME Y14.2-2014 asks 3 (0.12 in); as remembered.
    {"iso": 2.5, "asme": 3.0}
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


def line_look(meaning: Meaning, standard: Standard = "iso") -> LineLook:
    """Give the look of a line by a drawing standard."""
    return LINES[meaning] if standard == "iso" else ASME_LINES[meaning]


def dashes(look: LineLook, length: float) -> tuple[float, ...]:
    """Give the dashes (on, off, …) for a line of ``length`` mm; empty where it is continuous.

    A fitted line begins and ends with its dash, which gives way while gaps and dots keep their lengths, as
    ISO 128-21:1997 lays down for lines drawn by machine (from memory). A line with dots has an even number
    of them along it, so that its middle, where it crosses another or a centre, is a dash. One too short
    for that is continuous, as the centre lines of small circles are in both standards; a short dashed line
    keeps one gap, of at most a third of it.
    """
    if not look.fitted or not look.dash:
        return look.dash
    dash, rest = look.dash[0], sum(look.dash[1:])
    dotted = len(look.dash) > 2
    step = 2 if dotted else 1
    number = step * max(floor((length - dash) / (step * (dash + rest)) + 0.5), 1)
    fitted = (length - number * rest) / (number + 1)
    if dotted and fitted < dash / 4:
        return ()
    if not dotted and number == 1 and fitted < length / 3:
        return (length / 3, length / 3)
    return (fitted, *look.dash[1:])


def colour(tone: Tone) -> str:
    """Give the colour of a tone as ``#RRGGBB``."""
    return TONES[tone]


def rgb(hexadecimal: str) -> tuple[float, float, float]:
    """Give red, green and blue from 0 to 1."""
    return (int(hexadecimal[1:3], 16) / 255, int(hexadecimal[3:5], 16) / 255, int(hexadecimal[5:7], 16) / 255)
