"""Break notes into short lines."""

from __future__ import annotations

from plangen.drawing.sheet.measure import text_length


def wrapped(text: str, size: float, width: float) -> tuple[str, ...]:
    """Break a text at spaces so that no line is wider than ``width`` (both in mm), where that can be.

    Breaks after a comma or semicolon are preferred when the line before it is at least half full.
    """
    lines: list[str] = []
    line = ""
    for word in text.split(" "):
        longer = f"{line} {word}" if line else word
        full = text_length(line, size) > width * 0.6 and line.endswith((",", ";"))
        if line and (text_length(longer, size) > width or full):
            lines.append(line)
            line = word
        else:
            line = longer
    return (*lines, line)
