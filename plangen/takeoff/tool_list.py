"""The tools of the whole job, each once, those of one kind together."""

from __future__ import annotations

from plangen.design.model import Design
from plangen.units import Phrase


def tool_list(design: Design) -> tuple[Phrase, ...]:
    """Give the tools of all operations and joints in the order of first need, grouped by first word."""
    phrases = [tool for part in design.parts for operation in part.operations for tool in operation.tools]
    phrases += [tool for joint in design.joints for tool in joint.tools]
    groups: dict[str, dict[Phrase, None]] = {}
    for tool in phrases:
        groups.setdefault(_kind(tool), {}).setdefault(tool)
    return tuple(tool for group in groups.values() for tool in group)


def _kind(tool: Phrase) -> str:
    """Give the words that a tool starts with, up to its first size, without a plural."""
    first = tool.pieces[0] if tool.pieces and isinstance(tool.pieces[0], str) else ""
    words = first.lower().split()
    return words[0].removesuffix("s") if words else ""
