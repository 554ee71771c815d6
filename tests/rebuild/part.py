"""Make a part from its written sheet alone: saw the blank to its overall sizes, then cut every feature."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

import manifold3d
import numpy as np

from tests.rebuild.edges import edge_outline
from tests.rebuild.figures import Measure, System, angle, in_words, length
from tests.rebuild.marking import Marking, limits
from tests.rebuild.outlines import outline, slope_in
from tests.rebuild.recesses import dished, rounded
from tests.rebuild.slants import LEAN, Sawn, axis_of, bored, on_rim, sawn, sign_of
from tests.rebuild.tools import (
    OUT,
    Edge,
    Floats,
    Tool,
    around,
    beyond,
    bore,
    box,
    cylinder,
    other_axes,
    prism,
)
from tests.rebuild.tree import (
    AXES,
    CENTRAL,
    HIGH,
    LOW,
    Corner,
    UntoldError,
)
from tests.rebuild.written import Said, Sheet

UNCUT = ("mark", "banding")  # what is drawn on, and what is glued on and counted in the sizes


@dataclass(frozen=True)
class Made:
    """A part as somebody made it from the sheet."""

    body: manifold3d.Manifold
    tools: tuple[Tool, ...]
    size: Floats  # overall, mm


def make(sheet: Sheet, system: System, corner: Corner = "low") -> Made:
    """Make the part, marking out from one corner.

    Raises UntoldError or ContradictionError where the sheet does not let one.
    """
    return _Maker(sheet, system, corner).made()


class _Maker(Marking):
    def made(self) -> Made:
        blank = box([(self._side(low), self._side(high)) for low, high in zip(LOW, HIGH, strict=True)])
        tools = [blank]
        tenons: dict[str, list[Said]] = {}
        for feature in self._features:
            shape = feature.data["shape"]
            if shape == "tenon":
                tenons.setdefault(feature.data["work"], []).append(feature)
            elif shape not in UNCUT:
                tools += self._tools(feature)
        tools[1:1] = [self._tenons(group) for group in tenons.values()]
        self._references()
        # One after the other: two cuts that meet in a plane would leave a film if they were joined first.
        body = tools[0].body
        for tool in tools[1:]:
            body = body - tool.body
        return Made(body, tuple(tools), np.array([self._side(side).mm for side in HIGH]))

    def _references(self) -> None:
        """Compare the values in parentheses with what has come out."""
        for along in self._places.values():
            along.agree()

    def _tools(self, feature: Said) -> list[Tool]:
        make_it = {
            "recess": self._recess,
            "dished recess": self._recess,
            "hole": self._hole,
            "edge": self._edge,
            "round": self._round,
            "saw cut": self._saw_cut,
            "outline": self._outline,
            "slot along a mitre": self._slot_along_mitre,
        }[feature.data["shape"]]
        return make_it(feature)

    def _recess(self, feature: Said) -> list[Tool]:
        data = feature.data
        if "seen-along" not in data:
            return [box(self._bounds(feature))]
        axis = data["seen-along"]
        plane = other_axes(axis)
        low, high = self._bounds(feature)[AXES.index(axis)]
        inner = self._bounds(feature, past=False)
        if data["shape"] == "dished recess":
            edges = dished([inner[k] for k in plane], plane, data["worked-from"])
        else:
            radius = self._radius(data["radius"]) if "radius" in data else None
            edges = rounded([inner[k] for k in plane], plane, data["rounded"].split("; "), radius)
        return [prism(axis, low, high, self._past(edges, axis))]

    def _tenons(self, group: Sequence[Said]) -> Tool:
        """Take away what stands beside tenons, from the shoulder to the end that they stand out at."""
        out = group[0].data["stands-out"]
        axis = AXES.index(axis_of(out))
        shoulders = [self._bounds(one, past=False)[axis][0 if out in HIGH else 1] for one in group]
        shoulder = (min if out in HIGH else max)(shoulders, key=lambda one: one.mm)
        whole: list[tuple[Measure, Measure]] = [
            (Measure(-OUT, 0.0), Measure(self._side(side).mm + OUT, 0.0)) for side in HIGH
        ]
        whole[axis] = (shoulder, whole[axis][1]) if out in HIGH else (whole[axis][0], shoulder)
        tools = []
        for one in group:
            wide = self._bounds(one)
            wide = [(Measure(a.mm - 2 * OUT, 0) if a.mm < 0 else a, b) for a, b in wide]
            wide = [
                (a, Measure(b.mm + 2 * OUT, 0) if b.mm > self._side(side).mm else b)
                for (a, b), side in zip(wide, HIGH, strict=True)
            ]
            # The shoulder is where the stock begins: a tenon is taken from behind it.
            low, high = wide[axis]
            wide[axis] = (
                (Measure(low.mm - OUT, 0.0), high) if out in HIGH else (low, Measure(high.mm + OUT, 0.0))
            )
            if "rounded" in one.data:
                seen = one.data["seen-along"]
                plane = other_axes(seen)
                inner = self._bounds(one, past=False)
                edges = rounded([inner[k] for k in plane], plane, one.data["rounded"].split("; "), None)
                tools.append(prism(seen, *wide[AXES.index(seen)], edges))
            else:
                tools.append(box(wide))
        return around(tools, box(whole))

    def _hole(self, feature: Said) -> list[Tool]:
        data, words = feature.data, self._words(feature)
        side = data["worked-from"]
        axis = axis_of(side)
        names = {name: self._at(name, data[name]) for name in AXES if name != axis}
        mouth = self._at(axis, data["starts-at"]) if "starts-at" in data else self._side(side)
        found = in_words(r"^\d+ holes? #", words, self._system)
        if found is None:
            raise UntoldError(f"{feature.key} has no diameter")
        radius = found.times(0.5)
        depth = (
            None
            if re.search(r"^[^;]*, through", words)
            else in_words(r"^\d+ holes? \S+(?: \S+)? × # deep", words, self._system)
        )
        depth = depth or self._deep(words)
        wide = in_words(r"counterbore #", words, self._system)
        sunk = in_words(r"counterbore .*? × # deep", words, self._system)
        if "leans" in data:
            return self._leaning(feature, words, names, mouth, radius, depth, wide, sunk)
        tools = [self._straight(axis, side, mouth, depth, names, radius)]
        if wide is not None and sunk is not None:
            tools.append(self._straight(axis, side, mouth, sunk, names, wide.times(0.5)))
        return tools

    def _deep(self, words: str) -> Measure | None:
        """Read the depth of a hole; none where it goes through. Raises UntoldError where nothing is said."""
        if ", through" in words:
            return None
        found = re.match(r"\d+ holes? (.+?) × (.+?) deep", words)
        if found is None:
            raise UntoldError(f"{words!r} gives no depth")
        return length(found[2], self._system)

    def _straight(
        self, axis: str, side: str, mouth: Measure, depth: Measure | None, centre: dict[str, Measure],
        radius: Measure,
    ) -> Tool:  # fmt: skip
        sign = sign_of(side)
        open_at = mouth if self._side(side).mm != mouth.mm else Measure(mouth.mm + OUT * sign, 0.0)
        if depth is None:
            size = self._side(HIGH[AXES.index(axis)]).mm
            floor = Measure(-OUT if sign > 0 else size + OUT, 0.0)
        else:
            floor = mouth + depth.times(-sign)
        low, high = (floor, open_at) if sign > 0 else (open_at, floor)
        first, second = (AXES[index] for index in other_axes(axis))
        return cylinder(axis, low, high, (centre[first], centre[second]), radius)

    def _leaning(
        self, feature: Said, words: str, centre: dict[str, Measure], mouth: Measure, radius: Measure,
        depth: Measure | None, wide: Measure | None, sunk: Measure | None,
    ) -> list[Tool]:  # fmt: skip
        side = feature.data["worked-from"]
        axis = axis_of(side)
        at = np.array([(mouth if name == axis else centre[name]).mm for name in AXES])
        off = np.array([(mouth if name == axis else centre[name]).half for name in AXES])
        way, lean = self._way(feature, words)
        long = Measure(sum(self._side(name).mm for name in HIGH) / 1.0, 0.0)
        tools = [bore(at, way, radius, depth or long, off, lean)]
        if wide is not None and sunk is not None:
            tools.append(bore(at, way, wide.times(0.5), sunk, off, lean))
        return tools

    def _way(self, feature: Said, words: str) -> tuple[Floats, float]:
        """Find which way a hole leans: so far from square, along its sight line, as its arrow points."""
        side, leans = feature.data["worked-from"], feature.data["leans"].split()
        axis = axis_of(side)
        tilt, sight = angle(r"tilted #", words), angle(r"sight line #", words)
        if tilt is None:
            raise UntoldError(f"{feature.key} leans, and nothing says how far")
        edges = self._part["grain-runs"] if axis != self._part["grain-runs"] else self._part["width-runs"]
        if sight is None and len(leans) != 1:
            raise UntoldError(f"{feature.key} leans two ways and has no sight line")
        off = LEAN + (LEAN * math.sin(math.radians(tilt)) if sight is not None else 0.0)
        return bored(side, leans, tilt, sight, edges), off

    def _edge(self, feature: Said) -> list[Tool]:
        sides = feature.data["edge"].split()
        axis = next(name for name in AXES if name not in {axis_of(side) for side in sides})
        low, high = self._bounds_along(feature, axis)
        first, second = (
            next(side for side in sides if AXES.index(axis_of(side)) == index) for index in other_axes(axis)
        )
        corner = (self._side(first), self._side(second))
        inward = (-sign_of(first), -sign_of(second))
        return [prism(axis, low, high, edge_outline(self._words(feature), corner, inward, self._system))]

    def _round(self, feature: Said) -> list[Tool]:
        data = feature.data
        axis = axis_of(data["worked-from"])
        diameter = in_words(r"⌀ #", self._words(feature), self._system)
        if diameter is None:
            raise UntoldError(f"{feature.key} has no diameter")
        first, second = (AXES[index] for index in other_axes(axis))
        centre = (self._at(first, data[first]), self._at(second, data[second]))
        low, high = self._bounds_along(feature, axis)
        whole = [(Measure(-OUT, 0.0), Measure(self._side(side).mm + OUT, 0.0)) for side in HIGH]
        whole[AXES.index(axis)] = (low, high)
        kept = cylinder(
            axis, Measure(low.mm - OUT, 0), Measure(high.mm + OUT, 0), centre, diameter.times(0.5)
        )
        return [around([kept], box(whole))]

    def _saw_cut(self, feature: Said) -> list[Tool]:
        data, words = feature.data, self._words(feature)
        end, longest = data["worked-from"], data["longest"].split()
        axis = axis_of(end)
        face = (
            self._part["thickness-runs"] if axis != self._part["thickness-runs"] else self._part["width-runs"]
        )
        mitre, tilt = angle(r"mitre #", words) or 0.0, angle(r"blade tilted #", words) or 0.0
        normal = sawn(end, longest, face, mitre, tilt)
        tip = self._at(axis, data["tip"])
        cut = (
            self._on_rim(feature, normal, tip)
            if data["tip-at"] == "rim"
            else self._at_corner(feature, normal, tip)
        )
        self._heels(feature, cut)
        size = 4 * max(self._side(side).mm for side in HIGH)
        return [beyond(cut.through, cut.normal, size, cut.off, cut.lean)]

    def _at_corner(self, feature: Said, normal: Floats, tip: Measure) -> Sawn:
        """Place a saw cut whose tip is at the edge where two sides meet."""
        end = feature.data["worked-from"]
        through, off = np.zeros(3), tip.half
        through[AXES.index(axis_of(end))] = tip.mm
        for side in feature.data["tip-at"].split():
            index = AXES.index(axis_of(side))
            through[index] = self._side(side).mm
            off += self._side(side).half * abs(float(normal[index]))
        return Sawn(end, through, normal, off)

    def _on_rim(self, feature: Said, normal: Floats, tip: Measure) -> Sawn:
        """Place a saw cut across an end that is round, by the round's own diameter and middle."""
        end = feature.data["worked-from"]
        turned = next(
            one
            for one in self._features
            if one.data["shape"] == "round"
            and axis_of(one.data["worked-from"]) == axis_of(end)
            and one.data[end] == f"{end} side"
        )
        diameter = in_words(r"⌀ #", self._words(turned), self._system)
        if diameter is None:
            raise UntoldError(f"{turned.key} has no diameter")
        middle = [self._at(name, turned.data.get(name, CENTRAL)) for name in AXES]
        return on_rim(end, tip, normal, middle, diameter)

    def _heels(self, feature: Said, cut: Sawn) -> None:
        """Say where a cut from corner to corner comes out at the edges beside its tip."""
        along = self._places[axis_of(cut.end)]
        for look in (axis for axis in AXES if feature.data["tip-at"] != "rim" and axis != axis_of(cut.end)):
            corner = cut.through.copy()
            other = next(axis for axis in AXES if axis not in (look, axis_of(cut.end)))
            low, high = (self._side(sides[AXES.index(other)]).mm for sides in (LOW, HIGH))
            corner[AXES.index(other)] = low + high - corner[AXES.index(other)]
            at = cut.at(corner)
            held = min(max(at.mm, along.at(along.low_side).mm), along.at(along.high_side).mm)
            along.add(f"heel of {feature.data['name']} seen {look}", Measure(held, at.half))

    def _outline(self, feature: Said) -> list[Tool]:
        data = feature.data
        sides = [side for side in (*LOW, *HIGH) if side in data]
        axis = axis_of(sides[0])
        first, second = (self._places[AXES[index]] for index in other_axes(axis))
        walked = outline(data["path"], first, second, self._radius, slope_in(self._words(feature)))
        for index, along in zip((0, 1), (first, second), strict=True):
            limits(data["name"], along, walked, index)
        edges = self._past(walked, axis)
        low, high = self._bounds_along(feature, axis)
        if data.get("keeps") != "inside":
            return [prism(axis, low, high, edges)]
        whole = [(Measure(-OUT, 0.0), Measure(self._side(side).mm + OUT, 0.0)) for side in HIGH]
        kept = prism(axis, Measure(low.mm - OUT, 0), Measure(high.mm + OUT, 0), edges)
        return [around([kept], box(whole))]

    def _slot_along_mitre(self, feature: Said) -> list[Tool]:
        """Cut a slot that is given by its width and its depth square to the mitre that it lies in."""
        words, mitre = self._words(feature), self._sheet.called(feature.data["mitre"])
        deep = in_words(r"slot .*, # deep, square to the mitre", words, self._system)
        if deep is None:
            raise UntoldError(f"{feature.key}: {words!r} does not say how deep")
        sides = [side for side in (*LOW, *HIGH) if side in mitre.data]
        axis = axis_of(sides[0])
        first, second = (self._places[AXES[index]] for index in other_axes(axis))
        corners = outline(mitre.data["path"], first, second, self._radius, None)
        slanted = next(
            (one, two)
            for one, two in zip(corners, [*corners[1:], corners[0]], strict=True)
            if min(abs(one.corner[k] - two.corner[k]) for k in (0, 1)) > 1e-6
        )
        (ax, ay), (bx, by) = slanted[0].corner, slanted[1].corner
        size = math.hypot(bx - ax, by - ay)
        ux, uy = (bx - ax) / size, (by - ay) / size
        points = [
            (x + along * ux * OUT - uy * across, y + along * uy * OUT + ux * across)
            for x, y, along, across in (
                (ax, ay, -1, -deep.mm), (bx, by, 1, -deep.mm), (bx, by, 1, deep.mm), (ax, ay, -1, deep.mm),
            )
        ]  # fmt: skip
        low, high = self._bounds_along(feature, axis)
        off = slanted[0].error + deep.half
        return [prism(axis, low, high, [Edge(point, off) for point in points])]
