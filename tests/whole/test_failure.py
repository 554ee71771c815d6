"""A build that fails leaves the last good booklet as it was."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from plangen.cli.folders import CallError, write_output
from plangen.cli.main import main
from tests.whole.making import project_file

OLD = {
    "booklet.pdf": b"%PDF old",
    "record.json": b"{}\n",
    "lists/cut-list.csv": b"Mark\r\n",
    "mine.txt": b"keep",
}


@pytest.fixture
def project(tmp_path: Path) -> Path:
    folder = tmp_path / "step-stool"
    folder.mkdir()
    shutil.copy(project_file("step-stool"), folder / "project.yaml")
    return folder


@pytest.fixture
def out(tmp_path: Path) -> Path:
    folder = tmp_path / "out"
    for name, data in OLD.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)
    return folder


def _state(folder: Path) -> dict[str, tuple[bytes, int]]:
    return {
        path.relative_to(folder).as_posix(): (path.read_bytes(), path.stat().st_mtime_ns)
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("width: 17in", "width: 17 bananas"),  # no such unit
        ("per joint: 2", "per joint: 2, per joint: 3"),  # a key twice
        ("expect:\n", "expect:\n  - width = 1in\n"),  # a fact that does not hold
        ("width: 17in ", "width: 1in "),  # sides that run into each other
    ],
)
def test_an_error_writes_nothing(project: Path, out: Path, old: str, new: str) -> None:
    file = project / "project.yaml"
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), "utf-8")
    before, kept = _state(out), _state(project)
    assert main(["build", str(project), "--out", str(out)]) == 1
    assert _state(out) == before
    assert _state(project) == kept


def test_a_wrong_setting_writes_nothing(project: Path, out: Path) -> None:
    before = _state(out)
    assert main(["build", str(project), "--out", str(out), "--set", "breadth=3in"]) == 2
    assert _state(out) == before


def test_a_crash_inside_writes_nothing(project: Path, out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("made up")

    monkeypatch.setattr("plangen.solids.build_solids", broken)
    before = _state(out)
    assert main(["build", str(project), "--out", str(out)]) == 70
    assert _state(out) == before


def test_a_full_disk_halfway_leaves_the_old_files(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The third file cannot be written: none of the three has replaced its old one, and no scrap is left."""
    real, calls = Path.open, []

    def full(self: Path, *arguments: object, **more: object) -> object:
        calls.append(self)
        if len(calls) == 3:
            raise OSError(28, "No space left on device")
        return real(self, *arguments, **more)  # type: ignore[call-overload]

    before = _state(out)
    monkeypatch.setattr(Path, "open", full)
    new = {"booklet.pdf": b"new", "record.json": b"new", "lists/cut-list.csv": b"new"}
    with pytest.raises(CallError, match="No space left"):
        write_output(out, new)
    monkeypatch.undo()
    assert _state(out) == before
