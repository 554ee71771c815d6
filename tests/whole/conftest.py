"""Build each variant once, in two processes beside the tests, and let a test wait for what it needs."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from tests.whole.making import ALL, ROOT, Made, Variant, load

# The first of each line is built first; the two lines go on side by side.
EVERYDAY = (
    (Variant("wall-cabinet"), Variant("wall-cabinet", "sample", "a4", "mm")),
    (
        Variant("step-stool"),
        Variant("step-stool", "sample", "letter", "inch"),
        Variant("step-stool", "binder", "a4", "mm"),
    ),
)
# Built after those, and read back by fewer tests: what moves, and what leans.
MORE = (
    (Variant("splayed-stool", "binder", "letter", "inch"),),
    (Variant("blanket-chest", "publish", "letter", "inch"),),
)
PATIENCE = 600.0  # seconds for one build, on a machine that others use too


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """The studies of every variant take minutes: they run only where they are asked for by ``-m bench``."""
    if "bench" in (config.option.markexpr or ""):
        return
    for item in items:
        if item.get_closest_marker("bench"):
            item.add_marker(pytest.mark.skip(reason="a slow study: pytest -m bench tests/whole"))


class Builders:
    """Processes that build variants into a folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._processes: dict[str, subprocess.Popen[bytes]] = {}

    def start(self, variants: tuple[Variant, ...], seed: str) -> None:
        names = [variant.name for variant in variants]
        with (self.folder / f"{names[0]}.log").open("wb") as log:
            process = subprocess.Popen(
                [sys.executable, "-m", "tests.whole.making", str(self.folder), *names],
                cwd=ROOT,
                env={**os.environ, "PYTHONHASHSEED": seed},
                stdout=log,
                stderr=subprocess.STDOUT,
            )
        for name in names:
            self._processes[name] = process

    def wait(self, variant: Variant) -> Made:
        done, process = self.folder / f"{variant.name}.done", self._processes[variant.name]
        end = time.monotonic() + PATIENCE
        while not done.exists():
            if process.poll() is not None and not done.exists():
                logs = "\n".join(path.read_text("utf-8") for path in sorted(self.folder.glob("*.log")))
                pytest.fail(f"the build of {variant.name} broke off:\n{logs[-3000:]}")
            if time.monotonic() > end:
                pytest.fail(f"the build of {variant.name} takes more than {PATIENCE:g} s")
            time.sleep(0.05)
        return load(variant, self.folder)

    def stop(self) -> None:
        for process in self._processes.values():
            if process.poll() is None:
                process.kill()
            process.wait()


@pytest.fixture(scope="session")
def builders(tmp_path_factory: pytest.TempPathFactory, request: pytest.FixtureRequest) -> Iterator[Builders]:
    made = Builders(tmp_path_factory.mktemp("built"))
    lines = tuple((*first, *more) for first, more in zip(EVERYDAY, MORE, strict=True))
    if "bench" in (request.config.option.markexpr or ""):
        lines = ((*ALL[::2], *MORE[0]), (*ALL[1::2], *MORE[1]))
    for seed, line in enumerate(lines, 1):
        made.start(line, str(seed))
    yield made
    made.stop()


@pytest.fixture(scope="session")
def built(builders: Builders) -> Callable[[Variant], Made]:
    """Give the build of a variant, as soon as it is there."""
    return cache(builders.wait)


@pytest.fixture(scope="session")
def checked() -> Callable[..., Any]:
    """Give a project that went through the checks, by its name and settings."""
    from plangen.pipeline import check
    from tests.whole.making import source

    @cache
    def give(project: str, *settings: str) -> Any:
        result = check(source(project, settings))
        assert result.checked is not None, [str(one.message) for one in result.findings]
        return result.checked

    return give
