"""Nothing in any drawing of a finished booklet lies over what it should keep clear of."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.whole.conftest import EVERYDAY, MORE
from tests.whole.making import ALL, Made, Variant


@pytest.mark.parametrize(
    "variant", [one for line in (*EVERYDAY, *MORE) for one in line], ids=lambda one: one.name
)
def test_nothing_overlaps(variant: Variant, built: Callable[[Variant], Made]) -> None:
    made = built(variant)
    pictures = sum(name.endswith(".svg") for name in made.files)
    assert made.drawings > pictures > 5  # the pages hold more than the files do
    assert made.overlaps == ()


@pytest.mark.bench
@pytest.mark.parametrize("variant", ALL, ids=lambda one: one.name)
def test_nothing_overlaps_in_any_variant(variant: Variant, built: Callable[[Variant], Made]) -> None:
    assert built(variant).overlaps == ()
