"""Every edition on every paper in every unit, for every project: minutes, so only by ``-m bench``."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest

from tests.whole.making import ALL, Made, Variant
from tests.whole.paper import Paper

pytestmark = pytest.mark.bench


@pytest.mark.parametrize("variant", ALL, ids=lambda one: one.name)
def test_it_builds_without_a_fault(variant: Variant, built: Callable[[Variant], Made]) -> None:
    made = built(variant)
    assert [one for one in made.findings if one[0] != "note"] == []
    record = json.loads(made.files["record.json"])
    assert len(Paper(made.pdf).reader.pages) == len(record["pages"])
    assert record["edition"]["units"] == variant.units
    assert record["edition"]["paper"] == variant.paper


@pytest.mark.parametrize("variant", ALL, ids=lambda one: one.name)
def test_sizes_do_not_depend_on_the_booklet(variant: Variant, built: Callable[[Variant], Made]) -> None:
    """The exact sizes of the parts are the same in every edition, on every paper, in every unit."""
    one, plain = (
        json.loads(built(which).files["record.json"]) for which in (variant, Variant(variant.project))
    )
    sizes = [
        {part["key"]: [size["exact"] for size in part["measures"]] for part in record["parts"]}
        for record in (one, plain)
    ]
    assert sizes[0] == sizes[1]
