"""What docs/language.md and docs/buying.md say is what the program reads: every example, kind and key of it.

That every kind and key is told at all is tested of docs/reference.md, which is written from the models.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

import pytest
from pydantic import TypeAdapter

from plangen.description.model import Description, PinsEntry, StepEntry
from plangen.description.reader import _settle_places
from plangen.description.tree import read_tree
from plangen.expressions import Text, key_of, keys_of, parse_expression
from plangen.findings import Findings, ProjectError
from plangen.joinery.body import JointBody
from plangen.joinery.joints import JOINTS
from plangen.joinery.operations import OPERATIONS
from plangen.joinery.work import WorkEntry
from tests.expressions.scope import Scope

ROOT = Path(__file__).resolve().parents[2]
PAGE = (ROOT / "docs" / "language.md").read_text(encoding="utf-8")
BUYING = (ROOT / "docs" / "buying.md").read_text(encoding="utf-8")
FENCES = re.findall(r"```yaml\n(.*?)```", PAGE + BUYING, re.DOTALL)
ROWS = re.findall(r"^\| (.+) \|$", PAGE, re.MULTILINE)


def section(name: str) -> str:
    return PAGE.split(f"## {name}\n")[1].split("\n## ")[0]


def validated(text: str, annotation: object, key: str) -> None:
    findings = Findings()
    tree = read_tree(text.encode(), "docs", findings)
    assert tree is not None, [one.message for one in findings]
    _settle_places(tree, findings)
    TypeAdapter(annotation).validate_python(tree[key])
    assert not len(findings), [one.message for one in findings]


def test_the_page_is_short_enough_to_read() -> None:
    assert len(PAGE.splitlines()) < 300
    assert len(BUYING.splitlines()) < 100
    assert len(FENCES) >= 6


@pytest.mark.parametrize("fence", FENCES, ids=[fence.split("\n")[0] for fence in FENCES])
def test_every_example_is_read(fence: str) -> None:
    fields = Description.model_fields
    keys = re.findall(r"^(\w+):", fence, re.MULTILINE)
    assert keys
    for key in keys:
        validated(fence, fields[key].rebuild_annotation(), key)


@pytest.mark.parametrize("page", [PAGE, BUYING], ids=["language", "buying"])
def test_every_link_leads_to_a_heading(page: str) -> None:
    links = re.findall(r"\]\(\s*(\S+?)\)", page)
    assert len(links) >= 2
    for link in links:
        file, _, anchor = link.partition("#")
        assert file in ("language.md", "buying.md", "reference.md"), link
        assert not anchor or anchor in headings(file), link


def headings(file: str) -> set[str]:
    """The anchors of a page's headings."""
    return {
        re.sub(r"[^\w -]", "", heading.lower()).replace(" ", "-")
        for heading in re.findall(r"^#+ (.+)$", (ROOT / "docs" / file).read_text("utf-8"), re.MULTILINE)
    }


def test_the_keys_that_are_said_to_be_needed_are_those_that_are() -> None:
    said = re.search(r"Needed are (.+?), and", PAGE)
    assert said is not None
    named = set(re.findall(r"`(\w+)`", said[1]))
    needed = {key_of(name) for name, field in Description.model_fields.items() if field.is_required()}
    assert named == needed


def test_every_example_in_prose_of_a_place_is_read() -> None:
    (lean,) = re.findall(r"`(lean: \{.*?\}\})`", PAGE)
    (stretch,) = re.findall(r"`(stretch:\s+\{.*?\})`", PAGE, re.DOTALL)
    for text in (lean, " ".join(stretch.split())):
        validated(f"pins: {{{text}}}", PinsEntry, "pins")


def test_every_key_of_the_file_is_named() -> None:
    first = PAGE.split("## Directions")[0]
    for key in keys_of(Description):
        assert f"`{key}`" in first or f"`{key}: 1`" in first


def kinds_in(name: str) -> list[str]:
    """The kinds that a section's table tells; the reference tells all."""
    cells = re.findall(r"^\| ([a-z][^|]*?) \|", section(name), re.MULTILINE)
    return [kind for cell in cells if cell != "kind" for kind in cell.split(", ")]


@pytest.mark.parametrize(("name", "table"), [("cut", OPERATIONS), ("joints", JOINTS)])
def test_the_tables_tell_the_usual_kinds_and_point_to_the_others(
    name: str, table: Mapping[str, object]
) -> None:
    assert len(kinds_in(name)) >= 8
    assert set(kinds_in(name)) <= set(table)
    assert f"(reference.md#{name})" in section(name)


@pytest.mark.parametrize("kind", kinds_in("cut"))
def test_every_operation_has_a_row_that_is_read(kind: str) -> None:
    rows = [row for row in ROWS if kind in [name.strip() for name in row.split(" | ")[0].split(",")]]
    assert len(rows) == 1
    example = re.search(r"`(\w[\w ]*: \{.*?\})`", rows[0])
    assert example is not None
    text = example.group(1).replace(", …", "")
    validated("cut:\n  - " + text, list[WorkEntry], "cut")  # type: ignore[valid-type]


@pytest.mark.parametrize("kind", kinds_in("joints"))
def test_every_key_in_the_table_is_read_and_every_key_that_is_needed_is_there(kind: str) -> None:
    table = [
        line.strip("| ").split(" | ") for line in section("joints").splitlines() if line.startswith("| ")
    ]
    begin = next(index for index, row in enumerate(table) if row[0] == kind)
    rows = [table[begin]]
    for line in section("joints").split(f"\n| {kind} |")[1].splitlines()[1:]:
        if not line.startswith("| |"):
            break
        rows.append(line.strip("| ").split(" | "))
    named = {key for row in rows for key in re.findall(r"`([\w ]+)[`:]", row[-2])}
    fields = JOINTS[kind].entry.model_fields
    common = set(keys_of(JointBody))
    assert named <= {key_of(name) for name in fields}
    assert {key_of(name) for name, field in fields.items() if field.is_required()} <= named
    assert all(f"`{key}" in section("joints") for key in common)


def test_joints_that_are_glued_unless_said_are_the_ones_named() -> None:
    sentence = re.search(r"(Butt, [^.]*)joints\s+are glued unless", section("joints"))
    assert sentence is not None
    words = " ".join(sentence.group(1).split()).lower()
    said = {kind for kind in kinds_in("joints") if re.search(rf"\b{kind}\b", words)}
    assert said == {kind for kind in kinds_in("joints") if JOINTS[kind].glued}


def test_every_key_that_a_step_covers_is_named() -> None:
    page = section("steps")
    for key in keys_of(StepEntry):
        if key not in ("title", "show"):
            assert re.search(rf"(`{key}|\b{key}:)", page), key


def test_the_mistakes_are_mistakes_and_what_is_meant_is_not() -> None:
    row = next(row for row in ROWS if "`16 inches`" in row)
    wrong, meant = (re.findall(r"`(.+?)`", cell) for cell in row.split(" | "))
    assert len(wrong) == len(meant) == 3
    for text in wrong:
        with pytest.raises(ProjectError):
            parse_expression(Text(text)).length(Scope())
    for text in meant:
        assert parse_expression(Text(text)).length(Scope()).mm > 0
