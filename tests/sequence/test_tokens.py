from hypothesis import given
from hypothesis import strategies as st

from plangen.sequence.tokens import length_token, phrase_text, references, replace_names, resolve_tokens
from plangen.units import Length, LengthStyle, inches, millimetres, phrase, print_length


def resolved(text: str) -> str:
    style = LengthStyle("inch")
    return resolve_tokens(
        text,
        lambda length: print_length(length, style, unit=True),
        lambda reference: f"[{reference}]",
        lambda key: f"**{key}**",
        lambda name: f"*{name}*",
    )


def test_each_token_finds_its_words() -> None:
    text = "Cut <=381/20> off {part:side left} at <shelf.length>, with {hardware:screw} in {joint:housings}."
    assert resolved(text) == "Cut 3/4\u00a0in off **side left** at [shelf.length], with *screw* in housings."


def test_a_bare_name_is_a_part_until_the_design_says_otherwise() -> None:
    assert resolved("{upper shelf}") == "**upper shelf**"
    assert replace_names("{screw} and {part:side}", lambda name, _: f"{{hardware:{name}}}") == (
        "{hardware:screw} and {part:side}"
    )


def test_plain_signs_stay_plain() -> None:
    assert resolved(r"if a \< b, \{ stays") == "if a < b, { stays"
    assert resolved(phrase_text(phrase("a < b {", inches("1/2"), "}"))) == "a < b {1/2\u00a0in}"
    assert resolved("a < b, and 3 > 2") == "a < b, and 3 > 2"


def test_references_are_found_in_order() -> None:
    assert references("<a.length> then <=3/4> then <b >") == ((1, "a.length"), (29, "b "))


@given(st.fractions(max_denominator=10_000))
def test_a_length_goes_through_a_token_exactly(mm) -> None:
    seen: list[Length] = []
    text = resolve_tokens(length_token(Length(mm)), lambda length: seen.append(length) or "x", str, str, str)
    assert text == "x"
    assert seen == [Length(mm)]


@given(
    st.lists(
        st.one_of(st.text(alphabet="ab<{>}\\ .", max_size=5), st.integers(1, 99).map(millimetres)), max_size=5
    )
)
def test_a_phrase_reads_the_same_through_tokens(pieces) -> None:
    # A backslash before a sign is the escape itself, which trade phrases never hold.
    pieces = [piece.replace("\\", "") if isinstance(piece, str) else piece for piece in pieces]
    style = LengthStyle("mm")
    whole = phrase(*pieces)
    text = resolve_tokens(
        phrase_text(whole), lambda length: print_length(length, style, unit=True), str, str, str
    )
    assert text == whole.text(style)
