"""Words for drafted steps: plain trade English, one thing to do in each sentence."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Final

from plangen.design.model import Design, Part
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.space import Axis, Side
from plangen.sequence.assembly import plain_kind
from plangen.sequence.edge_words import edges_said
from plangen.sequence.tokens import copy_token, part_token, phrase_text
from plangen.takeoff.cut_list import says_more
from plangen.units import Length, Phrase, phrase

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

# The verb of each kind of work; holes are drilled, edges are shaped, all else is cut.
_VERBS: Final = {
    "taper": "Saw", "curve": "Saw", "outline": "Saw", "round end": "Saw", "mitre": "Saw", "bevel": "Saw",
    "chamfer": "Plane", "round over": "Rout", "edge band": "Iron on", "notch": "Saw out",
}  # fmt: skip


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


def listed(words: Sequence[str]) -> str:
    """Join words as a sentence does: ``a, b and c``."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}" if words else ""


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


def pieces_named(design: Design, copies: Iterable[str]) -> list[str]:
    """Give what pieces are called in a heading, each name once: ``sides``, ``upper shelf``.

    One or two of more copies have their own names, where these say more.
    """
    every = Counter(part.name for part in design.parts for _ in part.copies)
    by_name: dict[str, list[str]] = {}
    for copy in dict.fromkeys(copies):
        by_name.setdefault(design.part_of[copy].name, []).append(copy)
    named = []
    for name, some in by_name.items():
        own = len(some) < every[name] and len(some) <= MOST_OWN_NAMES
        if own and all(says_more(design.part_of[copy], copy) for copy in some):
            named += some
        else:
            named.append(plural(name, len(some)))
    return named


def verb_of(operation: Operation) -> str:
    """Give the verb for a kind of operation."""
    kind = plain_kind(operation.kind)
    return "Drill" if kind.endswith("hole") or operation_is_hole(operation) else _VERBS.get(kind, "Cut")


def operation_is_hole(operation: Operation) -> bool:
    """Whether an operation bores and does nothing else."""
    return bool(operation.features) and all(feature.form is Form.HOLE for feature in operation.features)


def noun_of(operation: Operation, number: int) -> str:
    """Give the trade's noun for so many operations."""
    return plural(operation.title[:1].lower() + operation.title[1:], number)


def operation_say(operation: Operation, part: Part) -> str:
    """Give the instruction for one operation; from its sizes where its kind says nothing itself."""
    return phrase_text(operation.say).strip() or phrase_text(_from_features(operation, part))


def work_sayings(part: Part, operations: Sequence[Operation]) -> tuple[str, ...]:
    """Give the instructions for some operations on one part: equal ones once, with how often.

    Equal work on edges, and at both ends, is said together.
    """
    on_edges = edges_said(part, operations)
    sayings = [
        on_edges[index] if index in on_edges else operation_say(operation, part)
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


def _from_features(operation: Operation, part: Part) -> Phrase:
    if not operation.features:
        return phrase(f"{verb_of(operation)} the {noun_of(operation, 1)} as its drawing shows.")
    feature = operation.features[0]
    number = 1
    for repeat in feature.repeat:
        number *= repeat.number
    noun = noun_of(operation, 1 if number == 1 or operation.title.lower().endswith("s") else number)
    what = f"the {noun}" if number > 1 or noun.endswith("s") else f"a {noun}"
    start = phrase(f"{verb_of(operation)} {what}")
    if feature.form is Form.HOLE:
        return start + _hole(feature)
    if plain_kind(operation.kind) == "tenon":
        return start + _tenon(feature, part)
    if feature.form is Form.SLOT:
        return start + _slot(feature, part)
    if feature.form is Form.OUTLINE:
        return phrase(f"{verb_of(operation)} the {noun} to its line. Mark it out from the drawing first.")
    note = phrase(": ", feature.note) if feature.note else phrase()
    return phrase(f"{verb_of(operation)} the {noun}") + note + phrase(".")


def _hole(feature: Feature) -> Phrase:
    if feature.diameter is None:
        return phrase(".")
    words = phrase(" ", feature.diameter, " across, ")
    words += phrase("right through") if feature.depth is None else phrase(feature.depth, " deep")
    if feature.counterbore is not None:
        wide, deep = feature.counterbore
        words += phrase(". Counterbore it ", wide, " across and ", deep, " deep first")
    elif feature.countersink:
        words += phrase(". Countersink it so that the head lies flush")
    return words + phrase(".")


def _tenon(feature: Feature, part: Part) -> Phrase:
    spans = dict(feature.spans)
    sizes = {axis: span.high - span.low for axis, span in spans.items()}
    long = sizes.pop(part.runs, None)
    across = sorted(sizes.values())
    if long is None or len(across) != 2:
        return phrase(" as its drawing shows.")
    return phrase(" ", across[0], " thick, ", across[1], " wide and ", long, " long.")


def _slot(feature: Feature, part: Part) -> Phrase:
    """Words for a box-shaped cut: its width, its depth, and how far along the piece its near edge is."""
    spans = dict(feature.spans)
    sizes: list[Length] = []
    for axis, span in spans.items():
        size = span.high - span.low
        if axis is not feature.side.axis and size < part.blank.size(axis):
            sizes.append(size)
    words = phrase(" ", min(sizes), " wide") if sizes else phrase()
    if feature.depth is not None:
        words += phrase(" and " if sizes else " ", feature.depth, " deep")
    along = spans.get(part.runs)
    low, high = part.blank.low.at(part.runs), part.blank.high.at(part.runs)
    if along and low < along.low and along.high < high:
        end = _end_word(part.runs)
        words += phrase(", its near edge ", along.low - low, f" from the {end} end")
    return words + phrase(".")


def _end_word(axis: Axis) -> str:
    return Side.of(axis, False).word
