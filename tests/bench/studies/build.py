"""Does a second build give the same bytes, and is it no slower; and where does the time go?"""

from __future__ import annotations

import time
from pathlib import Path

from plangen.cli.folders import PROJECT_FILE, read_project, shipped_templates
from plangen.pipeline import BuildOptions, BuildResult, Source, build
from tests.bench.study import Outcome, Study

ROOT = Path(__file__).resolve().parents[3]
MOST_RATIO = 1.5


def run(quick: bool) -> Outcome:
    """Build each project twice in this process; a quick run takes the starter alone."""
    folders = [ROOT / "templates" / "starter"]
    if not quick:
        folders += sorted(path.parent for path in ROOT.glob(f"projects/*/{PROJECT_FILE}"))
    rows: list[tuple[object, ...]] = []
    same, worst, largest = True, 0.0, (0.0, "")
    for folder in folders:
        first, first_stages = timed(folder)
        second, second_stages = timed(folder)
        errors = sum(item.severity.value == "error" for item in first.findings)
        equal = first.files is not None and first.files == second.files and first.kept == second.kept
        first_seconds, second_seconds = sum(first_stages.values()), sum(second_stages.values())
        ratio = second_seconds / first_seconds
        same, worst = same and equal, max(worst, ratio)
        for stage, seconds in first_stages.items():
            share = seconds / first_seconds
            largest = max(largest, (share, f"{stage.lower()} ({folder.name})"))
            rows.append((folder.name, stage, seconds, second_stages.get(stage, 0.0), share))
        verdict = (
            "same bytes"
            if equal
            else f"not built, {errors} errors"
            if first.files is None
            else "bytes differ"
        )
        rows.append((folder.name, f"all: {verdict}", first_seconds, second_seconds, 1.0))
    return Outcome(
        ("project", "stage", "first, s", "second, s", "share of first"),
        rows,
        f"bytes {'the same' if same else 'not the same'}, second build {worst:.2f} × the first at worst, "
        f"slowest stage {largest[0]:.2f} of a build: {largest[1]}",
        f"the same bytes, second build at most {MOST_RATIO:g} × the first",
        same and worst <= MOST_RATIO,
    )


def timed(folder: Path) -> tuple[BuildResult, dict[str, float]]:
    """Build once; give the result and the seconds of each stage in order."""
    files = read_project(folder)
    source = Source(
        files.name, files.file, files.text, files.kept, {**shipped_templates(), **files.templates}
    )
    stages: dict[str, float] = {}
    current, begun = "Load the rooms", time.perf_counter()

    def progress(stage: str) -> None:
        nonlocal current, begun
        now = time.perf_counter()
        stages[current] = stages.get(current, 0.0) + now - begun
        current, begun = stage, now

    result = build(source, BuildOptions(), progress)
    progress("")
    return result, stages


STUDY = Study("build", "does a second build give the same bytes, and no slower?", run)
