"""A comparison in words: Markdown for the maker's report, plain lines for the terminal."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

from plangen.record.model import (
    AssemblyChange,
    Comparison,
    HardwareChange,
    PageChange,
    PartChange,
    Reading,
    SizeChange,
    StepChange,
    WorkChange,
)
from plangen.units import Length, LengthStyle, print_length, print_reading

T = TypeVar("T")

_SIGNS = re.compile(r"([\\`*_\[\]<>#|])")
NOT_THERE = "–"


def changes_markdown(comparison: Comparison, style: LengthStyle) -> str:
    """Say in Markdown what changed, lengths as ``style`` prints them; empty when nothing did."""
    if not comparison.comparable:
        return f"{_plain(comparison.reason)}\n"
    if not comparison.changed:
        return ""
    sections = [
        (title, [_markdown_line(*line) for line in lines])
        for title, lines in _sections(comparison, style)
        if lines
    ]
    head = _plain(_heading(comparison))
    body = (f"### {title}\n\n" + "\n".join(f"- {line}" for line in lines) for title, lines in sections)
    return "\n\n".join((head, *body)) + "\n"


def report_text(comparison: Comparison) -> str:
    """Say in plain lines what changed, as printed at the time; ends with a newline."""
    if not comparison.comparable:
        return f"{comparison.reason}\n"
    if not comparison.changed:
        return "Nothing changed since the last build.\n"
    lines = [_heading(comparison)]
    for title, entries in _sections(comparison, None):
        if entries:
            lines.append(f"{title}:")
            lines.extend(f"  {lead + ': ' if lead else ''}{rest}" for lead, rest in entries)
    return "\n".join(lines).replace("\u00a0", " ") + "\n"


Line = tuple[str, str]  # what it is about, what is said of it


def _sections(comparison: Comparison, style: LengthStyle | None) -> list[tuple[str, list[Line]]]:
    sizes = [_size(change, style) for change in comparison.sizes if _told(change, style)]
    hidden = len(comparison.sizes) - len(sizes)
    if hidden:
        few = "1 more size moves" if hidden == 1 else f"{hidden} more sizes move"
        sizes.append(("", f"{few} by less than what is printed"))
    pages = _pages(comparison.pages)
    if not comparison.pages_compared:
        pages = [("", "not compared: the last booklet was of another edition, paper or unit")]
    return [
        ("Who must act", [("", act) for act in comparison.acts]),
        ("Sizes", sizes),
        ("Parts", [_part(change) for change in comparison.parts]),
        ("Work on parts", [_work(change) for change in comparison.work]),
        ("Hardware", [_hardware(change) for change in comparison.hardware]),
        ("Joints", [(one.name, _now(one.old.lower(), one.new.lower())) for one in comparison.joints]),
        ("Assemblies", [_assembly(change) for change in comparison.assemblies]),
        ("Steps", _steps(comparison.steps)),
        ("Pages", pages),
        ("Totals", [(one.name, _now(one.old, one.new)) for one in comparison.totals]),
    ]


def _heading(comparison: Comparison) -> str:
    old, new = comparison.old_revision, comparison.new_revision
    if old != new:
        return f"What changed from revision {old or NOT_THERE} to revision {new or NOT_THERE}."
    since = f", still revision {new}" if new else ""
    return f"What changed since the last build{since}."


def _markdown_line(lead: str, rest: str) -> str:
    return f"**{_plain(lead)}**: {_plain(rest)}" if lead else _plain(rest)


def _plain(text: str) -> str:
    return _SIGNS.sub(r"\\\1", text)


def _printed(change: SizeChange, style: LengthStyle | None) -> tuple[str, str]:
    """Print the old and the new value, empty where there is none; without a style as it was printed."""
    return _print(change.old, change.measure, style), _print(change.new, change.measure, style)


def _print(reading: Reading | None, measure: str, style: LengthStyle | None) -> str:
    if reading is None:
        return ""
    if style is None or not reading.is_length:
        return reading.printed
    # The thickness of stock is printed as a caliper reads it, everywhere.
    write = print_reading if measure == "thickness" else print_length
    return write(Length(reading.exact), style, unit=True)


def _told(change: SizeChange, style: LengthStyle | None) -> bool:
    """Whether the change shows in what is printed."""
    old, new = _printed(change, style)
    return old != new


def _size(change: SizeChange, style: LengthStyle | None) -> Line:
    lead = f"{change.mark} {change.part}".strip() or change.measure
    said = [change.work] if change.work else []
    said += [change.measure] if change.mark else []
    now = _now(*_printed(change, style))
    return lead, f"{', '.join(said)}: {now}" if said else now


def _now(old: str, new: str) -> str:
    if not old:
        return f"{new} (new)"
    if not new:
        return f"no longer there, was {old}"
    return f"{new}, was {old}"


def _part(change: PartChange) -> Line:
    lead = f"{change.mark} {change.part}"
    match change.kind:
        case "added":
            return lead, f"new, {_pieces(change.new)}"
        case "removed":
            return lead, f"no longer there, was {_pieces(change.old)}"
        case "count":
            return lead, f"{_pieces(change.new)}, was {change.old}"
        case "stock":
            return lead, f"of {change.new}, was of {change.old}"
        case "mark":
            return lead, f"marked {change.new}, was {change.old}"
        case "renamed":
            return lead, f"was called {change.old}"


def _pieces(count: str) -> str:
    return f"{count} piece" if count == "1" else f"{count} pieces"


def _work(change: WorkChange) -> Line:
    lead = f"{change.mark} {change.part}"
    match change.kind:
        case "added":
            return lead, f"{change.work}, new. {change.new}"
        case "removed":
            return lead, f"{change.work}, no longer there. It said: {change.old}"
        case "changed":
            return lead, f"{change.work}, another shape. {change.new}"


def _assembly(change: AssemblyChange) -> Line:
    match change.kind:
        case "added":
            return change.title, f"new, make {change.new}"
        case "removed":
            return change.title, f"no longer there, was made {_times(change.old)}"
        case "count":
            return change.title, f"make {change.new}, was {change.old}"
        case "pieces":
            return change.title, f"of {change.new}; was of {change.old}"


def _times(count: str) -> str:
    return "once" if count == "1" else f"{count} times"


def _hardware(change: HardwareChange) -> Line:
    size = change.new_size or change.old_size
    said = []
    if change.old_size and change.new_size and change.old_size != change.new_size:
        said.append(_now(change.old_size, change.new_size))
    if change.old_count != change.new_count:
        said.append(_now(*(str(n) if n else "" for n in (change.old_count, change.new_count))))
    return f"{change.title}, {size}", "; ".join(said)


def _steps(changes: Sequence[StepChange]) -> list[Line]:
    lines: list[Line] = []
    for change in changes:
        number, other = change.new_number, change.old_number
        match change.kind:
            case "added":
                lines.append((f"Step {number}", f"new: {change.title}"))
            case "removed":
                lines.append((f"Old step {other}", f"no longer there: {change.title}"))
            case "changed":
                was = f" (was step {other})" if other != number else ""
                lines.append((f"Step {number}", f"{change.title}{was}: {_listed(change.why)} changed"))
            case "moved":
                pass
    moved = [(one.old_number, one.new_number) for one in changes if one.kind == "moved"]
    return lines + [("", words) for words in _moves(sorted(moved))]


def _moves(moved: Iterable[tuple[int, int]]) -> list[str]:
    """Say which unchanged steps have other numbers, runs of neighbours in one line."""
    runs = _in_runs(moved, lambda last, this: (this[0] - last[0], this[1] - last[1]) == (1, 1))
    return [
        f"step {run[0][0]} is now step {run[0][1]}"
        if len(run) == 1
        else f"steps {run[0][0]} to {run[-1][0]} are now steps {run[0][1]} to {run[-1][1]}"
        for run in runs
    ]


def _in_runs(items: Iterable[T], follows: Callable[[T, T], bool]) -> list[list[T]]:
    """Draw together neighbours of which each follows the one before it."""
    runs: list[list[T]] = []
    for item in items:
        if runs and follows(runs[-1][-1], item):
            runs[-1].append(item)
        else:
            runs.append([item])
    return runs


def _pages(changes: Sequence[PageChange]) -> list[Line]:
    """Say which pages to print again, chapter by chapter, then which are new and which to take out."""
    chapters: dict[str, list[PageChange]] = {}
    for change in changes:
        chapters.setdefault(change.chapter, []).append(change)
    lines: list[Line] = []
    for chapter, ours in chapters.items():
        same = [one.new_label for one in ours if one.kind == "changed" and one.old_label == one.new_label]
        moved = [
            f"{one.new_label} (was {one.old_label})"
            for one in ours
            if one.kind == "changed" and one.old_label != one.new_label
        ]
        orders = (
            ("print {} again", [*_runs(same), *moved]),
            ("{} new", _runs([one.new_label for one in ours if one.kind == "added"])),
            ("take old {} out", _runs([one.old_label for one in ours if one.kind == "removed"])),
        )
        said = [order.format(f"{_page_word(pages)} {_listed(pages)}") for order, pages in orders if pages]
        lines.append((chapter, "; ".join(said)))
    return lines


def _page_word(pages: Sequence[str]) -> str:
    return "page" if len(pages) == 1 and " to " not in pages[0] else "pages"


def _runs(labels: Sequence[str]) -> list[str]:
    """Labels with neighbours drawn together: 3, 5 to 9."""

    def follows(last: str, label: str) -> bool:
        return label.isdecimal() and last.isdecimal() and int(label) == int(last) + 1

    runs = _in_runs(labels, follows)
    found = []
    for run in runs:
        found.extend(run if len(run) < 3 else [f"{run[0]} to {run[-1]}"])
    return found


def _listed(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
