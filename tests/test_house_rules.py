"""What every change must keep: lint, format, types, one-way rooms, and a developers' page that is true."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
BIN = Path(sys.executable).parent


def _run(*command: str) -> None:
    done = subprocess.run(
        [str(BIN / command[0]), *command[1:]], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout[-6000:] + done.stderr[-3000:]


def test_lint() -> None:
    _run("ruff", "check", "--no-cache", "plangen", "tests")


def test_format() -> None:
    _run("ruff", "format", "--no-cache", "--check", "plangen", "tests")


def test_types() -> None:
    _run("mypy")


def test_rooms_import_one_way() -> None:
    _run("lint-imports", "--no-cache")


def test_developers_page_names_every_room_and_nothing_else() -> None:
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    named = set(re.findall(r"`(plangen/[\w/]+)/`", page))
    rooms = {
        f"plangen/{path.name}"
        for path in (ROOT / "plangen").iterdir()
        if path.is_dir() and (path / "__init__.py").exists()
    }
    assert rooms <= named
    for path in re.findall(r"`((?:plangen|tests|templates|projects)/[\w./-]*)`", page):
        assert (ROOT / path).exists(), f"DEVELOPERS.md names {path}, which is not there"


@pytest.mark.parametrize("name", ["build", "test"])
def test_readme_holds_the_command(name: str) -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    found = re.search(rf"<!-- {name} command -->\n```sh\n(.+)\n```", text)
    assert found is not None
    assert found.group(1).startswith("python3 -m venv .venv && .venv/bin/pip install")


def test_ci_runs_the_test_command_of_the_readme() -> None:
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert "<!-- test command -->" in script
    assert "README.md" in script
