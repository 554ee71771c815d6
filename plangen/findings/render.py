"""Findings for people, as a good compiler shows them, and for programs as JSON."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from plangen.findings.model import Finding, Findings, Place, Severity

Mark = Callable[[str, str], str]  # role, words -> words with their colour
WIDEST = 110  # columns of a source line that are shown
_SPACES = "\t\u00a0\u2009\u202f"
MOST_SHOWN = 40  # more than anyone mends in one sitting


def plain(role: str, words: str) -> str:
    """Give words without colour; the roles are error, warning, note, place, line, help."""
    return words


def render(
    findings: Findings | Iterable[Finding],
    sources: Mapping[str, str],
    mark: Mark = plain,
) -> str:
    """Print findings in the order of the file.

    ``sources`` gives the text of each file named by a place; a line that is not there is left out.
    ``mark`` wraps words in colour by their role. What one line causes at every contact of a joint, or
    for every copy, is shown once, with how many more there are. After 40 findings the rest is only
    counted, and the text ends with the count of all.
    """
    items = findings if isinstance(findings, Findings) else Findings(list(findings))
    ordered = _merged(items.sorted())
    lines = {name: text.splitlines() for name, text in sources.items()}
    blocks = [_block(item, lines, mark) for item in ordered[:MOST_SHOWN]]
    if len(ordered) > MOST_SHOWN:
        blocks.append(f"… and {len(ordered) - MOST_SHOWN} more")
    if ordered:
        blocks.append(_count(ordered))
    return "\n\n".join(blocks) + ("\n" if blocks else "")


def as_json(findings: Findings | Iterable[Finding]) -> str:
    """Print findings as a JSON list: kind, severity, message, remedy, part, place and further places."""
    items = findings if isinstance(findings, Findings) else Findings(list(findings))
    rows = [
        {
            "kind": item.kind,
            "severity": item.severity.value,
            "message": item.message,
            "remedy": item.remedy,
            "part": item.part,
            "place": _place_row(item.place),
            "also": [{**(_place_row(place) or {}), "words": words} for place, words in item.also],
        }
        for item in items.sorted()
    ]
    return json.dumps(rows, ensure_ascii=False, indent=2) + "\n"


def _merged(items: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Keep the first of those that have kind, place and remedy in common, and say how many it stands for."""
    groups: dict[tuple[object, ...], list[Finding]] = {}
    for number, item in enumerate(items):
        alone = item.place is None or not item.place.line
        key = (number,) if alone else (item.kind, item.severity, item.place, item.remedy)
        groups.setdefault(key, []).append(item)
    return tuple(
        replace(group[0], message=f"{group[0].message} (and {len(group) - 1} more like it)")
        if len(group) > 1
        else group[0]
        for group in groups.values()
    )


def _block(item: Finding, lines: Mapping[str, list[str]], mark: Mark) -> str:
    severity = item.severity.value
    head = mark(severity, f"{severity}[{item.kind}]")
    message = _visible(item.message)
    rows = []
    if item.place is not None and item.place.line:
        rows.append(f"{mark('place', str(item.place))}: {head}: {message}")
        rows.extend(_shown(item.place, lines, mark, severity))
    else:
        rows.append(f"{head}: {message}")
    if item.remedy:
        rows.append(f"  {mark('help', 'help')}: {_visible(item.remedy)}")
    for place, words in item.also:
        rows.append(f"  {mark('help', 'see also')} {mark('place', str(place))}: {_visible(words)}")
        rows.extend(_shown(place, lines, mark, "note"))
    return "\n".join(rows)


def _shown(place: Place, lines: Mapping[str, list[str]], mark: Mark, role: str) -> list[str]:
    """Give the source line with the part at fault underlined; a long line is cut round that part."""
    source = lines.get(place.file, [])
    if not 1 <= place.line <= len(source):
        return []
    line = _visible(source[place.line - 1])
    start = min(max(place.column - 1, 0), len(line))
    first = 0 if start < WIDEST - 20 else start - WIDEST // 2
    cut = line[first : first + WIDEST]
    prefix = "…" if first else ""
    suffix = "…" if len(line) > first + WIDEST else ""
    length = max(1, min(place.length, len(cut) - (start - first)))
    number = str(place.line)
    margin = " " * len(number)
    lead = " " * (len(prefix) + start - first)
    return [
        f"  {mark('line', number + ' |')} {prefix}{cut}{suffix}".rstrip(),
        f"  {mark('line', margin + ' |')} {lead}{mark(role, '^' * length)}",
    ]


def _count(items: tuple[Finding, ...]) -> str:
    counts = []
    for severity in Severity:
        number = sum(item.severity is severity for item in items)
        if number:
            counts.append(f"{number} {severity.value}{'' if number == 1 else 's'}")
    return ", ".join(counts)


def _visible(text: str) -> str:
    """Replace what would move a terminal's cursor; one character for one, so that columns stay.

    The spaces that keep a number and its unit on one line of a booklet are plain ones here.
    """
    return "".join(
        " " if character in _SPACES else character if character.isprintable() else "\ufffd"
        for character in text
    )


def _place_row(place: Place | None) -> dict[str, str | int] | None:
    if place is None:
        return None
    return {"file": place.file, "line": place.line, "column": place.column, "length": place.length}
