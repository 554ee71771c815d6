"""Can every part be made from its written sheet alone, in every edition?"""

from __future__ import annotations

from collections import Counter

from tests.bench.study import Outcome, Study
from tests.rebuild.cases import UNITS, Case, cases, compared, systems_of, written
from tests.rebuild.compare import Difference
from tests.rebuild.tree import ContradictionError, UntoldError
from tests.rebuild.written import read_sheet

SHOWN = 12
QUICK = 7  # of so many parts one is made in a quick run


def run(quick: bool) -> Outcome:
    """Make every part of the projects and examples in inches, in millimetres, and from sheets with both."""
    made: list[tuple[Case, str, Difference]] = []
    refused: list[tuple[Case, str, str]] = []
    every = (*cases("projects"), *cases("docs/examples"))
    for case in every[:: QUICK if quick else 1]:
        for units in UNITS:
            file = written(case, units)
            sheet = read_sheet(file)
            for system in systems_of(units, file):
                label = f"{units}: {system}" if units == "both" else units
                try:
                    made.append((case, label, compared(case, sheet, system)))
                except (UntoldError, ContradictionError) as refusal:
                    refused.append((case, label, str(refusal)))
    wrong = [one for one in made if one[2].worst > 1.0]
    farthest = max(made, key=lambda one: one[2].deviation)
    shown = sorted(made, key=lambda one: -one[2].worst)[:SHOWN]
    tried = Counter(label for _, label, _ in (*made, *refused))
    return Outcome(
        ("part", "edition", "deviation mm", "share of rounding", "trouble"),
        [(str(case), label, 0.0, 0.0, words) for case, label, words in refused]
        + [(str(case), label, found.deviation, found.worst, "") for case, label, found in shown],
        f"{len(made) - len(wrong)} of {len(made) + len(refused)} made as designed "
        f"({', '.join(f'{number} {label}' for label, number in sorted(tried.items()))}); "
        f"farthest {farthest[2].deviation:.3f} mm on {farthest[0]} ({farthest[1]})",
        "all, each within the rounding of the figures it was made from",
        not wrong and not refused,
    )


STUDY = Study("rebuild", "can every part be made from its written sheet alone?", run)
