"""Values from the command line."""

from __future__ import annotations

import pytest

from plangen.description import apply_settings, read_description
from plangen.findings import Findings, Place, ProjectError
from tests.bad.cases import BASE


@pytest.fixture
def description():
    found = read_description(BASE.encode(), "project.yaml", Findings())
    assert found is not None
    return found


def test_a_size_and_a_field_are_replaced_and_nothing_else(description):
    changed = apply_settings(description, ["width=15in", "pine.thickness=0.703in", "pine.price=4 USD/bdft"])
    assert changed.sizes["width"].text == "15in"
    assert changed.stock["pine"].thickness.text == "0.703in"
    assert changed.stock["pine"].price.amount == 4
    assert changed.stock["pine"].place == description.stock["pine"].place
    assert list(changed.sizes) == list(description.sizes)
    assert changed.parts == description.parts
    assert description.sizes["width"].text == "24in"


def test_the_last_of_two_settings_holds(description):
    assert apply_settings(description, ["width=1in", "width=2in"]).sizes["width"].text == "2in"


@pytest.mark.parametrize(
    ("setting", "kind", "column", "words"),
    [
        ("widht=15in", "unknown-name", 1, "`width`"),
        ("pime.thickness=1in", "unknown-name", 1, "`pine`"),
        ("pine.thicknes=1in", "unknown-key", 6, "`thickness`"),
        ("width", "bad-setting", 1, "NAME=VALUE"),
        ("=3", "bad-setting", 1, "NAME=VALUE"),
        ("width=3 +", "unfinished", 10, ""),
        ("width=", "missing-value", 7, "give one"),
        ("pine.thickness=3 legs", "missing-operator", 18, ""),
        ("pine.kind=steel", "unknown-word", 11, "`solid`"),
    ],
)
def test_a_bad_setting_points_into_itself(description, setting, kind, column, words):
    with pytest.raises(ProjectError) as caught:
        apply_settings(description, ["height=16in", setting])
    (found,) = caught.value.findings
    assert found.kind == kind
    assert (found.place.file, found.place.line, found.place.column) == ("--set", 2, column)
    assert words in found.remedy


def test_all_bad_settings_are_told_at_once(description):
    with pytest.raises(ProjectError) as caught:
        apply_settings(description, ["a=1", "b=2", "width=3in"])
    assert [finding.place for finding in caught.value.findings] == [
        Place("--set", 1, 1),
        Place("--set", 2, 1),
    ]
