"""Directions to look in: the six square views in third-angle arrangement, and pictorial ones."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from plangen.joinery.space import Side
from plangen.solids.model import Floats

Vector: TypeAlias = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class View:
    """A parallel projection: unit vectors in frame coordinates, ``right`` × ``up`` = ``toward``.

    ``toward`` points from the scene to the viewer. A point's place in the picture is its products
    with ``right`` and ``up``, in mm at full size.
    """

    right: Vector
    up: Vector
    toward: Vector

    @property
    def matrix(self) -> Floats:
        """Rows right, up, toward: shape (3, 3)."""
        return np.array([self.right, self.up, self.toward], dtype=np.float64)


_SQUARE = {
    Side.FRONT: View((1, 0, 0), (0, 0, 1), (0, -1, 0)),
    Side.BACK: View((-1, 0, 0), (0, 0, 1), (0, 1, 0)),
    Side.RIGHT: View((0, 1, 0), (0, 0, 1), (1, 0, 0)),
    Side.LEFT: View((0, -1, 0), (0, 0, 1), (-1, 0, 0)),
    Side.TOP: View((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    Side.BOTTOM: View((1, 0, 0), (0, -1, 0), (0, 0, -1)),
}


def orthographic(side: Side) -> View:
    """Look squarely at a side, turned as third-angle projection lays it beside the front view.

    The front edge of the piece is at the left of the right-side view, at the right of the
    left-side view, at the bottom of the top view and at the top of the bottom view.
    """
    return _SQUARE[side]


def pictorial(yaw_degrees: float = 32.0, pitch_degrees: float = 20.0) -> View:
    """Look from the front and above; a positive yaw goes round to the left, a negative to the right.

    At yaw 0 and pitch 0 it is the front view. Uprights stay upright in the picture.
    """
    yaw, pitch = math.radians(yaw_degrees), math.radians(pitch_degrees)
    toward = (-math.sin(yaw) * math.cos(pitch), -math.cos(yaw) * math.cos(pitch), math.sin(pitch))
    right = (math.cos(yaw), -math.sin(yaw), 0.0)
    up = (math.sin(yaw) * math.sin(pitch), math.cos(yaw) * math.sin(pitch), math.cos(pitch))
    return View(right, up, toward)


def isometric() -> View:
    """Look from the left front above so that the three axes are foreshortened alike, by sqrt(2/3)."""
    return pictorial(45.0, math.degrees(math.asin(1.0 / math.sqrt(3.0))))
