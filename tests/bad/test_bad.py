"""Every bad project is answered at once, politely and exactly, and harms nothing."""

from __future__ import annotations

import re
import time

import pytest

from plangen.cli.main import main
from plangen.joinery.joints import JOINTS as JOINT_KINDS
from plangen.joinery.operations import OPERATIONS
from tests.bad.buying import SHELF
from tests.bad.cases import BASE, CASES, Case
from tests.bad.constructs import CHEST, STOOL
from tests.bad.kinds import JOINTS, WORK
from tests.docs.examples import file_name, joint_title

SLOWEST_SECONDS = 5.0


def answer(project, out, capsys, command: str = "build") -> tuple[int, str, float]:
    """Run a command and give its exit code, what it said on standard error, and the seconds it took."""
    arguments = [command, str(project)] + (["--out", str(out)] if command == "build" else [])
    begun = time.perf_counter()
    code = main(arguments)
    return code, capsys.readouterr().err, time.perf_counter() - begun


@pytest.fixture
def out(tmp_path):
    """An output folder with the last good booklet in it."""
    folder = tmp_path / "out"
    folder.mkdir()
    (folder / "booklet.pdf").write_bytes(b"the last good booklet")
    return folder


@pytest.fixture
def project(tmp_path):
    folder = tmp_path / "shelf"
    folder.mkdir()
    return folder


def expected_line(case: Case) -> str:
    place = f"project.yaml:{case.line}:{case.column}: " if case.line else ""
    return f"{place}{case.severity}[{case.kind}]: "


@pytest.mark.parametrize("case", CASES, ids=[case.name for case in CASES])
def test_a_bad_project_gets_its_finding_at_its_place(case, project, out, capsys):
    (project / "project.yaml").write_bytes(case.data)
    code, said, seconds = answer(project, out, capsys, "check" if case.severity == "warning" else "build")
    assert expected_line(case) in said
    assert code == (0 if case.severity == "warning" else 1)
    assert "Traceback" not in said
    assert seconds < SLOWEST_SECONDS
    assert [path.name for path in out.iterdir()] == ["booklet.pdf"]
    assert (out / "booklet.pdf").read_bytes() == b"the last good booklet"
    assert [path.name for path in project.iterdir()] == ["project.yaml"]


@pytest.mark.parametrize("case", CASES, ids=[case.name for case in CASES])
def test_what_is_said_is_short_enough_to_read(case, project, out, capsys):
    (project / "project.yaml").write_bytes(case.data)
    _, said, _ = answer(project, out, capsys, "check")
    assert said.count("\n") < 160
    assert max(len(line) for line in said.splitlines()) < 1200


@pytest.mark.parametrize("base", [BASE, CHEST, STOOL, SHELF], ids=["shelf", "chest", "stool", "tool shelf"])
def test_the_sound_project_is_sound(base, project, out, capsys):
    """Without this the slips above would prove nothing."""
    (project / "project.yaml").write_text(base)
    code, said, _ = answer(project, out, capsys, "check")
    assert (code, said) == (0, "")


def test_a_long_chain_of_names_is_worked_out(project, out, capsys):
    chain = "".join(f"  c{i}: c{i + 1} + 1in\n" for i in range(500))
    (project / "project.yaml").write_text(BASE.replace("sizes:\n", f"sizes:\n{chain}  c500: 1in\n"))
    assert answer(project, out, capsys, "check")[:2] == (0, "")


def test_every_kind_of_joint_and_of_work_is_spoilt():
    spoilt = {case.name.partition(",")[0] for case in (*JOINTS, *WORK)}
    wanted = {joint_title(kind) for kind in JOINT_KINDS} | {*OPERATIONS}
    assert {file_name(kind) for kind in wanted} <= spoilt


def test_every_kind_is_a_slug():
    assert all(re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", case.kind) for case in CASES)


@pytest.mark.parametrize("name", ["project.yaml", "marks.json", "templates/cover.md"])
def test_a_link_that_leaves_the_project_is_refused(name, project, out, tmp_path, capsys):
    secret = tmp_path / "secret"
    secret.write_text("not for the booklet")
    (project / "project.yaml").write_text(BASE)
    link = project / name
    link.unlink(missing_ok=True)
    link.parent.mkdir(exist_ok=True)
    link.symlink_to(secret)
    code, said, _ = answer(project, out, capsys)
    assert code == 1
    assert "error[outside-folder]" in said
    assert "not for the booklet" not in said
    assert (out / "booklet.pdf").read_bytes() == b"the last good booklet"


def test_a_folder_of_templates_that_leaves_the_project_is_refused(project, out, tmp_path, capsys):
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / "cover.md").write_text("not for the booklet")
    (project / "project.yaml").write_text(BASE)
    (project / "templates").symlink_to(tmp_path / "elsewhere")
    code, said, _ = answer(project, out, capsys)
    assert code == 1
    assert "error[outside-folder]" in said


def test_a_link_inside_the_project_is_fine(project, out, capsys):
    (project / "first.yaml").write_text(BASE)
    (project / "project.yaml").symlink_to(project / "first.yaml")
    code, _, _ = answer(project, out, capsys, "check")
    assert code == 0


@pytest.mark.parametrize("data", [b"", b"{", b"[]", b'{"a": {"b": [1e999]}}', b"\xff", b"[" * 100_000])
def test_a_spoilt_marks_file_is_no_fault_of_plangen(data, project, out, capsys):
    (project / "project.yaml").write_text(BASE)
    (project / "marks.json").write_bytes(data)
    code, said, _ = answer(project, out, capsys, "check")
    assert code in (0, 1)
    assert "fault of plangen" not in said


@pytest.mark.parametrize(
    "attack",
    [
        "{{ ''.__class__.__mro__ }}",
        "{{ design.__class__ }}",
        "{{ cycler.__init__.__globals__ }}",
        "{% import 'os' as os %}",
        "{% include '../../secret' %}",
        "{{ lipsum() }}",
        "{% for a in range(999999999) %}x{% endfor %}",
        "{{ 'x' * 9999999999 }}",
        "{{ undefined_name }}",
        "{% if %}",
    ],
)
def test_template_text_cannot_reach_python(attack, project, out, capsys):
    (project / "project.yaml").write_text(BASE)
    (project / "templates").mkdir()
    (project / "templates" / "cover.md").write_text(f"# Cover\n\n{attack}\n")
    code, said, seconds = answer(project, out, capsys)
    assert code == 1
    assert "error[template-fault]: cover.md:" in said
    assert seconds < SLOWEST_SECONDS
    assert (out / "booklet.pdf").read_bytes() == b"the last good booklet"
