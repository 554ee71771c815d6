"""The command line: what it answers, reads and writes."""

from __future__ import annotations

import json
import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from plangen import pipeline
from plangen.cli import folders
from plangen.cli.folders import remove_stale
from plangen.cli.main import main
from plangen.findings import Finding, Findings
from tests.bad.cases import BASE

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def project(tmp_path):
    folder = tmp_path / "shelf"
    folder.mkdir()
    (folder / "project.yaml").write_text(BASE)
    return folder


@pytest.fixture
def build(monkeypatch):
    """Put a build in the place of the real one: no drawing, and what it was given is kept."""
    given = {}

    def made(source, options, progress):
        given.update(source=source, options=options)
        progress("Set the booklet")
        files = {"booklet.pdf": b"new", "lists/cut-list.csv": b"a,b\n", "record.json": b"{}"}
        return given.get("result", pipeline.BuildResult(Findings(), files, {"marks.json": b'{"side": "A"}'}))

    monkeypatch.setattr(pipeline, "build", made)
    return given


def run(*arguments, env=None):
    """Run the program as a maker does."""
    command = [sys.executable, "-m", "plangen", *map(str, arguments)]
    settings = {**os.environ, "PYTHONPATH": str(ROOT), **(env or {})}
    return subprocess.run(command, capture_output=True, text=True, timeout=60, check=False, env=settings)


def test_help_names_every_command_and_loads_no_room():
    code = "import sys; from plangen.cli.main import main; main(['--help']); print(sorted(sys.modules))"
    said = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT
    ).stdout
    for command in ("new", "check", "build", "schema"):
        assert command in said
    for module in (
        "pydantic",
        "numpy",
        "ruamel",
        "reportlab",
        "rich",
        "plangen.pipeline",
        "plangen.expressions",
    ):
        assert f"'{module}'" not in said


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["chek"],
        ["build"],
        ["build", "x", "--paper", "a5"],
        ["build", "x", "--nonsense"],
        ["new"],
        ["check", "a", "b"],
    ],
)
def test_a_bad_call_is_answered_with_the_usage(arguments, capsys):
    assert main(arguments) == 2
    assert "usage: plangen" in capsys.readouterr().err


@pytest.mark.parametrize("missing", ["nowhere", "empty"])
def test_a_project_that_is_not_there(missing, tmp_path, capsys):
    (tmp_path / "empty").mkdir()
    for command in ("check", "build"):
        assert main([command, str(tmp_path / missing)]) == 2
        assert "plangen new" in capsys.readouterr().err


def test_a_project_that_is_no_file(tmp_path, capsys):
    os.mkfifo(tmp_path / "project.yaml")
    assert main(["check", str(tmp_path)]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_new_makes_a_project_that_checks(tmp_path, capsys):
    folder = tmp_path / "deep" / "shelf"
    assert main(["new", str(folder)]) == 0
    assert main(["check", str(folder)]) == 0
    said = capsys.readouterr()
    assert said.err == ""
    assert "project.yaml is sound" in said.out


def test_new_changes_nothing_that_is_there(project, capsys):
    assert main(["new", str(project)]) == 2
    assert (project / "project.yaml").read_text() == BASE
    assert "already" in capsys.readouterr().err


def test_check_takes_the_file_as_well_as_the_folder(project):
    assert main(["check", str(project / "project.yaml")]) == 0


def test_check_as_json(project, capsys):
    (project / "project.yaml").write_text(BASE.replace("units: inch", "units: inches"))
    assert main(["check", str(project), "--json"]) == 1
    said = capsys.readouterr()
    (row,) = json.loads(said.out)
    assert (row["kind"], row["place"]["line"]) == ("unknown-word", 2)
    assert said.err == ""


def test_schema_is_json(capsys):
    assert main(["schema"]) == 0
    assert json.loads(capsys.readouterr().out)["$schema"].startswith("https://json-schema.org/")


def test_a_setting_reaches_the_design(project, capsys):
    assert main(["check", str(project), "--set", "height=17in"]) == 1  # the fact about `clear` fails
    assert "error[fact-fails]" in capsys.readouterr().err


def test_a_bad_setting_is_the_calls_fault(project, capsys):
    assert main(["check", str(project), "--set", "width=24in", "--set", "hight=17in"]) == 2
    said = capsys.readouterr().err
    assert "--set:2:1: error[unknown-name]" in said
    assert "  2 | hight=17in\n    | ^^^^^\n" in said


def test_build_writes_everything_and_keeps_the_marks(project, build, tmp_path, capsys):
    out = tmp_path / "out"
    assert (
        main(
            [
                "build",
                str(project),
                "--out",
                str(out),
                "--paper",
                "a4",
                "--units",
                "both",
                "--edition",
                "binder",
            ]
        )
        == 0
    )
    assert (out / "booklet.pdf").read_bytes() == b"new"
    assert (out / "lists" / "cut-list.csv").read_bytes() == b"a,b\n"
    assert (project / "marks.json").read_bytes() == b'{"side": "A"}'
    assert build["options"] == pipeline.BuildOptions("a4", "both", "binder")
    assert build["source"].text == BASE.encode()
    assert build["source"].last_record is None
    said = capsys.readouterr()
    assert said.err == "Set the booklet\n"
    assert said.out.splitlines()[-1] == f"wrote {out / 'booklet.pdf'} and 2 files beside it"
    assert not [path for path in out.rglob("*") if path.name.endswith(".part")]


def test_what_the_last_build_left_behind_goes_and_nothing_else(tmp_path):
    out = tmp_path / "out"
    (out / "drawings").mkdir(parents=True)
    for name in ("drawings/part-E.svg", "notes.txt"):
        (out / name).write_text("x")
    outside = tmp_path / "outside.txt"
    outside.write_text("x")
    remove_stale(
        out, ("drawings/part-E.svg", "drawings/part-F.svg", "../outside.txt", str(outside), "drawings")
    )
    assert not (out / "drawings" / "part-E.svg").exists()
    assert (out / "notes.txt").exists()
    assert outside.exists()
    assert (out / "drawings").is_dir()


def test_the_next_build_sees_what_the_last_one_left(project, build, tmp_path):
    out = tmp_path / "out"
    main(["build", str(project), "--out", str(out)])
    main(["build", str(project), "--out", str(out), "--set", "width=2ft"])
    assert build["source"].last_record == b"{}"
    assert build["source"].kept == {"marks.json": b'{"side": "A"}'}
    assert build["source"].settings == ("width=2ft",)


def test_output_goes_to_a_folder_named_as_the_project(project, build, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert main(["build", "shelf"]) == 0
    assert (tmp_path / "output" / "shelf" / "booklet.pdf").exists()
    monkeypatch.chdir(project)
    assert main(["build", "."]) == 0
    assert (project / "output" / "shelf" / "booklet.pdf").exists()


def test_the_makers_words_go_before_ours(project, build, tmp_path):
    (project / "templates").mkdir()
    (project / "templates" / "cover.md").write_text("mine")
    (project / "templates" / "picture.png").write_bytes(b"\xff")
    main(["build", str(project), "--out", str(tmp_path / "out")])
    templates = build["source"].templates
    assert templates["cover.md"] == "mine"
    assert templates["steps.md"] == (ROOT / "templates" / "steps.md").read_text()
    assert "picture.png" not in templates


def test_errors_leave_the_last_good_booklet(project, build, tmp_path, capsys):
    out = tmp_path / "out"
    main(["build", str(project), "--out", str(out)])
    before = {path: path.read_bytes() for path in [*out.rglob("*"), *project.rglob("*")] if path.is_file()}
    build["result"] = pipeline.BuildResult(Findings([Finding("fact-fails", "no", None)]))
    assert main(["build", str(project), "--out", str(out)]) == 1
    after = {path: path.read_bytes() for path in [*out.rglob("*"), *project.rglob("*")] if path.is_file()}
    assert after == before
    assert "error[fact-fails]: no" in capsys.readouterr().err


def test_a_full_disk_leaves_the_last_good_booklet(project, build, tmp_path, monkeypatch, capsys):
    out = tmp_path / "out"
    out.mkdir()
    (out / "booklet.pdf").write_bytes(b"old")
    (out / "record.json").write_bytes(b"old record")

    def full(_descriptor):
        if sum(path.name.endswith(".part") for path in out.rglob("*")) == 3:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr(folders.os, "fsync", full)
    assert main(["build", str(project), "--out", str(out)]) == 2
    assert (out / "booklet.pdf").read_bytes() == b"old"
    assert (out / "record.json").read_bytes() == b"old record"
    assert not [path for path in out.rglob("*") if path.name.endswith(".part")]
    assert not (project / "marks.json").exists()
    assert "No space left on device" in capsys.readouterr().err


def test_an_output_that_is_in_the_way(project, build, tmp_path, capsys):
    (tmp_path / "out").write_text("a file")
    assert main(["build", str(project), "--out", str(tmp_path / "out")]) == 2
    assert (tmp_path / "out").read_text() == "a file"
    assert "is not a folder" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["../stolen.txt", "/stolen.txt", "a/../../stolen.txt", ""])
def test_a_build_cannot_write_outside_its_folder(name, project, build, tmp_path):
    out = tmp_path / "out"
    build["result"] = pipeline.BuildResult(Findings(), {name: b"x"}, {})
    assert main(["build", str(project), "--out", str(out)]) == 70
    assert not (tmp_path / "stolen.txt").exists()


def test_a_link_in_the_output_folder_is_not_followed_out(project, build, tmp_path):
    out, elsewhere = tmp_path / "out", tmp_path / "elsewhere"
    out.mkdir()
    elsewhere.mkdir()
    (out / "lists").symlink_to(elsewhere)
    assert main(["build", str(project), "--out", str(out)]) == 2
    assert list(elsewhere.iterdir()) == []


def test_a_fault_of_plangen_is_one_line(project, monkeypatch, capsys):
    def broken(*_):
        raise KeyError("left\nside")

    monkeypatch.setattr(pipeline, "build", broken)
    monkeypatch.delenv("PLANGEN_DEBUG", raising=False)
    assert main(["build", str(project)]) == 70
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert "fault of plangen" in said
    monkeypatch.setenv("PLANGEN_DEBUG", "1")
    with pytest.raises(KeyError):
        main(["build", str(project)])


def test_plain_lines_where_there_is_no_terminal(project):
    (project / "project.yaml").write_text(BASE.replace("units: inch", "units: inches"))
    done = run("build", project, "--out", project.parent / "out", env={"FORCE_COLOR": "", "NO_COLOR": "1"})
    assert done.returncode == 1
    assert "\x1b" not in done.stderr + done.stdout
    assert done.stderr.startswith("Read the description\n")
    assert "project.yaml:2:37: error[unknown-word]" in done.stderr


def test_a_terminal_that_knows_little_still_gets_an_answer(project):
    (project / "project.yaml").write_text(BASE.replace("depth: 6in", "depth: 6”"))
    done = run("check", project, env={"PYTHONIOENCODING": "ascii:strict"})
    assert done.returncode == 1
    assert "error[curly-quote]" in done.stderr


def test_written_files_can_be_read_by_others(project, build, tmp_path):
    out = tmp_path / "out"
    main(["build", str(project), "--out", str(out)])
    umask = os.umask(0)
    os.umask(umask)
    assert stat.S_IMODE((out / "booklet.pdf").stat().st_mode) == 0o666 & ~umask
