"""Exact arcs in files: cubic curves within a thousandth of a millimetre, elliptical arcs as SVG has them."""

from __future__ import annotations

import re
from io import BytesIO
from math import atan2, cos, degrees, dist, hypot, pi, radians, sin, sqrt, tau

import pypdf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfgen.canvas import Canvas

from plangen.drawing.sheet.look import dashes, line_look
from plangen.drawing.sheet.model import Arc, Drawing, Meaning, Stroke
from plangen.drawing.writers.curves import axes, cubics, svg_arc
from plangen.drawing.writers.pdf import paint
from plangen.drawing.writers.pdf_fonts import font_name, register_fonts
from plangen.drawing.writers.svg import svg_bytes

HEIGHT = 80.0


def _arc(
    start: float, span: float, turn: float, skew: float, large: float, share: float, mirrored: bool
) -> Arc:
    side = -1 if mirrored else 1

    def at(angle: float) -> tuple[float, float]:
        x, y = large * cos(angle), large * share * sin(angle) * side
        return (5 + x * cos(turn) - y * sin(turn), 7 + x * sin(turn) + y * cos(turn))

    return Arc((5, 7), at(skew), at(skew + pi / 2), start, start + span)


arcs = st.builds(
    _arc,
    start=st.floats(-6, 6),
    span=st.one_of(st.floats(0.02, tau), st.just(tau), st.just(pi)),
    turn=st.floats(-6, 6),
    skew=st.floats(-6, 6),
    large=st.floats(0.5, 2000),
    share=st.one_of(st.floats(0.05, 1), st.just(1.0)),
    mirrored=st.booleans(),
)


def _off(arc: Arc, point: tuple[float, float]) -> float:
    """How far a point is from the ellipse of an arc, in mm: to first order, value over slope."""
    shape = axes(arc)
    c, s = cos(-shape.turn), sin(-shape.turn)
    x, y = point[0] - arc.centre[0], point[1] - arc.centre[1]
    u, v = (x * c - y * s) / shape.large, (x * s + y * c) / shape.small
    slope = 2 * hypot(u / shape.large, v / shape.small)
    return abs(u * u + v * v - 1) / slope


@given(arcs)
def test_half_axes_are_square_and_bound_the_arc(arc: Arc) -> None:
    shape = axes(arc)
    assert shape.large >= shape.small > 0
    reach = max(dist(arc.centre, arc.at(tau * n / 720)) for n in range(720))
    assert reach == pytest.approx(shape.large, rel=1e-4)
    for angle in (arc.start, arc.end):
        on = angle + shape.lead
        u, v = shape.large * cos(on), shape.small * sin(on) * (1 if shape.anticlockwise else -1)
        point = (
            arc.centre[0] + u * cos(shape.turn) - v * sin(shape.turn),
            arc.centre[1] + u * sin(shape.turn) + v * cos(shape.turn),
        )
        assert dist(point, arc.at(angle)) < 1e-6 * max(1, shape.large)


@given(arcs)
def test_cubic_curves_stay_within_a_thousandth_of_a_millimetre(arc: Arc) -> None:
    start, curves = cubics(arc)
    assert dist(start, arc.at(arc.start)) < 1e-9
    assert dist(curves[-1][2], arc.at(arc.end)) < 1e-6
    worst, at = 0.0, start
    for one, two, end in curves:
        for n in range(1, 16):
            t = n / 16
            k = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
            point = tuple(k[0] * at[i] + k[1] * one[i] + k[2] * two[i] + k[3] * end[i] for i in (0, 1))
            worst = max(worst, _off(arc, point))  # type: ignore[arg-type]
        at = end
    assert worst <= 0.001


def test_one_cubic_a_quarter_would_not_do_for_a_large_circle() -> None:
    large = Arc((0, 0), (2000, 0), (0, 2000))
    assert len(cubics(large)[1]) > 4
    assert len(cubics(Arc((0, 0), (1, 0), (0, 1)))[1]) == 4
    assert len(cubics(large, tolerance=1.0)[1]) == 4


def _centre(
    start: tuple[float, float], radii: tuple[float, float], turn: float, sweep: int, end: tuple[float, float]
) -> tuple[tuple[float, float], float, float, float]:
    """Give the centre, the radii and how far it turns, as SVG 2 works them out (appendix B.2.4 and B.2.5)."""
    c, s = cos(radians(turn)), sin(radians(turn))
    dx, dy = (start[0] - end[0]) / 2, (start[1] - end[1]) / 2
    x, y = c * dx + s * dy, -s * dx + c * dy
    rx, ry = radii
    grow = (x / rx) ** 2 + (y / ry) ** 2
    if grow > 1:
        rx, ry = rx * sqrt(grow), ry * sqrt(grow)
    under = max(0.0, (rx * ry) ** 2 - (rx * y) ** 2 - (ry * x) ** 2)
    root = sqrt(under / ((rx * y) ** 2 + (ry * x) ** 2)) * (1 if sweep else -1)  # never the large arc
    u, v = root * rx * y / ry, -root * ry * x / rx
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    first, last = atan2((y - v) / ry, (x - u) / rx), atan2((-y - v) / ry, (-x - u) / rx)
    swept = (last - first) % tau if sweep else (last - first) % tau - tau
    return (c * u - s * v + middle[0], s * u + c * v + middle[1]), rx, ry, swept


@given(arcs.filter(lambda arc: (arc.end - arc.start) * axes(arc).small > 0.5 and axes(arc).small > 0.2))
def test_a_reader_of_svg_finds_the_centre_and_the_radii(arc: Arc) -> None:
    shape = axes(arc)
    words = re.findall(r"([MA])([^MA]+)", svg_arc(arc, HEIGHT))
    at = tuple(float(value) for value in words[0][1].split())
    assert dist(at, (arc.at(arc.start)[0], HEIGHT - arc.at(arc.start)[1])) < 1e-5
    total = 0.0
    for kind, text in words[1:]:
        rx, ry, turn, large, sweep, x, y = (float(value) for value in text.split())
        assert (kind, large) == ("A", 0)
        assert sweep == (0 if shape.anticlockwise else 1)
        centre, rx, ry, swept = _centre(at, (rx, ry), turn, int(sweep), (x, y))  # type: ignore[arg-type]
        # Rounding of ends to 1e-5 mm, magnified where the ellipse is flat or the piece short.
        bound = 1e-3 * max(1.0, 0.5 / (arc.end - arc.start)) ** 2 / min(1.0, shape.small / shape.large)
        assert dist(centre, (arc.centre[0], HEIGHT - arc.centre[1])) < bound
        assert (rx, ry) == pytest.approx((shape.large, shape.small), abs=1e-4)
        total += abs(swept)
        at = (x, y)
    assert total == pytest.approx(arc.end - arc.start, abs=0.02)
    assert dist(at, (arc.at(arc.end)[0], HEIGHT - arc.at(arc.end)[1])) < 1e-4


def test_a_whole_circle_is_two_half_ones() -> None:
    text = svg_arc(Arc((50, 40), (60, 40), (50, 50)), HEIGHT)
    assert re.sub(r"9\.999\d+", "10", text) == "M60 40 A10 10 0 0 0 40 40 A10 10 0 0 0 60 40"


def _svg_path(stroke: Stroke) -> str:
    found = re.search(r'<path d="([^"]+)"', svg_bytes(Drawing(100, HEIGHT, (stroke,))).decode())
    assert found is not None
    return found[1]


def test_an_ellipse_seen_edge_on_is_drawn_through_its_points() -> None:
    flat = Arc((50, 40), (60, 40), (50, 40 + 1e-6))
    assert _svg_path(Stroke(((40, 40), (60, 40)), Meaning.VISIBLE, arc=flat)) == "M40 40 L60 40"


def test_a_closed_piece_of_a_circle_gets_its_chord() -> None:
    half = Arc((50, 40), (60, 40), (50, 50), 0, pi)
    points = tuple(half.at(pi * n / 12) for n in range(13))
    assert _svg_path(Stroke(points, Meaning.VISIBLE, closed=True, arc=half)).endswith(" Z")
    assert not _svg_path(Stroke(points, Meaning.VISIBLE, arc=half)).endswith("Z")


def _content(drawing: Drawing) -> str:
    register_fonts()
    data = BytesIO()
    canvas = Canvas(data, invariant=1, initialFontName=font_name())
    paint(drawing, canvas, 0, 0)
    canvas.showPage()
    canvas.save()
    return pypdf.PdfReader(BytesIO(data.getvalue())).pages[0].get_contents().get_data().decode("latin-1")  # type: ignore[union-attr]


def test_pdf_draws_curves_for_arcs_and_lines_for_the_rest() -> None:
    circle = Arc((50, 40), (51, 40), (50, 41))
    points = tuple(circle.at(tau * n / 24) for n in range(24))
    text = _content(Drawing(100, 80, (Stroke(points, Meaning.VISIBLE, closed=True, arc=circle),)))
    assert len(re.findall(r" c\b", text)) == 4
    assert not re.search(r" l\b", text)
    text = _content(Drawing(100, 80, (Stroke(points, Meaning.VISIBLE, closed=True),)))
    assert len(re.findall(r" l\b", text)) == 23


@pytest.mark.parametrize("standard", ["iso", "asme"])
def test_both_files_carry_the_widths_and_dashes_of_the_standard(standard: str) -> None:
    line = Stroke(((10, 10), (60, 10)), Meaning.HIDDEN)
    drawing = Drawing(100, 80, (line,), standard=standard)  # type: ignore[arg-type]
    look = line_look(Meaning.HIDDEN, standard)  # type: ignore[arg-type]
    fitted = dashes(look, 50)
    text = svg_bytes(drawing).decode()
    assert f'stroke-width="{look.width:g}"' in text
    in_svg = re.search(r'stroke-dasharray="([^"]+)"', text)
    in_pdf = re.search(r"\[([\d. ]+)\] 0 d\s+10", _content(drawing))
    assert in_svg is not None
    assert in_pdf is not None
    assert [float(v) for v in in_svg[1].split()] == pytest.approx(fitted, abs=0.006)
    assert [float(v) for v in in_pdf[1].split()] == pytest.approx(fitted, abs=0.006)
    assert f"{look.width:g} w" in _content(drawing)


def test_degrees_are_not_turned_twice() -> None:
    """An ellipse that leans 30 degrees up to the right leans -30 in a frame whose y points down."""
    arc = Arc((0, 0), (20 * cos(pi / 6), 20 * sin(pi / 6)), (-5 * sin(pi / 6), 5 * cos(pi / 6)), 0, 1)
    assert float(svg_arc(arc, HEIGHT).split("A")[1].split()[2]) == pytest.approx(-30, abs=1e-4)
    assert degrees(axes(arc).turn) == pytest.approx(30)
