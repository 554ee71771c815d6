"""The tools of the whole job, each once: machines, then bits by size, then hand tools."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from plangen.design.model import Design
from plangen.joinery.operation import Operation
from plangen.takeoff.cut_list import WorkOrder
from plangen.takeoff.glues import finish_words, glue_words, glues_used
from plangen.takeoff.hardware_tools import fit_tools, joint_tools
from plangen.units import Length, Phrase, phrase

_MACHINES: Final = (
    "jointer", "planer", "thickness planer", "table saw", "mitre saw", "bandsaw", "jigsaw", "drill press",
    "router", "lathe", "sander", "drill",
)  # fmt: skip
_BITS: Final = re.compile(r"\b(bit|bits|hole saw|dado set)\b")
# The tokens of a step's text that a tool may hold: an exact length, a name, a reference, a plain sign.
_TOKEN: Final = re.compile(r"\\([<{])|<=(-?\d+(?:/\d+)?)>|\{(?:\w+:)?([^{}*]+)\*?\d*\}|<([^<>]+)>")


def operation_tools(operation: Operation) -> tuple[Phrase, ...]:
    """Give the tools of one operation, with the countersink that its holes ask for."""
    said = " ".join(_key(tool) for tool in operation.tools)
    sunk = any(feature.countersink for feature in operation.features) and "countersink" not in said
    return (*operation.tools, *((phrase("Countersink bit"),) if sunk else ()))


def tool_list(design: Design, order: WorkOrder | None = None) -> tuple[Phrase, ...]:
    """Give the tools of all steps, operations, joints and fits: machines, bits by size, then hand tools.

    Tools that differ only in the order of ``this or that`` are one. Glue and finish are no tools. A tool in
    the maker's words that refers to what only the whole project can work out is named in its step alone.
    """
    used_up = {_key(glue_words(name, minutes)) for name, minutes in glues_used(design)}
    used_up |= {_key(finish_words(one)) for one in design.finishes}
    every: list[Phrase] = []
    for step in order.steps if order else ():
        every += [tool for text in step.tools if (tool := _phrase(design, text)) is not None]
    every += [
        tool for part in design.parts for operation in part.operations for tool in operation_tools(operation)
    ]
    every += [tool for joint in design.joints for tool in joint_tools(design, joint)]
    every += [tool for fit in design.fits for tool in fit_tools(design, fit)]
    once: dict[str, Phrase] = {}
    for tool in every:
        once.setdefault(_key(tool), tool)
    tools = [tool for key, tool in once.items() if key not in used_up]
    return tuple(_ordered([tool for tool in tools if not any(_covers(other, tool) for other in tools)]))


def _covers(tool: Phrase, wider: Phrase) -> bool:
    """Whether any choice of one tool will do for the other, which leaves more to choose from."""
    return _choices(tool) < _choices(wider) and bool(_choices(tool))


def _choices(tool: Phrase) -> frozenset[str]:
    """Give what ``a, b or c`` leaves to choose from; nothing for a tool with a size."""
    if not all(isinstance(piece, str) for piece in tool.pieces):
        return frozenset()
    words = _words(tool)
    return (
        frozenset(one.strip() for one in re.split(r",| or ", words) if one.strip())
        if " or " in words
        else (frozenset([words]))
    )


def _ordered(tools: Sequence[Phrase]) -> list[Phrase]:
    """Put machines first, then what is fixed in them by kind and size, then all else as it is needed."""
    kinds = list(dict.fromkeys(_kind(tool) for tool in tools))

    def place(tool: Phrase) -> tuple[int, int, Fraction]:
        words = _words(tool)
        size = next((piece.mm for piece in tool.pieces if isinstance(piece, Length)), Fraction(0))
        if _BITS.search(words):
            return (1, kinds.index(_kind(tool)), size)
        return (0 if words.startswith(_MACHINES) else 2, 0, Fraction(0))

    return sorted(tools, key=place)


def _kind(tool: Phrase) -> str:
    """Give the words that a tool starts with, up to its first size, without a plural."""
    words = _words(tool).split()
    return words[0].strip(",").removesuffix("s") if words else ""


def _words(tool: Phrase) -> str:
    return "".join(piece.lower() if isinstance(piece, str) else " # " for piece in tool.pieces).strip(" .")


def _key(tool: Phrase) -> str:
    """Give the words of a tool in a form in which those that mean the same are equal."""
    text = "".join(
        piece.lower()
        if isinstance(piece, str)
        else f" {piece.mm} "
        if isinstance(piece, Length)
        else str(piece)
        for piece in tool.pieces
    )
    clauses = [" ".join(clause.split()) for clause in text.strip(" .").split(",")]
    return ", ".join(" or ".join(sorted(clause.split(" or "))) for clause in clauses)


def _phrase(design: Design, text: str) -> Phrase | None:
    """Turn a step's text back into words and exact lengths; None where a reference is not known here."""
    pieces: list[str | Length] = []
    end = 0
    for token in _TOKEN.finditer(text):
        sign, exact, name, reference = token.groups()
        found: str | Length | None = sign
        if exact:
            found = Length(Fraction(exact))
        elif name:
            found = _name(design, name)
        elif reference:
            found = _reference(design, " ".join(reference.split()))
        if found is None:
            return None
        pieces += [text[end : token.start()], found]
        end = token.end()
    pieces.append(text[end:])
    joined: list[str | Length] = []
    for piece in pieces:
        if isinstance(piece, str) and joined and isinstance(joined[-1], str):
            joined[-1] += piece
        elif piece:
            joined.append(piece)
    return phrase(*joined)


def _name(design: Design, name: str) -> str:
    if name in design.hardware:
        title = design.hardware[name].title
        return title[:1].lower() + title[1:]
    return next((part.name for part in design.parts if part.key == name), name)


def _reference(design: Design, reference: str) -> Length | str | None:
    """Give a named size, or a size of a part or stock."""
    value = design.sizes.get(reference)
    if value is not None:
        return value if isinstance(value, Length) else f"{float(value):g}"
    owner, _, side = reference.rpartition(".")
    if side == "thickness" and owner in design.stock:
        return design.stock[owner].thickness
    for part in design.parts:
        if owner in (part.name, part.key, *(copy.name for copy in part.copies)):
            sizes = {"thickness": part.thickness, "width": part.width, "length": part.length}
            return sizes.get(side)
    return None
