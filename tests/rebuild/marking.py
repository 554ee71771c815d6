"""Mark out from a sheet: where names lie, what bounds a feature, what is noted about it."""

from __future__ import annotations

import re
from collections.abc import Sequence

from tests.rebuild.figures import Measure, System, in_words, one_system, plain
from tests.rebuild.slants import axis_of, sign_of
from tests.rebuild.tools import OUT, Edge, other_axes
from tests.rebuild.tree import AXES, HIGH, LOW, ContradictionError, Corner, Places, UntoldError, places
from tests.rebuild.written import Said, Sheet

SAME = 1e-6  # mm


class Marking:
    """Looks up what a sheet says; all lengths in one system, measured from one corner."""

    def __init__(self, sheet: Sheet, system: System, corner: Corner) -> None:
        self._sheet, self._system = sheet, system
        self._places = places(sheet, system, corner)
        self._features = sheet.of("feature")
        self._part = sheet.of("part")[0].data
        for note in sheet.of("note"):
            _counted(note)

    def _at(self, axis: str, name: str) -> Measure:
        return self._places[axis].at(name)

    def _side(self, side: str) -> Measure:
        return self._at(axis_of(side), f"{side} side")

    def _bounds(self, feature: Said, *, past: bool = True) -> list[tuple[Measure, Measure]]:
        """Give low and high along each axis, taken past the sides of the part that they are."""
        return [
            (self._bound(feature, low, past=past), self._bound(feature, high, past=past))
            for low, high in zip(LOW, HIGH, strict=True)
        ]

    def _bound(self, feature: Said, side: str, *, past: bool) -> Measure:
        name = feature.data.get(side, "")
        at = self._at(axis_of(side), name)
        return Measure(at.mm + OUT * sign_of(side), 0.0) if past and name == f"{side} side" else at

    def _words(self, feature: Said) -> str:
        """Give everything noted about a feature."""
        notes = [note for note in self._sheet.of("note") if feature.key in note.data["features"].split()]
        return "; ".join(one_system(" ".join(note.texts), self._system) for note in notes)

    def _radius(self, note: str) -> Measure:
        words = one_system(" ".join(self._sheet.called(note).texts), self._system)
        found = in_words(r"R #", words, self._system)
        if found is None:
            raise UntoldError(f"{note} has no radius")
        return found

    def _past(self, edges: Sequence[Edge], axis: str) -> list[Edge]:
        """Take an outline past the sides of the part that its straight edges lie in."""
        sizes = [self._side(HIGH[index]).mm for index in other_axes(axis)]
        found: list[Edge] = []
        for one, two in zip(edges, [*edges[1:], edges[0]], strict=True):
            found.append(one)
            for index, size in enumerate(sizes):
                for at, out in ((0.0, -OUT), (size, OUT)):
                    if abs(one.corner[index] - at) < SAME and abs(two.corner[index] - at) < SAME:
                        move = (out, 0.0) if index == 0 else (0.0, out)
                        found += [Edge((x + move[0], y + move[1]), 0.0) for x, y in (one.corner, two.corner)]
        return found

    def _bounds_along(self, feature: Said, axis: str) -> tuple[Measure, Measure]:
        index = AXES.index(axis)
        low, high = (self._bound(feature, side[index], past=True) for side in (LOW, HIGH))
        return low, high


def _counted(note: Said) -> None:
    """Compare how many a note says with how many it is about. Raises ContradictionError."""
    words, number = plain(" ".join(note.texts)), len(note.data["features"].split())
    found = re.match(r"(\d+) (?:holes?|×) ", words)
    said = int(found[1]) if found else 1
    said *= 2 if re.search(r", in each (end|edge|face)", words) else 1
    if note.data["says"] != "radius" and said != number:
        raise ContradictionError(f"{words!r} counts {said}, and {number} are shown")


def limits(name: str, along: Places, walked: Sequence[Edge], index: int) -> None:
    """Say how far an outline goes along an axis: what a sheet gives in parentheses can then be compared."""
    for side, most in ((along.low_side, min), (along.high_side, max)):
        edge = most(walked, key=lambda edge: edge.corner[index])
        at = Measure(edge.corner[index], edge.error + edge.slack)
        along.add(f"{side.removesuffix(' side')} limit of {name}", at)
