"""Templates can print and choose, and nothing else."""

from __future__ import annotations

import pytest

from plangen.booklet.templates import MOST_OUTPUT, MOST_TURNS, chapter_order, render
from plangen.booklet.words import Words, read_words
from plangen.findings import ProjectError
from tests.booklet.sample_book import templates

WORDS = Words({"numbers": ["no", "one", "two"], "hello": "Hello {name}"})
CONTEXT = {
    "parts": [{"mark": "A"}, {"mark": "B"}],
    "n": 2,
    "text": "abc",
    "none": None,
    "long": list(range(400)),
}

ATTACKS = [
    "{{ ''.__class__ }}",
    "{{ parts.__class__.__mro__ }}",
    "{{ parts['__class__'] }}",
    "{{ text|attr('__class__') }}",
    "{{ parts.append(1) }}",
    "{{ parts.append }}",
    "{{ text.upper }}",
    "{{ 'a' * 9999999999 }}",
    "{{ 2 ** 99999999 }}",
    "{{ 'a' ~ 'b' }}",
    "{% for a in 'abc' %}{% endfor %}",
    "{% for a in parts recursive %}{{ loop(parts) }}{% endfor %}",
    "{% for i in range(9999999999) %}{% endfor %}",
    "{% set x = 1 %}",
    "{% include '/etc/passwd' %}",
    "{% import 'os' as os %}",
    "{% extends 'x' %}",
    "{% macro x() %}{% endmacro %}",
    "{{ text|format(1) }}",
    "{{ text|join(text) }}",
    "{{ parts|join('" + "x" * 50 + "') }}",
    "{{ text[0:2] }}",
    "{{ config }}",
    "{{ cycler }}",
    "{{ loop.cycle }}",
    "{% for a in parts %}{{ loop.cycle }}{% endfor %}",
    "{{ n / 0 }}",
    "{{ n",
    "{% for a in long %}{% for b in long %}{% for c in long %}{% endfor %}{% endfor %}{% endfor %}",
    "{% for a in long %}" * 4 + "{% endfor %}" * 4,
]


@pytest.mark.parametrize("attack", ATTACKS)
def test_an_attack_is_refused_with_a_finding_that_names_the_line(attack: str) -> None:
    with pytest.raises(ProjectError) as caught:
        render("bad.md", f"\n\n{attack}", CONTEXT, WORDS)
    (finding,) = caught.value.findings
    assert finding.kind == "template-fault"
    assert finding.message.startswith("bad.md:")
    assert finding.remedy


def test_output_is_limited() -> None:
    wide = "x" * 30_000
    with pytest.raises(ProjectError, match=f"{MOST_OUTPUT:,}"):
        render("bad.md", "{% for a in long %}" + wide + "{% endfor %}", CONTEXT, WORDS)
    assert len(CONTEXT["long"]) * len(wide) > MOST_OUTPUT  # type: ignore[arg-type]
    assert len(CONTEXT["long"]) ** 3 > MOST_TURNS  # type: ignore[arg-type]


def test_a_template_prints_chooses_and_counts() -> None:
    text = "{% for p in parts %}{{ p.mark }}{{ ', ' if not loop.last }}{% endfor %}: "
    text += "{{ n|spelled|capitalize }}{{ 's' if n > 1 }}"
    assert render("good.md", text, CONTEXT, WORDS) == "A, B: Twos"


def test_a_line_of_tags_alone_leaves_nothing_and_other_line_breaks_stay() -> None:
    text = "one\n{% if n %}\ntwo {% if n %}x{% endif %}\n{% endif %}\nthree"
    assert render("good.md", text, CONTEXT, WORDS) == "one\ntwo x\nthree"


def test_a_syntax_error_names_its_own_line() -> None:
    with pytest.raises(ProjectError, match=r"bad\.md:4"):
        render("bad.md", "{% if n %}\na\n{% endif %}\n{{ n +* 1 }}", CONTEXT, WORDS)


def test_words_ask_for_what_they_know() -> None:
    assert WORDS("hello", name="you") == "Hello you"
    with pytest.raises(ProjectError, match="no text named 'bye'"):
        WORDS("bye")
    with pytest.raises(ProjectError, match=r"asks for \{name\}"):
        WORDS("hello")
    with pytest.raises(ProjectError, match=r"words\.toml"):
        read_words("a = ")


def test_the_supplied_chapters_all_have_a_template() -> None:
    supplied = templates()
    for entry in chapter_order(supplied):
        assert f"{entry['name']}.md" in supplied
        assert set(entry["editions"]) <= {"publish", "binder", "sample"}
