"""The same project gives the same bytes, in another process with another hash seed."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

from tests.whole.making import ROOT, Made, Variant, load

STOOL = Variant("step-stool")


def test_another_process_with_another_hash_seed(built: Callable[[Variant], Made], tmp_path: Path) -> None:
    first = built(STOOL)
    subprocess.run(
        [sys.executable, "-m", "tests.whole.making", str(tmp_path), STOOL.name],
        cwd=ROOT,
        env={**os.environ, "PYTHONHASHSEED": "4711", "TZ": "Asia/Tokyo", "LC_ALL": "C"},
        check=True,
        capture_output=True,
    )
    second = load(STOOL, tmp_path)
    assert sorted(first.files) == sorted(second.files)
    assert [name for name in sorted(first.files) if first.files[name] != second.files[name]] == []
    assert first.findings == second.findings
