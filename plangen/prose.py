"""Words that refer to the design: their references checked, and put into print by one formatter."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from plangen.description import Description
from plangen.description.model import StepEntry
from plangen.design.build import Solved
from plangen.expressions import Quantity, Text
from plangen.findings import Findings, ProjectError
from plangen.sequence.tokens import references, resolve_tokens
from plangen.takeoff.model import TakeOff
from plangen.units import Length, LengthStyle, print_length, print_reading


def check_prose(description: Description, solved: Solved, findings: Findings) -> None:
    """Report every reference to a size, in the maker's words, that stands for nothing."""
    for text in _texts(description):
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


def _texts(description: Description) -> Iterator[Text]:
    for entry in description.steps:
        if isinstance(entry, StepEntry):
            for text in (entry.step, entry.title, entry.say, *entry.checks, *entry.tools):
                if isinstance(text, Text):
                    yield text
    for part in description.parts.values():
        if isinstance(part.note, Text):
            yield part.note


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

    def part(key: str) -> str:
        found = design.part(key)
        name = f"{found.hand} {found.name}" if found.hand is not None else found.name
        return f"{name} [**{found.mark}**](<part:{key}>)"

    def copy(name: str) -> str:
        found = design.part_of[name]
        return f"{name} [**{found.mark}**](<part:{found.key}>)"

    def hardware(name: str) -> str:
        title = design.hardware[name].title
        return f"{title[:1].lower()}{title[1:]} ({numbers[name]})" if name in numbers else title

    return lambda text: resolve_tokens(
        text,
        lambda length: print_length(length, style, unit=True),
        value,
        part,
        hardware,
        lambda name: name,
        copy,
    )


def print_quantity(quantity: Quantity, style: LengthStyle) -> str:
    """Print the value of a reference in prose."""
    if quantity.kind == "length":
        return print_length(Length(quantity.value), style, unit=True)
    if quantity.kind == "angle":
        return f"{float(quantity.value):g}°"
    return f"{float(quantity.value):g}"
