"""Patterns as a printer makes them: pages rasterised, joined by their marks, and measured in pixels.

What a shape has to be is worked out here from the numbers of the description, with schoolbook formulas of
this file; nothing is asked of the program that drew it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from itertools import pairwise
from math import cos, hypot, pi, radians, sin, sqrt, tan

import numpy as np
import pytest

from tests.whole.making import Made, Variant
from tests.whole.raster import (
    DARK,
    INCH,
    Sample,
    Sheet,
    Xy,
    deviations,
    diamonds,
    fitted,
    joined,
    ring,
    settle,
    sheets_of,
)

SHAPE, RULER = 0.1, 0.05  # mm, how far a drawn shape and a ruler may be off: half of what matters
STEP_STOOL = (Variant("step-stool"), Variant("step-stool", "binder", "a4", "mm"))
SPLAYED = Variant("splayed-stool", "binder", "letter", "inch")


# --- rulers and the card -----------------------------------------------------------------------------------


def ruler_lengths(sheet: Sheet) -> tuple[float, float]:
    """How long 4 in and 100 mm of the level ruler are, from the middles of the first tick to the last."""
    # The line is 4 in long; a print that shrank by some percent is still found, and measured.
    (y, start, end), *_ = sheet.runs(96.0, 106.0)
    lengths = []
    for side, most in ((1.0, INCH * 4), (-1.0, 100.0)):
        xs = np.arange(start - 1.0, end + 1.0, sheet.mm / 4)
        dark = sheet.at(xs, np.full_like(xs, y + side)) > DARK
        edges = np.flatnonzero(np.diff(np.concatenate(([0], dark, [0])).astype(int))).reshape(-1, 2)
        ticks = [float((xs[one] + xs[two - 1]) / 2) for one, two in edges]
        near = [tick - ticks[0] for tick in ticks if abs(tick - ticks[0] - most) < 3.0]
        assert near, f"the ruler has no tick near {most:g} mm"
        lengths.append(min(near, key=lambda length: abs(length - most)))
    return lengths[0], lengths[1]


def check_rulers(pdf: bytes, shrink: float = 1.0) -> int:
    number = 0
    for sheet in sheets_of(pdf, shrink):
        if "key to the pattern" in sheet.text:
            continue
        for way in (sheet, sheet.turned):
            inches, millimetres = ruler_lengths(way)
            assert inches == pytest.approx(4 * INCH, abs=RULER)
            assert millimetres == pytest.approx(100.0, abs=RULER)
        number += 1
    return number


@pytest.mark.parametrize("variant", [*STEP_STOOL, SPLAYED], ids=lambda v: v.name)
def test_rulers_on_every_sheet_measure_true_both_ways(
    variant: Variant, built: Callable[[Variant], Made]
) -> None:
    assert check_rulers(built(variant).pdf) >= 3


def check_card(pdf: bytes, shrink: float = 1.0) -> None:
    """ISO/IEC 7810 ID-1: 85.60 by 53.98 mm, corners rounded by 2.88 to 3.48 mm."""
    (sheet,) = [one for one in sheets_of(pdf, shrink) if "bank card" in one.text]
    level = sorted(run for run in sheet.runs(76.0, 83.0))
    upright = sorted(run for run in sheet.turned.runs(45.0, 50.0))
    assert len(level) == len(upright) == 2
    (low, start, end), (high, _, _) = level
    (left, _, _), (right, _, _) = upright
    assert right - left == pytest.approx(85.60, abs=SHAPE)
    assert high - low == pytest.approx(53.98, abs=SHAPE)
    for corner, way in (((left, low), 1.0), ((right, high), -1.0)):
        # From the sharp corner inward at 45 degrees the arc is met at r·(√2 - 1).
        steps = np.arange(0.5, 3.0, sheet.mm / 8)
        inward = steps * way / sqrt(2)
        dark = steps[sheet.at(corner[0] + inward, corner[1] + inward) > DARK]
        radius = float(dark.mean()) / (sqrt(2) - 1)
        assert 2.88 <= radius <= 3.48
    assert start > left
    assert end < right


@pytest.mark.parametrize("variant", [*STEP_STOOL, SPLAYED], ids=lambda v: v.name)
def test_a_bank_card_covers_its_outline(variant: Variant, built: Callable[[Variant], Made]) -> None:
    check_card(built(variant).pdf)


# --- shapes ------------------------------------------------------------------------------------------------


def arch(chord: float, rise: float, number: int = 120) -> list[Sample]:
    """An arc over a level chord that begins at the origin: r = (c²/4 + h²) / 2h."""
    radius = (chord**2 / 4 + rise**2) / (2 * rise)
    centre = (chord / 2, rise - radius)
    found = []
    for n in range(1, number):
        x = chord * n / number
        y = centre[1] + sqrt(radius**2 - (x - centre[0]) ** 2)
        found.append(Sample((x, y), ((x - centre[0]) / radius, (y - centre[1]) / radius)))
    return found


def check_arch(pdf: bytes, mark: str, chord: float, rise: float, shrink: float = 1.0) -> float:
    sheets = [
        s for s in sheets_of(pdf, shrink) if "Sheet" in s.text and f"{mark} " in s.text.split("Sheet")[0]
    ]
    whole = joined(sheets)
    shape = arch(chord, rise)
    # The chord's middle lies near the first join: try heights on the page until most of the arc is met.
    first = whole.sheets[0][0]
    seam = sorted(diamonds(first))[-1][0]
    tried = []
    for foot in np.arange(30.0, 230.0, 4.0):
        move = (seam - chord / 2, float(foot))
        tried.append((len(deviations(whole, shape[::8], move, 2.5)), move))
    move = max(tried)[1]
    _, off = fitted(whole, shape, move)
    assert len(off) > 0.95 * len(shape)
    worst = max(abs(one) for one in off)
    assert worst < SHAPE, f"{worst:.3f} mm"
    return worst


@pytest.mark.parametrize("variant", STEP_STOOL, ids=lambda v: v.name)
@pytest.mark.parametrize(
    ("mark", "chord", "rise"),
    # depth 15-1/2 less two feet of 2-3/4; the rail is 17 - 2 × 3/4 long, less 2 in at both ends
    [("A-L", (15.5 - 2 * 2.75) * INCH, 1.75 * INCH), ("D", (17 - 1.5 - 4) * INCH, 1.0 * INCH)],
)
def test_arches_come_out_true(
    variant: Variant, mark: str, chord: float, rise: float, built: Callable[[Variant], Made]
) -> None:
    check_arch(built(variant).pdf, mark, chord, rise)


def spline(points: Sequence[Xy], number: int = 24) -> list[Xy]:
    """A centripetal Catmull-Rom spline by the pyramid of Barry and Goldman (1988), ends mirrored."""
    first = (2 * points[0][0] - points[1][0], 2 * points[0][1] - points[1][1])
    last = (2 * points[-1][0] - points[-2][0], 2 * points[-1][1] - points[-2][1])
    p = [np.array(one) for one in (first, *points, last)]
    found: list[Xy] = []
    for k in range(len(points) - 1):
        knots = [0.0]
        for a, b in pairwise(p[k : k + 4]):
            knots.append(knots[-1] + sqrt(float(np.linalg.norm(b - a))))
        for n in range(number):
            t = knots[1] + (knots[2] - knots[1]) * n / number
            level = p[k : k + 4]
            for width in (1, 2, 3):
                spans = [(1, 2)] if width == 3 else [(i, i + width) for i in range(4 - width)]
                level = [
                    (level[i] * (knots[b] - t) + level[i + 1] * (t - knots[a])) / (knots[b] - knots[a])
                    for i, (a, b) in enumerate(spans)
                ]
            found.append((float(level[0][0]), float(level[0][1])))
    return [*found, points[-1]]


def seat() -> list[Xy]:
    """The stool's seat in mm: four corners of 2 in radius, two hollow edges, two straight ends."""
    wide, deep, r = 15.0, 11.5, 2.0
    front = [(2.0, 0.0), (4.75, 0.375), (wide / 2, 0.625), (wide - 4.75, 0.375), (wide - 2, 0.0)]
    outline: list[Xy] = []

    def corner(cx: float, cy: float, start: float) -> None:
        turns = (start + pi / 2 * n / 16 for n in range(17))
        outline.extend((cx + r * cos(t), cy + r * sin(t)) for t in turns)

    corner(r, r, pi)
    outline.extend(spline(front))
    corner(wide - r, r, -pi / 2)
    corner(wide - r, deep - r, 0.0)
    outline.extend((x, deep - y) for x, y in spline(front)[::-1])
    corner(r, deep - r, pi / 2)
    return [(x * INCH, y * INCH) for x, y in outline]


def samples(outline: Sequence[Xy], spacing: float = 4.0) -> list[Sample]:
    """Points in the middle of each stretch of a closed line, with normals; not too near one another."""
    found: list[Sample] = []
    for (x0, y0), (x1, y1) in pairwise((*outline, outline[0])):
        size = hypot(x1 - x0, y1 - y0)
        if size < 0.05:
            continue
        for n in range(max(1, int(size / spacing))):
            share = (n + 0.5) / max(1, int(size / spacing))
            at = (x0 + (x1 - x0) * share, y0 + (y1 - y0) * share)
            if not found or hypot(at[0] - found[-1].at[0], at[1] - found[-1].at[1]) > spacing * 0.6:
                found.append(Sample(at, ((y1 - y0) / size, (x0 - x1) / size)))
    return found


def check_seat(pdf: bytes, shrink: float = 1.0) -> tuple[float, float]:
    """The outline, and the four mortises: 3-1/4 and 2-3/4 in from the edges, leaning 8 and 6 degrees."""
    sheets = [s for s in sheets_of(pdf, shrink) if "Sheet" in s.text and "Bottom face" in s.text]
    whole = joined(sheets)
    # The pattern stands on end: along the seat is upward. The seat is alike on both sides both ways.
    outline = [(y, x) for x, y in seat()]
    shape = samples(outline)
    low = min(p.at[0] for p in shape)
    first = whole.sheets[0][0]
    tried = []
    for x in np.arange(20.0, 50.0, 3.0):
        for y in np.arange(20.0, 60.0, 3.0):
            tried.append(
                (len(deviations(whole, shape[::12], (float(x) - low, float(y)), 2.0)), (float(x), float(y)))
            )
    move, off = fitted(whole, shape, max(tried)[1])
    assert len(off) > 0.95 * len(shape), (len(off), len(shape), first.text)
    worst = max(abs(one) for one in off)
    assert worst < SHAPE, f"{worst:.3f} mm"
    a, b = tan(radians(8)), tan(radians(6))
    lean, size = sqrt(a * a + b * b), hypot(a, b)
    long = INCH / 2 * sqrt(1 + lean * lean)
    far = 0.0
    for right in (False, True):
        for back in (False, True):
            x = (15 - 3.25 if right else 3.25) * INCH
            y = (11.5 - 2.75 if back else 2.75) * INCH
            # In the drawing (y, x): the long axis lies the way that the leg leans.
            u = ((b if back else -b) / size, (a if right else -a) / size)
            turns = np.linspace(0, 2 * pi, 120, endpoint=False)
            rim = (
                long * np.cos(turns) * u[0] - INCH / 2 * np.sin(turns) * u[1],
                long * np.cos(turns) * u[1] + INCH / 2 * np.sin(turns) * u[0],
            )
            at = (y + move[0], x + move[1])
            sheet, spot = max(whole.holders(at, 35.0), key=lambda one: min(one[1]))
            found, well = settle(sheet, rim, spot, 1.2)
            assert well > 0.6, well
            far = max(far, hypot(found[0] - spot[0], found[1] - spot[1]))
    assert far < SHAPE, f"{far:.3f} mm"
    return worst, far


def test_a_seat_over_four_sheets_comes_out_true(built: Callable[[Variant], Made]) -> None:
    check_seat(built(SPLAYED).pdf)


def check_wrap(pdf: bytes, shrink: float = 1.0) -> float:
    """A leg of 1-1/2 in leaning 8 and 6 degrees stands level: across each face the cut climbs by that lean.

    The leg is turned the least way, about a level line square to its lean. The floor then lies to the leg as
    the leg to the floor, so that on the leg's own faces the cut falls by the same two angles.
    """
    sheet, *_ = [one for one in sheets_of(pdf, shrink) if "fold round" in one.text]
    side, worst = 1.5 * INCH, 0.0
    # The lower edge of the paper is one line as long as the four faces; its ends lie under upright ones.
    low, start, end = min(sheet.runs(3.9 * side, 4.1 * side))
    upright = [x for x, _, _ in sheet.turned.runs(50.0, 120.0)]
    left, right = (min(upright, key=lambda x: abs(x - at)) for at in (start, end))
    assert right - left == pytest.approx(4 * side, abs=SHAPE)
    heights = []
    for fold in range(4):
        for share in (0.2, 0.8):
            x = left + (fold + share) * side
            ys = np.arange(low + 20.0, low + 110.0, sheet.mm / 4)
            dark = sheet.at(np.full_like(ys, x), ys) > DARK
            ends = np.flatnonzero(np.diff(np.concatenate(([0], dark, [0])).astype(int))).reshape(-1, 2)
            broad = [(ys[a] + ys[b - 1]) / 2 for a, b in ends if (b - a) * sheet.mm / 4 > 0.45]
            heights.append(max(broad))
    lean = [8, 6, 8, 6]
    for face in range(4):
        rise = abs(heights[2 * face + 1] - heights[2 * face])
        worst = max(worst, abs(rise - 0.6 * side * tan(radians(lean[face]))))
    assert worst < SHAPE, f"{worst:.3f} mm"
    return worst


def test_a_wrap_climbs_by_the_lean_of_the_leg(built: Callable[[Variant], Made]) -> None:
    check_wrap(built(SPLAYED).pdf)


def test_an_arch_lies_where_its_lay_line_says(built: Callable[[Variant], Made]) -> None:
    """The side's arch begins 2-3/4 in from the front edge; the sheet has a line at a distance in words."""
    first, *_ = [
        one for one in sheets_of(built(STEP_STOOL[0]).pdf, 1.0)
        if "A-L" in one.text and "row 1, column 1" in one.text
    ]  # fmt: skip
    said = re.search(r"(\d+) (\d+)/(\d+) in from front edge", re.sub(r"(\d)⁄(\d)", r"\1/\2", first.text))
    assert said is not None, first.text
    away = (int(said[1]) + int(said[2]) / int(said[3])) * INCH
    # Of the upright lines longer than a ruler the first is the frame's side, the next the lay line.
    upright = sorted(first.turned.runs(105.0, 230.0))
    frame = upright[0][0]
    line = next(x for x, start, end in upright if x > frame + 2.0)
    whole = joined(
        [s for s in sheets_of(built(STEP_STOOL[0]).pdf, 1.0) if "Sheet" in s.text and "A-L" in s.text]
    )
    shape = arch(10 * INCH, 1.75 * INCH)
    begin = line + (2.75 * INCH - away)
    heights = [
        (len(deviations(whole, shape[::8], (begin, float(y)), 1.0)), float(y))
        for y in np.arange(30.0, 230.0, 1.0)
    ]
    move, off = fitted(whole, shape, (begin, max(heights)[1]))
    assert max(abs(one) for one in off) < SHAPE
    assert move[0] == pytest.approx(begin, abs=SHAPE)


@pytest.mark.parametrize(
    ("check", "variant"),
    [
        (check_rulers, STEP_STOOL[0]),
        (check_card, STEP_STOOL[0]),
        (lambda pdf, shrink: check_arch(pdf, "A-L", 10 * INCH, 1.75 * INCH, shrink), STEP_STOOL[0]),
        (check_seat, SPLAYED),
        (check_wrap, SPLAYED),
    ],
    ids=["rulers", "card", "arch", "seat", "wrap"],
)
def test_a_print_that_shrank_by_a_hundredth_is_found_out(
    check: Callable[[bytes, float], object], variant: Variant, built: Callable[[Variant], Made]
) -> None:
    """A viewer that fits the page to the printer's margins shrinks it unasked, often by no more than this."""
    pdf = built(variant).pdf
    with pytest.raises(AssertionError):
        check(pdf, 0.99)


def test_the_long_check_measures_what_it_says(built: Callable[[Variant], Made]) -> None:
    """Crosses P and Q on the joined sheets: as far apart as the words beside them say."""
    sheets = [s for s in sheets_of(built(SPLAYED).pdf, 1.0) if "Sheet" in s.text and "Bottom face" in s.text]
    whole = joined(sheets)
    square = ring([(2.0, 2.0), (-2.0, 2.0), (-2.0, -2.0), (2.0, -2.0)])
    ends: dict[str, Xy] = {}
    said = ""
    for sheet, move in whole.sheets:
        words = re.search(r"([PQ]) to [PQ] (\d+) in", sheet.text)
        if words is None:
            continue
        said = words[2]
        best = max(
            (settle(sheet, square, (float(x), float(y)), 1.5)[::-1] for x, y in _dark_crossings(sheet)),
            key=lambda one: one[0],
        )
        assert best[0] > 0.6
        ends[words[1]] = (best[1][0] + move[0], best[1][1] + move[1])
    assert sorted(ends) == ["P", "Q"]
    p, q = ends["P"], ends["Q"]
    assert hypot(q[0] - p[0], q[1] - p[1]) == pytest.approx(int(said) * INCH, abs=SHAPE)


def _dark_crossings(sheet: Sheet) -> list[Xy]:
    """Where a level and an upright line of 8 mm cross in their middles."""
    level = [(y, (a + b) / 2) for y, a, b in sheet.runs(7.6, 8.6)]
    upright = [(x, (a + b) / 2) for x, a, b in sheet.turned.runs(7.6, 8.6)]
    return [
        (x, y) for y, mid_x in level for x, mid_y in upright if abs(mid_x - x) < 0.5 and abs(mid_y - y) < 0.5
    ]
