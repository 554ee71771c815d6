"""The page that proves a printer before any pattern is printed: both rulers and the outline of a bank card.

A card of the size ID-1 is 85.60 mm by 53.98 mm, its corners rounded by 2.88 mm to 3.48 mm (ISO/IEC 7810).
Everybody has one at hand that is true to a tenth of a millimetre, even where a tape is not.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import pi

from plangen.drawing.part_sheets.pattern_edges import arc_stroke
from plangen.drawing.part_sheets.pattern_room import LABEL, SMALL_LABEL
from plangen.drawing.part_sheets.rulers import RULER_ROOM, rulers_along
from plangen.drawing.sheet.model import Arc, Drawing, Mark, Meaning, Stroke, Text, Weight, Xy

CARD = (85.60, 53.98)  # mm
CARD_RADIUS = 3.18  # mm, in the middle of what is allowed: (2.88 + 3.48) / 2
AWAY = 12.0  # mm from the rulers to the card
WORDS = (
    "Print this page first, at 100 % or “actual size”, with “fit to page” off.",
    "Lay a bank card on the outline: it must hide the line all round, and no more.",
    "Then lay a tape along both rulers. Where anything is off, change the printer’s",
    "settings until it is not: a pattern from a wrong print makes a part that fits nowhere.",
)


def proof_page(paper: tuple[float, float]) -> Drawing:
    """Draw the test page for ``paper``, the width and height in mm that may be used."""
    width, height = paper
    top = height - 7.0
    marks: list[Mark] = [
        Text((0.0, top), "Test page for full-size patterns", LABEL, weight=Weight.SEMIBOLD, role="title")
    ]
    for number, line in enumerate(WORDS, 1):
        marks.append(Text((0.0, top - 2.0 - 7.4 * number), line, SMALL_LABEL, role="note"))
    low = (RULER_ROOM, max(RULER_ROOM, top - 60.0 - 112.0))
    marks += rulers_along(low)
    marks += card_outline((low[0] + AWAY, low[1] + AWAY))
    middle = (low[0] + AWAY + CARD[0] / 2, low[1] + AWAY + CARD[1] / 2)
    for number, line in enumerate(("bank card", f"{CARD[0]:.2f} × {CARD[1]:.2f}\u00a0mm")):
        at = (middle[0], middle[1] + 1.5 - 9.0 * number)
        marks.append(Text(at, line, LABEL, "middle", role="pattern"))
    return Drawing(
        width, height, tuple(marks),
        "Test page for full-size patterns",
        "A 4 in and a 100 mm ruler across and upward, and the outline of a bank card, at full size.",
    )  # fmt: skip


def card_outline(low: Xy) -> Iterator[Stroke]:
    """Draw the outline of a card from its low left corner: four straight sides and four exact corners."""
    (x, y), (wide, tall), r = low, CARD, CARD_RADIUS
    sides = (
        ((x + r, y), (x + wide - r, y)),
        ((x + wide, y + r), (x + wide, y + tall - r)),
        ((x + wide - r, y + tall), (x + r, y + tall)),
        ((x, y + tall - r), (x, y + r)),
    )
    for side in sides:
        yield Stroke(side, Meaning.CONTEXT)
    middles = (
        (x + wide - r, y + r), (x + wide - r, y + tall - r), (x + r, y + tall - r), (x + r, y + r),
    )  # fmt: skip
    for number, (cx, cy) in enumerate(middles):
        start = (number - 1) * pi / 2
        yield arc_stroke(Arc((cx, cy), (cx + r, cy), (cx, cy + r), start, start + pi / 2), Meaning.CONTEXT)
