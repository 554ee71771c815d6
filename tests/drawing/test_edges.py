"""Round edges stay circles and ellipses, whole or cut, from the projection to the written files."""

from __future__ import annotations

import io
import re
from functools import cache
from math import cos, dist, hypot, pi, sin, tau
from pathlib import Path

import ezdxf
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plangen.design.model import Design
from plangen.drawing.cutting_plane import CuttingPlane, choose_planes
from plangen.drawing.edges import edge_stroke, part_of_edge, ring_edge
from plangen.drawing.hidden_lines import Edge
from plangen.drawing.scene import Placing
from plangen.drawing.section_details import clipped
from plangen.drawing.sections import cut_through, section_marks
from plangen.drawing.sheet.model import Arc, Drawing, Meaning, Stroke
from plangen.drawing.views import whole_views
from plangen.drawing.writers.dxf import dxf_bytes
from plangen.drawing.writers.svg import svg_bytes
from plangen.joinery.space import Axis, Side, to_nanometre
from plangen.pipeline import Source, check
from plangen.solids import Solids
from plangen.units import LengthStyle

ROOT = Path(__file__).parents[2]
lengths = st.floats(1.0, 500.0)
angles = st.floats(-pi, pi)


@cache
def made(name: str) -> tuple[Design, Solids]:
    data = (ROOT / "projects" / name / "project.yaml").read_bytes()
    checked = check(Source(name, "project.yaml", data)).checked
    assert checked is not None
    return checked.design, checked.solids


def turned(arc: Arc, count: int) -> tuple[tuple[float, float], ...]:
    return tuple(arc.at(float(angle)) for angle in np.linspace(arc.start, arc.end, count))


@given(lengths, lengths, angles, angles, st.floats(0.3, tau - 0.1), st.booleans())
def test_a_part_of_an_arc_begins_and_ends_where_its_points_do(
    large: float, small: float, lean: float, start: float, span: float, backwards: bool
) -> None:
    major = (10.0 + large * cos(lean), 20.0 + large * sin(lean))
    minor = (10.0 - small * sin(lean), 20.0 + small * cos(lean))
    whole = Arc((10.0, 20.0), major, minor, start, start + span)
    points = turned(whole, 60)
    some = points[12:41][:: -1 if backwards else 1]
    part = part_of_edge(Edge(points, "rim", "edge", whole), some)
    assert part.points == some
    assert part.arc is not None
    ends = sorted((part.arc.at(part.arc.start), part.arc.at(part.arc.end)))
    near = 1e-6 * max(large, small)
    assert all(dist(a, b) < near for a, b in zip(ends, sorted((some[0], some[-1])), strict=True))
    assert part.arc.end - part.arc.start == pytest.approx(span * 28 / 59)
    middle = part.arc.at((part.arc.start + part.arc.end) / 2)
    assert dist(middle, some[14]) < near  # it does not go round the other way


def test_a_circle_seen_edge_on_is_a_line() -> None:
    flat = Arc((0.0, 0.0), (5.0, 0.0), (3.0, 0.0))
    edge = Edge(((-5.0, 0.0), (5.0, 0.0)), "x", "edge", flat)
    assert part_of_edge(edge, [(0.0, 0.0), (5.0, 0.0)]).arc is None


def test_a_ring_is_a_circle_only_where_it_is_round() -> None:
    round_ring = turned(Arc((3.0, 4.0), (8.0, 4.0), (3.0, 9.0)), 49)
    found = ring_edge(round_ring, "dowel").arc
    assert found is not None
    assert found.centre == pytest.approx((3.0, 4.0))
    assert dist(found.centre, found.major) == dist(found.centre, found.minor) == pytest.approx(5.0)
    assert ring_edge(turned(Arc((3.0, 4.0), (8.0, 4.0), (3.0, 8.0)), 49), "oval").arc is None
    square = [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0), (0.0, 0.0)]
    assert ring_edge(square, "square").arc is None


def test_an_edge_goes_to_the_paper_with_its_arc() -> None:
    arc = Arc((1.0, 2.0), (3.0, 2.0), (1.0, 4.0), 0.0, pi)
    stroke = edge_stroke(Edge(turned(arc, 9), "x", "edge", arc), Placing(0.5, 10.0, 20.0), Meaning.HIDDEN)
    assert stroke.arc == Arc((10.5, 21.0), (11.5, 21.0), (10.5, 22.0), 0.0, pi)
    assert stroke.meaning is Meaning.HIDDEN


def rounds(drawing: Drawing) -> list[Stroke]:
    return [mark for mark in drawing.marks if isinstance(mark, Stroke) and mark.arc is not None]


def followed(stroke: Stroke) -> None:
    """The points of a stroke lie on its arc: found again by searching the arc, not by its formula."""
    assert stroke.arc is not None
    along = np.array(turned(stroke.arc, 721))
    for x, y in stroke.points:
        assert np.hypot(along[:, 0] - x, along[:, 1] - y).min() < 0.2


@cache
def round_views() -> Drawing:
    design, solids = made("splayed-stool")
    return whole_views(design, solids, LengthStyle("mm"), 178.0, 200.0)


def test_round_edges_are_curves_in_the_views_and_in_the_files_of_them() -> None:
    drawing = round_views()
    curves = [
        stroke
        for stroke in rounds(drawing)
        if stroke.meaning in (Meaning.VISIBLE, Meaning.RIM, Meaning.HIDDEN)
    ]
    assert {stroke.meaning for stroke in curves} >= {Meaning.VISIBLE, Meaning.HIDDEN}
    for stroke in curves:
        followed(stroke)
    commands = re.findall(r'd="([^"]*)"', svg_bytes(drawing).decode())
    assert sum(" A" in command or "A " in command for command in commands) > 0
    model = ezdxf.read(io.StringIO(dxf_bytes(drawing).decode())).modelspace()
    kinds = {entity.dxftype() for entity in model}
    assert kinds & {"ARC", "CIRCLE", "ELLIPSE"}


def test_what_is_left_of_a_round_edge_in_a_section_and_its_details_is_still_round() -> None:
    design, solids = made("splayed-stool")
    cuts = [cut_through(design, solids, plane) for plane in choose_planes(design, solids)]
    level = CuttingPlane("L", Side.TOP, to_nanometre(float(design.overall.middle(Axis.UP)) * 0.9))
    cuts.append(cut_through(design, solids, level))
    arcs = 0
    for cut in cuts:
        low_x, low_y, high_x, high_y = cut.bounds
        middle = ((low_x + high_x) / 2, (low_y + high_y) / 2)
        inner = clipped(cut, middle, hypot(high_x - low_x, high_y - low_y) / 4)
        for shown in (cut, inner):
            marks = section_marks(shown, Placing(1.0, 0.0, 0.0))
            for mark in marks:
                if isinstance(mark, Stroke) and mark.arc is not None:
                    followed(mark)
                    ends = {mark.arc.at(mark.arc.start), mark.arc.at(mark.arc.end)}
                    for tip in (mark.points[0], mark.points[-1]):
                        assert min(dist(tip, end) for end in ends) < 0.2
                    arcs += 1
    assert arcs
