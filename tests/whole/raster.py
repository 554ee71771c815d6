"""Printed pages as pictures: lines and marks found in their pixels, sheets joined, shapes laid on them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from math import hypot

import numpy as np
import pypdfium2
from numpy.typing import NDArray

from tests.whole.paper import Paper, plain

Floats = NDArray[np.float64]
Xy = tuple[float, float]

DPI = 300
INCH = 25.4
DARK = 0.5
STRAIGHT = 0.05  # mm, how far two joined sheets may lie askew at their marks


@dataclass(frozen=True, eq=False)
class Sheet:
    """One printed page: ``ink`` from 0 to 1, row 0 at the foot, and its words. Positions are in mm."""

    ink: Floats
    text: str
    mm: float  # of one pixel

    def at(self, x: Floats, y: Floats) -> Floats:
        """The ink at points, between the pixels in proportion."""
        u = np.clip(x / self.mm - 0.5, 0, self.ink.shape[1] - 2)
        v = np.clip(y / self.mm - 0.5, 0, self.ink.shape[0] - 2)
        i, j = u.astype(int), v.astype(int)
        a, b = u - i, v - j
        ink = self.ink
        return np.asarray(
            ink[j, i] * (1 - a) * (1 - b)
            + ink[j, i + 1] * a * (1 - b)
            + ink[j + 1, i] * (1 - a) * b
            + ink[j + 1, i + 1] * a * b
        )

    def runs(self, shortest: float, longest: float) -> list[tuple[float, float, float]]:
        """Level lines of a length: (y, from x, to x), each once at the middle of its thickness."""
        found: list[tuple[float, float, float]] = []
        long_enough = (self.ink > DARK).sum(axis=1) * self.mm >= shortest
        for row in np.flatnonzero(long_enough):
            edges = np.flatnonzero(np.diff(np.concatenate(([0], self.ink[row] > DARK, [0])).astype(int)))
            for start, end in edges.reshape(-1, 2):
                if shortest <= (end - start) * self.mm <= longest:
                    found.append(((row + 0.5) * self.mm, start * self.mm, end * self.mm))
        lines: list[list[tuple[float, float, float]]] = []
        for run in found:
            same = [line for line in lines if abs(line[-1][0] - run[0]) < 1.5 * self.mm
                    and abs(line[-1][1] - run[1]) < 1.0]  # fmt: skip
            if same:
                same[0].append(run)
            else:
                lines.append([run])
        return [tuple(float(np.mean(column)) for column in zip(*line, strict=True)) for line in lines]  # type: ignore[misc]

    @property
    def turned(self) -> Sheet:
        """The same page with x and y exchanged."""
        return Sheet(np.ascontiguousarray(self.ink.T), self.text, self.mm)


@cache
def sheets_of(pdf: bytes, shrink: float) -> tuple[Sheet, ...]:
    """Every page of the chapter of patterns, printed at ``shrink`` of its size."""
    pages = Paper(pdf).chapter("Full-size patterns")
    document = pypdfium2.PdfDocument(pdf)
    found = []
    for index in pages:
        page = document[index]
        words = page.get_textpage()
        text = " ".join(plain(words.get_text_bounded()).split())
        # The least bit less, since the reader rounds pixels up and then stretches the page to fill them.
        image = page.render(scale=DPI / 72 * shrink * (1 - 1e-9), grayscale=True).to_numpy()
        ink = 1.0 - image.reshape(image.shape[0], image.shape[1])[::-1] / 255.0
        found.append(Sheet(ink, text, INCH / DPI))
    return tuple(found)


def middle_of_line(sheet: Sheet, at: Xy, way: Xy, reach: float) -> float | None:
    """How far from a point, along a unit vector, the middle of the nearest broad line is; None for none."""
    steps = np.arange(-reach, reach + 1e-9, sheet.mm / 4)
    dark = sheet.at(at[0] + steps * way[0], at[1] + steps * way[1]) > DARK
    edges = np.flatnonzero(np.diff(np.concatenate(([0], dark, [0])).astype(int))).reshape(-1, 2)
    lines = [(steps[start] + steps[end - 1]) / 2 for start, end in edges
             if 0.3 < (end - start) * sheet.mm / 4 < 0.9]  # fmt: skip
    return float(min(lines, key=abs)) if lines else None


DIAMOND = 3.0  # mm, half the width of a mark


def ring(corners: Sequence[Xy], each: int = 12) -> tuple[Floats, Floats]:
    """Points along a closed line through corners."""
    points = [
        (a[0] + (b[0] - a[0]) * n / each, a[1] + (b[1] - a[1]) * n / each)
        for a, b in pairwise((*corners, corners[0]))
        for n in range(each)
    ]
    return np.array([x for x, _ in points]), np.array([y for _, y in points])


def settle(sheet: Sheet, line: tuple[Floats, Floats], near: Xy, reach: float) -> tuple[Xy, float]:
    """Where near a point a line drawn on the sheet covers one given about the origin best, and how well."""
    best, at = -1.0, near
    for step in (reach / 6, reach / 30, 0.02):
        # A broad line covers a thin one over some tenths of a millimetre: the middle of all that are good.
        spots = [
            (at[0] + float(dx), at[1] + float(dy))
            for dx in np.arange(-7, 8) * step
            for dy in np.arange(-7, 8) * step
        ]
        scores = np.array([float(sheet.at(line[0] + x, line[1] + y).mean()) for x, y in spots])
        best = float(scores.max())
        weights = np.clip(scores - 0.9 * best, 0.0, None)
        x, y = (float(np.average([spot[way] for spot in spots], weights=weights)) for way in (0, 1))
        at = (x, y)
    return at, best


@cache
def diamonds(sheet: Sheet) -> tuple[Xy, ...]:
    """The middles of all registration marks of a sheet."""
    coarse = 4
    h, w = (size // coarse * coarse for size in sheet.ink.shape)
    ink = sheet.ink[:h, :w].reshape(h // coarse, coarse, w // coarse, coarse).max(axis=(1, 3))
    xs, ys = ring([(DIAMOND, 0.0), (0.0, DIAMOND), (-DIAMOND, 0.0), (0.0, -DIAMOND)])
    pixel = sheet.mm * coarse
    score = sum(
        np.roll(ink, (-round(y / pixel), -round(x / pixel)), axis=(0, 1)) for x, y in zip(xs, ys, strict=True)
    )
    assert isinstance(score, np.ndarray)
    found: list[Xy] = []
    for index in np.argsort(score, axis=None)[::-1][:4000]:
        v, u = divmod(int(index), score.shape[1])
        if score[v, u] < 0.75 * len(xs):
            break
        near = ((u + 0.5) * pixel, (v + 0.5) * pixel)
        if all(hypot(near[0] - x, near[1] - y) > DIAMOND for x, y in found):
            at, well = settle(sheet, (xs, ys), near, 0.6)
            if well > 0.6 and all(hypot(at[0] - x, at[1] - y) > DIAMOND for x, y in found):
                found.append(at)
    return tuple(sorted(found))


@dataclass(frozen=True)
class Joined:
    """Sheets laid together: each with the move that carries it to the place of the first."""

    sheets: tuple[tuple[Sheet, Xy], ...]

    def holders(self, at: Xy, clear: float) -> Iterator[tuple[Sheet, Xy]]:
        """The sheets that show a point of the whole, and the point on each."""
        for sheet, (dx, dy) in self.sheets:
            x, y = at[0] - dx, at[1] - dy
            high_y, high_x = (size * sheet.mm for size in sheet.ink.shape)
            if clear < x < high_x - clear and clear < y < high_y - clear:
                yield sheet, (x, y)


def joined(sheets: Sequence[Sheet]) -> Joined:
    """Join sheets by row and column as their heads say, by the marks alone."""
    places: dict[tuple[int, int], Sheet] = {}
    for sheet in sheets:
        said = re.search(r"row (\d+), column (\d+)", sheet.text)
        assert said is not None, sheet.text
        places[int(said[1]), int(said[2])] = sheet
    moves: dict[tuple[int, int], Xy] = {(1, 1): (0.0, 0.0)}
    for row, column in sorted(places):
        if (row, column) == (1, 1):
            continue
        before = (row, column - 1) if column > 1 else (row - 1, column)
        one, two = diamonds(places[before]), diamonds(places[row, column])
        way = 0 if column > 1 else 1
        far = sorted(one, key=lambda p: p[way])[-2:]
        near = sorted(two, key=lambda p: p[way])[:2]
        pairs = list(
            zip(sorted(far, key=lambda p: p[1 - way]), sorted(near, key=lambda p: p[1 - way]), strict=True)
        )
        steps = [(a[0] - b[0], a[1] - b[1]) for a, b in pairs]
        assert hypot(steps[0][0] - steps[1][0], steps[0][1] - steps[1][1]) < STRAIGHT
        dx, dy = ((steps[0][k] + steps[1][k]) / 2 for k in (0, 1))
        moves[row, column] = (moves[before][0] + dx, moves[before][1] + dy)
    return Joined(tuple((places[key], moves[key]) for key in sorted(places)))


# --- shapes ------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Sample:
    """A point of a shape with its unit normal, mm."""

    at: Xy
    normal: Xy


def deviations(whole: Joined, shape: Sequence[Sample], move: Xy, reach: float) -> list[float]:
    """How far the drawn line is off at each sample, along the normal."""
    found = []
    for sample in shape:
        at = (sample.at[0] + move[0], sample.at[1] + move[1])
        seen = [middle_of_line(sheet, spot, sample.normal, reach) for sheet, spot in whole.holders(at, 20.0)]
        off = [one for one in seen if one is not None]
        if off:
            found.append(min(off, key=abs))
    return found


def fitted(whole: Joined, shape: Sequence[Sample], move: Xy) -> tuple[Xy, list[float]]:
    """Move a shape until it lies best on what is drawn (least squares of the distances along the normals)."""
    for reach in (6.0, 3.0, 3.0):
        rows, values = [], []
        for sample in shape:
            at = (sample.at[0] + move[0], sample.at[1] + move[1])
            for sheet, spot in whole.holders(at, 20.0):
                off = middle_of_line(sheet, spot, sample.normal, reach)
                if off is not None:
                    rows.append(sample.normal)
                    values.append(off)
                    break
        (dx, dy), *_ = np.linalg.lstsq(np.array(rows), np.array(values), rcond=None)
        move = (move[0] + float(dx), move[1] + float(dy))
    return move, deviations(whole, shape, move, 3.0)
