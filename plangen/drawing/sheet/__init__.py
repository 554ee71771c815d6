"""The drawing as a value: strokes, fills, text and links, everything resolved, in millimetres."""

from plangen.drawing.sheet.model import Drawing, Fill, Link, Mark, Meaning, Stroke, Text, Tone, Weight

__all__ = ["Drawing", "Fill", "Link", "Mark", "Meaning", "Stroke", "Text", "Tone", "Weight"]
