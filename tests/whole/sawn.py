"""A cutting diagram as its finished files say it: the drawing measured, the written order carried out.

Only files are read: the SVG for what lies where and where the saw goes, the CSV for what the saw is set to.
Nothing of the program is used. Lengths are inches in floats; a drawing is printed to the hundredth of a
millimetre, which at its scale is the tolerance of everything here.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree import ElementTree

SVG = "{http://www.w3.org/2000/svg}"
Rect = tuple[float, float, float, float]  # low x, low y, high x, high y; x along the board from its left end
_ROUND = 0.011  # mm on paper: two ends of a line, each printed to the hundredth


def amount(text: str) -> float:
    """``23 11/32`` in inches."""
    total = 0.0
    for word in text.split():
        over, _, under = word.partition("/")
        total += float(over) / float(under or 1)
    return total


@dataclass(frozen=True)
class Drawn:
    """One diagram: the board, its pieces with the mark drawn in each, its cuts in their order."""

    length: float
    width: float
    scale: float  # inches of wood for a millimetre of paper
    pieces: tuple[tuple[str, Rect], ...]
    told: tuple[tuple[str, float, float], ...]  # mark, width, length, as the description lists them
    cuts: tuple[Rect, ...]
    kept: tuple[Rect, ...]
    number_of_cuts: int
    alike: int  # how many boards are cut so

    @property
    def near(self) -> float:
        """How far two measures of one thing may lie apart, in inches."""
        return 2 * _ROUND * self.scale


def read(svg: bytes) -> Drawn:
    """Measure a diagram."""
    root = ElementTree.fromstring(svg)
    description = (root.findtext(f"{SVG}desc") or "").replace("\u00a0", " ")
    groups = {}
    for group in root.iter(f"{SVG}g"):
        groups.setdefault(group.get("class"), []).append(group)

    def corners(name: str) -> list[tuple[float, float, float, float]]:
        found = []
        for group in groups.get(name, ()):
            for path in group.iter(f"{SVG}path"):
                numbers = [float(word) for word in re.findall(r"-?[\d.]+", path.get("d", ""))]
                xs, ys = numbers[::2], numbers[1::2]
                found.append((min(xs), min(ys), max(xs), max(ys)))
        return found

    (outline,) = [box for box in corners("visible") if box[2] - box[0] > 50][:1]
    length, width = _size(description)
    scale = length / (outline[2] - outline[0])

    def real(box: tuple[float, float, float, float]) -> Rect:
        left, low = outline[0], outline[3]  # y runs down the paper
        return tuple(
            round(value * scale, 4) for value in (box[0] - left, low - box[3], box[2] - left, low - box[1])
        )  # type: ignore[return-value]

    rects = [real(box) for box in corners("tone-stock")]
    marks = []
    texts = list(root.iter(f"{SVG}text"))
    for text in texts:
        if text.get("data-role") == "balloon":
            at = real((float(text.get("x", 0)), float(text.get("y", 0))) * 2)
            marks.append(("".join(text.itertext()), at[0], at[1]))
    told = tuple(
        (mark, amount(wide), amount(long))
        for mark, wide, long in re.findall(r"(\S+) ([\d /]+) × ([\d /]+)", description.split(": ", 1)[-1])
    )
    pieces = tuple((_mark_in(rect, marks), rect) for rect in rects)
    printed = " ".join("".join(text.itertext()) for text in texts)
    alike = re.search(r"cut (\d+) like this", printed)
    return Drawn(
        length,
        width,
        scale,
        pieces,
        told,
        tuple(real(box) for box in corners("cut")),
        tuple(real(box) for box in corners("keep")),
        max((int("".join(text.itertext())) for text in texts if text.get("data-role") == "cut"), default=0),
        int(alike[1]) if alike else 1,
    )


def _size(description: str) -> tuple[float, float]:
    sheet = re.search(r"([\d /]+) in × ([\d /]+) in:", description)
    if sheet:
        return max(amount(sheet[1]), amount(sheet[2])), min(amount(sheet[1]), amount(sheet[2]))
    board = re.search(r"([\d /]+) in wide, ([\d /]+) in long:", description)
    assert board is not None, description
    return amount(board[2]), amount(board[1])


def _mark_in(rect: Rect, marks: Sequence[tuple[str, float, float]]) -> str:
    """The mark whose letters stand in a piece; empty where a leader has to lead to it."""
    inside = [mark for mark, x, y in marks if rect[0] < x < rect[2] and rect[1] < y < rect[3]]
    assert len(inside) <= 1, f"{inside} stand in one piece"
    return inside[0] if inside else ""


def check_places(drawn: Drawn, kerf: float) -> None:
    """All pieces lie on the board, apart by a kerf, and can be sawn out by cuts straight through."""
    whole = (0.0, 0.0, drawn.length, drawn.width)
    rects = [rect for _, rect in drawn.pieces]
    for rect in rects:
        assert rect[0] >= -drawn.near
        assert rect[1] >= -drawn.near
        assert rect[2] <= whole[2] + drawn.near
        assert rect[3] <= whole[3] + drawn.near
    for index, one in enumerate(rects):
        for two in rects[:index]:
            apart = max(two[0] - one[2], one[0] - two[2], two[1] - one[3], one[1] - two[3])
            assert apart >= kerf - drawn.near, f"{one} and {two} lie {apart} apart"
    assert separable(rects, kerf - drawn.near)


def separable(rects: Sequence[Rect], kerf: float) -> bool:
    """Whether straight cuts, each from edge to edge of what it divides, part all of the rectangles."""
    if len(rects) < 2:
        return True
    for low, high in ((0, 2), (1, 3)):
        ordered = sorted(rects, key=lambda rect: rect[low])
        reach = ordered[0][high]
        for index in range(1, len(ordered)):
            if ordered[index][low] - reach >= kerf:
                return separable(ordered[:index], kerf) and separable(ordered[index:], kerf)
            reach = max(reach, ordered[index][high])
    return False


def carry_out(drawn: Drawn, order: Sequence[tuple[str, float]], kerf: float) -> list[Rect]:
    """Saw the board by the written order, where the drawing has each cut; give what is left.

    ``order`` has ``rip`` or ``crosscut`` and the setting of each cut. Each cut must go straight through one
    piece that is there, and leave on its low side what the saw is set to.
    """
    there: list[Rect] = [(0.0, 0.0, drawn.length, drawn.width)]
    assert len(order) == len(drawn.cuts)
    for (how, setting), line in zip(order, drawn.cuts, strict=True):
        along = 0 if how == "rip" else 1
        across = 1 - along
        assert line[across + 2] - line[across] < drawn.near, f"{how} is drawn the other way"
        at = (line[across] + line[across + 2]) / 2  # the middle of the kerf
        hits = [
            rect
            for rect in there
            if abs(rect[along] - line[along]) <= drawn.near + kerf
            and abs(rect[along + 2] - line[along + 2]) <= drawn.near + kerf
            and rect[across] < at < rect[across + 2] + kerf
        ]
        assert len(hits) == 1, f"{how} at {at} goes through {len(hits)} pieces"
        rect = hits[0]
        assert abs(at - kerf / 2 - rect[across] - setting) <= 2 * drawn.near, (
            f"{how} at {at}, set to {setting}"
        )
        there.remove(rect)
        low, high = list(rect), list(rect)
        low[across + 2], high[across] = rect[across] + setting, rect[across] + setting + kerf
        there.append((low[0], low[1], low[2], low[3]))
        if high[across] < high[across + 2]:
            there.append((high[0], high[1], high[2], high[3]))
    return there


def cuts_of(rows: Sequence[dict[str, str]]) -> list[tuple[str, float]]:
    """The rows of a cutting order, one entry for each cut."""
    found: list[tuple[str, float]] = []
    for row in rows:
        first, _, last = row["Cut"].partition(" to ")
        numbers = range(int(first), int(last or first) + 1)
        assert numbers.start == len(found) + 1, "cuts are numbered without a gap"
        found.extend((row["How"], float(row["Set to exact, mm"]) / 25.4) for _ in numbers)
    return found


def marks_told(drawn: Drawn) -> Counter[str]:
    """How many pieces of each mark the diagram lists."""
    return Counter(mark for mark, _, _ in drawn.told)
