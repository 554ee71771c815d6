"""Numbers typed in the maker's words, which go stale, and how near the remedy comes."""

from __future__ import annotations

import pytest

from plangen.findings import Severity
from tests.checks.planting import SHELF, found

AFTER = "  - after: housings\n    say: "


def typed(words: str) -> list[tuple[str, str]]:
    findings = [one for one in found(f"{SHELF}{AFTER}{words}\n") if one.kind == "typed-number"]
    assert all(one.severity is Severity.WARNING for one in findings)
    return [(one.message.split("`")[1], one.remedy) for one in findings]


@pytest.mark.parametrize(
    ("words", "number"),
    [
        ("The shelf is 1-1/2 in wide.", "1-1/2 in"),
        ("The shelf is 1 1/2in wide.", "1 1/2in"),
        ("Cut it 22 mm long.", "22 mm"),
        ("Cut it 22.5mm long.", "22.5mm"),
        ("It is 3 ft tall.", "3 ft"),
        ("It is 9 in.", "9 in"),
        ("It is 9 in wide.", "9 in"),
        ("A 9-inch strip.", "9-inch"),
        ('"A strip of 9\\" there."', '9"'),
    ],
)
def test_a_typed_length_is_told(words: str, number: str) -> None:
    assert [word for word, _ in typed(words)] == [number]


@pytest.mark.parametrize(
    "words",
    [
        "Drive 2 in each side.",
        "Sand to 180 grit, at 68 °F.",
        "Take 4 screws and 10 minutes.",
        "It is <height / 2> tall, less <pine.thickness>.",
        "Cut it from 4/4 stock.",
        "A No. 8 screw.",
    ],
)
def test_counts_grits_and_temperatures_are_no_lengths(words: str) -> None:
    assert typed(words) == []


def test_the_size_of_that_value_is_named() -> None:
    assert typed("It is 6 in deep.") == [("6 in", "put it as `<depth>`")]
    assert "<shelf.length>" in typed("It is 5 in deep.")[0][1]


def test_the_number_itself_is_pointed_at() -> None:
    (finding,) = (one for one in found(f"{SHELF}{AFTER}It is 6 in deep.\n") if one.kind == "typed-number")
    assert finding.place is not None
    assert (finding.place.line, finding.place.column) == (SHELF.count("\n") + 2, len("    say: It is ") + 1)


@pytest.mark.parametrize(
    ("words", "place"),
    [
        ("Lay {sheld} down.", (2, len("    say: Lay ") + 1)),
        ("Cut it <widht> long.", (2, len("    say: Cut it <") + 1)),
        ("|\n      It is\n      laid on {sheld}.", (2, len("    say: ") + 1)),
    ],
)
def test_a_name_that_is_not_known_is_pointed_at_where_it_stands(words: str, place: tuple[int, int]) -> None:
    (finding,) = found(f"{SHELF}{AFTER}{words}\n")
    assert finding.place is not None
    assert (finding.place.line - SHELF.count("\n"), finding.place.column) == place
