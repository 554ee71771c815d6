"""Compare the parts of two builds: their sizes, their count, and what is worked on them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from plangen.record.model import PartChange, Reading, SizeChange, WorkChange
from plangen.record.read import SeenPart, SeenWork

Named = tuple[tuple[str, Reading], ...]


@dataclass(frozen=True)
class Matched:
    """Which part of the older build is which of the newer."""

    pairs: tuple[tuple[SeenPart, SeenPart], ...]
    removed: tuple[SeenPart, ...]
    added: tuple[SeenPart, ...]

    def renamed(self, uses: Sequence[tuple[str, int]]) -> tuple[tuple[str, int], ...]:
        """Give uses of older parts under their newer keys."""
        keys = {old.key: new.key for old, new in self.pairs}
        return tuple((keys.get(key, key), count) for key, count in uses)


def match_parts(old: Sequence[SeenPart], new: Sequence[SeenPart]) -> Matched:
    """Match parts by key; what is left by mark, which stays with a part that is given another name."""
    after = {part.key: part for part in new}
    before = {part.key: part for part in old}
    by_mark = {part.mark: part for part in new if part.key not in before}
    pairs, removed = [], []
    for part in old:
        found = after.get(part.key) or by_mark.pop(part.mark, None)
        if found is None:
            removed.append(part)
        else:
            pairs.append((part, found))
    taken = {found.key for _, found in pairs}
    return Matched(tuple(pairs), tuple(removed), tuple(part for part in new if part.key not in taken))


def compare_parts(
    matched: Matched,
) -> tuple[tuple[SizeChange, ...], tuple[PartChange, ...], tuple[WorkChange, ...]]:
    """Give the changed sizes, the changed lines of the cut list, and the work that came or went."""
    sizes: list[SizeChange] = []
    parts: list[PartChange] = []
    work: list[WorkChange] = []
    for old, new in matched.pairs:
        parts.extend(_line_changes(old, new))
        own = named_changes(old.measures, new.measures, mark=new.mark, part=new.title)
        sizes.extend(own)
        moved, other = _work_changes(old, new, blank_changed=bool(own))
        sizes.extend(moved)
        work.extend(other)
    parts.extend(PartChange("removed", old.mark, old.title, str(old.count), "") for old in matched.removed)
    parts.extend(PartChange("added", new.mark, new.title, "", str(new.count)) for new in matched.added)
    return tuple(sizes), tuple(parts), tuple(work)


def named_changes(
    old: Named, new: Named, prefix: str = "", *, mark: str = "", part: str = "", work: str = ""
) -> tuple[SizeChange, ...]:
    """Compare values by their names; ``prefix`` goes before the name of each measure."""
    before, after = dict(old), dict(new)
    return tuple(
        SizeChange(mark, part, work, f"{prefix}{name}", before.get(name), after.get(name))
        for name in dict.fromkeys((*after, *before))
        if not _same(before.get(name), after.get(name))
    )


def _same(old: Reading | None, new: Reading | None) -> bool:
    return old is not None and new is not None and old.exact == new.exact


def _line_changes(old: SeenPart, new: SeenPart) -> list[PartChange]:
    found = []
    if old.title != new.title:
        found.append(PartChange("renamed", new.mark, new.title, old.title, new.title))
    elif old.key != new.key:
        found.append(PartChange("renamed", new.mark, new.title, old.key, new.key))
    if old.mark != new.mark:
        found.append(PartChange("mark", new.mark, new.title, old.mark, new.mark))
    if old.count != new.count:
        found.append(PartChange("count", new.mark, new.title, str(old.count), str(new.count)))
    if old.stock != new.stock:
        found.append(PartChange("stock", new.mark, new.title, old.stock, new.stock))
    return found


def _work_changes(
    old: SeenPart, new: SeenPart, *, blank_changed: bool
) -> tuple[list[SizeChange], list[WorkChange]]:
    """Pair operations of the same kind and joint, equal ones first, and compare their numbers."""
    sizes: list[SizeChange] = []
    others: list[WorkChange] = []
    old_names, new_names = _work_names(old.work), _work_names(new.work)
    pairs, gone, come = _paired_work(old.work, new.work)
    for i, j in pairs:
        one, two, name = old.work[i], new.work[j], new_names[j]
        changes: list[SizeChange] = []
        numbered = len(two.features) > 1
        for index in range(max(len(one.features), len(two.features))):
            before = one.features[index] if index < len(one.features) else ()
            after = two.features[index] if index < len(two.features) else ()
            prefix = f"{index + 1}: " if numbered else ""
            changes.extend(named_changes(before, after, prefix, mark=new.mark, part=new.title, work=name))
        sizes.extend(changes)
        # A cut that reaches from edge to edge follows the blank, whose own change is told already.
        if one.shape != two.shape and not changes and not blank_changed:
            others.append(WorkChange("changed", new.mark, new.title, name, one.sentence, two.sentence))
    others.extend(
        WorkChange("removed", new.mark, new.title, old_names[i], old.work[i].sentence, "") for i in gone
    )
    others.extend(
        WorkChange("added", new.mark, new.title, new_names[j], "", new.work[j].sentence) for j in come
    )
    return sizes, others


def _paired_work(
    old: Sequence[SeenWork], new: Sequence[SeenWork]
) -> tuple[list[tuple[int, int]], list[int], list[int]]:
    left_old, left_new = list(range(len(old))), list(range(len(new)))
    pairs: list[tuple[int, int]] = []
    for alike in (lambda one, two: one == two, _of_one_kind):
        for i in tuple(left_old):
            j = next((j for j in left_new if alike(old[i], new[j])), None)
            if j is not None:
                pairs.append((i, j))
                left_old.remove(i)
                left_new.remove(j)
    return sorted(pairs, key=lambda pair: pair[1]), left_old, left_new


def _of_one_kind(one: SeenWork, two: SeenWork) -> bool:
    return (one.kind, one.joint) == (two.kind, two.joint)


def _work_names(work: Sequence[SeenWork]) -> list[str]:
    """Name operations as a reader finds them: with a number where a part has several of one title."""
    many = Counter(one.title for one in work)
    met: Counter[str] = Counter()
    names = []
    for one in work:
        met[one.title] += 1
        name = f"{one.title} {met[one.title]}" if many[one.title] > 1 else one.title
        names.append(f"{name} ({one.joint})" if one.joint else name)
    return names
