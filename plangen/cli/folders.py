"""What the program may read and write: the project's folder and the output folder, nothing else."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

PROJECT_FILE = "project.yaml"
KEPT_FILES = ("marks.json",)  # small files that a build keeps beside the project
TEMPLATE_FOLDER = "templates"
TEMPLATE_ENDINGS = (".md", ".yaml", ".toml", ".txt")
MOST_READ = 1_000_001  # one byte more than a description may have, so that the reader can tell
MOST_TEMPLATE = 200_000
MOST_TEMPLATES = 200
RECORD_FILE = "record.json"
MOST_RECORD = 50_000_000


class CallError(Exception):
    """The call is at fault: a folder that is not there, an output that is in the way."""


class OutsideError(Exception):
    """A file of the project leads out of the project's folder."""

    def __init__(self, name: str) -> None:
        self.name = name
        super().__init__(f"`{name}` leads out of the project's folder")


@dataclass(frozen=True)
class ProjectFiles:
    """All that is read of a project, as it stood when the program began."""

    folder: Path
    file: str
    text: bytes
    kept: Mapping[str, bytes]
    templates: Mapping[str, str]

    @property
    def name(self) -> str:
        """The folder's name."""
        return self.folder.name


def read_project(given: Path) -> ProjectFiles:
    """Read a project from its folder or its file; raises CallError or OutsideError."""
    path = given / PROJECT_FILE if given.is_dir() else given
    if not given.exists():
        raise CallError(f"there is no {given}; make a project with `plangen new {given}`")
    if not path.is_file():
        reason = "is not a file" if path.exists() else "has no project.yaml"
        raise CallError(f"{given} {reason}; make a project with `plangen new FOLDER`")
    folder = path.parent.resolve()
    text = _read_inside(path, folder, MOST_READ)
    kept = {
        name: _read_inside(folder / name, folder, MOST_TEMPLATE)
        for name in KEPT_FILES
        if (folder / name).is_file()
    }
    return ProjectFiles(folder, path.name, text, kept, _templates(folder))


def _templates(folder: Path) -> dict[str, str]:
    """Read the maker's own words for the booklet, in order of their names."""
    top = folder / TEMPLATE_FOLDER
    if not top.is_dir():
        return {}
    found: dict[str, str] = {}
    for path in sorted(top.rglob("*")):
        if path.suffix not in TEMPLATE_ENDINGS or not path.is_file():
            continue
        name = path.relative_to(top).as_posix()
        if len(found) == MOST_TEMPLATES:
            raise CallError(f"{TEMPLATE_FOLDER}/ has more than {MOST_TEMPLATES} files")
        try:
            found[name] = _read_inside(path, folder, MOST_TEMPLATE).decode("utf-8")
        except UnicodeDecodeError:
            raise CallError(f"{TEMPLATE_FOLDER}/{name} is not UTF-8 text") from None
    return found


def _read_inside(path: Path, folder: Path, most: int) -> bytes:
    """Read no more than ``most`` bytes of a file that stands in the folder, symbolic links followed."""
    if not path.resolve().is_relative_to(folder):
        raise OutsideError(path.name)
    try:
        with path.open("rb") as stream:
            return stream.read(most)
    except OSError as error:
        raise CallError(f"{path} cannot be read: {error.strerror}") from None


def write_output(folder: Path, files: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Write a finished build, each file by one rename; raises CallError.

    Everything is written under other names first, so that a full disk or a power cut leaves the last
    good booklet as it was. The booklets (PDF) come last: when they are new, all is new.
    """
    names = sorted(files, key=lambda name: (name.endswith(".pdf"), name))
    targets = {name: _target(folder, name) for name in names}
    waiting: dict[str, Path] = {}
    try:
        for name in names:
            target = targets[name]
            target.parent.mkdir(parents=True, exist_ok=True)
            waiting[name] = target.with_name(f".{target.name}.{os.getpid()}.part")
            with waiting[name].open("wb") as stream:
                stream.write(files[name])
                stream.flush()
                os.fsync(stream.fileno())
        for name in names:
            waiting.pop(name).replace(targets[name])
    except OSError as error:
        raise CallError(f"{folder} cannot be written: {error.strerror}") from None
    finally:
        for path in waiting.values():
            path.unlink(missing_ok=True)
    return tuple(targets[name] for name in names)


def remove_stale(folder: Path, names: Sequence[str]) -> None:
    """Remove files that the last build wrote and this one does not; names that lead elsewhere are left."""
    for name in names:
        try:
            path = _target(folder, name)
        except (ValueError, CallError):
            continue
        path.unlink(missing_ok=True)


def _target(folder: Path, name: str) -> Path:
    parts = PurePosixPath(name).parts
    if not parts or name.startswith("/") or ".." in parts:
        raise ValueError(f"a build may not write {name!r}")
    target = folder.joinpath(*parts)
    if not target.parent.resolve().is_relative_to(folder.resolve()):
        raise CallError(f"{target.parent} leads out of {folder}")
    if target.is_dir():
        raise CallError(f"{target} is a folder; a file is to be written there")
    return target


def shipped_templates() -> dict[str, str]:
    """Give the booklet's words that come with plangen, by their names."""
    top = _shipped()
    return {
        path.name: path.read_text(encoding="utf-8")
        for path in sorted(top.iterdir())
        if path.is_file() and path.suffix in TEMPLATE_ENDINGS
    }


def starter_project() -> str:
    """Give the text of the starter project."""
    return (_shipped() / "starter" / PROJECT_FILE).read_text(encoding="utf-8")


def _shipped() -> Path:
    """Find the templates: in an installed wheel beside the code, in a checkout above it."""
    here = Path(__file__).resolve().parent.parent
    return next(top for top in (here / "_templates", here.parent / "templates") if top.is_dir())


def last_record(out: Path) -> bytes | None:
    """Read the record of the build that stands in the output folder, when there is one."""
    path = out / RECORD_FILE
    return _read_inside(path, out.resolve(), MOST_RECORD) if path.is_file() else None


def keep(project: ProjectFiles, kept: Mapping[str, bytes]) -> None:
    """Write back the small files that a build keeps beside the project, where they changed."""
    changed = {name: data for name, data in kept.items() if project.kept.get(name) != data}
    unknown = sorted(set(changed) - set(KEPT_FILES))
    if unknown:
        raise ValueError(f"a build may not keep {unknown[0]!r}")
    for name in changed:
        if (project.folder / name).is_symlink():
            raise OutsideError(name)
    write_output(project.folder, changed)
