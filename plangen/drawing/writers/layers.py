"""The layers of a written drawing: one for each meaning of a line, each tone of a fill, text and links."""

from __future__ import annotations

from plangen.drawing.sheet.model import Fill, Mark, Stroke, Text


def layer(mark: Mark) -> str:
    """Name the layer of a mark, such as ``hidden``, ``balloon-new``, ``tone-new-front`` or ``text``."""
    if isinstance(mark, Stroke):
        return mark.meaning.value.replace(" ", "-")
    if isinstance(mark, Fill):
        return "tone-" + mark.tone.value.replace(" ", "-")
    return "text" if isinstance(mark, Text) else "link"
