"""Does a solid modeller with true faces find the same volumes as plangen's solids?"""

from __future__ import annotations

import importlib.util
import time

from tests.bench.study import Outcome, Study
from tests.docs.examples import all_examples, built

MOST = 1e-6  # of the part's own volume


def run(quick: bool) -> Outcome:
    """Build every part of every example of the reference twice; a quick run takes every third example."""
    if importlib.util.find_spec("OCP") is None:
        return Outcome(
            ("part",), [], "the solid modeller `cadquery-ocp` is not installed", "installed", False
        )
    from tests.outside.kernel import part_shape, volume

    rows: list[tuple[str, int, float, float]] = []
    for example in all_examples()[:: 3 if quick else 1]:
        made = built(example)
        begun = time.perf_counter()
        worst = 0.0
        for part in made.design.parts:
            ours = made.solids.parts[part.key].volume
            worst = max(worst, abs(volume(part_shape(part)) - ours) / ours)
        rows.append((example.name, len(made.design.parts), worst * 1e9, time.perf_counter() - begun))
    worst = max(row[2] for row in rows) / 1e9
    return Outcome(
        ("example", "parts", "worst, in billionths", "seconds"),
        sorted(rows, key=lambda row: -row[2]),
        f"{sum(row[1] for row in rows)} parts of {len(rows)} examples, worst difference {worst:.1e}",
        f"under {MOST:g} of a part",
        worst < MOST,
    )


STUDY = Study("geometry", "does another solid modeller find the same volumes?", run)
