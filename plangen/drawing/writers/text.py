"""Write a drawing as lines of text that a test can compare and a person can read."""

from __future__ import annotations

from plangen.drawing.sheet.model import Drawing, Fill, Mark, Stroke, Text, Xy


def dump(drawing: Drawing) -> str:
    """Give one line for each mark, coordinates to 0.1 mm, sorted, after a line with the sheet's size."""
    head = f"sheet {_number(drawing.width)} x {_number(drawing.height)} {drawing.title}".rstrip()
    return "\n".join([head, *sorted(_line(mark) for mark in drawing.marks)]) + "\n"


def _line(mark: Mark) -> str:
    if isinstance(mark, Stroke):
        points = list(mark.points)
        if not mark.closed and points[-1] < points[0]:
            points.reverse()
        return f"{mark.meaning.value}{' closed' if mark.closed else ''}: {_points(points)}"
    if isinstance(mark, Fill):
        return f"fill {mark.tone.value}: {' | '.join(_points(loop) for loop in mark.loops)}"
    if isinstance(mark, Text):
        turned = f" turned {_number(mark.angle)}" if mark.angle else ""
        return f"text {mark.role or 'plain'} {mark.text!r} {mark.anchor} {_points([mark.at])}{turned}"
    return f"link {mark.target}: {_points([mark.low, mark.high])}"


def _points(points: list[Xy] | tuple[Xy, ...]) -> str:
    return " ".join(f"{_number(x)},{_number(y)}" for x, y in points)


def _number(value: float) -> str:
    text = f"{value:.1f}"
    return "0.0" if text == "-0.0" else text
