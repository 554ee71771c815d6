import re

import pytest

from plangen.handbook.safety import (
    CAUTIONS,
    SIGNALS,
    caution,
    general_cautions,
    general_deference,
    has_caution,
    most_severe_first,
    signal_definitions,
)

NEEDED = """table saw, crosscut, router, router small part, bandsaw, jigsaw, drill, chisel, planer, jointer,
sanding dust, glue, finish rags, solvent, lifting, tip over, pinch, wall hanging, mains wiring, structure,
child, screws, short part, load, round over router, dowelling, gas, tapering, clamps"""

EVERY = (*CAUTIONS.values(), *general_cautions())


@pytest.mark.parametrize("key", [key.strip() for key in NEEDED.replace("\n", " ").split(",")])
def test_every_operation_finds_its_text(key: str) -> None:
    assert caution(key).key == key
    assert has_caution(key)


@pytest.mark.parametrize("text", EVERY, ids=lambda text: text.key)
def test_a_text_says_all_three_things_in_two_lines(text) -> None:
    for sentence in (text.hazard, text.consequence, text.avoidance):
        assert sentence[0].isupper()
        assert sentence.endswith(".")
    # Two lines of 10.5 pt across the text column hold about 170 characters.
    assert len(text.text) <= 173


# ANSI Z535.4-2007, 4.14: the signal word goes by the harm that could result.
GRAVE = ("lose", "kill", "die", "cancer", "maim", "blind", "fire", "crush a child", "break bones", "explode")


@pytest.mark.parametrize("text", EVERY, ids=lambda text: text.key)
def test_grave_harm_is_never_only_a_caution(text) -> None:
    said = f"{text.hazard} {text.consequence}".lower()
    if any(re.search(rf"\b{word}", said) for word in GRAVE):
        assert text.signal in ("DANGER", "WARNING")


def test_danger_is_kept_for_what_kills() -> None:
    for text in EVERY:
        if text.signal == "DANGER":
            assert "kill" in text.text or "die" in text.text


@pytest.mark.parametrize("key", ["mains wiring", "gas", "structure"])
def test_licensed_trades_and_local_codes_have_the_last_word(key: str) -> None:
    assert "licensed" in caution(key).avoidance
    assert "local" in caution(key).avoidance


def test_deference_names_what_we_do_not_decide() -> None:
    for word in ("manual", "label", "law", "wiring", "gas", "building", "children"):
        assert word in general_deference()
    assert "local rules" in caution("child").avoidance


def test_load_says_that_strength_is_an_estimate() -> None:
    assert "strength figures are estimates" in caution("load").hazard
    assert "middle" in caution("load").avoidance


def test_signal_words_are_defined_in_order_of_severity() -> None:
    assert (
        tuple(word for word, _ in signal_definitions())
        == SIGNALS
        == ("DANGER", "WARNING", "CAUTION", "NOTICE")
    )


def test_most_severe_comes_first_and_once() -> None:
    assert most_severe_first(["drill", "router", "drill", "mains wiring", "glue"]) == (
        "mains wiring", "router", "drill", "glue",
    )  # fmt: skip


def test_an_unknown_key_names_the_nearest() -> None:
    with pytest.raises(KeyError, match="did you mean 'table saw'"):
        caution("tabel saw")
    assert not has_caution("tabel saw")
