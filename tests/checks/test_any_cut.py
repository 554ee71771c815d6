"""Any cut that a maker may type, of any size and at any place: an answer at its place, never a crash."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plangen.pipeline import Source, check
from tests.bad.degenerate import BOARD

LINES = BOARD.count("\n", 0, BOARD.index("%s"))  # before the cuts
SIDES = st.sampled_from(("left", "right", "front", "back", "top", "bottom"))
FACES = st.sampled_from(("top", "bottom"))
EDGES = st.sampled_from(("left", "right", "front", "back"))


def sizes(low: int = -2, high: int = 17) -> st.SearchStrategy[str]:
    """Lengths on and off a board of 16 × 6 × 3/4 in, many of them its very sizes or a hair from them."""
    usual = st.sampled_from(("0in", "1/64in", "3/8in", "47/64in", "3/4in", "3in", "6in", "8in", "16in"))
    return usual | st.integers(low * 16, high * 16).map(lambda n: f"{Fraction(n, 16)}in")


@st.composite
def cuts(draw: st.DrawFn) -> str:
    size, face, edge = lambda: draw(sizes()), draw(FACES), draw(EDGES)
    kind = draw(
        st.sampled_from(("notch", "hole", "slot", "pocket", "taper", "curve", "chamfer", "mitre", "bevel"))
    )
    if kind == "notch":
        other = draw(st.sampled_from(("front", "back") if edge in ("left", "right") else ("left", "right")))
        return f"notch: {{at: [{edge}, {other}], across: {size()}, deep: {size()}}}"
    if kind == "hole":
        depth = draw(st.sampled_from(("", f", depth: {size()}")))
        return f"hole: {{face: {face}, from left: {size()}, from front: {size()}, diameter: {size()}{depth}}}"
    if kind == "slot":
        ends = draw(st.sampled_from((", ends: square", "")))
        where = f"from left: {size()}, from front: {size()}"
        return f"slot: {{face: {face}, {where}, length: {size()}, width: {size()}, depth: {size()}{ends}}}"
    if kind == "pocket":
        where = f"from left: {size()}, from front: {size()}"
        return f"pocket: {{face: {face}, {where}, length: {size()}, width: {size()}, depth: {size()}}}"
    if kind == "taper":
        start, end = draw(st.sampled_from((("left", "right"), ("right", "left"))))
        return f"taper: {{edge: {edge}, from {start}: {size()}, to {end}: {size()}}}"
    if kind == "curve":
        return f"curve: {{edge: {edge}, from left: {size()}, from right: {size()}, rise: {size()}}}"
    if kind == "chamfer":
        return f"chamfer: {{edges: around {draw(SIDES)}, size: {size()}}}"
    angle = draw(st.integers(0, 89))
    if kind == "mitre":
        return f"mitre: {{end: {edge}, angle: {angle}deg, long: {draw(SIDES)}}}"
    return f"bevel: {{at: {edge}, angle: {angle}deg, long: {draw(SIDES)}}}"


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(cuts(), min_size=1, max_size=4))
def test_whatever_is_typed_there_is_an_answer(typed: list[str]) -> None:
    text = BOARD % "\n".join(f"      - {cut}" for cut in typed)
    result = check(Source("board", "project.yaml", text.encode()))
    errors = [finding for finding in result.findings if finding.severity.value == "error"]
    assert (result.checked is None) == bool(errors)
    for finding in result.findings:
        assert finding.message
        assert finding.place is not None, finding.message
        in_cuts = LINES < finding.place.line <= LINES + len(typed)
        assert in_cuts or finding.kind not in ("part-in-pieces", "part-cut-away"), finding.message
    if result.checked is not None:
        (solid,) = result.checked.solids.parts.values()
        assert solid.volume > 1.0
        assert len([piece for piece in solid.body.decompose() if piece.volume() > 2.0]) == 1
