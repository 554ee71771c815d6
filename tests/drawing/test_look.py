"""Lines by standard: widths, dashes as multiples of the width, and dashes fitted to the line."""

from __future__ import annotations

from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plangen.drawing.sheet.look import ASME_LINES, LEAST_LETTERING, LINES, dashes, line_look
from plangen.drawing.sheet.model import Meaning

WIDE = (Meaning.VISIBLE, Meaning.FRAME, Meaning.RULE, Meaning.BALLOON_NEW)
NARROW = (
    Meaning.HIDDEN, Meaning.CONTEXT, Meaning.PHANTOM, Meaning.CENTRE, Meaning.DIMENSION, Meaning.EXTENSION,
    Meaning.LEADER, Meaning.FLOW, Meaning.CUT, Meaning.BALLOON,
)  # fmt: skip

# ISO 128-2:2020, line widths (the series grows by the root of two; from memory, and read in a textbook).
SERIES = (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0)

# ISO 128-2:2020, table 2 (from 128-20:1996, table 3; from memory): lengths as multiples of the width.
DASHED, LONG_DASH_DOT, LONG_DASH_TWO_DOTS = (12, 3), (24, 3, 0.5, 3), (24, 3, 0.5, 3, 0.5, 3)


def test_iso_widths_are_of_the_series_and_wide_is_twice_narrow() -> None:
    assert {LINES[meaning].width for meaning in WIDE} == {0.5}
    assert {LINES[meaning].width for meaning in NARROW} == {0.25}
    assert all(look.width in SERIES for look in LINES.values())


def test_asme_widths_are_at_least_those_of_the_standard() -> None:
    # ASME Y14.2-2014, line widths (read in its 2008 edition): thick 0.6 mm, thin 0.3 mm, about 2:1.
    assert {ASME_LINES[meaning].width for meaning in WIDE} == {0.6}
    assert min(look.width for look in ASME_LINES.values()) == 0.3
    assert {ASME_LINES[meaning].width for meaning in NARROW} == {0.3}


@pytest.mark.parametrize(
    ("meaning", "multiples"),
    [
        (Meaning.HIDDEN, DASHED),
        (Meaning.CENTRE, LONG_DASH_DOT),
        (Meaning.PHANTOM, LONG_DASH_TWO_DOTS),
    ],
)
def test_iso_dashes_are_these_multiples_of_the_width(meaning: Meaning, multiples: tuple[float, ...]) -> None:
    look = line_look(meaning, "iso")
    assert [length / look.width for length in look.dash] == pytest.approx(multiples)


def test_asme_chains_have_long_and_short_dashes_and_hidden_lines_even_ones() -> None:
    # ASME Y14.2-2014 shows: hidden, short dashes evenly spaced; centre, long and short alternately; phantom,
    # long ones with two short between (from memory). The lengths are this project's own.
    hidden, centre, phantom = (
        line_look(m, "asme").dash for m in (Meaning.HIDDEN, Meaning.CENTRE, Meaning.PHANTOM)
    )
    assert len(hidden) == 2
    assert hidden[1] < hidden[0] / 2
    assert len(centre) == 4
    assert centre[0] > 4 * centre[2] > 0
    assert len(phantom) == 6
    assert phantom[2] == phantom[4] == centre[2]


def test_continuous_lines_are_those_of_both_standards() -> None:
    # ISO 128-2 types 01.1 and 01.2; ASME Y14.2 visible, dimension, extension, leader, section lines.
    for table in (LINES, ASME_LINES):
        for meaning in (Meaning.VISIBLE, Meaning.DIMENSION, Meaning.EXTENSION, Meaning.LEADER, Meaning.HATCH):
            assert table[meaning].dash == ()


def test_lettering_is_of_the_series_and_no_smaller_than_asked() -> None:
    # ISO 3098-1:2015: 1.8, 2.5, 3.5, 5 …; ASME Y14.2-2014: 3 mm for dimensions and notes (from memory).
    assert LEAST_LETTERING == {"iso": 2.5, "asme": 3.0}


FITTED = [
    (meaning, standard)
    for standard in ("iso", "asme")
    for meaning in Meaning
    if line_look(meaning, standard).fitted  # type: ignore[arg-type]
]


@given(st.sampled_from(FITTED), st.floats(0.3, 500))
def test_a_fitted_line_begins_and_ends_with_its_dash(kind: tuple[Meaning, str], length: float) -> None:
    look = line_look(*kind)  # type: ignore[arg-type]
    fitted = dashes(look, length)
    if not fitted:
        assert len(look.dash) > 2
        assert length < 2 * sum(look.dash)
        return
    repeats = (length - fitted[0]) / sum(fitted)
    assert isclose(repeats, round(repeats), abs_tol=1e-6)
    assert min(fitted) > 0
    if len(look.dash) > 2:
        assert round(repeats) % 2 == 0  # so a dash, not a dot, lies in the middle
        assert fitted[1:] == look.dash[1:]
    if length > 2 * sum(look.dash):
        assert look.dash[0] / 2 < fitted[0] < look.dash[0] * 2
        assert fitted[1:] == look.dash[1:]


def test_a_hidden_line_is_broken_however_short() -> None:
    look = line_look(Meaning.HIDDEN, "iso")
    for length in (0.5, 1.0, 2.0, 3.0, 7.0, 50.0):
        assert dashes(look, length)
    assert dashes(look, 50.0)[0] == pytest.approx(3.0, abs=0.2)


def test_the_centre_line_of_a_small_hole_is_continuous() -> None:
    assert dashes(line_look(Meaning.CENTRE, "iso"), 6.0) == ()
    assert dashes(line_look(Meaning.CENTRE, "iso"), 60.0)


def test_lines_that_are_not_fitted_keep_their_dashes() -> None:
    assert dashes(line_look(Meaning.FLOW), 1.0) == dashes(line_look(Meaning.FLOW), 99.0) == (2.0, 1.0)
    assert dashes(line_look(Meaning.VISIBLE), 10.0) == ()
