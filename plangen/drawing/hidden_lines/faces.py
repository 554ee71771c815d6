"""The parts of faces that are seen, for the tints under the lines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import hypot
from typing import Any, TypeAlias

import manifold3d
import numpy as np
import shapely

from plangen.drawing.hidden_lines.hide import BEHIND
from plangen.drawing.hidden_lines.model import Body, VisibleFace, Xy
from plangen.drawing.hidden_lines.patches import Patch, patches_of
from plangen.drawing.hidden_lines.scene import Scene, scene
from plangen.drawing.hidden_lines.topology import Flags
from plangen.drawing.hidden_lines.view import View
from plangen.solids.model import Floats, Ints

_BEHIND, _UNCLEAR, _BEFORE = 0, 1, 2
_ROUNDING = 1e-9  # mm
_WORTH_STACKING = 3  # pairs that are quicker answered together
_Cover: TypeAlias = tuple[Patch, bool, bool]  # a patch, whether it is known to lie before, whether it is real
SLIVER = 0.02  # mm; a thinner strip is rounding and not a face


def visible_faces(bodies: Sequence[Body], view: View) -> tuple[VisibleFace, ...]:
    """Give what is seen of every face that looks to the viewer, in the order of the bodies.

    A face is a connected run of one surface. Planes are exact; round and swept ones are exact up
    to their facets. What lies before a face is clipped to the near side of its plane and taken
    away from it.
    """
    return faces_of_scene(scene(bodies, view))


def faces_in_sight(bodies: Sequence[Body], view: View) -> FacesInSight:
    """Give the same body by body: no more is worked out than what is asked for."""
    return FacesInSight(scene(bodies, view))


def faces_of_scene(placed: Scene) -> tuple[VisibleFace, ...]:
    """Give the seen faces of bodies that are already carried into a view."""
    faces = FacesInSight(placed)
    return tuple(face for body in range(len(placed.bodies)) for face in faces.of(body))


class FacesInSight:
    """The seen faces of bodies that are already carried into a view, body by body as they are asked for."""

    def __init__(self, placed: Scene) -> None:
        self._placed = placed
        self._patches = patches_of(placed) if placed.bodies else []
        self._own: dict[int, list[int]] = {}
        self._before: list[list[_Cover]] = [[] for _ in self._patches]
        if not self._patches:
            return
        for number, patch in enumerate(self._patches):
            self._own.setdefault(patch.body, []).append(number)
        near, far, real = _pairs(placed, self._patches)
        answers = _at_a_glance(placed, self._patches, near, far)
        meets = answers != _BEHIND
        for one, two, answer, is_real in zip(
            *(item[meets].tolist() for item in (near, far, answers, real)), strict=True
        ):
            self._before[one].append((self._patches[two], answer == _BEFORE, is_real))

    def of(self, body: int) -> tuple[VisibleFace, ...]:
        """Give what is seen of the body with a number."""
        placed, result = self._placed, []
        for number in self._own.get(body, ()):
            patch = self._patches[number]
            loops = _tidy_loops(_seen(placed, patch, self._before[number]))
            if loops:
                result.append(_face(placed, patch, loops, placed.view.matrix))
        return tuple(result)


def _pairs(placed: Scene, patches: Sequence[Patch]) -> tuple[Ints, Ints, Flags]:
    """Pair each patch with those that may lie before it, and tell whether these count as they are.

    Where a patch is in no pocket of the other's body, the other counts with its pockets plugged.
    """
    low, high = _ends(patches, np.eye(3))
    boxes = shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1])
    near, far = shapely.STRtree(boxes).query(boxes)
    body = np.array([patch.body for patch in patches])
    pocket = np.array([patch.pocket for patch in patches])
    own = body[near] == body[far]
    real = placed.standing_in[body[near], body[far]] | (own & pocket[near])
    # Only what reaches higher toward the viewer than the lowest point of a face can lie before it.
    meets = (near != far) & (high[far, 2] > low[near, 2])
    meets &= ~(own & placed.bulging[body[near]] & ~pocket[near]) & (real | ~pocket[far])
    near, far, real = near[meets], far[meets], real[meets]
    order = np.lexsort((far, near))
    return near[order], far[order], real[order]


def _stacked(patches: Sequence[Patch]) -> tuple[Floats, Ints, Ints]:
    """Give the points of all patches, where those of each begin, and how many they are."""
    number = np.array([len(patch.points) for patch in patches])
    return np.vstack([patch.points for patch in patches]), np.cumsum(number) - number, number


def _ends(patches: Sequence[Patch], matrix: Floats) -> tuple[Floats, Floats]:
    """Give the low and high corners of the patches as a matrix turns them."""
    points, start, _ = _stacked(patches)
    turned = points @ matrix
    return np.minimum.reduceat(turned, start), np.maximum.reduceat(turned, start)


def _at_a_glance(placed: Scene, patches: Sequence[Patch], near: Ints, far: Ints) -> Ints:
    """Answer ``_before`` for all pairs at once where the boxes round the patches tell; ``_UNCLEAR`` else.

    The boxes stand square in the frame, in which most faces of furniture do too: there they are exact. An
    answer is only given where the patches themselves would give the same.
    """
    matrix = placed.view.matrix
    low, high = _ends(patches, matrix)
    points, start, number = _stacked(patches)
    mean = (np.add.reduceat(points, start) / number[:, None]) @ matrix
    middle, half = (low + high) / 2, (high - low) / 2
    first = np.array([patch.facets[0] for patch in patches])
    flat = np.array([patch.flat for patch in patches])
    normal, offset = placed.faces.normal[first] @ matrix, placed.faces.offset[first]

    def heights(over: Ints, of: Ints) -> tuple[Floats, Floats, Floats]:
        """Bound the heights of patches over the planes of others: least, at their mean, greatest."""
        centre = (normal[over] * middle[of]).sum(axis=1) - offset[over]
        reach = (np.abs(normal[over]) * half[of]).sum(axis=1) + _ROUNDING
        at_mean = (normal[over] * mean[of]).sum(axis=1) - offset[over]
        return centre - reach, at_mean, centre + reach

    least, inside, most = heights(near, far)
    lowest, within, highest = heights(far, near)
    known, sure = flat[near], flat[far]
    answers = np.full(len(near), _UNCLEAR)
    rises = known & (inside > BEHIND + _ROUNDING) & sure & (within < -BEHIND - _ROUNDING)
    answers[rises & ((least >= -BEHIND) | (highest <= BEHIND))] = _BEFORE
    answers[(known & (most <= BEHIND)) | (sure & (lowest >= -BEHIND))] = _BEHIND
    return answers


def _face(placed: Scene, patch: Patch, loops: tuple[tuple[Xy, ...], ...], matrix: Floats) -> VisibleFace:
    normals = placed.faces.normal[patch.facets]
    if patch.flat:
        mean = normals[0]
    else:
        flat = np.array([_area(placed.faces.corners_of(facet)[:, :2]) for facet in patch.facets])
        mean = (normals * (flat / normals[:, 2])[:, None]).sum(axis=0)
    x, y, z = (mean / np.linalg.norm(mean)) @ matrix
    kind = placed.topology(patch.body).patch_surface[patch.number].kind
    return VisibleFace(placed.bodies[patch.body].tag, loops, (float(x), float(y), float(z)), kind)


def _seen(placed: Scene, patch: Patch, others: Iterable[_Cover]) -> Any:
    """Take what lies before a patch away from it; gives the library's polygons.

    Each other patch comes with whether it is known to lie before, and whether it counts as it is.
    """
    covers: list[Floats] = []
    unclear: list[Ints] = []
    others = list(others)
    answers = _answers(placed, patch, others)
    for (other, _, real), answer in zip(others, answers, strict=True):
        if answer is None:
            unclear.append(other.facets if real else other.plugged)
        elif answer:
            covers += other.loops if real else other.whole
    seen = _without(_polygons(patch.loops), covers)
    if not unclear or seen.is_empty():
        return seen
    if patch.flat:
        return _without(
            seen, _near_loops(placed, int(patch.facets[0]), patch.points, np.concatenate(unclear))
        )
    pieces: list[Floats] = []
    for facet in patch.facets.tolist():
        corners = placed.faces.corners_of(facet)
        near = _near_loops(placed, facet, corners, np.concatenate(unclear))
        pieces += _without(_polygons([corners[:, :2]]), near).to_polygons()
    return manifold3d.CrossSection.batch_boolean([seen, _polygons(pieces)], manifold3d.OpType.Intersect)


def _polygons(loops: Sequence[Floats]) -> Any:
    """Give the area that the loops wind round at least once."""
    return manifold3d.CrossSection(
        [np.ascontiguousarray(loop) for loop in loops], manifold3d.FillRule.Positive
    )


def _without(area: Any, covers: Sequence[Floats]) -> Any:
    return area - _polygons(covers) if covers else area


def _above(placed: Scene, facets: Ints, points: Floats) -> Floats:
    return np.asarray(points @ placed.faces.normal[facets].T - placed.faces.offset[facets])


def _answers(placed: Scene, patch: Patch, others: Sequence[_Cover]) -> list[bool | None]:
    """Answer ``_before`` for all others of one patch; between flat ones for all at once."""
    answers: list[bool | None] = [True] * len(others)
    asked = [number for number, (_, known, _) in enumerate(others) if not known]
    flat = [number for number in asked if patch.flat and others[number][0].flat]
    for number in asked if len(flat) < _WORTH_STACKING else [n for n in asked if not others[n][0].flat]:
        answers[number] = _before(placed, patch, others[number][0])
    if len(flat) < _WORTH_STACKING:
        return answers
    chosen = [others[number][0] for number in flat]
    points, start, _ = _stacked(chosen)
    height = _above(placed, patch.facets[:1], points)[:, 0]
    least, most = np.minimum.reduceat(height, start), np.maximum.reduceat(height, start)
    fall = _above(placed, np.array([other.facets[0] for other in chosen]), patch.points)
    lowest, highest = fall.min(axis=0), fall.max(axis=0)
    behind = (most <= BEHIND) | (lowest >= -BEHIND)
    before = (least >= -BEHIND) | (highest <= BEHIND)
    for number, is_behind, is_before in zip(flat, behind.tolist(), before.tolist(), strict=True):
        answers[number] = False if is_behind else True if is_before else None
    return answers


def _before(placed: Scene, patch: Patch, other: Patch) -> bool | None:
    """Tell whether another patch lies before this one wherever both are; None where it has to be cut.

    Either patch's planes can tell: the other lies wholly on one side of this one's, or this one
    wholly on one side of the other's.
    """
    mine = patch.facets[:1] if patch.flat else patch.facets
    theirs = other.facets[:1] if other.flat else other.facets
    height = _above(placed, mine, other.points)
    if height.max() <= BEHIND:
        return False
    fall = _above(placed, theirs, patch.points)
    if fall.min() >= -BEHIND:
        return False
    if height.min() >= -BEHIND or fall.max() <= BEHIND:
        return True
    return None


def _near_loops(placed: Scene, facet: int, mine: Floats, facets: Ints) -> list[Floats]:
    """Give the parts of other facets that lie before a facet's plane, over its corners ``mine``."""
    low, high = mine[:, :2].min(axis=0), mine[:, :2].max(axis=0)
    meets = (placed.faces.high[facets, :2] > low).all(axis=1) & (placed.faces.low[facets, :2] < high).all(
        axis=1
    )
    facets = facets[meets]
    falls = _above(placed, facets, mine)
    behind = falls.min(axis=0) < -BEHIND
    near = []
    for index, fall in zip(facets[behind].tolist(), falls[:, behind].T, strict=True):
        corners = placed.faces.corners_of(index)
        height = corners @ placed.faces.normal[facet] - placed.faces.offset[facet]
        if height.max() <= BEHIND:
            continue
        if height.min() < -BEHIND and fall.max() > BEHIND:
            corners = _cut(corners, height)
        near.append(corners[:, :2])
    return near


def _cut(corners: Floats, height: Floats) -> Floats:
    """Keep the part of a convex polygon where the height is positive."""
    kept = []
    for k in range(len(corners)):
        here, there = height[k - 1], height[k]
        if (here > 0.0) != (there > 0.0):
            kept.append(corners[k - 1] + (corners[k] - corners[k - 1]) * (here / (here - there)))
        if there > 0.0:
            kept.append(corners[k])
    return np.array(kept).reshape(-1, 3)


def _tidy_loops(area: Any) -> tuple[tuple[Xy, ...], ...]:
    """Give the loops of an area without its slivers; outer loops anticlockwise, holes clockwise."""
    return tuple(
        tuple((x + 0.0, y + 0.0) for x, y in loop.tolist()) for loop in area.to_polygons() if not _thin(loop)
    )


def _area(loop: Floats) -> float:
    x: list[float] = loop[:, 0].tolist()
    y: list[float] = loop[:, 1].tolist()
    return 0.5 * sum(x[k - 1] * y[k] - x[k] * y[k - 1] for k in range(len(x)))


def _thin(loop: Floats) -> bool:
    x: list[float] = loop[:, 0].tolist()
    y: list[float] = loop[:, 1].tolist()
    around = sum(hypot(x[k] - x[k - 1], y[k] - y[k - 1]) for k in range(len(x)))
    return 2.0 * abs(_area(loop)) <= SLIVER * around
