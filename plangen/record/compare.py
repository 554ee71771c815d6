"""Compare two records: what a holder of the older booklet would now read wrong."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from difflib import SequenceMatcher
from typing import Any, TypeVar

from plangen.record.acts import who_must_act
from plangen.record.compare_parts import Matched, compare_parts, match_parts, named_changes
from plangen.record.model import (
    AssemblyChange,
    Comparison,
    HardwareChange,
    JointChange,
    PageChange,
    StepChange,
    TotalChange,
)
from plangen.record.read import Seen, SeenHardware, SeenPage, SeenStep, UnreadableRecordError, seen

T = TypeVar("T")


def compare(old: dict[str, Any], new: dict[str, Any]) -> Comparison:
    """Compare the record of an earlier build with that of this one.

    A record that is damaged, or of a format that this program does not write, gives a Comparison that is
    not ``comparable`` and says why. Raises nothing.
    """
    try:
        before = seen(old)
    except UnreadableRecordError as error:
        return _cannot(f"The record of the last build cannot be compared: {error}.")
    try:
        after = seen(new)
    except UnreadableRecordError as error:
        return _cannot(f"The record of this build cannot be compared: {error}.")
    return _compared(before, after)


def _cannot(reason: str) -> Comparison:
    return Comparison(comparable=False, reason=reason, pages_compared=False)


def _compared(old: Seen, new: Seen) -> Comparison:
    matched = match_parts(old.parts, new.parts)
    sizes, parts, work = compare_parts(matched)
    whole = (
        *named_changes(old.overall, new.overall, "overall "),
        *named_changes(old.moving, new.moving),
        *named_changes(old.sizes, new.sizes),
    )
    pages_compared = old.setting == new.setting and bool(old.pages) and bool(new.pages)
    hardware = _hardware(old.hardware, new.hardware, old.units == new.units)
    return Comparison(
        old_revision=old.revision,
        new_revision=new.revision,
        sizes=(*whole, *sizes),
        parts=parts,
        work=work,
        hardware=hardware,
        joints=_joints(dict(old.joints), dict(new.joints)),
        assemblies=_assemblies(old, new, matched),
        steps=_steps(old.steps, new.steps, matched),
        pages=_pages(old.pages, new.pages) if pages_compared else (),
        totals=_totals(old, new),
        pages_compared=pages_compared,
        acts=who_must_act(sizes, parts, work, hardware),
    )


def _hardware(
    old: Sequence[SeenHardware], new: Sequence[SeenHardware], same_units: bool
) -> tuple[HardwareChange, ...]:
    """Compare the bills; sizes only where both are printed in the same units."""
    before, after = {line.item: line for line in old}, {line.item: line for line in new}
    changes = []
    for item in dict.fromkeys((*after, *before)):
        one, two = before.get(item), after.get(item)
        shown = two or one
        if shown is None or (
            one and two and one.count == two.count and (one.size == two.size or not same_units)
        ):
            continue
        changes.append(
            HardwareChange(
                title=shown.title,
                old_size=one.size if one else "",
                new_size=two.size if two else "",
                old_count=one.count if one else 0,
                new_count=two.count if two else 0,
            )
        )
    return tuple(changes)


def _joints(old: Mapping[str, str], new: Mapping[str, str]) -> tuple[JointChange, ...]:
    return tuple(
        JointChange(name, old.get(name, ""), new.get(name, ""))
        for name in dict.fromkeys((*new, *old))
        if old.get(name) != new.get(name)
    )


def _assemblies(old: Seen, new: Seen, matched: Matched) -> tuple[AssemblyChange, ...]:
    """Compare what is built first: which assemblies there are, how often, and of what pieces."""
    before, after = {one.key: one for one in old.assemblies}, {one.key: one for one in new.assemblies}
    changes: list[AssemblyChange] = []
    for key in dict.fromkeys((*after, *before)):
        one, two = before.get(key), after.get(key)
        if one is None or two is None:
            shown = two or one
            assert shown is not None
            count = str(shown.count)
            changes.append(
                AssemblyChange("added", shown.title, "", count)
                if two
                else AssemblyChange("removed", shown.title, count, "")
            )
            continue
        if one.count != two.count:
            changes.append(AssemblyChange("count", two.title, str(one.count), str(two.count)))
        was, now = dict(matched.renamed(one.pieces)), dict(two.pieces)
        if was != now:
            changes.append(AssemblyChange("pieces", two.title, _pieces(was, old), _pieces(now, new)))
    return tuple(changes)


def _pieces(counts: Mapping[str, int], of: Seen) -> str:
    titles = {part.key: part.title.lower() for part in of.parts}
    return ", ".join(f"{number} × {titles.get(key, key)}" for key, number in counts.items())


def _totals(old: Seen, new: Seen) -> tuple[TotalChange, ...]:
    """Compare the totals as printed; across unit systems only those that are not the same amount."""
    before, after = dict(old.totals), dict(new.totals)
    changes = []
    for name in dict.fromkeys((*after, *before)):
        one, two = before.get(name), after.get(name)
        if one and two and (one.exact == two.exact or one.printed == two.printed):
            continue
        changes.append(TotalChange(name, one.printed if one else "", two.printed if two else ""))
    return tuple(changes)


def _steps(old: Sequence[SeenStep], new: Sequence[SeenStep], matched: Matched) -> tuple[StepChange, ...]:
    """Match steps by their titles, the others by what they work on; then say how each differs."""
    by_title = _paired(old, new, lambda step: (step.kind, step.title))
    left_old = [step for step in old if step.number not in by_title]
    taken = {step.number for step in by_title.values()}
    left_new = [step for step in new if step.number not in taken]
    pairs = dict(by_title)
    for step in left_old:
        alike = (
            other
            for other in left_new
            if other.kind == step.kind
            and (other.number == step.number or matched.renamed(step.parts) == other.parts != ())
        )
        if (other := next(alike, None)) is not None:
            left_new.remove(other)
            pairs[step.number] = other
    changes = [_step_change(step, pairs.get(step.number), matched) for step in old]
    added = [StepChange("added", 0, step.number, step.title) for step in left_new]
    found = [change for change in (*changes, *added) if change is not None]
    return tuple(sorted(found, key=lambda change: (change.new_number or change.old_number, change.kind)))


def _step_change(old: SeenStep, new: SeenStep | None, matched: Matched) -> StepChange | None:
    if new is None:
        return StepChange("removed", old.number, 0, old.title)
    why = [
        words
        for words, same in (
            ("title", old.title == new.title),
            ("words", old.text == new.text),
            ("parts", matched.renamed(old.parts) == new.parts),
            ("hardware", old.hardware == new.hardware),
            ("cautions", old.cautions == new.cautions),
        )
        if not same
    ]
    if why:
        return StepChange("changed", old.number, new.number, new.title, tuple(why))
    if old.number != new.number:
        return StepChange("moved", old.number, new.number, new.title)
    return None


def _paired(
    old: Sequence[SeenStep], new: Sequence[SeenStep], key: Callable[[SeenStep], object]
) -> dict[int, SeenStep]:
    """Pair steps that have the same key, the first with the first; by the number of the old one."""
    waiting: dict[object, list[SeenStep]] = {}
    for step in new:
        waiting.setdefault(key(step), []).append(step)
    return {step.number: waiting[key(step)].pop(0) for step in old if waiting.get(key(step))}


def _pages(old: Sequence[SeenPage], new: Sequence[SeenPage]) -> tuple[PageChange, ...]:
    """Compare what the pages show; a page that only stands elsewhere in the booklet is no change."""
    changes: list[PageChange] = []
    matcher = SequenceMatcher(
        None, [page.digest for page in old], [page.digest for page in new], autojunk=False
    )
    for kind, low, high, new_low, new_high in matcher.get_opcodes():
        if kind == "equal":
            continue
        changes.extend(_chapter_by_chapter(old[low:high], new[new_low:new_high]))
    return tuple(changes)


def _chapter_by_chapter(old: Sequence[SeenPage], new: Sequence[SeenPage]) -> list[PageChange]:
    waiting = list(old)
    changes = []
    for page in new:
        same = next((other for other in waiting if other.chapter == page.chapter), None)
        if same is None:
            changes.append(PageChange("added", "", page.label, page.chapter))
        else:
            waiting.remove(same)
            changes.append(PageChange("changed", same.label, page.label, page.chapter))
    return [*changes, *(PageChange("removed", page.label, "", page.chapter) for page in waiting)]
