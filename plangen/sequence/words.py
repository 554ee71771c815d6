"""Words for drafted steps: plain trade English, one thing to do in each sentence."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from typing import Final

from plangen.design.model import Design, Part
from plangen.joinery.operation import Operation
from plangen.sequence.edge_words import edges_said
from plangen.sequence.tokens import copy_token, part_token, phrase_text
from plangen.takeoff.naming import Body, copy_words, own_name, part_noun, says_more
from plangen.units import listed

_PLURALS: Final = {"dado": "dadoes", "shelf": "shelves", "half": "halves", "leaf": "leaves", "foot": "feet"}
MOST_OWN_NAMES: Final = 2  # copies of a part that a heading names one by one
_AT_END: Final = re.compile(r"\b(in|on|along) the (left|right|front|back|top|bottom) end\b")
_SMALL: Final = (
    "no",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
)


def plural(noun: str, number: int) -> str:
    """Give a noun for so many: only the last word changes, and none that is plural already."""
    *before, last = noun.split(" ")
    if number == 1 or (last.endswith("s") and not last.endswith("ss")):
        return noun
    if last in _PLURALS:
        last = _PLURALS[last]
    elif last.endswith(("s", "x", "ch", "sh")):
        last += "es"
    elif last.endswith("y") and last[-2:-1] not in "aeiou":
        last = last[:-1] + "ies"
    else:
        last += "s"
    return " ".join([*before, last])


def number_word(number: int) -> str:
    """Give a number up to twelve in words, a larger one in figures."""
    return _SMALL[number] if 0 <= number < len(_SMALL) else str(number)


def capital(text: str) -> str:
    """Give text with a capital first letter."""
    return text[:1].upper() + text[1:]


def parts_counted(design: Design, keys: Iterable[str]) -> str:
    """Give all pieces of parts as a list of tokens: ``the two sides, the shelf and the back``."""
    return listed([part_token(key, len(design.part(key).copies)) for key in dict.fromkeys(keys)])


def copies_counted(design: Design, copies: Iterable[str]) -> str:
    """Give copies as a list of tokens: by their number, or by name where they are only some of their part."""
    by_part: dict[str, list[str]] = {}
    for copy in dict.fromkeys(copies):
        by_part.setdefault(design.part_of[copy].key, []).append(copy)
    words = []
    for key, names in by_part.items():
        part = design.part(key)
        if len(names) < len(part.copies) and all(says_more(part, name) for name in names):
            words += [f"the {copy_token(name)}" for name in names]
        else:
            words.append(part_token(key, len(names)))
    return listed(words)


def bodies_counted(design: Design, names: Iterable[str]) -> str:
    """Give placed assemblies with their number, or by name where they are only some: ``the two drawers``."""
    said = []
    for assembly_name, some in _bodies_by_name(design, names).items():
        every = _copies_named(design, assembly_name)
        if len(some) == every:
            noun = body_noun(design, assembly_name)
            said.append(f"the {noun}" if every == 1 else _so_many(noun, every))
        else:
            said += [f"the {copy_words(name)}" for name in some]
    return listed(said)


def body_noun(design: Design, name: str) -> str:
    """Give what one of an assembly is called: by its title, ``base frame`` of `Base frame`."""
    title = next((one.title for one in design.assemblies if one.name == name), own_name(name))
    noun = title.partition(",")[0]  # the title of one of several that differ says after a comma which
    return noun if noun[1:2].isupper() else noun[:1].lower() + noun[1:]


def body_said(design: Design, name: str, many: str) -> str:
    """Give what a maker called an assembly by, in words; ``many`` is the number typed after it, ``*2``."""
    if not many:
        return copy_words(name)
    called = {copy.name: one.name for one in design.assemblies for copy in one.copies}
    noun = body_noun(design, called.get(name, name))
    return _so_many(noun, int(many[1:])) if many[1:] else plural(noun, 2)


def _so_many(name: str, number: int) -> str:
    return f"the {number_word(number)} {plural(name, number)}"


def _bodies_by_name(design: Design, names: Iterable[str]) -> dict[str, list[str]]:
    called = {copy.name: one.name for one in design.assemblies for copy in one.copies}
    found: dict[str, list[str]] = {}
    for name in dict.fromkeys(names):
        found.setdefault(called[name], []).append(name)
    return found


def _copies_named(design: Design, name: str) -> int:
    return sum(len(one.copies) for one in design.assemblies if one.name == name)


def pieces_named(
    design: Design, copies: Iterable[str], handled: Callable[[str], Body | None] | None = None
) -> list[str]:
    """Give what pieces are called in a heading, each name once: ``sides``, ``upper shelf``.

    One or two of more copies have their own names, where these say more. ``handled`` gives the placed
    assembly as which a piece is handled, if any: that has one name for all its pieces.
    """
    part_of = design.part_of
    every = Counter(part_noun(part) for part in design.parts for _ in part.copies)
    by_name: dict[str, list[str]] = {}
    bodies: dict[str, list[str]] = {}
    for copy in dict.fromkeys(copies):
        body = handled(copy) if handled else None
        name = body.assembly.name if body else part_noun(part_of[copy])
        by_name.setdefault(name, [])
        if body is None:
            by_name[name].append(copy)
        elif body.copy.name not in bodies.setdefault(name, []):
            bodies[name].append(body.copy.name)
    named = []
    for name, some in by_name.items():
        if name in bodies:
            whole = bodies[name]
            own = len(whole) < _copies_named(design, name) and len(whole) <= MOST_OWN_NAMES
            named += (
                [copy_words(one) for one in whole] if own else [plural(body_noun(design, name), len(whole))]
            )
        if not some:
            continue
        own = len(some) < every[name] and len(some) <= MOST_OWN_NAMES
        if own and all(says_more(part_of[copy], copy) for copy in some):
            named += [copy_words(copy) for copy in some]
        else:
            named.append(plural(name, len(some)))
    return named


def in_short(names: Sequence[str], most: int) -> list[str]:
    """Give at most so many names, those with one last word as that word: ``aprons`` for side and back ones.

    Nothing where even these are more.
    """
    if len(names) <= most:
        return list(names)
    by_last: dict[str, list[str]] = {}
    for name in names:
        by_last.setdefault(plural(name.rpartition(" ")[2], 2), []).append(name)
    short = [some[0] if len(some) == 1 else last for last, some in by_last.items()]
    return short if len(short) <= most else []


def noun_of(operation: Operation, number: int) -> str:
    """Give the trade's noun for so many operations."""
    return plural(operation.title[:1].lower() + operation.title[1:], number)


def work_sayings(part: Part, operations: Sequence[Operation]) -> tuple[str, ...]:
    """Give the instructions for some operations on one part: equal ones once, with how often.

    Equal work on edges, and at both ends, is said together.
    """
    on_edges = edges_said(part, operations)
    sayings = [
        on_edges[index] if index in on_edges else phrase_text(operation.say).strip()
        for index, operation in enumerate(operations)
    ]
    counts = Counter(saying for saying in sayings if saying)
    return tuple(_both_ends([_repeated(saying, times) for saying, times in counts.items()]))


def _repeated(saying: str, times: int) -> str:
    if times == 1:
        return saying
    if saying.startswith("Drill a hole "):
        return f"Drill {times} holes {saying.removeprefix('Drill a hole ')}"
    first, stop, rest = saying.partition(". ")
    return f"{first.removesuffix('.')}, in {number_word(times)} places.{stop and ' '}{rest}"


def _both_ends(sayings: Sequence[str]) -> list[str]:
    """Say at each end what is said of both ends alike."""
    said: dict[str, list[str]] = {}
    for saying in sayings:
        ends = _AT_END.findall(saying)
        same = _AT_END.sub(r"\1 each end", saying) if len(ends) == 1 == saying.count(" end") else saying
        said.setdefault(same, []).append(saying)
    return [
        text
        for same, some in said.items()
        for text in ([same] if len(some) == len({*_AT_END.findall(" ".join(some))}) == 2 else some)
    ]
