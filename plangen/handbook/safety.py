"""Safety texts: what can happen, what it does to you, and how to keep it from happening.

Signal words follow the meanings that ANSI Z535.6 (product safety information in manuals) gives
them, put in our own words; they go by the worst that could reasonably result. The texts are our
own. They are general good practice for a home shop and replace neither a machine's own manual nor
local law; where a licensed trade has the say (mains wiring, gas, structure) the text defers to it.
"""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches
from typing import Final

from plangen.handbook.safety_texts import CAUTIONS, GENERAL, SIGNALS, Caution, Signal

__all__ = [
    "CAUTIONS",
    "SIGNALS",
    "Caution",
    "Signal",
    "caution",
    "general_cautions",
    "general_deference",
    "has_caution",
    "most_severe_first",
    "signal_definitions",
]

# Definitions after ANSI Z535.4-2007 clause 4.14, whose words Z535.6 shares; the wording is ours.
_DEFINITIONS: Final[tuple[tuple[Signal, str], ...]] = (
    (
        "DANGER",
        "If you do not avoid it, someone will be killed or badly hurt. Kept for the most extreme cases.",
    ),
    ("WARNING", "If you do not avoid it, someone could be killed or badly hurt."),
    ("CAUTION", "If you do not avoid it, someone could be hurt slightly or moderately."),
    ("NOTICE", "Not about injury: the work, a tool or the room could be damaged."),
)

_DEFERENCE: Final = (
    "These notes cannot cover every tool and every shop. The manual of your machine, the label of "
    "your glue and finish, and the law where you live come first. Leave mains wiring, gas and anything "
    "that holds up a building to licensed professionals; for children's furniture, follow the safety "
    "rules of your country."
)


def caution(key: str) -> Caution:
    """Give the safety text for a key such as ``table saw``.

    Raises KeyError, naming the nearest key, when there is no such text.
    """
    for known in (CAUTIONS.get(key), *(item for item in GENERAL if item.key == key)):
        if known is not None:
            return known
    near = get_close_matches(key, CAUTIONS, 1)
    hint = f"; did you mean '{near[0]}'?" if near else ""
    raise KeyError(f"no safety text '{key}'{hint}")


def has_caution(key: str) -> bool:
    """Whether there is a safety text for a key."""
    return key in CAUTIONS or any(item.key == key for item in GENERAL)


def general_cautions() -> tuple[Caution, ...]:
    """Give what is said once, before the builder begins."""
    return GENERAL


def general_deference() -> str:
    """Give the paragraph that puts manuals, labels, local law and licensed professionals first."""
    return _DEFERENCE


def signal_definitions() -> tuple[tuple[Signal, str], ...]:
    """Each signal word with its meaning, most severe first; for the page on safety."""
    return _DEFINITIONS


def most_severe_first(keys: Iterable[str]) -> tuple[str, ...]:
    """Give each key once, most severe signal word first, else in the order given.

    Raises KeyError for a key without a text.
    """
    unique = dict.fromkeys(keys)
    return tuple(sorted(unique, key=lambda key: SIGNALS.index(caution(key).signal)))
