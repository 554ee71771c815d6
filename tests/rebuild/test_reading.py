"""Reading figures, solving places and comparing solids, each on small cases worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from tests.rebuild.compare import Cylinder, difference
from tests.rebuild.figures import Measure, angle, in_words, length, one_system
from tests.rebuild.part import make
from tests.rebuild.tree import ContradictionError, Corner, UntoldError, places
from tests.rebuild.written import Said, Sheet

PART = Said("part", "part", {"grain-runs": "across", "width-runs": "deep", "thickness-runs": "up"}, ())


def said(axis: str, start: str, end: str, text: str, towards: str, kind: str = "size") -> Said:
    data = {"axis": axis, "says": kind, "towards": towards, "from": start, "to": end}
    return Said("dimension", f"{start} to {end}", data, (text,))


BLANK = (
    PART,
    said("across", "left side", "right side", "10", "right", "overall"),
    said("deep", "front side", "back side", "4", "back", "overall"),
    said("up", "bottom side", "top side", "3/4", "top", "overall"),
)
DADO = (
    said("across", "left side", "left edge of dado 1", "3", "right", "location"),
    said("across", "left edge of dado 1", "right edge of dado 1", "3/4", "right"),
    said("up", "bottom edge of dado 1", "top side", "1/4", "top"),
    Said(
        "feature",
        "feature-1",
        {
            "name": "dado 1", "shape": "recess", "worked-from": "top",
            "left": "left edge of dado 1", "right": "right edge of dado 1",
            "front": "front side", "back": "back side", "bottom": "bottom edge of dado 1", "top": "top side",
        },
        (),
    ),
)  # fmt: skip


@pytest.mark.parametrize(
    ("text", "mm", "half"),
    [
        ("3\u00a013/16", 96.8375, 25.4 / 64),
        ("3/4", 19.05, 25.4 / 128),
        ("1", 25.4, 25.4 / 64),
        ("(1\u00a03/4)", 44.45, 25.4 / 64),
        ("5\u00a0mm", 5.0, 0.25),
        ("0.004", 0.1016, 0.0005 * 25.4),
    ],
)
def test_inches_are_read(text: str, mm: float, half: float) -> None:
    assert length(text, "inch") == Measure(pytest.approx(mm), pytest.approx(half))


@pytest.mark.parametrize(
    ("text", "mm", "half"), [("412.5", 412.5, 0.25), ("9", 9.0, 0.25), ("4.4", 4.4, 0.05)]
)
def test_millimetres_are_read(text: str, mm: float, half: float) -> None:
    assert length(text, "mm") == Measure(pytest.approx(mm), pytest.approx(half))


def test_what_is_no_length_is_refused() -> None:
    with pytest.raises(ValueError, match="no length"):
        length("about 3", "inch")


def test_one_system_of_two_is_kept() -> None:
    words = "6 holes 11/64 in (4.5 mm), through, counterbore 3/8 (9.5 mm) × 1/4 (6.5 mm) deep"
    assert one_system(words, "inch") == "6 holes 11/64 in, through, counterbore 3/8 × 1/4 deep"
    assert one_system(words, "mm") == "6 holes 4.5, through, counterbore 9.5 × 6.5 deep"
    assert in_words(r"counterbore #", one_system(words, "mm"), "mm") == Measure(9.5, 0.25)
    assert angle(r"tilted #", "tilted 6.5° as the arrow points") == 6.5


def test_halves_add_up_along_the_way() -> None:
    at = places(Sheet((*BLANK, *DADO)), "inch", "low")["across"].at("right edge of dado 1")
    assert at == Measure(pytest.approx(3.75 * 25.4), pytest.approx(25.4 / 64 + 25.4 / 128))
    far = places(Sheet((*BLANK, *DADO)), "inch", "high")["across"].at("right edge of dado 1")
    assert far.half == pytest.approx(25.4 / 64 * 2 + 25.4 / 128)


def test_a_place_that_nothing_reaches_is_told() -> None:
    with pytest.raises(UntoldError, match="not tied to the rest across"):
        places(Sheet((*BLANK, DADO[1])), "inch", "low")
    with pytest.raises(UntoldError, match="no overall size deep"):
        places(Sheet((*BLANK[:2], BLANK[3])), "inch", "low")


def test_a_value_in_parentheses_has_to_agree() -> None:
    rest = said("across", "right edge of dado 1", "right side", "(6 1/4)", "right", "reference")
    wrong = said("across", "right edge of dado 1", "right side", "(6 3/8)", "right", "reference")
    assert places(Sheet((*BLANK, *DADO, rest)), "inch", "low")
    with pytest.raises(ContradictionError, match="is said"):
        places(Sheet((*BLANK, *DADO, wrong)), "inch", "low")


def test_a_row_has_to_add_up() -> None:
    row = said("across", "left side | a 1", "a 1 | a 2", "2 × 1 1/4 = 2 1/2", "right", "row")
    at = places(Sheet((*BLANK, row)), "inch", "low")["across"]
    assert at.at("a 2").mm == pytest.approx(2.5 * 25.4)
    assert at.at("a 2").half == pytest.approx(25.4 / 64)  # the whole is no farther off than it is printed
    wrong = said("across", "left side | a 1", "a 1 | a 2", "2 × 1 1/4 = 2 5/8", "right", "row")
    with pytest.raises(ContradictionError, match="does not add up"):
        places(Sheet((*BLANK, wrong)), "inch", "low")


def board(floor: float, left: float) -> tuple[np.ndarray, np.ndarray]:
    """A board 10 × 4 × 3/4 in with a dado 3/4 in wide, as a mesh made point by point, mm."""
    profile = np.array(
        [(0, 0), (254, 0), (254, 19.05), (left + 19.05, 19.05), (left + 19.05, floor), (left, floor),
         (left, 19.05), (0, 19.05)], dtype=float,
    )  # fmt: skip
    count = len(profile)
    front = np.column_stack([profile[:, 0], np.zeros(count), profile[:, 1]])
    back = front + np.array([0.0, 101.6, 0.0])
    cap = np.array([(0, 5, 6), (0, 6, 7), (0, 1, 5), (1, 4, 5), (1, 2, 4), (2, 3, 4)])
    walls = [
        face
        for k in range(count)
        for face in ((k, k + count, (k + 1) % count), ((k + 1) % count, k + count, (k + 1) % count + count))
    ]
    return np.vstack([front, back]), np.vstack([cap, cap[:, ::-1] + count, np.array(walls)])


@pytest.mark.parametrize(
    ("corner", "floor", "left", "same"),
    [
        ("low", 12.7, 76.2, True),
        ("high", 12.7 + 0.19, 76.2, True),  # a quarter of an inch is printed to 1/64: 0.198 mm either way
        ("high", 12.7 + 0.21, 76.2, False),
        ("low", 12.7 + 0.39, 76.2, True),  # from the bottom the thickness may be off too: 0.397 mm
        ("low", 12.7 + 0.41, 76.2, False),
        ("low", 12.7, 76.2 + 0.39, True),  # three inches are printed to 1/32: 0.397 mm
        ("low", 12.7, 76.2 + 0.41, False),
    ],
)
def test_a_board_may_be_off_by_its_rounding_and_no_more(
    corner: Corner, floor: float, left: float, same: bool
) -> None:
    made = make(Sheet((*BLANK, *DADO)), "inch", corner)
    assert (difference(made, *board(floor, left)).worst <= 1.0) is same


def test_a_hole_that_nobody_made_shows() -> None:
    made = make(Sheet((*BLANK, *DADO)), "inch")
    hole = Cylinder(np.array([200.0, 50.0, 0.0]), np.array([0.0, 0.0, 1.0]), 3.0)
    assert difference(made, *board(12.7, 76.2), (hole,)).worst == np.inf
