"""How far the exploded view opens: far enough to see every piece, near enough to print large."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import product
from math import hypot

import numpy as np

from plangen.design.model import Design
from plangen.drawing.explosion import Offset, explode, ways_out
from plangen.drawing.hidden_lines import View
from plangen.drawing.nested import members, units
from plangen.drawing.places import covered
from plangen.drawing.rough import rough_shares
from plangen.drawing.scene import Actor, Sight, copy_actor, fitted
from plangen.joinery.space import Axis, Side
from plangen.solids import Solids
from plangen.solids.model import Floats

_SEEN = 0.5  # a part should show at least this share of itself
_STRETCHES = (1.0, 1.7, 2.4)
_MOST = 5.5  # that the three stretches may add up to
_WORK = 60_000  # pieces looked at, over all ways tried, to bring out what is hidden: a minute at most
_COVER = 0.15  # what a place that is covered counts beside a part that is hidden


def diagonal(design: Design) -> float:
    """Give the diagonal of the whole piece in millimetres."""
    return hypot(*(float(design.overall.size(axis)) for axis in Axis))


def on_paper(axis: Axis, view: View) -> float:
    """Give the length on the paper of one millimetre along an axis, before any scale."""
    return hypot(float(view.right[axis.value]), float(view.up[axis.value]))


def offsets_for(
    design: Design,
    solids: Solids,
    view: View,
    width: float,
    height: float,
    loose: Mapping[str, Side] | None = None,
) -> dict[str, Offset]:
    """Choose how far to open along each axis: little, but with no part more than half hidden if possible.

    ``loose`` gives the side from which pieces come in that no joint holds.
    """
    base = 0.13 * diagonal(design)
    gaps = {axis: base / max(on_paper(axis, view), 0.45) for axis in Axis}
    best: tuple[tuple[float, ...], dict[str, Offset]] | None = None
    seen: set[tuple[Offset, ...]] = set()
    for stretch in sorted(product(_STRETCHES, repeat=3), key=lambda item: (round(sum(item), 3), item)):
        if sum(stretch) > _MOST:
            break
        offsets = explode(design, {axis: gaps[axis] * stretch[axis.value] for axis in Axis})
        for name, side in (loose or {}).items():
            out = np.zeros(3)
            out[side.axis.value] = side.sign * (0.6 * float(design.overall.size(side.axis)) + gaps[side.axis])
            offsets[name] = _plus(offsets[name], out)
        if tuple(offsets.values()) in seen:
            continue
        seen.add(tuple(offsets.values()))
        actors = _actors(design, solids, offsets)
        short = sum(max(0.0, _SEEN - share) for share in _shares(design, actors, view).values())
        hides, _ = covered(design, solids, offsets, view)
        size = fitted(Sight(actors, view).bounds, (0, 0, width, height)).factor
        score = (round(short + _COVER * hides, 2) * 2 - size / 0.1 * 0.05, -size)
        if best is None or score < best[0]:
            best = (score, offsets)
        if short < 0.01 and hides < 0.02:
            break
    assert best is not None
    return _lifted(design, solids, view, best[1], gaps)


def _lifted(
    design: Design, solids: Solids, view: View, offsets: dict[str, Offset], gaps: Mapping[Axis, float]
) -> dict[str, Offset]:
    """Move aside what still is more than half hidden, where a way out of its joints shows it.

    A piece that can leave what it is joined to in no one direction stays where it is; an assembly moves as
    one. What is hidden most is tried first, as long as the work allows: of a thousand pieces that hide each
    other only some can be brought out.
    """
    left = _WORK
    offsets = dict(offsets)
    pieces = members(units(design))
    shares = _shares(design, _actors(design, solids, offsets), view)
    for name in sorted(shares, key=lambda item: (shares[item], item)):
        if shares[name] >= _SEEN:
            continue
        some = pieces[name]
        ways = ways_out(design, some)
        best: tuple[tuple[float, int], dict[str, Offset], dict[str, float]] | None = None
        for number, (times, axis, sign) in enumerate(
            product((0.8, 1.6, 2.4), (Axis.DEEP, Axis.UP, Axis.ACROSS), (1, -1))
        ):
            if Side.of(axis, sign > 0) not in ways:
                continue
            by = np.zeros(3)
            by[axis.value] = sign * times * gaps[axis]
            tried = {**offsets, **{one: _plus(offsets[one], by) for one in some}}
            if left < 0 or _touches(design, some, tried):
                continue
            left -= len(tried)
            seen = _shares(design, _actors(design, solids, tried), view)
            loss = sum(max(0.0, min(shares[other], _SEEN) - seen[other]) for other in shares if other != name)
            score = (round(2 * loss - min(seen[name], 0.7), 2), number)
            if best is None or score < best[0]:
                best = (score, tried, seen)
        if best is not None and best[2][name] > shares[name] + 0.15:
            offsets, shares = best[1], best[2]
    return offsets


def _plus(offset: Offset, by: Floats) -> Offset:
    across, deep, up = (float(value) for value in np.asarray(offset) + by)
    return across, deep, up


def _shares(design: Design, actors: Sequence[Actor], view: View) -> dict[str, float]:
    """Give about the share seen of every unit: of an assembly as a whole, for its pieces hide each other."""
    return rough_shares(actors, view, members(units(design)))


def _actors(design: Design, solids: Solids, offsets: Mapping[str, Offset]) -> tuple[Actor, ...]:
    copies = design.copies
    return tuple(
        copy_actor(design, solids, copies[name], "plain", offset=out) for name, out in offsets.items()
    )


def _touches(design: Design, names: Sequence[str], offsets: Mapping[str, Offset]) -> bool:
    """Tell whether the box of one of some copies, drawn out, touches that of another."""
    copies = design.copies
    others = [other for other in offsets if other not in names]

    def ends(of: Sequence[str]) -> tuple[Floats, Floats]:
        out = np.array([offsets[name] for name in of], dtype=np.float64).reshape(-1, 3)
        low = np.array([copies[name].box.low.floats() for name in of], dtype=np.float64).reshape(-1, 3)
        high = np.array([copies[name].box.high.floats() for name in of], dtype=np.float64).reshape(-1, 3)
        return low + out, high + out

    (low, high), (other_low, other_high) = ends(names), ends(others)
    common = np.minimum(high[:, None], other_high) - np.maximum(low[:, None], other_low)
    return bool((common > 1e-6).all(axis=2).any())
