"""Sound projects, and what is found once a fault is planted in one."""

from __future__ import annotations

from pathlib import Path

from plangen.findings import Finding, Severity
from plangen.pipeline import Source, check
from tests.bad.cases import BASE

ROOT = Path(__file__).resolve().parents[2]
OAK_TABLE = (Path(__file__).parent / "oak_table.yaml").read_text(encoding="utf-8")
SHELF = BASE
EXAMPLES = {
    name: (ROOT / "projects" / name / "project.yaml").read_text(encoding="utf-8")
    for name in ("step-stool", "wall-cabinet")
}


def found(project: str, *slips: tuple[str, str]) -> tuple[Finding, ...]:
    """All findings of a project in which each text is replaced by another; each must be there once."""
    for old, new in slips:
        assert project.count(old) == 1, f"{old!r} stands {project.count(old)} times"
        project = project.replace(old, new)
    return check(Source("planted", "project.yaml", project.encode())).findings.sorted()


def only(findings: tuple[Finding, ...], kind: str, severity: Severity) -> Finding:
    """The one finding of a kind; nothing else may be an error."""
    wanted = [finding for finding in findings if finding.kind == kind]
    assert len(wanted) == 1, [finding.message for finding in findings]
    assert wanted[0].severity is severity
    others = [one for one in findings if one is not wanted[0] and one.severity is Severity.ERROR]
    assert not others, [finding.message for finding in others]
    return wanted[0]


def line_of(project: str, text: str) -> int:
    """The line of the file in which a text stands."""
    return project[: project.index(text)].count("\n") + 1
