"""Phrases: what words are put together."""

from __future__ import annotations

import pytest

from plangen.units import listed


@pytest.mark.parametrize(
    ("words", "said"), [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")]
)
def test_words_are_listed_as_a_sentence_does(words: list[str], said: str) -> None:
    assert listed(words) == said
