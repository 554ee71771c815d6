"""What an expression answers, right or wrong: each row of the language's table, and its neighbours."""

from __future__ import annotations

from fractions import Fraction

import pytest

from plangen.expressions import ExpressionError, Reference, Text, parse_expression, parse_fact
from plangen.findings import Place, ProjectError
from plangen.units import inches, millimetres
from tests.expressions.scope import Scope

INCH = Scope()


def at(text: str) -> Text:
    return Text(text, Place("project.yaml", 7, 11, len(text)))


def fault(text: str, scope: Scope = INCH):
    with pytest.raises(ExpressionError) as caught:
        parse_expression(at(text)).length(scope)
    return caught.value.finding


@pytest.mark.parametrize(
    ("text", "length"),
    [
        ("3/4in", inches("3/4")),
        ("1-1/2in", inches("3/2")),
        ("1 1/2in", inches("3/2")),
        ("1-1/2 in", inches("3/2")),
        ('1-1/2"', inches("3/2")),
        ("2ft 6-1/4in", inches("121/4")),
        ("2'6\"", inches(30)),
        ("2.5ft", inches(30)),
        ("19mm", millimetres(19)),
        ("1.9cm", millimetres(19)),
        ("1.2m", millimetres(1200)),
        ("15", inches(15)),
        ("1-1/2", inches("3/2")),
        ("1/2", inches("1/2")),
        ("-2", inches(-2)),
        ("0", inches(0)),
        ("2in-1/2in", inches("3/2")),
        ("height-1/2in", inches("41/2")),
        ("height - 1-1/2in", inches("39/2")),
        ("height - top shelf down", inches("39/2")),
        ("pine.thickness * 2", inches("3/2")),
        ("own.width / 2", inches("15/8")),
        ("top drawer.face.left", millimetres(7)),
        ("slat 1.left - 1in", inches(1)),
        ("1/2 * width", inches(15)),
        ("(width - 2 * pine.thickness) / (rows + 1)", inches("19/4")),
        ("max(height, width, 1ft)", inches(30)),
        ("min(height, width)", inches(21)),
        ("-height + width", inches(9)),
        ("round(width / 7, to 1/16in)", inches("69/16")),  # 4.2857 in is 68.57 sixteenths
        ("round(-width / 7, to 1/16in)", inches("-69/16")),
        ("sqrt(3in * 3in + 4in * 4in)", inches(5)),
        ("width * sin(30deg)", inches(15)),
        ("½in", inches("1/2")),
        ("3½in", inches("7/2")),
        ("3 ½in", inches("7/2")),
        ("3\u20111/2in", inches("7/2")),
        ("height \u2212 1in", inches(20)),
        ("2 × 3in", inches(6)),
        ("1\u2032 6\u2033", inches(18)),
        ("1/3in + 2/3in", inches(1)),
    ],
)
def test_a_length_comes_out_exact(text, length):
    assert parse_expression(at(text)).length(INCH) == length


def test_a_bare_number_is_in_project_units():
    assert parse_expression("15").length(Scope("mm")) == millimetres(15)
    assert parse_expression("15").value(Scope("mm")).kind == "number"


@pytest.mark.parametrize(
    ("text", "kind", "column", "length", "words"),
    [
        ("height - 3", "mixed-kinds", 9, 1, "write `3in`"),
        ("height - 1-1/2", "missing-unit", 9, 5, "`1-1/2in` for a length, or `1 - 1/2`"),
        ("2 - 1/2in", "mixed-kinds", 0, 1, "a mixed number has no spaces: `2-1/2in`"),
        ("2 legs", "missing-operator", 2, 4, "write + - * or /"),
        ("max(width", "bad-bracket", 3, 1, "a comma inside { } ends a value"),
        ("side[1].top", "bad-character", 4, 1, "joined by a dot"),
        ("front:rail", "bad-character", 5, 1, "joined by a dot"),
        ("1\u2019", "curly-quote", 1, 1, "straight '"),
        ("3/0in", "bad-fraction", 0, 5, "check the fraction"),
        ("1-5/4in", "bad-fraction", 0, 7, "check the fraction"),
        ("12inch", "unknown-unit", 2, 4, "did you mean `12in`?"),
        ("16 inches", "unknown-unit", 3, 6, "did you mean `16in`?"),
        ("16 1/2 Inches", "missing-unit", 0, 6, "`16 1/2in` for a length"),
        ("2.5 millimetres + width", "unknown-unit", 4, 11, "did you mean `2.5mm`?"),
        ("45degrees", "unknown-unit", 2, 7, "did you mean `45deg`?"),
        ("12zz", "unknown-unit", 2, 2, 'in, ", ft'),
        ("width +", "unfinished", 7, 1, "comma inside"),
        ("width + * 2", "missing-value", 8, 1, "give one"),
        ("width)", "bad-bracket", 5, 1, "take it out"),
        ("--width", "bad-value", 1, 1, "take one out"),
        ("flor(width)", "unknown-function", 0, 4, "`floor`"),
        ("floor(width)", "wrong-kind", 6, 5, "round(width, to 1/16in)"),
        ("round(width, 3)", "bad-call", 0, 5, "to 1/16in"),
        ("round(width, to 3)", "mixed-kinds", 16, 1, "to 1/16in"),
        ("sin(30) * width", "wrong-kind", 4, 2, "write `30deg`"),
        ("sqrt(width)", "wrong-kind", 5, 5, "diagonal"),
        ("width * sqrt(1 - 2)", "negative-root", 13, 5, "check"),
        ("width / 0", "divide-by-zero", 8, 1, "check"),
        ("width * tan(90deg)", "divide-by-zero", 12, 5, "check the angle"),
        ("1 / width", "mixed-kinds", 4, 5, "plain number"),
        ("width * width", "wrong-kind", 0, 13, "give a length"),
        ("rows", "wrong-kind", 0, 4, "carries its unit"),
        ("30deg", "wrong-kind", 0, 5, "give a length"),
        ("own", "bad-name", 0, 3, "own.width"),
        ("side..top", "bad-name", 4, 1, "left side.top"),
        ("a <= b", "bad-value", 2, 2, "give one value"),
        ("1,5in", "bad-value", 1, 1, "point"),
        ("max(width, rows)", "mixed-kinds", 11, 4, "one kind"),
        ("", "missing-value", 0, 1, "give one"),
        ("width $ 2", "bad-character", 6, 1, "names"),
        ("9999999999999999in", "too-large", 0, 18, "check"),
    ],
)
def test_a_fault_points_at_its_column_and_says_what_is_right(text, kind, column, length, words):
    found = fault(text)
    assert found.kind == kind
    assert found.place == Place("project.yaml", 7, 11 + column, length)
    assert words in found.remedy


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("9" * 5000, "too-long"),
        ("9" * 399, "too-large"),
        ("2" + "*2" * 199, "too-large"),
        ("(" * 200, "too-deep"),
        ("1" + "/3" * 199, "too-large"),
        ("1m" + "*1000" * 60, "too-large"),
    ],
)
def test_no_expression_takes_for_ever(text, kind):
    assert fault(text).kind == kind


def test_a_tower_over_several_names_is_stopped():
    names = {"a": parse_expression("2*2*2*2*2*2*2*2").value(INCH)}

    def build(levels):
        for _ in range(levels):
            names["a"] = parse_expression("a * a").value(Scope(names=names))

    with pytest.raises(ExpressionError, match="larger than anything"):
        build(40)


def test_references_are_listed_in_order():
    found = parse_expression(at("own.width + max(height, slat 1.left) - top drawer.face.left")).references()
    assert [str(reference) for reference in found] == [
        "own.width", "height", "slat 1.left", "top drawer.face.left"
    ]  # fmt: skip
    assert found[0] == Reference(("own",), "width", Place("", 0, 0))
    assert found[3].names == ("top drawer", "face")
    assert found[3].place == Place("project.yaml", 7, 50, 20)


def test_an_unknown_name_is_the_scopes_own_error():
    with pytest.raises(ProjectError) as caught:
        parse_expression(at("height - wdth")).length(INCH)
    assert caught.value.findings[0].place == Place("project.yaml", 7, 20, 4)


def test_a_text_of_several_lines_points_at_its_beginning():
    text = Text("height - 3", Place("project.yaml", 7, 11, 1))
    with pytest.raises(ExpressionError) as caught:
        parse_expression(text).length(INCH)
    assert caught.value.finding.place == Place("project.yaml", 7, 11, 1)


def test_numbers_and_angles():
    assert parse_expression("rows * 2 - 1").number(INCH) == 9
    assert parse_expression("floor(width / 7in)").number(INCH) == 4
    assert parse_expression("ceil(width / 7in)").number(INCH) == 5
    assert parse_expression("round(5 / 2)").number(INCH) == 3
    assert parse_expression("7-1/2deg * 2").angle(INCH) == 15
    assert parse_expression("0").angle(INCH) == 0
    with pytest.raises(ExpressionError, match="an angle is wanted"):
        parse_expression("45").angle(INCH)
    with pytest.raises(ExpressionError, match="a plain number is wanted"):
        parse_expression("4in").number(INCH)


def test_what_is_not_exact_is_kept_to_a_nanometre():
    diagonal = parse_expression("sqrt(1in * 1in + 1in * 1in)").value(INCH)
    assert not diagonal.exact
    assert (diagonal.value * 10**6).denominator == 1
    # sqrt(2) = 1.41421356237309504880… (OEIS A002193), times 25.4 mm
    assert abs(diagonal.value - Fraction("35.9210244842766")) <= Fraction(1, 10**6)


@pytest.mark.parametrize(
    ("text", "holds", "found"),
    [
        ("width = 30in", True, "width is 30in"),
        ("width = 30", True, "width is 30in"),
        ("width <= height", False, "width is 30in, height is 21in"),
        ("height >= 21in", True, "height is 21in"),
        ("width = 30-1/32in within 1/32in", True, "width is 30in"),
        ("width = 30-1/16in within 1/32in", False, "width is 30in"),
        ("rows = 5", True, "rows is 5"),
        ("width / 3 = 10in", True, "width / 3 is 10in"),
        ("width \u2265 30in", True, "width is 30in"),
    ],
)
def test_a_fact_holds_or_not(text, holds, found):
    assert parse_fact(at(text)).check(INCH) == (holds, found)


@pytest.mark.parametrize(
    ("text", "kind", "column"),
    [
        ("width", "bad-fact", 0),
        ("width == 3in", "bad-fact", 6),
        ("width < 3in", "bad-fact", 6),
        ("1in = width = 3in", "bad-fact", 12),
        ("width = ", "missing-value", 8),
        ("width = 3in within 1in + ", "unfinished", 24),
        ("width = rows", "mixed-kinds", 8),
    ],
)
def test_a_bad_fact_points_at_its_column(text, kind, column):
    with pytest.raises(ExpressionError) as caught:
        parse_fact(at(text)).check(INCH)
    assert (caught.value.finding.kind, caught.value.finding.place.column) == (kind, 11 + column)
