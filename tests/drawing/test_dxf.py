"""DXF files: read back with the library's own audit, and measured against what the drawing says."""

from __future__ import annotations

from io import StringIO
from itertools import pairwise
from math import cos, dist, isclose, pi, radians, sin, tau

import ezdxf
import pytest
from ezdxf.colors import aci2rgb
from ezdxf.lldxf.encoding import decode_dxf_unicode
from ezdxf.math import bulge_center, bulge_radius
from hypothesis import given
from hypothesis import strategies as st

from plangen.drawing.sheet.look import line_look
from plangen.drawing.sheet.model import Arc, Drawing, Fill, Group, Link, Mark, Meaning, Stroke, Text, Tone
from plangen.drawing.writers.dxf import dxf_bytes

CIRCLE = Arc((50, 40), (60, 40), (50, 50))


def _stroke(arc: Arc, meaning: Meaning = Meaning.VISIBLE, group: str = "") -> Stroke:
    points = tuple(arc.at(arc.start + (arc.end - arc.start) * n / 24) for n in range(25))
    return Stroke(points, meaning, arc=arc, group=group)


def _read(*marks: Mark, groups: tuple[Group, ...] = (), standard: str = "iso"):  # type: ignore[no-untyped-def]
    data = dxf_bytes(Drawing(100, 80, marks, groups=groups, standard=standard))  # type: ignore[arg-type]
    document = ezdxf.read(StringIO(data.decode("cp1252")))
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes
    return document


def _only(*marks: Mark, groups: tuple[Group, ...] = ()):  # type: ignore[no-untyped-def]
    (entity,) = _read(*marks, groups=groups).modelspace()
    return entity


def test_units_are_millimetres_and_the_version_is_one_that_machines_read() -> None:
    document = _read(Stroke(((0, 0), (10, 0)), Meaning.VISIBLE))
    assert document.header["$INSUNITS"] == 4  # millimetres
    assert document.header["$MEASUREMENT"] == 1
    assert document.dxfversion == "AC1015"


def test_the_same_drawing_gives_the_same_bytes() -> None:
    drawing = Drawing(
        100, 80, (_stroke(CIRCLE), Text((1, 1), "Side", 5), Fill((((0, 0), (9, 0), (9, 9)),), Tone.INK))
    )
    assert dxf_bytes(drawing) == dxf_bytes(drawing)
    assert dxf_bytes(drawing) != dxf_bytes(Drawing(100, 80, (_stroke(CIRCLE, Meaning.HIDDEN),)))


@pytest.mark.parametrize("standard", ["iso", "asme"])
@pytest.mark.parametrize("meaning", Meaning)
def test_every_meaning_is_a_layer_with_its_width_and_its_dashes(meaning: Meaning, standard: str) -> None:
    document = _read(Stroke(((0, 0), (10, 0)), meaning), standard=standard)
    look = line_look(meaning, standard)  # type: ignore[arg-type]
    (line,) = document.modelspace()
    layer = document.layers.get(line.dxf.layer)
    assert layer.dxf.name == meaning.value.replace(" ", "-")
    assert layer.dxf.lineweight == round(look.width * 100)
    if not look.dash:
        assert layer.dxf.linetype == "Continuous"
        return
    kind = document.linetypes.get(layer.dxf.linetype)
    lengths = [abs(tag.value) for tag in kind.pattern_tags.tags if tag.code == 49]
    assert lengths == pytest.approx(look.dash)


def test_a_line_and_a_closed_line_keep_their_points() -> None:
    line = _only(Stroke(((1, 2), (30.5, 40.25)), Meaning.HIDDEN))
    assert (line.dxftype(), tuple(line.dxf.start)[:2], tuple(line.dxf.end)[:2]) == (
        "LINE",
        (1, 2),
        (30.5, 40.25),
    )
    square = _only(Stroke(((0, 0), (9, 0), (9, 9), (0, 9)), Meaning.VISIBLE, closed=True))
    assert square.dxftype() == "LWPOLYLINE"
    assert square.closed
    assert list(square.get_points("xy")) == [(0, 0), (9, 0), (9, 9), (0, 9)]


def test_a_whole_turn_is_a_circle() -> None:
    circle = _only(_stroke(CIRCLE))
    assert circle.dxftype() == "CIRCLE"
    assert tuple(circle.dxf.center)[:2] == (50, 40)
    assert circle.dxf.radius == pytest.approx(10)


angles = st.floats(-6, 6)


@given(angles, st.floats(0.1, tau - 0.1), angles, st.floats(0.5, 40), st.booleans())
def test_an_arc_runs_through_the_points_of_the_drawing(
    start: float, span: float, turn: float, radius: float, mirrored: bool
) -> None:
    side = -1 if mirrored else 1
    arc = Arc(
        (5, 7),
        (5 + radius * cos(turn), 7 + radius * sin(turn)),
        (5 - side * radius * sin(turn), 7 + side * radius * cos(turn)),
        start,
        start + span,
    )
    entity = _only(_stroke(arc))
    assert entity.dxftype() == "ARC"
    assert entity.dxf.radius == pytest.approx(radius)
    ends = [tuple(entity.start_point)[:2], tuple(entity.end_point)[:2]]
    if mirrored:
        ends.reverse()
    assert dist(ends[0], arc.at(start)) < 1e-6
    assert dist(ends[1], arc.at(start + span)) < 1e-6
    middle = radians((entity.dxf.start_angle + entity.dxf.end_angle) / 2)
    if entity.dxf.end_angle < entity.dxf.start_angle:
        middle += pi
    at = (5 + radius * cos(middle), 7 + radius * sin(middle))
    assert dist(at, arc.at(start + span / 2)) < 1e-6


@given(angles, st.floats(0.1, tau), angles, angles, st.floats(2, 40), st.floats(0.3, 0.9))
def test_an_ellipse_runs_through_the_points_of_the_drawing(
    start: float, span: float, turn: float, skew: float, large: float, share: float
) -> None:
    """Any two half diameters that belong together, not only those square to each other."""

    def at(angle: float) -> tuple[float, float]:
        x, y = large * cos(angle), large * share * sin(angle)
        return (5 + x * cos(turn) - y * sin(turn), 7 + x * sin(turn) + y * cos(turn))

    arc = Arc((5, 7), at(skew), at(skew + pi / 2), start, start + span)
    entity = _only(_stroke(arc))
    assert entity.dxftype() == "ELLIPSE"
    low, high = entity.dxf.start_param, entity.dxf.end_param
    if high <= low:
        high += tau
    if span < tau - 1e-9:
        found = list(entity.vertices([low, (low + high) / 2, high]))
        for point, part in zip(found, (0, 0.5, 1), strict=True):
            assert dist(tuple(point)[:2], arc.at(start + span * part)) < 1e-6
    assert entity.dxf.ratio == pytest.approx(share)


def test_an_outline_is_one_closed_line_with_bulges() -> None:
    """A slot 40 long and 20 wide with round ends, its strokes in order but not all running the same way."""
    left, right = (
        Arc((20, 30), (30, 30), (20, 40), pi / 2, 3 * pi / 2),
        Arc((40, 30), (50, 30), (40, 40), -pi / 2, pi / 2),
    )
    marks = (
        Stroke(((20, 20), (40, 20)), Meaning.VISIBLE, group="outline 1"),
        _stroke(right, group="outline 1"),
        Stroke(((20, 40), (40, 40)), Meaning.VISIBLE, group="outline 1"),
        _stroke(left, group="outline 1"),
    )
    entity = _only(*marks, groups=(Group("outline 1", "outline"),))
    assert entity.dxftype() == "LWPOLYLINE"
    assert entity.closed
    points = list(entity.get_points("xyb"))
    assert len(points) == 4
    turns = 0
    for (x, y, bulge), (u, v, _) in pairwise([*points, points[0]]):
        if bulge:
            assert bulge_radius((x, y), (u, v), bulge) == pytest.approx(10)
            assert tuple(bulge_center((x, y), (u, v), bulge))[1] == pytest.approx(30)
            turns += 1
            assert bulge == pytest.approx(1)  # half a turn, anticlockwise
    assert turns == 2


def test_what_does_not_close_stays_in_pieces() -> None:
    marks = (
        Stroke(((0, 0), (10, 0)), Meaning.VISIBLE, group="o"),
        Stroke(((10, 0), (10, 10)), Meaning.VISIBLE, group="o"),
    )
    assert [one.dxftype() for one in _read(*marks, groups=(Group("o", "outline"),)).modelspace()] == [
        "LINE"
    ] * 2


def test_texts_fills_and_links() -> None:
    document = _read(
        Text((10, 20), "3\u00a013/16 ⌀ é", 10, "middle", angle=90, role="note"),
        Fill((((0, 0), (9, 0), (9, 9), (0, 9)), ((2, 2), (4, 2), (4, 4))), Tone.NEW_FRONT),
        Link((0, 0), (1, 1), "part:side"),
    )
    text, hatch = document.modelspace()
    assert decode_dxf_unicode(text.dxf.text) == "3 13/16 ⌀ é"
    assert text.dxf.rotation == 90
    assert isclose(text.dxf.height, 6.6)  # the height of a capital of the typeface
    assert tuple(text.dxf.align_point)[:2] == (10, 20)
    assert len(hatch.paths) == 2
    wanted = (0xF4, 0xE7, 0xD8)
    tint = document.layers.get("tone-new-front").dxf.color
    assert all(dist(aci2rgb(other), wanted) >= dist(aci2rgb(tint), wanted) for other in range(1, 256))
