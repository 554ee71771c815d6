"""What chamfers, round-overs and moulding bits take off an edge, from the words of their note."""

from __future__ import annotations

import math
from collections.abc import Sequence

from tests.rebuild.figures import Measure, System, in_words
from tests.rebuild.tools import OUT, Edge, Xy, slack
from tests.rebuild.tree import UntoldError

QUARTER = 16  # chords of a quarter circle


def edge_outline(
    words: str, corner: tuple[Measure, Measure], inward: tuple[float, float], system: System
) -> list[Edge]:
    """Give the outline of what goes at a corner, ``inward`` being the ways into the wood.

    Raises UntoldError for words that name no shape or no size.
    """
    size = in_words(r"chamfer #", words, system)
    if size is not None:
        return _placed([(1.0, 0.0), (0.0, 1.0)], size, corner, inward, 0.0, [])
    radius = in_words(r"R #", words, system)
    if radius is None:
        raise UntoldError(f"{words!r} gives no size")
    bow = slack(radius.mm, math.pi / 2 / QUARTER)
    if "cove" in words:
        return _placed(_quarter((0.0, 0.0), 0.0, 90.0), radius, corner, inward, bow, [(0.0, 0.0)])
    if "round over" in words or "round-over" in words:
        return _placed(_quarter((1.0, 1.0), -90.0, -180.0), radius, corner, inward, bow, [(1.0, 1.0)])
    if "ogee" in words:
        round_ = _quarter((1.0, 0.0), 0.0, 90.0)
        hollow = _quarter((1.0, 2.0), -90.0, -180.0)
        middles = [(1.0, 0.0), (1.0, 2.0)]
        return _placed([*round_, *hollow[1:]], radius, corner, inward, bow, middles)
    raise UntoldError(f"{words!r} names no shape of an edge")


def _quarter(centre: Xy, start: float, end: float) -> list[Xy]:
    """Walk a quarter circle of radius 1."""
    turn = [math.radians(start + (end - start) * step / QUARTER) for step in range(QUARTER + 1)]
    return [(centre[0] + math.cos(angle), centre[1] + math.sin(angle)) for angle in turn]


def _placed(
    points: list[Xy], size: Measure, corner: tuple[Measure, Measure], inward: tuple[float, float], bow: float,
    middles: Sequence[Xy],
) -> list[Edge]:  # fmt: skip
    """Put a profile, drawn from the corner with the ways inward positive, where it belongs."""
    off = size.half * math.hypot(*points[0]) + max(one.half for one in corner)

    def at(point: Xy) -> Xy:
        x, y = (corner[k].mm + inward[k] * size.mm * point[k] for k in (0, 1))
        return x, y

    def out(point: Xy) -> Xy:
        """Go square out of the wood from where the profile meets a face."""
        x, y = at(point)
        return (x - inward[0] * OUT if not point[0] else x), (y - inward[1] * OUT if not point[1] else y)

    first, last = points[0], points[-1]
    far = (corner[0].mm - inward[0] * OUT, corner[1].mm - inward[1] * OUT)
    ends = [(round(first[0], 9), 0.0), (0.0, round(last[1], 9))]
    walk = [far, out(ends[0]), *(at(point) for point in points), out(ends[1])]
    shared = math.hypot(corner[0].half, corner[1].half)
    arcs = [(at(middle), size, shared + size.half * math.hypot(*middle)) for middle in middles]
    share = len(points) / max(1, len(arcs))
    return [
        Edge(
            point,
            off,
            bow,
            arcs[min(int((place - 2) / share), len(arcs) - 1)] if arcs and place >= 2 else None,
        )
        for place, point in enumerate(walk)
    ]
