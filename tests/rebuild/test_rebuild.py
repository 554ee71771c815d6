"""Parts made from their written sheets alone are the parts that were designed, to the printed rounding.

Every part of every project and example is made here once, in inches, in millimetres or from a sheet with
both, in turn; ``python -m tests.bench rebuild`` makes all of them in all three.
"""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from plangen.plates import Plates
from plangen.units import LengthStyle
from plangen.units.printing import System as Units
from tests.rebuild.cases import UNITS, Case, cases, checked, compared, rebuilt
from tests.rebuild.written import read_sheet

CASES = (*cases("projects"), *cases("docs/examples"))
APART = (
    "written",
    "figures",
    "tree",
    "tools",
    "outlines",
    "recesses",
    "edges",
    "slants",
    "marking",
    "part",
    "compare",
)


@pytest.mark.parametrize(
    ("case", "units"), [(case, UNITS[number % 3]) for number, case in enumerate(CASES)], ids=str
)
def test_a_part_made_from_its_sheet_is_the_part(case: Case, units: Units) -> None:
    for found in rebuilt(case, units):
        assert found.worst <= 1.0, found


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("case", [case for case in CASES if "step-stool" in case.file], ids=str)
def test_a_stool_is_made_from_every_edition(case: Case, units: Units) -> None:
    for found in rebuilt(case, units):
        assert found.worst <= 1.0, found


def test_the_files_of_a_build_are_the_parts() -> None:
    """What lies in the maker's folder, title block and all, is enough."""
    file = "docs/examples/dado.yaml"
    made = checked(file)
    style = LengthStyle("inch")
    plates = Plates(made.design, made.solids, made.take_off, made.order, style, "publish", "letter")
    files = plates.svg_files()
    assert len(made.design.parts) == 3
    for part in made.design.parts:
        sheet = read_sheet(files[f"part-{part.mark}.svg"])
        assert compared(Case(file, part.key), sheet, "inch").worst <= 1.0


@pytest.mark.parametrize("name", APART)
def test_what_rebuilds_shares_nothing_with_what_draws(name: str) -> None:
    tree = ast.parse((Path(__file__).parent / f"{name}.py").read_text(encoding="utf-8"))
    imported = {
        module
        for node in ast.walk(tree)
        for module in (
            [alias.name for alias in node.names]
            if isinstance(node, ast.Import)
            else [node.module or ""]
            if isinstance(node, ast.ImportFrom)
            else []
        )
    }
    ours = {module for module in imported if module.split(".")[0] in ("plangen", "tests")}
    assert ours <= {f"tests.rebuild.{other}" for other in APART}
