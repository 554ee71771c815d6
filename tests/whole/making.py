"""Build variants of the example projects into a folder, each in a folder of its own.

Run as a program, so that several processes can build at once and each has its own hash seed:
``python -m tests.whole.making FOLDER VARIANT…`` where a variant is ``project,edition,paper,units``.
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import product
from pathlib import Path
from typing import Any
from unittest import mock

ROOT = Path(__file__).parents[2]
PROJECTS = ("step-stool", "wall-cabinet")
EDITIONS = ("publish", "binder", "sample")
PAPERS = ("letter", "a4")
UNITS = ("inch", "mm", "both")


@dataclass(frozen=True, order=True)
class Variant:
    """One booklet of one project."""

    project: str
    edition: str = "publish"
    paper: str = "letter"
    units: str = "inch"

    @property
    def name(self) -> str:
        return ",".join((self.project, self.edition, self.paper, self.units))

    @classmethod
    def named(cls, name: str) -> Variant:
        return cls(*name.split(","))


ALL = tuple(Variant(*choice) for choice in product(PROJECTS, EDITIONS, PAPERS, UNITS))


@dataclass(frozen=True)
class Made:
    """What one build gave, how many drawings it painted or wrote, and what overlaps in them."""

    variant: Variant
    files: dict[str, bytes]
    findings: tuple[tuple[str, str, str], ...]  # severity, kind, message
    drawings: int = 0
    overlaps: tuple[str, ...] = ()

    @property
    def pdf(self) -> bytes:
        return self.files["booklet.pdf"]


def templates() -> dict[str, str]:
    folder = ROOT / "templates"
    return {
        path.relative_to(folder).as_posix(): path.read_text("utf-8")
        for path in sorted(folder.rglob("*"))
        if path.suffix in (".md", ".toml") and path.is_file()
    }


def project_file(project: str) -> Path:
    return ROOT / "projects" / project / "project.yaml"


def source(project: str, settings: Sequence[str] = ()):  # type: ignore[no-untyped-def]
    """Everything that is read of a project."""
    from plangen.pipeline import Source

    path = project_file(project)
    kept = {name: data for name in ("marks.json",) if (data := _bytes(path.with_name(name))) is not None}
    own = path.with_name("templates")
    words = {one.name: one.read_text("utf-8") for one in sorted(own.glob("*")) if one.is_file()}
    return Source(project, path.name, path.read_bytes(), kept, templates() | words, tuple(settings))


def _bytes(path: Path) -> bytes | None:
    return path.read_bytes() if path.is_file() else None


@contextmanager
def watched() -> Iterator[dict[Any, None]]:
    """Give every different drawing that is painted on a page or written to a file meanwhile."""
    from plangen import plates
    from plangen.booklet import blocks, cover, patterns

    drawn: dict[Any, None] = {}

    def watching(write: Any) -> Any:
        def watch(drawing: Any, *rest: Any, **named: Any) -> Any:
            drawn.setdefault(drawing)
            return write(drawing, *rest, **named)

        return watch

    with (
        mock.patch.object(blocks, "paint", watching(blocks.paint)),
        mock.patch.object(cover, "paint", watching(cover.paint)),
        mock.patch.object(patterns, "paint", watching(patterns.paint)),
        mock.patch.object(plates, "svg_bytes", watching(plates.svg_bytes)),
    ):
        yield drawn


def make(variant: Variant) -> Made:
    from plangen.drawing.sheet.measure import overlaps
    from plangen.pipeline import BuildOptions, build

    options = BuildOptions(variant.paper, variant.units, variant.edition)  # type: ignore[arg-type]
    with watched() as drawn:
        result = build(source(variant.project), options)
    findings = tuple((one.severity.value, one.kind, one.message) for one in result.findings)
    found = tuple(f"{one.title}: {where}" for one in drawn if (where := overlaps(one)).count)
    return Made(variant, dict(result.files or {}), findings, len(drawn), found)


def save(made: Made, folder: Path) -> None:
    """Write a build; the mark that it is complete comes last."""
    place = folder / made.variant.name
    for name, data in made.files.items():
        (place / name).parent.mkdir(parents=True, exist_ok=True)
        (place / name).write_bytes(data)
    done = folder / f"{made.variant.name}.part"
    done.write_text(json.dumps([made.findings, made.drawings, made.overlaps]), "utf-8")
    done.rename(folder / f"{made.variant.name}.done")


def load(variant: Variant, folder: Path) -> Made:
    place = folder / variant.name
    files = {
        path.relative_to(place).as_posix(): path.read_bytes()
        for path in sorted(place.rglob("*"))
        if path.is_file()
    }
    findings, drawings, overlaps = json.loads((folder / f"{variant.name}.done").read_text("utf-8"))
    said = tuple((one[0], one[1], one[2]) for one in findings)
    return Made(variant, files, said, drawings, tuple(overlaps))


def main(folder: str, *names: str) -> None:
    for name in names:
        begun = time.perf_counter()
        save(make(Variant.named(name)), Path(folder))
        print(name, f"{time.perf_counter() - begun:.1f} s", flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
