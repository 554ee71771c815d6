"""Shapes of hardware: meshes that are closed and lie the right way, and outlines for the hardware's page."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
import trimesh

from plangen.design.model import Hardware
from plangen.drawing.hardware_forms import mesh_of, silhouettes
from plangen.drawing.hardware_shapes import pose, profile
from plangen.findings import Place
from plangen.joinery.hardware.ware import Block, Turned
from plangen.joinery.space import Axis, Side
from plangen.units import Length, phrase

BLOCK = Block((-10.0, -4.0, 0.0), (10.0, 6.0, 3.0))
ROD = ((-5.0, 2.0), (25.0, 2.0))


def weighed(*forms: Block | Turned) -> trimesh.Trimesh:
    mesh = mesh_of(forms)
    assert len(mesh.labels) == len(mesh.triangles)
    assert set(mesh.labels) == set(range(len(mesh.surfaces)))
    return trimesh.Trimesh(mesh.vertices, mesh.triangles, process=False)


def test_a_block_is_closed_and_stands_out_of_the_wood() -> None:
    body = weighed(BLOCK)
    assert body.is_watertight
    assert body.volume == pytest.approx(20 * 10 * 3)  # positive: every facet looks outward
    assert np.allclose(body.bounds, [[-10, -6, -3], [10, 4, 0]])  # +z goes into the wood


@pytest.mark.parametrize(
    ("axis", "low", "high"),
    [
        (0, (-4, -4, -5), (26, 0, -1)),
        (1, (-1, -27, -5), (3, 3, -1)),
        (2, (-1, -4, -28), (3, 0, 2)),
    ],
)
def test_a_turned_piece_lies_along_its_axis(axis: int, low: tuple[int, ...], high: tuple[int, ...]) -> None:
    body = weighed(Turned(ROD, axis=axis, at=(1.0, 2.0, 3.0)))
    assert np.allclose(body.bounds, [low, high])
    # A prism of sixteen sides in a circle of radius 2.
    assert body.volume == pytest.approx(30 * 16 / 2 * 4 * np.sin(2 * np.pi / 16))


def test_planes_of_the_mesh_look_where_their_facets_look() -> None:
    mesh = mesh_of((BLOCK, Turned(ROD, axis=1)))
    corners = mesh.vertices[mesh.triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normals /= np.linalg.norm(normals, axis=1)[:, None]
    for label, normal in zip(mesh.labels, normals, strict=True):
        surface = mesh.surfaces[label]
        if surface.normal is not None:
            assert np.allclose(surface.normal, normal)
        else:
            assert surface.axis is not None
            assert abs(np.dot(surface.axis, normal)) < 1e-9


@pytest.mark.parametrize("side", Side)
@pytest.mark.parametrize("along", Axis)
def test_a_pose_keeps_right_right(side: Side, along: Axis) -> None:
    if side.axis is along:
        return
    turn, move = pose(side, (1.0, 2.0, 3.0), 5.0, along)
    assert np.linalg.det(turn) == pytest.approx(1)
    assert turn[:, 0][along.value] == 1
    out = np.zeros(3)
    out[side.axis.value] = side.sign
    assert np.allclose(turn @ [0, 0, -1], out)
    assert np.allclose(move, np.array([1, 2, 3]) + 5 * out)


def test_outlines_show_the_side_that_shows_most() -> None:
    plate = Block((-10.0, -8.0, 0.0), (10.0, 8.0, 2.0))
    (ring,) = silhouettes((plate,))
    assert {y for _, y in ring} == {-8.0, 8.0}  # from above
    rings = silhouettes((plate, Turned(((0.0, 3.0), (40.0, 3.0)))))
    assert max(y for ring in rings for _, y in ring) == 40.0  # from the side


def test_a_wheel_is_a_circle() -> None:
    (ring,) = silhouettes((Turned(((-2.0, 9.0), (2.0, 10.0)), axis=1, at=(5.0, 0.0, 20.0)),))
    assert {round(np.hypot(x - 5, y - 20), 9) for x, y in ring} == {10.0}


@pytest.mark.parametrize(("kind", "across"), [("knob", 25.4), ("shaker peg", 25.4 * 1.9)])
def test_a_knob_is_as_wide_as_it_is_listed_and_a_peg_is_listed_by_its_stem(kind: str, across: float) -> None:
    inch = Length(Fraction("25.4"))
    size, where = phrase(inch), Place("project.yaml", 1, 1, 1)
    item = Hardware("it", kind, "It", size, inch, inch, "", None, None, None, where)
    shape = profile(item)
    assert shape is not None
    assert shape.radius * 2 == pytest.approx(across)
