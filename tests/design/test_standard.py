"""Whose lines the drawings have: by the units, unless the maker says otherwise."""

from __future__ import annotations

import pytest

from plangen.pipeline import Source, check
from tests.bad.cases import BASE


@pytest.mark.parametrize(
    ("typed", "standard"),
    [
        ("units: inch", "asme"),
        ("units: inch, standard: iso", "iso"),
        ("units: mm", "iso"),
        ("units: mm, standard: asme", "asme"),
    ],
)
def test_the_standard_follows_the_units_unless_it_is_said(typed: str, standard: str) -> None:
    text = BASE.replace("units: inch", typed)
    checked = check(Source("shelf", "project.yaml", text.encode())).checked
    assert checked is not None
    assert checked.design.project.standard == standard
