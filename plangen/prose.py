"""Words that refer to the design: their references checked, and put into print by one formatter."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Final, Literal

from plangen.description import Description
from plangen.description.model import AssemblyEntry, StepEntry
from plangen.design.build import Solved
from plangen.design.model import Part
from plangen.expressions import Quantity, Reference, Text, parse_expression
from plangen.findings import Findings, ProjectError
from plangen.sequence.tokens import references, resolve_tokens
from plangen.sequence.words import number_word, plural
from plangen.takeoff.model import TakeOff
from plangen.takeoff.naming import copy_words, part_noun
from plangen.units import Length, LengthStyle, print_length, print_reading

_UNITS: Final = MappingProxyType({
    **dict.fromkeys(("in", "inch", "inches", '"', "″"), "in"),
    **dict.fromkeys(("ft", "feet", "foot"), "ft"),
    "mm": "mm",
    "cm": "cm",
})  # fmt: skip
_REFERENCE: Final = re.compile(r"<[A-Za-z][^<>\n]*>")
_TYPED: Final = re.compile(
    r"(?<![\w/.-])(?P<number>\d+[ -]\d+/\d+|\d+/\d+|\d+\.\d+|\d+)(?P<gap>[ \u00a0-]?)"
    r"(?:(?P<unit>mm|cm|ft|feet|foot|inch|inches|in)(?!\w)|(?P<mark>[\"″]))"
)
# After a whole number and a space, `in` is mostly the preposition (`put 2 in each`): these tell a length.
_AFTER_A_LENGTH: Final = re.compile(
    r"\s*(?:[.,;:!?)]|$|(?:wide|deep|long|thick|high|tall|square|apart|above|below|over|off|away|from|past"
    r"|longer|wider|deeper|shorter|larger|or|and|by|of|to|on)\b)"
)


def check_prose(description: Description, solved: Solved, findings: Findings) -> None:
    """Report what is wrong in the maker's words.

    An error for every reference to a size that stands for nothing; a warning ``typed-number`` for every
    length typed as digits.
    """
    sizes = _lengths_of(description, solved)
    for text in _texts(description):
        _check_typed_numbers(text, sizes, findings)
        for start, reference in references(text):
            try:
                solved.resolve(Text(reference, text.at(start, len(reference))))
            except ProjectError as error:
                for finding in error.findings:
                    findings.add(
                        replace(
                            finding,
                            message=f"in `<{reference}>`: {finding.message}",
                            place=finding.place or text.place,
                        )
                    )


def _check_typed_numbers(text: Text, sizes: Mapping[str, Length], findings: Findings) -> None:
    """Warn of lengths typed as digits; counts, grits and temperatures are no lengths and may be typed."""
    plain = _REFERENCE.sub(lambda reference: " " * len(reference.group()), text)
    for match in _TYPED.finditer(plain):
        typed, unit = match["number"], _UNITS[match["unit"] or match["mark"]]
        loose = unit == "in" and match["gap"] == " " and typed.isdigit()
        if loose and not _AFTER_A_LENGTH.match(plain, match.end()):
            continue
        value = parse_expression(f"{typed.replace(' ', '-')}{unit}").length(_NoNames())
        name = next((name for name, length in sizes.items() if length == value), None)
        findings.warning(
            "typed-number",
            f"`{match.group().strip()}` is typed in the text, and goes stale when the design changes",
            text.at(match.start(), len(match.group())),
            f"put it as `<{name}>`"
            if name is not None
            else "put it as a name in sharp brackets, such as `<shelf.length>` or a size",
        )


class _NoNames:
    """A scope for a typed number, in which nothing is named."""

    @property
    def units(self) -> Literal["inch", "mm"]:
        return "inch"

    def lookup(self, reference: Reference) -> Quantity:
        raise AssertionError(reference)


def _lengths_of(description: Description, solved: Solved) -> dict[str, Length]:
    found: dict[str, Length] = {}
    for name in description.sizes:
        try:
            quantity = solved.resolve(name)
        except ProjectError:
            continue  # said where it stands
        if quantity.kind == "length":
            found[name] = quantity.length
    return found


def _texts(description: Description) -> Iterator[Text]:
    for entry in description.steps:
        if isinstance(entry, StepEntry):
            for text in (entry.step, entry.title, entry.say, *entry.checks, *entry.tools):
                if isinstance(text, Text):
                    yield text
    yield from _texts_of(description)


def _texts_of(held: Description | AssemblyEntry) -> Iterator[Text]:
    """The words beside the parts and fits of the project or of an assembly, and of the assemblies in it."""
    for part in held.parts.values():
        if isinstance(part.note, Text):
            yield part.note
    for fit in (*held.fit, *(item for part in held.parts.values() for item in part.fit)):
        for fitted in fit.values():
            if isinstance(fitted.say, Text):
                yield fitted.say
    for inner in held.assemblies.values():
        yield from _texts_of(inner)


def resolver(solved: Solved, take_off: TakeOff, style: LengthStyle) -> Callable[[str], str]:
    """Give the function that puts printed values, names and marks for the tokens of a Markdown text."""
    design = solved.design
    numbers = {line.item: line.number_mark for line in take_off.hardware}

    readings = {f"{name}.thickness" for name in design.stock}

    def value(reference: str) -> str:
        quantity = solved.resolve(reference)
        if " ".join(reference.split()) in readings:
            return print_reading(Length(quantity.value), style, unit=True)
        return print_quantity(quantity, style)

    def called(part: Part) -> str:
        noun = part_noun(part)
        return f"{part.hand} {noun}" if part.hand is not None else noun

    def part(key: str) -> str:
        found = design.part(key)
        return f"{called(found)} [**{found.mark}**](<part:{key}>)"

    def copy(name: str) -> str:
        found = design.part_of[name]
        return f"{copy_words(name)} [**{found.mark}**](<part:{found.key}>)"

    def hardware(name: str) -> str:
        title = design.hardware[name].title
        return f"{title[:1].lower()}{title[1:]} ({numbers[name]})" if name in numbers else title

    def many(kind: str, name: str, number: int | None) -> str:
        if kind == "hardware":
            title = design.hardware[name].title.partition(",")[0]
            noun = plural(f"{title[:1].lower()}{title[1:]}", 2 if number is None else number)
            mark = f" ({numbers[name]})" if name in numbers else ""
            return f"{noun}{mark}" if number is None else f"{number} {noun}{mark}"
        found = design.part(name)
        noun = plural(called(found), 2 if number is None else number)
        mark = f"[**{found.mark}**](<part:{found.key}>)"
        if number is None:
            return f"{noun} {mark}"
        return f"the {noun} {mark}" if number == 1 else f"the {number_word(number)} {noun} {mark}"

    return lambda text: resolve_tokens(
        text,
        lambda length: print_length(length, style, unit=True),
        value,
        part,
        hardware,
        copy_words,
        copy,
        many,
    )


def print_quantity(quantity: Quantity, style: LengthStyle) -> str:
    """Print the value of a reference in prose."""
    if quantity.kind == "length":
        return print_length(Length(quantity.value), style, unit=True)
    if quantity.kind == "angle":
        return f"{float(quantity.value):g}°"
    return f"{float(quantity.value):g}"
