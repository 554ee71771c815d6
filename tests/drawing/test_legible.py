"""The look of lines and tones, measured: legible in grey and to eyes that tell few colours apart.

Relative luminance and contrast ratio as WCAG 2.2 defines them (sRGB; 1.4.3 asks 4.5 of small text, 1.4.11
asks 3 of lines and signs). ISO/IEC Guide 37 asks 70 % of luminance contrast. The matrices that show how a
dichromat sees a colour are those of F. Viénot, H. Brettel and J. D. Mollon, "Digital video colourmaps for
checking the legibility of displays by dichromats", Color Research & Application 24, 1999
(values from memory).
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

from plangen.drawing.sheet.look import LINES, TONES
from plangen.drawing.sheet.model import Meaning, Tone

TEXT = (Tone.INK, Tone.SECONDARY)
TINTS = tuple(tone for tone in Tone if tone not in (Tone.INK, Tone.SECONDARY, Tone.BLACK_DISC, Tone.WASTE))
EYES = {
    "full colour": np.eye(3),
    "no red cones": np.array([[0.11238, 0.88762, 0.0], [0.11238, 0.88762, 0.0], [0.00401, -0.00401, 1.0]]),
    "no green cones": np.array([[0.29275, 0.70725, 0.0], [0.29275, 0.70725, 0.0], [-0.02234, 0.02234, 1.0]]),
    "grey print": np.array([[0.2126, 0.7152, 0.0722]] * 3),
}


def linear(colour: str) -> np.ndarray:
    """Red, green and blue as light, from 0 to 1."""
    parts = np.array([int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)])
    return np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)


def luminance(colour: str, eyes: str) -> float:
    return float(np.array([0.2126, 0.7152, 0.0722]) @ np.clip(EYES[eyes] @ linear(colour), 0.0, 1.0))


def ratio(one: float, two: float) -> float:
    return (max(one, two) + 0.05) / (min(one, two) + 0.05)


def test_the_measure_knows_black_white_and_a_grey_that_is_too_light() -> None:
    white, black = luminance("#FFFFFF", "full colour"), luminance("#000000", "full colour")
    assert ratio(white, black) == pytest.approx(21.0)
    assert ratio(white, luminance("#767676", "full colour")) == pytest.approx(
        4.54, abs=0.01
    )  # WCAG's example
    assert ratio(white, luminance("#777777", "full colour")) < 4.5


@pytest.mark.parametrize("eyes", EYES)
@pytest.mark.parametrize("text", TEXT)
@pytest.mark.parametrize("tint", TINTS)
def test_every_text_stands_out_from_every_tint(eyes: str, text: Tone, tint: Tone) -> None:
    ink, ground = luminance(TONES[text], eyes), luminance(TONES[tint], eyes)
    assert ratio(ink, ground) >= 4.5
    assert (ground - ink) / ground >= 0.70


@pytest.mark.parametrize("eyes", EYES)
@pytest.mark.parametrize("meaning", Meaning)
def test_every_line_stands_out_from_the_paper(eyes: str, meaning: Meaning) -> None:
    ink, paper = luminance(LINES[meaning].colour, eyes), luminance("#FFFFFF", eyes)
    assert ratio(ink, paper) >= 3.0
    assert (paper - ink) / paper >= 0.70


def test_no_two_lines_differ_by_their_colour_alone() -> None:
    # Hair lines rule tables and never meet the lines of a picture.
    drawn = [look for meaning, look in LINES.items() if meaning is not Meaning.HAIR]
    looks = [(look.width, look.dash, look.round) for look in drawn]
    colours = [look.colour for look in drawn]
    for one, two in combinations(range(len(looks)), 2):
        assert looks[one] != looks[two] or colours[one] == colours[two]


def test_what_is_new_has_a_line_twice_as_wide_as_what_was_there() -> None:
    """The tint says it too, but a grey print may lose that."""
    assert LINES[Meaning.VISIBLE].width >= 2 * LINES[Meaning.CONTEXT].width
    assert LINES[Meaning.BALLOON_NEW].width >= 2 * LINES[Meaning.BALLOON].width


def test_a_hidden_line_is_never_taken_for_another() -> None:
    dashed = {meaning: LINES[meaning].dash for meaning in Meaning if LINES[meaning].dash}
    assert {Meaning.HIDDEN, Meaning.PHANTOM, Meaning.CENTRE, Meaning.FLOW} <= set(dashed)
    assert len(set(dashed.values())) == len(dashed)
