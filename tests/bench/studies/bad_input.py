"""Is every bad project answered politely, exactly, at once, and without harm?"""

from __future__ import annotations

import contextlib
import io
import tempfile
import time
from pathlib import Path

from plangen.cli.main import main
from tests.bad.cases import BASE, CASES, Case
from tests.bench.study import Outcome, Study

SLOWEST_SECONDS = 5.0
SHOWN = 12


def run(quick: bool) -> Outcome:
    """Try every case by the command line; a quick run tries each once, a full one five times."""
    answers = []
    for case in CASES:
        tries = [answer(case) for _ in range(1 if quick else 5)]
        slowest = max(seconds for _, seconds in tries)
        troubles = sorted({trouble for trouble, _ in tries if trouble})
        answers.append((case, slowest, "; ".join(troubles)))
    good = sum(not trouble and seconds < SLOWEST_SECONDS for _, seconds, trouble in answers)
    slowest = max(seconds for _, seconds, _ in answers)
    shown = sorted(answers, key=lambda row: (not row[2], -row[1]))[:SHOWN]
    return Outcome(
        ("bad project", "finding", "seconds", "trouble"),
        [(case.name, case.kind, seconds, trouble or "none") for case, seconds, trouble in shown],
        f"{good} of {len(answers)} answered as they should be (share {good / len(answers):.3f}), "
        f"slowest {slowest:.2f} s",
        f"share 1.000, slowest under {SLOWEST_SECONDS:g} s",
        good == len(answers),
    )


def answer(case: Case) -> tuple[str, float]:
    """Give what is wrong with the answer (empty: nothing), and the seconds it took."""
    with tempfile.TemporaryDirectory() as top:
        project, out = Path(top, "shelf"), Path(top, "out")
        project.mkdir()
        out.mkdir()
        (project / "project.yaml").write_bytes(case.data)
        (out / "booklet.pdf").write_bytes(BASE.encode())
        said = io.StringIO()
        wanted = 1 if case.severity == "error" else 0
        command = ["build", str(project), "--out", str(out)] if wanted else ["check", str(project)]
        begun = time.perf_counter()
        try:
            with contextlib.redirect_stderr(said), contextlib.redirect_stdout(io.StringIO()):
                code = main(command)
        except Exception as error:
            return f"raised {type(error).__name__}", time.perf_counter() - begun
        seconds = time.perf_counter() - begun
        place = f"project.yaml:{case.line}:{case.column}: " if case.line else ""
        if code != wanted:
            return f"exit code {code}", seconds
        if f"{place}{case.severity}[{case.kind}]: " not in said.getvalue():
            return "another finding or another place", seconds
        if [path.name for path in out.iterdir()] != ["booklet.pdf"]:
            return "the output was touched", seconds
        return "", seconds


STUDY = Study("bad_input", "is every bad project answered politely, exactly and at once?", run)
