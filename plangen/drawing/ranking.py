"""Which groups of copies stand before which along an axis, kept free of rings as more is learnt."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Sequence


class Ranking:
    """Names in groups, and for each group those that come after it.

    A group goes by the least number of its names, counted in the order they were given. Each question is
    answered by following the chain from one group onward, so that thousands of names are ranked at once.
    """

    def __init__(self, names: Sequence[str], together: Iterable[Collection[str]] = ()) -> None:
        self.group = {name: number for number, name in enumerate(names)}
        self._names = {number: [name] for number, name in enumerate(names)}
        self._after: dict[int, set[int]] = {}
        for some in together:
            self._merge({self.group[name] for name in some})

    def put(self, low: str, high: str) -> bool:
        """Say that the group of ``low`` comes before that of ``high``; refuse what would close a ring."""
        one, two = self.group[low], self.group[high]
        if self._reaches([two], {one}):
            return False
        self._after.setdefault(one, set()).add(two)
        return True

    def join(self, names: Collection[str]) -> bool:
        """Make one group of several; refuse where one of them has to come before another."""
        groups = {self.group[name] for name in names}
        if self._reaches((after for number in groups for after in self._after.get(number, ())), groups):
            return False
        self._merge(groups)
        return True

    def order(self) -> list[int]:
        """Give the groups from the first to the last, those that are free in the order of their numbers."""
        before = Counter(following for after in self._after.values() for following in after)
        ready = [number for number in sorted(self._names) if not before[number]]
        for number in ready:  # it grows meanwhile
            for following in sorted(self._after.get(number, ())):
                before[following] -= 1
                if not before[following]:
                    ready.append(following)
        return ready

    def _reaches(self, starts: Iterable[int], goals: Collection[int]) -> bool:
        seen: set[int] = set()
        waiting = list(starts)
        while waiting:
            number = waiting.pop()
            if number in goals:
                return True
            if number not in seen:
                seen.add(number)
                waiting += self._after.get(number, ())
        return False

    def _merge(self, groups: Collection[int]) -> None:
        least, *others = sorted(groups)
        gone = set(others)
        if not gone:
            return
        for number in others:
            for name in self._names[number]:
                self.group[name] = least
            self._names[least] += self._names.pop(number)
            if number in self._after:
                self._after.setdefault(least, set()).update(self._after.pop(number))
        for after in self._after.values():
            if after & gone:
                after -= gone
                after.add(least)
