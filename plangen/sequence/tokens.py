r"""Tokens: what the text of a step holds in place of numbers and names until an edition prints it.

The grammar, in Markdown text:

=================== =====================================================================
``<=381/20>``       an exact length, here 381/20 mm; printed with its unit
``<shelf.length>``  a reference the maker typed; printed as the edition prints that value
``{part:KEY}``      a part; printed as its title and mark
``{part:KEY*2}``    so many pieces of it; printed as ``the two sides`` and the mark
``{part:KEY*}``     several pieces; printed as ``sides`` and the mark
``{copy:NAME}``     one copy of a part; printed as its name and mark
``{joint:NAME}``    a joint; printed as its name
``{hardware:NAME}`` a thing bought by the piece; printed as its title; ``*4`` as with parts
``{NAME}``          what a maker types: a part, a copy or hardware, whichever has the name
``{NAME*2}``        the same with a number
``\<`` ``\{``         the plain signs
=================== =====================================================================

``order_of_work`` turns every ``{NAME}`` into one of the named kinds, so that later rooms see no other.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from typing import Final

from plangen.units import EachWay, Length, Phrase, Reading, TradeSize
from plangen.units.phrase import Piece

_TOKEN: Final = re.compile(
    r"\\(?P<plain>[<{])|<=(?P<mm>-?\d+(?:/\d+)?)>|<(?P<reference>[A-Za-z][^<>\n]*)>"
    r"|\{(?:(?P<kind>part|copy|joint|hardware):)?(?P<name>[^{}*\n]+)(?P<many>\*\d{0,4})?\}"
)
_SIGNS: Final = re.compile(r"[<{]")

Resolve = Callable[[str], str]
ResolveMany = Callable[[str, str, int | None], str]


def length_token(length: Length) -> str:
    """Give the token of an exact length."""
    return f"<={length.mm}>"


def part_token(key: str, number: int | None = None) -> str:
    """Give the token of a part, or of so many pieces of it."""
    return f"{{part:{key}}}" if number is None else f"{{part:{key}*{number}}}"


def copy_token(name: str) -> str:
    """Give the token of one copy of a part."""
    return f"{{copy:{name}}}"


def hardware_token(name: str, number: int | None = None) -> str:
    """Give the token of a thing bought by the piece, or of so many of them."""
    return f"{{hardware:{name}}}" if number is None else f"{{hardware:{name}*{number}}}"


def phrase_text(phrase: Phrase) -> str:
    """Give a phrase as text with tokens: its lengths stay exact, its plain signs stay plain."""
    return "".join(_piece_text(piece) for piece in phrase.pieces)


def _piece_text(piece: Piece) -> str:
    if isinstance(piece, Length | Reading):
        return length_token(piece if isinstance(piece, Length) else piece.length)
    words = (
        piece.inch if isinstance(piece, EachWay) else piece.name if isinstance(piece, TradeSize) else piece
    )
    return _SIGNS.sub(lambda sign: f"\\{sign[0]}", words)


def resolve_tokens(
    text: str,
    resolve_length: Callable[[Length], str],
    resolve_reference: Resolve,
    resolve_part: Resolve,
    resolve_hardware: Resolve,
    resolve_joint: Resolve | None = None,
    resolve_copy: Resolve | None = None,
    resolve_many: ResolveMany | None = None,
) -> str:
    """Put words for the tokens of a text.

    Each function takes what its token names (a Length; the reference as typed; a part's key; a name)
    and gives what is printed. Without a function, joints and copies print their names. A bare
    ``{NAME}`` goes to ``resolve_part``. ``resolve_many`` takes the kind (``part`` or ``hardware``), the name
    and how many, None for several; without it the number stands before the name. What the functions raise
    passes through.
    """

    def many(kind: str, name: str, number: int | None) -> str:
        one = resolve_hardware(name) if kind == "hardware" else resolve_part(name)
        return one if number is None else f"{number} {one}"

    def words(token: re.Match[str]) -> str:
        if token["plain"]:
            return token["plain"]
        if token["mm"]:
            return resolve_length(Length(Fraction(token["mm"])))
        if token["reference"]:
            return resolve_reference(token["reference"].strip())
        name = token["name"].strip()
        if token["many"] and token["kind"] in (None, "part", "hardware"):
            number = int(token["many"][1:]) if token["many"] != "*" else None
            return (resolve_many or many)(token["kind"] or "part", name, number)
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


def replace_names(text: str, replace: Callable[[str, str], str]) -> str:
    """Give the text with each bare ``{NAME}`` replaced by what ``replace`` makes of the name.

    The second thing that ``replace`` is given is the name's number: ``*2``, ``*`` or nothing.
    """

    def words(token: re.Match[str]) -> str:
        if token["name"] and not token["kind"]:
            return replace(token["name"].strip(), token["many"] or "")
        return token[0]

    return _TOKEN.sub(words, text)
