"""A mesh as it looks from one direction, before it is moved to its place: its edges and what hides others.

Copies that stand alike share it. Coordinates are those of the view: x to the right, y up, z toward the
viewer, mm.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from functools import cached_property
from typing import Any, TypeAlias

import numpy as np

from plangen.drawing.hidden_lines.rounds import seen_shares, turning_lines
from plangen.drawing.hidden_lines.topology import Flags, Role, Topology, topology
from plangen.drawing.hidden_lines.view import View
from plangen.solids.model import Floats, Ints, Mesh

EDGE_ON = 1e-4  # |n·d| below which a face is seen edge on; a smaller bound loses lines to rounding
SHORT = 1e-3  # mm in the picture; a shorter edge is seen end on
MOST_KEPT = 512  # aspects remembered
RIM, SILHOUETTE, EDGE = range(3)  # a later kind covers an earlier one

_Pieces: TypeAlias = tuple[Ints, Floats, Floats]  # edges, and from and to what share of their length


@dataclass(frozen=True, eq=False, slots=True)
class Facets:
    """Convex polygons that look to the viewer: p of them, n corners in all."""

    start: Ints  # (p,) of the corners of each
    count: Ints  # (p,)
    corners: Floats  # (n, 3) anticlockwise
    normal: Floats  # (p, 3)
    offset: Floats  # (p,) of the plane from the origin along the normal
    curved: Flags  # (p,)
    patch: Ints  # (p,) within the body
    role: Ints  # (p,)
    low: Floats  # (p, 3) the box of each
    high: Floats  # (p, 3)
    area: Floats  # (p,) in the picture, mm2
    body: Ints  # (p,)
    inward: Floats  # (n, 2) unit vector in the picture square to the side from each corner to the next
    inward_offset: Floats  # (n,) its product with the points of that side

    def __len__(self) -> int:
        return len(self.start)

    def corners_of(self, facet: int) -> Floats:
        """Give the corners (n, 3) of one."""
        start = self.start[facet]
        return self.corners[start : start + self.count[facet]]

    def chosen(self, rows: Ints) -> Facets:
        """Give some of them; the corners of all are kept."""
        return replace(
            self,
            **{name: getattr(self, name)[rows] for name in _BY_FACET},
        )


_BY_FACET = ("start", "count", "normal", "offset", "curved", "patch", "role", "low", "high", "area", "body")


@dataclass(frozen=True, eq=False, slots=True)
class Edges:
    """Edges that may be drawn; those of one circle stand together."""

    ends: Floats  # (e, 2, 3)
    first: Flags  # (e,) where it is the first of a circle, or on none
    kind: Ints  # (e,) ``RIM``, ``SILHOUETTE`` or ``EDGE``
    curved: Flags  # (e,) where a neighbouring surface is curved
    circle: Ints  # (e,) into the circles, or -1
    curve: Ints  # (e,) the curved crease it belongs to, or -1
    mouth: Ints  # (e,) the mouth that it is seen through, into the mouths, or -1
    deep: Flags  # (e,) in a pocket that is not convex, where only the faces as they are can tell
    body: Ints  # (e,)

    def __len__(self) -> int:
        return len(self.body)


@dataclass(frozen=True, eq=False)
class Aspect:
    """A mesh turned into a view."""

    topology: Topology
    turn: Floats  # (3, 3) from the mesh to the view
    points: Floats  # (v, 3)
    facing: Ints  # (m,) of the triangles: 1 front, 0 edge on, -1 back
    circles: Floats  # (c, 9) centre and two half axes
    low: Floats  # (3,) the box round it
    high: Floats
    frame_low: Floats  # (3,) the box in the frame
    frame_high: Floats
    pegs: Floats  # (n, 8) round solids: foot, axis to the other end, radius, length
    open: Flags  # (k,) whether one looks into each pocket
    pocket_low: Floats  # the boxes in the frame of those that are looked into
    pocket_high: Floats

    @cached_property
    def covers(self) -> Facets:
        """What hides lines that do not reach into a pocket."""
        role = self.topology.facet_role
        plain = self._facets((role == Role.PLAIN) | (role == Role.PLUGGED))
        fringes = self._fringes()
        if not len(fringes):
            return plain
        return stacked_facets([plain, fringes], np.zeros((2, 3)), np.zeros(2, dtype=np.int64))

    @cached_property
    def faces(self) -> Facets:
        """The faces as they are, and those with pockets plugged as well."""
        return self._facets(self.topology.facet_role != Role.MOUTH)

    @cached_property
    def holed(self) -> Facets:
        """The faces with pockets as they are, and the insides of these."""
        return self._facets(self.topology.facet_role == Role.HOLED)

    @cached_property
    def mouths(self) -> Facets:
        """The mouths of convex pockets."""
        return self._facets(self.topology.facet_role == Role.MOUTH)

    @cached_property
    def seen(self) -> Edges:
        """The edges that may be seen."""
        return self._edges(*self._drawn[0])

    @cached_property
    def never(self) -> Edges:
        """The edges that can only be drawn hidden."""
        return self._edges(*self._drawn[1])

    @cached_property
    def _drawn(self) -> tuple[_Pieces, _Pieces]:
        """Tell the pieces of edges that may be seen from those that cannot.

        An edge may be seen when one of its faces looks to the viewer, unless it is an inside corner one of
        whose faces looks away, or of a pocket that is not looked into. Between two faces of one smooth
        surface there is an edge only where the surface turns away. The far rim of a cylinder is seen up to
        where that is.
        """
        known = self.topology
        beside = self.facing[known.edge_triangles]
        front, back = (beside == 1).any(axis=1), (beside == -1).any(axis=1)
        turning = (front & ~(beside == 1).all(axis=1)) & ~known.feature
        shut = np.append(~self.open, False)[known.pocket]
        flat = self.points[known.edge_ends][:, :, :2]
        drawn = np.abs(flat[:, 1] - flat[:, 0]).max(axis=1, initial=0.0) > SHORT
        drawn &= known.feature | turning
        seen = drawn & front & ~(~known.convex & back) & ~shut
        begin, end = np.zeros(len(seen)), np.ones(len(seen))
        rim = known.rounds.rim
        far = (drawn & known.feature & known.convex & ~shut)[rim]
        far &= self.facing[known.rounds.rim_plane] != 1
        least, most = seen_shares(known.vertices, known.rounds, known.edge_ends, self.turn[2])
        rows = rim[far]
        begin[rows], end[rows] = least[far], most[far]
        seen[rows] = most[far] > least[far]
        may = np.flatnonzero(seen)
        no = np.flatnonzero(drawn & ~seen)
        before, after = may[begin[may] > 0.0], may[end[may] < 1.0]
        return (may, begin[may], end[may]), (
            np.concatenate([no, before, after]),
            np.concatenate([np.zeros(len(no) + len(before)), end[after]]),
            np.concatenate([np.ones(len(no)), begin[before], np.ones(len(after))]),
        )

    def _edges(self, rows: Ints, begin: Floats, end: Floats) -> Edges:
        known = self.topology
        round_ = known.circle[rows]
        order = np.argsort(round_, kind="stable")
        rows, begin, end, round_ = rows[order], begin[order], end[order], round_[order]
        whole = (self.facing[known.edge_triangles[rows]] == 1).all(axis=1)
        rim = known.small[rows] | (known.narrow[rows] & whole)
        within = known.within[rows]
        place = np.full(len(known.facet_role) + 1, -1, dtype=np.int64)
        mouths = self._front(known.facet_role == Role.MOUTH)
        place[mouths] = np.arange(len(mouths))
        mouth = place[np.append(known.pocket_mouth, -1)[np.where(within, known.pocket[rows], -1)]]
        ends = self.points[known.edge_ends[rows]]
        way = ends[:, 1] - ends[:, 0]
        ends = ends[:, :1] + way[:, None] * np.column_stack([begin, end])[:, :, None]
        smooth = known.rounds.smooth
        where = np.searchsorted(smooth, rows)
        turns = np.flatnonzero(np.append(smooth, -1)[where] == rows)
        if len(turns):
            ends[turns] = self._turning(where[turns])
        return Edges(
            ends=ends,
            first=(round_ < 0) | (np.diff(round_, prepend=-1) != 0),
            kind=np.where(rim, RIM, np.where(known.feature[rows], EDGE, SILHOUETTE)),
            curved=known.curved[rows],
            circle=known.circle[rows],
            curve=known.curve[rows],
            mouth=mouth,
            deep=within & (mouth < 0),
            body=np.zeros(len(rows), dtype=np.int64),
        )

    def _turning(self, rows: Ints) -> Floats:
        """Give the ends of the true lines where cylinders turn away at some of their smooth edges."""
        known = self.topology
        edges = known.edge_ends[known.rounds.smooth[rows]]
        points, _ = turning_lines(known.vertices, known.rounds, edges, rows, self.turn[2])
        result: Floats = points @ self.turn.T
        return result

    def _fringes(self) -> Facets:
        """Give what solid cylinders stand out of their facets where they turn away, as facets of its own."""
        known = self.topology
        rounds = known.rounds
        front = self.facing[known.edge_triangles[rounds.smooth]] == 1
        rows = np.flatnonzero((front[:, 0] != front[:, 1]) & (rounds.sign[rounds.smooth_round] > 0.0))
        edges = known.edge_ends[rounds.smooth[rows]]
        points, side = turning_lines(known.vertices, rounds, edges, rows, self.turn[2])
        some = np.flatnonzero(side >= 0)
        rows, edges, points, side = rows[some], edges[some], points[some] @ self.turn.T, side[some]
        # From the near end of the facet in which it turns, whether that looks to the viewer or not.
        base = np.where(front[rows, side][:, None], rounds.ahead[rows, side], edges)
        corners = np.stack(
            [self.points[base[:, 0]], self.points[base[:, 1]], points[:, 1], points[:, 0]], axis=1
        )
        normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 3] - corners[:, 0])
        corners = np.where((normal[:, 2] < 0.0)[:, None, None], corners[:, ::-1], corners)
        size = np.linalg.norm(normal, axis=1)
        normal *= (np.where(normal[:, 2] < 0.0, -1.0, 1.0) / np.maximum(size, 1e-12))[:, None]
        kept = np.flatnonzero((size > 1e-6) & (normal[:, 2] > EDGE_ON))
        triangle = known.edge_triangles[rounds.smooth[rows[kept]], 0]
        return _polygons(
            corners=corners[kept].reshape(-1, 3),
            count=np.full(len(kept), 4, dtype=np.int64),
            normal=normal[kept],
            curved=np.ones(len(kept), dtype=bool),
            patch=known.triangle_patch[triangle],
            role=np.full(len(kept), Role.PLAIN, dtype=np.int64),
        )

    def _front(self, chosen: Flags) -> Ints:
        return np.flatnonzero(chosen & (self.topology.facet_normal @ self.turn[2] > EDGE_ON))

    def _facets(self, chosen: Flags) -> Facets:
        known = self.topology
        rows = self._front(chosen)
        count = np.diff(known.facet_start)[rows]
        start = np.cumsum(count) - count
        index = np.repeat(known.facet_start[rows] - start, count) + np.arange(int(count.sum()))
        return _polygons(
            corners=self.points[known.facet_vertices[index]],
            count=count,
            normal=known.facet_normal[rows] @ self.turn.T,
            curved=known.facet_curved[rows],
            patch=known.facet_patch[rows],
            role=known.facet_role[rows],
        )


def _polygons(corners: Floats, count: Ints, normal: Floats, curved: Flags, patch: Ints, role: Ints) -> Facets:
    """Work out the rest of facets from their corners."""
    start = np.cumsum(count) - count
    some = len(count) > 0
    after = np.arange(1, len(corners) + 1)
    after[start + count - 1] = start
    product = corners[:, 0] * corners[after, 1] - corners[after, 0] * corners[:, 1]
    side = corners[after, :2] - corners[:, :2]
    inward = np.column_stack([-side[:, 1], side[:, 0]]) / np.maximum(np.hypot(*side.T), 1e-12)[:, None]
    return Facets(
        start=start,
        count=count,
        corners=corners,
        normal=normal,
        offset=np.einsum("ij,ij->i", normal, corners[start]),
        curved=curved,
        patch=patch,
        role=role,
        low=np.minimum.reduceat(corners, start, axis=0) if some else corners,
        high=np.maximum.reduceat(corners, start, axis=0) if some else corners,
        area=0.5 * np.add.reduceat(product, start) if some else product,
        body=np.zeros(len(count), dtype=np.int64),
        inward=inward,
        inward_offset=(inward * corners[:, :2]).sum(axis=1),
    )


_kept: OrderedDict[tuple[int, bytes, View], tuple[Mesh, Aspect]] = OrderedDict()


def aspect(mesh: Mesh, turn: Floats, view: View) -> Aspect:
    """Give the aspect of a mesh that stands turned in the frame, remembered from one picture to the next."""
    # The number of the mesh is safe: the mesh is kept beside its aspect, so that no other gets it.
    key = (id(mesh), turn.tobytes(), view)
    if key in _kept:
        _kept.move_to_end(key)
        return _kept[key][1]
    found = _look(mesh, turn, view)
    _kept[key] = (mesh, found)
    if len(_kept) > MOST_KEPT:
        _kept.popitem(last=False)
    return found


def forget_aspects() -> None:
    """Forget all aspects, for measuring."""
    _kept.clear()


def _look(mesh: Mesh, turn: Floats, view: View) -> Aspect:
    known = topology(mesh)
    into = view.matrix @ turn
    points = mesh.vertices @ into.T
    framed = mesh.vertices @ turn.T
    open_ = _facing(known.pocket_normal @ into[2]) == 1
    low, high = known.pocket_low[open_], known.pocket_high[open_]
    centre, half = (low + high) / 2.0 @ turn.T, (high - low) / 2.0 @ np.abs(turn).T
    some = len(points) > 0
    return Aspect(
        topology=known,
        turn=into,
        points=points,
        facing=_facing(known.normals @ into[2]),
        circles=(known.circles.reshape(-1, 3) @ into.T).reshape(-1, 9),
        low=points.min(axis=0) if some else np.zeros(3),
        high=points.max(axis=0) if some else np.zeros(3),
        frame_low=framed.min(axis=0) if some else np.zeros(3),
        frame_high=framed.max(axis=0) if some else np.zeros(3),
        pegs=np.column_stack(
            [known.rounds.pegs[:, :3] @ into.T, known.rounds.pegs[:, 3:6] @ into.T, known.rounds.pegs[:, 6:]]
        ),
        open=open_,
        pocket_low=centre - half,
        pocket_high=centre + half,
    )


def _facing(toward: Floats) -> Ints:
    return np.where(toward > EDGE_ON, 1, np.where(toward < -EDGE_ON, -1, 0)).astype(np.int64)


def stacked_facets(items: Sequence[Facets], moves: Floats, bodies: Ints) -> Facets:
    """Put the facets of several bodies together, each moved to its place; ``moves`` (bodies, 3)."""
    sizes = np.array([len(item) for item in items], dtype=np.int64)
    points = np.array([len(item.corners) for item in items], dtype=np.int64)
    whole = Facets(**_columns(items, Facets))
    shift, corner_shift = np.repeat(moves, sizes, axis=0), np.repeat(moves, points, axis=0)
    return replace(
        whole,
        start=whole.start + np.repeat(np.cumsum(points) - points, sizes),
        corners=whole.corners + corner_shift,
        offset=whole.offset + np.einsum("ij,ij->i", whole.normal, shift),
        low=whole.low + shift,
        high=whole.high + shift,
        body=np.repeat(bodies, sizes),
        inward_offset=whole.inward_offset + (whole.inward * corner_shift[:, :2]).sum(axis=1),
    )


def stacked_edges(
    items: Sequence[Edges], moves: Floats, bodies: Ints, starts: tuple[Ints, Ints, Ints]
) -> Edges:
    """Put the edges of several bodies together; ``starts`` number their circles, curves and mouths on."""
    sizes = np.array([len(item) for item in items], dtype=np.int64)
    whole = Edges(**_columns(items, Edges))
    circle, curve, mouth = (np.repeat(start, sizes) for start in starts)
    return replace(
        whole,
        ends=whole.ends + np.repeat(moves, sizes, axis=0)[:, None],
        circle=np.where(whole.circle >= 0, whole.circle + circle, -1),
        curve=np.where(whole.curve >= 0, whole.curve + curve, -1),
        mouth=np.where(whole.mouth >= 0, whole.mouth + mouth, -1),
        body=np.repeat(bodies, sizes),
    )


def joined(items: Sequence[Edges]) -> Edges:
    """Put edges that are in their places together."""
    return Edges(**_columns(items, Edges))


def _columns(items: Sequence[Facets] | Sequence[Edges], kind: type) -> dict[str, Any]:
    return {
        field.name: np.concatenate([getattr(item, field.name) for item in items]) for field in fields(kind)
    }
