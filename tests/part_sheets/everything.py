"""Every project, every example of the reference, and cabinets made by chance, for tests over all of them."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from hypothesis import HealthCheck, Phase, given, settings

from plangen.design.model import Design
from plangen.pipeline import Checked, Source, check
from tests.docs.examples import all_examples
from tests.outside.test_random_cabinets import Cabinet, cabinets

ROOT = Path(__file__).resolve().parents[2]


@cache
def projects() -> dict[str, Checked]:
    """The projects in the repository, by name."""
    return {folder.name: _checked(folder.name, folder) for folder in sorted((ROOT / "projects").iterdir())}


@cache
def examples() -> dict[str, Checked]:
    """The examples of the reference, by name."""
    found = {}
    for example in all_examples():
        result = check(Source(example.name, "project.yaml", example.text.encode()))
        assert result.checked is not None, example.name
        found[example.name] = result.checked
    return found


def designs() -> dict[str, Design]:
    """The designs of all projects and examples, by name."""
    return {name: made.design for name, made in {**examples(), **projects()}.items()}


def cabinets_by_chance(number: int) -> list[Cabinet]:
    """Give the first so many cabinets that chance makes, the same ones each time."""
    found: list[Cabinet] = []

    @settings(
        max_examples=number,
        deadline=None,
        derandomize=True,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(cabinets())
    def collect(cabinet: Cabinet) -> None:
        found.append(cabinet)

    collect()
    return found[:number]


def _checked(name: str, folder: Path) -> Checked:
    kept = {"marks.json": (folder / "marks.json").read_bytes()}
    result = check(Source(name, "project.yaml", (folder / "project.yaml").read_bytes(), kept))
    assert result.checked is not None, name
    return result.checked
