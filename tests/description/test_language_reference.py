"""docs/reference.md is what the models say; every kind has an example that builds, and a picture of it."""

from __future__ import annotations

import re

import pytest

from plangen.description.reference import all_models
from plangen.description.tree import read_tree
from plangen.expressions import Entry, keys_of
from plangen.findings import Findings
from plangen.handbook.densities import SPECIES, find_species
from plangen.joinery.hardware import HARDWARE_KINDS
from plangen.joinery.hardware.ware import HardwareEntry
from plangen.joinery.joints import JOINTS
from plangen.joinery.operations import OPERATIONS
from plangen.joinery.outline import segment_kinds
from plangen.pipeline import Source, check
from tests.docs.examples import (
    DOCS,
    EXAMPLES,
    KINDS,
    MOST_BYTES,
    Example,
    all_examples,
    built,
    digests,
    file_name,
    joint_title,
    load,
)
from tests.docs.page import COMMAND, PAGE, every_map, hardware_maps, page, wood_name, words

NAMES = [path.stem for path in sorted(EXAMPLES.glob("*.yaml"))]
MAPS = [*every_map(), *hardware_maps()]


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_an_example(kind: str) -> None:
    assert file_name(kind) in NAMES, f"write docs/examples/{file_name(kind)}.yaml, then `{COMMAND}`"


@pytest.mark.parametrize("name", NAMES)
def test_every_example_builds_without_a_finding_and_shows_what_it_is_named_for(name: str) -> None:
    description = built(load(name)).description
    kinds = [str(item.kind) for part in description.parts.values() for item in part.cut]
    kinds += [joint_title(str(item.kind)) for item in description.joints]
    if name in {file_name(kind) for kind in KINDS}:
        assert name in {file_name(kind) for kind in kinds}


@pytest.mark.parametrize("one", MAPS, ids=[one.heading for one in MAPS])
def test_every_key_has_a_meaning(one: object) -> None:
    assert one.silent == (), (
        f"{one.heading}: say what {one.silent} means, in docs/words.toml or beside the field"
    )  # type: ignore[attr-defined]


ENTRIES = [kind.entry for table in (OPERATIONS, JOINTS, HARDWARE_KINDS) for kind in table.values()]
SHOWN = {entry: re.match(r"``(.+?)``", entry.__doc__ or "", re.DOTALL) for entry in ENTRIES}


@pytest.mark.parametrize(
    "entry", [entry for entry, shown in SHOWN.items() if shown], ids=lambda one: one.__name__
)
def test_what_a_model_shows_is_read_by_it(entry: type[Entry]) -> None:
    shown = SHOWN[entry]
    assert shown is not None
    findings = Findings()
    text = " ".join(shown[1].split()).replace("…", "1in").replace(", 1in}", "}")
    tree = read_tree(text.encode(), "docs", findings)
    assert tree is not None, [one.message for one in findings]
    (body,) = tree.values()
    assert entry.model_validate(body).model_fields_set


def test_no_words_are_left_of_keys_that_are_gone() -> None:
    known = {one.heading: {key for row in one.rows for key in row.keys} for one in MAPS}
    everywhere = {key for keys in known.values() for key in keys}
    kinds = {"every cut": OPERATIONS, "every kind of joint": JOINTS, "every hardware": HARDWARE_KINDS}
    for heading, table in kinds.items():
        known[heading] = {key for kind in table.values() for key in keys_of(kind.entry)}
    known["every outline"] = {key for kind in segment_kinds().values() for key in keys_of(kind)}
    known["prose"] = {*NAMES, "kinds of hardware"}
    for heading, table in words().items():
        keys = everywhere if heading == "every map" else known.get(heading, set())
        assert set(table) <= keys, (heading, sorted(set(table) - keys))


def test_words_that_kinds_share_are_those_of_more_than_one() -> None:
    for heading, kinds in (("every cut", OPERATIONS), ("every kind of joint", JOINTS)):
        entries = sorted({kind.entry for kind in kinds.values()}, key=lambda one: one.__name__)
        for key in words()[heading]:
            silent = [one for one in entries if key in keys_of(one)]
            assert len(silent) > 1, f"{heading}: {key} is of one kind only; tell it there"


def test_no_cell_holds_what_breaks_a_table_or_is_no_word_of_a_maker() -> None:
    rows = [line for line in page().splitlines() if line.startswith("| ")]
    assert len(rows) > 400
    for row in rows:
        assert row.endswith(" |")
        assert not re.search(r"\['|``|string|integer|None| \|  ", row.replace("|  |", "|")), row
    for one in MAPS:
        for told in one.rows:
            assert len(told.meaning) < 220, (one.heading, told.keys)


def test_every_wood_of_the_page_is_one_that_the_handbook_finds() -> None:
    told = re.findall(r"^\| ([a-z -]+) \| ([a-z ,]*) ?\| \d+ \|", page(), re.MULTILINE)
    assert len(told) == len(SPECIES)
    for wood, also in told:
        for name in (wood, *(also.strip().split(", ") if also.strip() else ())):
            found = find_species(name)
            assert found is not None
            assert wood_name(found.name) == wood


def test_every_plain_kind_that_an_example_lists_is_told_with_what_uses_it() -> None:
    table = page().split("## kinds of hardware")[1].split("###")[0]
    told = {
        kind: used
        for kinds, used in re.findall(r"^\| (`.+?`.*?) \| (.+?) \|", table, re.MULTILINE)
        for kind in re.findall(r"`([\w -]+)`", kinds)
    }
    assert not set(told) & set(HARDWARE_KINDS)
    listed = {
        str(row.kind)
        for name in NAMES
        for row in built(load(name)).description.hardware.values()
        if type(row) is HardwareEntry
    }
    assert len(listed) > 8
    assert listed <= set(told)
    for used in told.values():
        assert used == "fit" or any(kind in used for kind in JOINTS), used


def test_the_page_is_what_is_generated() -> None:
    assert PAGE.read_text(encoding="utf-8") == page(), f"run `{COMMAND}`"


def test_the_page_tells_every_map_and_every_kind() -> None:
    headings = re.findall(r"^(?:###? |A |Keys of `)(.+?)(?:`?:)?$", page(), re.MULTILINE)
    for heading in (*all_models(), *KINDS):
        assert any(heading in found.split(", ") for found in headings), heading


def test_the_page_has_no_dead_link() -> None:
    text = page()
    anchors = {
        re.sub(r"[^\w -]", "", h.lower()).replace(" ", "-")
        for h in re.findall(r"^#+ (.+)$", text, re.MULTILINE)
    }
    for target in re.findall(r"\]\(([^)]+)\)", text):
        file, _, anchor = target.partition("#")
        assert not file or (DOCS / file).exists(), target
        assert file or anchor in anchors, target


def test_every_picture_is_of_its_example_as_it_stands() -> None:
    assert digests() == {example.name: example.digest for example in all_examples()}, f"run `{COMMAND}`"
    for example in all_examples():
        assert 1000 < example.picture.stat().st_size < MOST_BYTES


FASTENED = [name for name, kind in JOINTS.items() if "per joint" in keys_of(kind.entry)]


@pytest.mark.parametrize("kind", FASTENED)
def test_as_many_fasteners_go_to_a_contact_unless_said_as_the_page_says(kind: str) -> None:
    example = load(file_name(joint_title(kind)))
    text = re.sub(r", (per joint|every): [^,}]+", "", example.text)
    if kind == "biscuited":  # two want a wider rail than the one that the page shows
        text = text.replace("width: 5in", "width: 5-1/2in")
    made = built(Example(example.name, text))
    (told,) = (row for one in MAPS if one.heading == kind for row in one.rows if "per joint" in row.keys)
    said = re.search(r"(one|two) unless said", told.meaning)
    assert said is not None
    (entry,) = (item for item in made.description.joints if item.kind == kind)
    fastener = str(entry.body.align if kind == "edge-glued" else entry.body.with_)
    (joint,) = (joint for joint in made.design.joints if joint.kind == kind)
    used = sum(use.number for use in joint.hardware if use.item == fastener)
    assert used == len(joint.contacts) * {"one": 1, "two": 2}[said[1]]


def test_the_check_says_what_a_wedge_comes_to_whose_row_gives_no_size() -> None:
    example = load("tusk-tenon")
    text = re.sub(r"(\{kind: wedge, title: [^,}]+)[^}]*\}", r"\1}", example.text)
    assert text != example.text
    findings = check(Source("wedge", "wedge.yaml", text.encode())).findings
    (one,) = (one for one in findings if one.kind == "hardware-no-size")
    assert re.search(r"thickness: .+, width: .+, length: ", str(one.remedy))
