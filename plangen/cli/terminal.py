"""How the program speaks: findings with colour where there is a terminal, plain lines where not."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from typing import IO

from plangen.findings import Finding, Findings, render

STYLES = {
    "error": "bold red",
    "warning": "bold yellow",
    "note": "bold cyan",
    "place": "bold",
    "line": "blue",
    "help": "bold green",
}


def say(words: str, stream: IO[str] | None = None) -> None:
    """Print a line; a terminal that lacks a character gets a question mark for it."""
    out = stream or sys.stdout
    try:
        out.write(words + "\n")
    except UnicodeEncodeError:
        encoding = getattr(out, "encoding", None) or "ascii"
        out.write(words.encode(encoding, "replace").decode(encoding) + "\n")
    out.flush()


def show(findings: Findings | tuple[Finding, ...], sources: Mapping[str, str]) -> None:
    """Print findings to standard error."""
    text = render(findings, sources, _mark() if sys.stderr.isatty() else lambda role, words: words)
    if text:
        say(text.rstrip("\n"), sys.stderr)


def _mark() -> Callable[[str, str], str]:
    from rich.color import ColorSystem
    from rich.console import Console
    from rich.style import Style

    console = Console(stderr=True)
    if console.no_color or console.color_system is None:
        return lambda role, words: words
    styles = {role: Style.parse(style) for role, style in STYLES.items()}
    return lambda role, words: styles[role].render(words, color_system=ColorSystem.STANDARD)


@contextmanager
def progress() -> Iterator[Callable[[str], None]]:
    """Give a function that tells the stage of the work, on standard error."""
    if not sys.stderr.isatty():
        yield lambda stage: say(stage, sys.stderr)
        return
    from rich.console import Console
    from rich.markup import escape

    console = Console(stderr=True)
    with console.status("reading the project") as status:

        def tell(stage: str) -> None:
            status.update(escape(stage))

        yield tell
