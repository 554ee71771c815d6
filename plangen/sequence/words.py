"""Words for drafted steps: plain trade English, one thing to do in each sentence."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from plangen.design.model import Design, Joint, Part
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.space import Axis, Side
from plangen.sequence.assembly import plain_kind
from plangen.sequence.tokens import part_token, phrase_text
from plangen.units import Length, Phrase, phrase

_PLURALS: Final = {"dado": "dadoes", "shelf": "shelves", "half": "halves", "leaf": "leaves", "foot": "feet"}
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
_JOIN_VERBS: Final = {
    "screwed": "Screw", "nailed": "Nail", "bolted": "Bolt", "hinged": "Hinge", "hung": "Hang",
    "slides": "Mount", "rests": "Set", "loose": "Set",
}  # fmt: skip


def plural(noun: str, number: int) -> str:
    """Give a noun for so many: only the last word changes."""
    if number == 1:
        return noun
    *before, last = noun.split(" ")
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


def parts_listed(keys: Iterable[str]) -> str:
    """Give parts as a list of tokens."""
    return listed([part_token(key) for key in dict.fromkeys(keys)])


def pieces_named(design: Design, copies: Iterable[str]) -> list[str]:
    """Give what pieces are called in a heading, each name once: ``sides``, ``upper shelf``."""
    counts: dict[str, int] = {}
    for copy in copies:
        name = design.part_of[copy].name
        counts[name] = counts.get(name, 0) + 1
    return [plural(name, number) for name, number in counts.items()]


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


def join_title(design: Design, joints: Sequence[Joint], new: Sequence[str], kind: str) -> str:
    """Give the heading of a step that closes joints."""
    first = joints[0]
    verb = _JOIN_VERBS.get(plain_kind(first.kind), "Glue" if kind == "glue" else "Fit")
    moving = pieces_named(design, dict.fromkeys(item.moving for joint in joints for item in joint.contacts))
    fixed = pieces_named(design, dict.fromkeys(item.fixed for joint in joints for item in joint.contacts))
    every = list(dict.fromkeys([*moving, *fixed]))
    fresh = pieces_named(design, dict.fromkeys(new))
    few = fresh or min(moving, fixed, key=len)
    if len(every) > 4:
        return f"{verb} the {listed(few)} in place" if len(few) <= 3 else f"{verb} the pieces together"
    brought = [name for name in moving if name in fresh]
    if brought:
        moving = brought
    elif fresh:  # the pieces come in the other way round
        moving = fresh
    onto = [name for name in every if name not in moving]
    return (
        f"{verb} the {listed(moving)} to the {listed(onto)}"
        if onto
        else f"{verb} the {listed(moving)} together"
    )


def joint_say(joint: Joint) -> str:
    """Give how to put a joint together; in general words where its kind says nothing."""
    return (
        phrase_text(joint.say).strip()
        or f"Bring the {joint.title[:1].lower() + joint.title[1:]} together until the shoulders meet."
    )
