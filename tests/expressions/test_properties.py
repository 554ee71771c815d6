"""Laws that hold for every expression."""

from __future__ import annotations

import math
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.expressions import ExpressionError, Quantity, parse_expression, parse_fact
from plangen.expressions.curves import cosine, root, sine, tangent
from plangen.findings import ProjectError
from tests.expressions.scope import NAMES, Scope

MM_PER = {"in": Fraction(254, 10), "mm": Fraction(1), "ft": Fraction(3048, 10), "cm": Fraction(10)}
SCOPE = Scope()


@st.composite
def trees(draw, depth=4):
    """A tree of plain tuples, its text, and (value, power of length) by a second evaluator."""
    choice = draw(
        st.sampled_from(["number", "length", "mixed", "name"] + ["sum", "product", "minus"] * (depth > 0))
    )
    if choice == "number":
        value = draw(st.integers(0, 999))
        return str(value), (Fraction(value), 0)
    if choice == "length":
        value, unit = draw(st.integers(0, 999)), draw(st.sampled_from(sorted(MM_PER)))
        return f"{value}{unit}", (value * MM_PER[unit], 1)
    if choice == "mixed":
        whole, over = draw(st.integers(0, 40)), draw(st.integers(1, 15))
        return f"{whole}-{over}/16in", ((whole + Fraction(over, 16)) * MM_PER["in"], 1)
    if choice == "name":
        name = draw(st.sampled_from(sorted(NAMES)))
        return name, (NAMES[name].value, 0 if NAMES[name].kind == "number" else 1)
    one_text, one = draw(trees(depth=depth - 1))
    if choice == "minus":
        return f"-({one_text})", None if one is None else (-one[0], one[1])
    two_text, two = draw(trees(depth=depth - 1))
    sign = draw(st.sampled_from("+-" if choice == "sum" else "*/"))
    space = draw(st.sampled_from(["", " ", "  "]))
    return f"({one_text}){space}{sign}{space}({two_text})", _apply(sign, one, two)


def _apply(sign, one, two):
    """Work out one step with nothing but Fraction; None where units or a zero forbid it."""
    if one is None or two is None:
        return None
    if sign in "+-":
        if one[1] != two[1]:
            return None
        return (one[0] + two[0] if sign == "+" else one[0] - two[0]), one[1]
    power = one[1] + two[1] if sign == "*" else one[1] - two[1]
    if not 0 <= power <= 3 or (sign == "/" and not two[0]):
        return None
    return (one[0] * two[0] if sign == "*" else one[0] / two[0]), power


@settings(max_examples=200, deadline=None)
@given(trees())
def test_arithmetic_agrees_with_fractions(tree):
    text, expected = tree
    found = _read(text)
    if isinstance(found, str):
        assert expected is None or found in ("too-large", "too-long")
    else:
        assert expected is not None
        assert (found.value, found.kind) == (expected[0], ("number", "length", "area", "volume")[expected[1]])


@settings(max_examples=200, deadline=None)
@given(trees())
def test_printing_then_reading_changes_nothing(tree):
    text, _ = tree
    if len(text) > 400:
        return
    first = parse_expression(text)
    again = parse_expression(first.printed())
    assert again.printed() == first.printed()
    assert _outcome(first) == _outcome(again)
    assert [str(r) for r in again.references()] == [str(r) for r in first.references()]


def _read(text) -> Quantity | str:
    try:
        return parse_expression(text).value(SCOPE)
    except ExpressionError as error:
        return error.finding.kind


def _outcome(expression) -> Quantity | str:
    try:
        return expression.value(SCOPE)
    except ProjectError as error:
        return error.findings[0].kind


WORDS = [*"0123456789.+-*/()=<>, \"'[]:½’_−\u00a0", *sorted(NAMES), "in", "mm", "ft", "deg", "round(", "to "]
SIGNS = st.lists(st.sampled_from(WORDS), max_size=60).map("".join)


@settings(max_examples=400, deadline=None)
@given(SIGNS | st.text(max_size=450))
def test_any_text_is_a_value_or_one_finding(text):
    for read in (lambda: parse_expression(text).length(SCOPE), lambda: parse_fact(text).check(SCOPE)):
        try:
            read()
        except ProjectError as error:
            (finding,) = error.findings
            assert finding.message
            assert finding.kind


@settings(max_examples=100, deadline=None)
@given(st.fractions(-720, 720, max_denominator=1000))
def test_angles_agree_with_floating_point(degrees):
    radians = math.radians(float(degrees))
    assert abs(float(sine(degrees)[0]) - math.sin(radians)) < 1e-12
    assert abs(float(cosine(degrees)[0]) - math.cos(radians)) < 1e-12
    found = tangent(degrees)
    if found is None:
        assert degrees % 180 == 90
    elif abs(float(found[0])) < 1000:
        assert abs(float(found[0]) - math.tan(radians)) < 1e-6


@settings(max_examples=100, deadline=None)
@given(st.fractions(0, 10**9, max_denominator=10**6))
def test_a_root_is_the_nearest_of_its_grid(value):
    step = Fraction(1, 10**6)
    found, exact = root(value, step)
    if exact:
        assert found * found == value
    else:
        assert (found - step / 2) ** 2 <= value <= (found + step / 2) ** 2
