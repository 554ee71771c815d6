"""The small picture of a part: its face side tinted and ticked, so that nobody works the wrong face."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin

import numpy as np
from shapely.geometry import Polygon
from shapely.ops import polylabel

from plangen.drawing.hidden_lines import View, project, visible_faces
from plangen.drawing.part_sheets.picture import body_of, view_of
from plangen.drawing.part_sheets.sights import Sight
from plangen.drawing.sheet.model import Fill, Mark, Meaning, Stroke, Text, Tone, Weight, Xy, carried
from plangen.solids.model import Mesh

YAW, PITCH = 32.0, 20.0  # degrees; the direction that the whole booklet is drawn in
TICK = "✓"


@dataclass(frozen=True, slots=True)
class Pictorial:
    """The picture at full size, low left corner at the origin; ``tick`` is where the ✓ stands."""

    faces: tuple[tuple[tuple[Xy, ...], ...], ...]  # tinted areas: outer loop, then holes
    lines: tuple[tuple[tuple[Xy, ...], str], ...]  # points, kind
    width: float
    height: float
    tick: Xy
    clear: float  # mm of face round the tick


def pictorial_of(mesh: Mesh, sight: Sight, *, from_right: bool) -> Pictorial:
    """Draw the part turned a little away from its principal view, from above and from one side."""
    view = _turned(view_of(sight), from_right)
    bodies = (body_of(mesh),)
    toward = np.asarray(view_of(sight).toward)
    tinted = [face for face in visible_faces(bodies, view) if float(np.dot(face.normal, toward)) > 0.999]
    edges = project(bodies, view).visible
    points = [point for edge in edges for point in edge.points]
    low = (min(x for x, _ in points), min(y for _, y in points))
    high = (max(x for x, _ in points), max(y for _, y in points))

    def moved(loop: tuple[Xy, ...]) -> tuple[Xy, ...]:
        return tuple((x - low[0], y - low[1]) for x, y in loop)

    faces = tuple(tuple(moved(loop) for loop in face.loops) for face in tinted)
    tick, clear = _tick_place(faces)
    lines = tuple((moved(edge.points), edge.kind) for edge in edges)
    return Pictorial(faces, lines, high[0] - low[0], high[1] - low[1], tick, clear)


def drawn(picture: Pictorial, scale: float, at: Xy) -> tuple[Mark, ...]:
    """Give the marks at a scale with the low left corner at ``at``; the ✓ shrinks to its face."""

    def put(point: Xy) -> Xy:
        return (at[0] + point[0] * scale, at[1] + point[1] * scale)

    marks: list[Mark] = [
        Fill(tuple(tuple(put(p) for p in loop) for loop in loops), Tone.NEW_FRONT) for loops in picture.faces
    ]
    for points, kind in picture.lines:
        meaning = Meaning.RIM if kind == "rim" else Meaning.CONTEXT
        marks.append(Stroke(tuple(put(p) for p in points), meaning))
    size = _tick_size(picture, scale)
    if size:
        x, y = put(picture.tick)
        marks.append(Text((x, y - size * 0.3), TICK, size, "middle", Weight.SEMIBOLD, role="face side"))
    return tuple(marks)


def says_face(picture: Pictorial, scale: float) -> str:
    """Give the words under the picture: by its tick, or by its tint where no wood is wide enough for one."""
    return f"{TICK} face side" if _tick_size(picture, scale) else "tinted: face side"


def _tick_size(picture: Pictorial, scale: float) -> float:
    """Give the type size of the tick in mm, 0 where it would be too small to be seen."""
    size = min(5.6, picture.clear * scale * 1.7)
    return size if size >= 1.9 else 0.0


def shifted(marks: tuple[Mark, ...], dx: float, dy: float) -> tuple[Mark, ...]:
    """Give the marks moved."""
    return tuple(carried(mark, lambda p: (p[0] + dx, p[1] + dy)) for mark in marks)


def _turned(view: View, from_right: bool) -> View:
    """Turn a view about its upright by YAW, then tilt it down by PITCH."""
    right, up, toward = (np.asarray(v, dtype=float) for v in (view.right, view.up, view.toward))
    yaw = radians(YAW if from_right else -YAW)
    pitch = radians(PITCH)
    level = toward * cos(yaw) + right * sin(yaw)
    beside = right * cos(yaw) - toward * sin(yaw)
    eye = level * cos(pitch) + up * sin(pitch)
    above = up * cos(pitch) - level * sin(pitch)
    return View(_tuple(beside), _tuple(above), _tuple(eye))


def _tuple(vector: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> tuple[float, float, float]:
    return (float(vector[0]), float(vector[1]), float(vector[2]))


def _tick_place(faces: tuple[tuple[tuple[Xy, ...], ...], ...]) -> tuple[Xy, float]:
    areas = [Polygon(loops[0], loops[1:]) for loops in faces if len(loops[0]) > 2]
    areas = [area for area in areas if area.is_valid and area.area > 0]
    if not areas:
        return (0.0, 0.0), 0.0
    best = max(areas, key=lambda area: area.area)
    spot = polylabel(best, tolerance=max(0.5, best.length / 400))
    return (float(spot.x), float(spot.y)), float(best.boundary.distance(spot))
