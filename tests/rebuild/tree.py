"""From printed dimensions to the place of every named edge, centre and corner along one axis.

The names are the nodes of a graph, the dimensions its edges; names of one place are one node. Without the
values in parentheses the graph has to be a tree: then every place follows from the figures in one way
only, and lies at most as far from the true one as the halves of the rounding steps on its way add up to.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

import networkx

from tests.rebuild.figures import EXACT, FIGURE, Measure, System, length, one_system, plain
from tests.rebuild.written import Said, Sheet

Corner = Literal["low", "high"]

AXES = ("across", "deep", "up")
LOW = ("left", "front", "bottom")
HIGH = ("right", "back", "top")
CENTRAL = "middle of the part"


class UntoldError(Exception):
    """The sheet does not say what is needed to make the part."""


class ContradictionError(Exception):
    """The sheet says something twice, and not the same."""


@dataclass(frozen=True, slots=True)
class _Stretch:
    start: tuple[str, ...]
    end: tuple[str, ...]
    measure: Measure  # signed: from start to end along the axis
    key: str


@dataclass
class Places:
    """Where everything named along one axis lies; the low side of the part is zero."""

    axis: str
    low_side: str
    high_side: str
    _at: dict[str, Measure] = field(default_factory=dict)
    _besides: list[_Stretch] = field(default_factory=list)

    def at(self, name: str) -> Measure:
        """Give the place of a name; raises UntoldError for one that no dimension reaches."""
        if name == CENTRAL:
            return (self.at(self.low_side) + self.at(self.high_side)).times(0.5)
        if name not in self._at:
            raise UntoldError(f"{name or 'something'} has no place {self.axis}")
        return self._at[name]

    def add(self, name: str, at: Measure) -> None:
        """Add a place that came out of the making, unless a dimension gives it."""
        self._at.setdefault(name, at)

    def agree(self) -> None:
        """Compare what is said besides the tree with what follows from it.

        Raises ContradictionError where they differ by more than rounding.
        """
        for one in self._besides:
            ends = [
                next((name for name in names if name in self._at), None) for names in (one.start, one.end)
            ]
            if None in ends:
                continue
            start, end = (self.at(str(name)) for name in ends)
            follows = end - start
            if abs(follows.mm - one.measure.mm) > follows.half + one.measure.half + 1e-9:
                raise ContradictionError(
                    f"{ends[1]}: {one.measure.mm:.3f} mm is said, {follows.mm:.3f} mm follows"
                )


def places(sheet: Sheet, system: System, corner: Corner) -> dict[str, Places]:
    """Solve every axis, measuring from the sides that meet in the low or in the high corner of the part.

    What is far from the one is near to the other, and its place then carries less rounding. Raises
    UntoldError or ContradictionError where the dimensions do not make a tree.
    """
    return {axis: _solved(sheet, axis, system, corner) for axis in AXES}


def _solved(sheet: Sheet, axis: str, system: System, corner: Corner) -> Places:
    given = [group for group in sheet.of("dimension") if group.data["axis"] == axis]
    stretches = [one for group in given for one in _stretches(group, system)]
    joined = networkx.Graph()
    for one in stretches:
        for names in (one.start, one.end):
            joined.add_nodes_from(names)
            networkx.add_path(joined, names)
    node_of = {name: min(part) for part in networkx.connected_components(joined) for name in part}
    tree = networkx.MultiGraph()
    main = [one for one in stretches if one.key]
    for one in main:
        start, end = node_of[one.start[0]], node_of[one.end[0]]
        tree.add_edge(start, end, stretch=one, start=start)
    found = Places(axis, f"{LOW[AXES.index(axis)]} side", f"{HIGH[AXES.index(axis)]} side")
    low, high = node_of.get(found.low_side), node_of.get(found.high_side)
    if not (low in tree and high in tree and tree.has_edge(low, high)):
        raise UntoldError(f"no overall size {axis}")
    if not networkx.is_connected(tree):
        lost = sorted(set(tree) - networkx.node_connected_component(tree, low))
        raise UntoldError(f"{', '.join(lost)} not tied to the rest {axis}")
    if tree.number_of_edges() != tree.number_of_nodes() - 1:
        raise ContradictionError(f"something is given twice {axis}")
    (overall,) = tree.get_edge_data(low, high).values()
    root = low if corner == "low" else high
    at = {root: EXACT if corner == "low" else Measure(overall["stretch"].measure.mm, 0.0)}
    for here, there in networkx.bfs_edges(tree, root):
        (edge,) = tree.get_edge_data(here, there).values()
        step = edge["stretch"].measure
        at[there] = at[here] + step if edge["start"] == here else at[here] - step
    found._at.update({name: at[node] for name, node in node_of.items() if node in at})
    found._besides = [one for one in stretches if not one.key]
    found.agree()
    return found


def _stretches(group: Said, system: System) -> Iterator[_Stretch]:
    """Read a dimension: what it stands between, and the figure printed in it."""
    data = group.data
    sign = 1.0 if data["towards"] in HIGH else -1.0
    pairs = list(_pairs(data["from"], data["to"]))
    measure = _figure(group, system, len(pairs)).times(sign)
    key = "" if data["says"] == "reference" else group.key
    for start, end in pairs:
        yield _Stretch(start, end, measure, key)
    if "also-from" in data:
        for start, end in _pairs(data["also-from"], data["also-to"]):
            yield _Stretch(start, end, measure, "")


def _pairs(starts: str, ends: str) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    for start, end in zip(starts.split(" | "), ends.split(" | "), strict=True):
        yield tuple(start.split("; ")), tuple(end.split("; "))


def _figure(group: Said, system: System, steps: int) -> Measure:
    """Read the figure: ``3/4``, ``(3/4)``, ``3 × 3/4`` or ``5 × 32 = 160``, of which the step counts."""
    texts = [plain(text) for text in group.texts]
    if not texts:
        raise UntoldError(f"nothing is printed in {group.key}")
    metric = [text for text in texts if text.endswith("mm)")]
    words = metric[0][1:-1] if system == "mm" and metric else one_system(texts[0], system)
    words = re.sub(r"^\((.*)\)$", r"\1", words.removesuffix(" mm"))
    row = re.fullmatch(rf"(\d+) × ({FIGURE}) = ({FIGURE})", words)
    if row:
        if int(row[1]) != steps:
            raise ContradictionError(f"{group.key} counts {row[1]} steps and shows {steps}")
        step, whole = length(row[2], system), length(row[3], system)
        if abs(step.mm * steps - whole.mm) > 1e-6:
            raise ContradictionError(f"{words} does not add up")
        return Measure(step.mm, min(step.half, whole.half / steps))  # both are true of the same step
    counted = re.fullmatch(rf"\d+ × ({FIGURE})", words)
    measure = length(counted[1] if counted else words, system)
    return measure.times(1 / steps) if group.data["says"] == "row" else measure
