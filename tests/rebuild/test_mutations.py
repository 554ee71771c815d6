"""A sheet with one wrong figure, or one figure less, does not make the part: the comparison can fail.

The parts are measured in the system that they were designed in, so that their printed figures are true; a
figure that is two rounding steps off then has to show.
"""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from tests.rebuild.cases import Case, compared, written
from tests.rebuild.compare import difference
from tests.rebuild.figures import System
from tests.rebuild.mutations import confused, figures_of, misprinted, without
from tests.rebuild.part import make
from tests.rebuild.tree import ContradictionError, UntoldError
from tests.rebuild.written import Sheet, read_sheet

STEPS = 2
PARTS: tuple[tuple[Case, System], ...] = (
    (Case("projects/sewing-table/project.yaml", "front leg left"), "inch"),
    (Case("projects/blanket-chest/project.yaml", "corner post left"), "mm"),
    (Case("projects/blanket-chest/project.yaml", "batten"), "mm"),
    (Case("projects/step-stool/project.yaml", "lower tread"), "inch"),
    (Case("docs/examples/through-dovetails.yaml", "side"), "inch"),
    (Case("docs/examples/hung.yaml", "side left"), "inch"),
)


def is_the_part(case: Case, sheet: Sheet, system: System) -> bool:
    """Tell whether a sheet makes the part."""
    try:
        return compared(case, sheet, system).worst <= 1.0
    except (UntoldError, ContradictionError):
        return False


@pytest.mark.parametrize(("case", "system"), PARTS, ids=str)
def test_every_misprinted_length_shows(case: Case, system: System) -> None:
    sheet = read_sheet(written(case, system))
    assert is_the_part(case, sheet, system)
    hidden, tried = [], 0
    for number, group in enumerate((*sheet.of("dimension"), *sheet.of("note"))):
        for at in figures_of(group):
            steps = STEPS if number % 2 else -STEPS
            tried += 1
            if is_the_part(case, misprinted(sheet, group.key, at, steps, system), system):
                hidden.append((group.texts, at, steps))
    assert tried > 5
    assert not hidden


@pytest.mark.parametrize(("case", "system"), PARTS, ids=str)
def test_every_figure_is_needed(case: Case, system: System) -> None:
    sheet = read_sheet(written(case, system))
    needless = [
        group.texts
        for group in (*sheet.of("dimension"), *sheet.of("note"))
        if group.data["says"] != "reference" and is_the_part(case, without(sheet, group.key), system)
    ]
    assert not needless


@pytest.mark.parametrize(("case", "system"), PARTS, ids=str)
def test_figures_in_each_others_place_show(case: Case, system: System) -> None:
    sheet = read_sheet(written(case, system))
    given = [group for group in sheet.of("dimension") if group.data["says"] != "reference"]
    # Two places of equal holes may change figures, and the part stays the same: only unlike ones are tried.
    unlike = [
        (one, two)
        for one, two in itertools.combinations(given, 2)
        if one.texts != two.texts and all(one.data[key] != two.data[key] for key in ("axis", "says"))
    ]
    pairs = unlike[:: max(1, len(unlike) // 10)]
    assert pairs
    hidden = [
        (one.texts, two.texts)
        for one, two in pairs
        if is_the_part(case, confused(sheet, one.key, two.key), system)
    ]
    assert not hidden


def test_a_figure_said_twice_is_a_loop() -> None:
    case, system = PARTS[0]
    sheet = read_sheet(written(case, system))
    again = next(group for group in sheet.of("dimension") if group.data["says"] == "location")
    doubled = Sheet((*sheet.groups, again))
    with pytest.raises(ContradictionError, match="given twice"):
        compared(case, doubled, system)


def test_a_part_that_is_not_this_one_shows() -> None:
    case, system = PARTS[0]
    other = Case(case.file, "back leg left")
    assert compared(other, read_sheet(written(case, system)), system).worst > 10.0


def test_no_solid_at_all_is_not_the_part() -> None:
    case, system = PARTS[3]
    made = make(read_sheet(written(case, system)), system)
    nothing = difference(made, np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int64))
    assert nothing.worst == np.inf
