r"""Tokens: what the text of a step holds in place of numbers and names until an edition prints it.

The grammar, in Markdown text:

=================== =====================================================================
``<=381/20>``       an exact length, here 381/20 mm; printed with its unit
``<shelf.length>``  a reference the maker typed; printed as the edition prints that value
``{part:KEY}``      a part; printed as its title and mark
``{copy:NAME}``     one copy of a part; printed as its name and mark
``{joint:NAME}``    a joint; printed as its name
``{hardware:NAME}`` a thing bought by the piece; printed as its title
``{NAME}``          what a maker types: a part, a copy or hardware, whichever has the name
``\<`` ``\{``         the plain signs
=================== =====================================================================

``order_of_work`` turns every ``{NAME}`` into one of the named kinds, so that later rooms see no other.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from typing import Final

from plangen.units import Length, Phrase, TradeSize

_TOKEN: Final = re.compile(
    r"\\(?P<plain>[<{])|<=(?P<mm>-?\d+(?:/\d+)?)>|<(?P<reference>[A-Za-z][^<>\n]*)>"
    r"|\{(?:(?P<kind>part|copy|joint|hardware):)?(?P<name>[^{}\n]+)\}"
)
_SIGNS: Final = re.compile(r"[<{]")

Resolve = Callable[[str], str]


def length_token(length: Length) -> str:
    """Give the token of an exact length."""
    return f"<={length.mm}>"


def part_token(key: str) -> str:
    """Give the token of a part."""
    return f"{{part:{key}}}"


def phrase_text(phrase: Phrase) -> str:
    """Give a phrase as text with tokens: its lengths stay exact, its plain signs stay plain."""
    return "".join(_piece_text(piece) for piece in phrase.pieces)


def _piece_text(piece: str | Length | TradeSize) -> str:
    if isinstance(piece, Length):
        return length_token(piece)
    words = piece if isinstance(piece, str) else piece.name
    return _SIGNS.sub(lambda sign: f"\\{sign[0]}", words)


def resolve_tokens(
    text: str,
    resolve_length: Callable[[Length], str],
    resolve_reference: Resolve,
    resolve_part: Resolve,
    resolve_hardware: Resolve,
    resolve_joint: Resolve | None = None,
    resolve_copy: Resolve | None = None,
) -> str:
    """Put words for the tokens of a text.

    Each function takes what its token names (a Length; the reference as typed; a part's key; a name)
    and gives what is printed. Without a function, joints and copies print their names. A bare
    ``{NAME}`` goes to ``resolve_part``. What the functions raise passes through.
    """

    def words(token: re.Match[str]) -> str:
        if token["plain"]:
            return token["plain"]
        if token["mm"]:
            return resolve_length(Length(Fraction(token["mm"])))
        if token["reference"]:
            return resolve_reference(token["reference"].strip())
        name = token["name"].strip()
        match token["kind"]:
            case "hardware":
                return resolve_hardware(name)
            case "joint":
                return resolve_joint(name) if resolve_joint else name
            case "copy":
                return resolve_copy(name) if resolve_copy else name
            case _:
                return resolve_part(name)

    return _TOKEN.sub(words, text)


def references(text: str) -> tuple[tuple[int, str], ...]:
    """Give the references a maker typed in a text, in order, each with where in the text it begins.

    It is ``shelf.length`` of ``<shelf.length>``.
    """
    found = _TOKEN.finditer(text)
    return tuple((token.start("reference"), token["reference"]) for token in found if token["reference"])


def replace_names(text: str, replace: Callable[[str], str]) -> str:
    """Give the text with each bare ``{NAME}`` replaced by what ``replace`` makes of the name."""

    def words(token: re.Match[str]) -> str:
        if token["name"] and not token["kind"]:
            return replace(token["name"].strip())
        return token[0]

    return _TOKEN.sub(words, text)
