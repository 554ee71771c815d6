"""A mapping whose values are worked out when they are first asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import TypeVar

T = TypeVar("T")


class OnDemand(Mapping[str, T]):
    """The names in the order given, each with what ``find`` gives for it, which is asked once."""

    def __init__(self, names: Iterable[str], find: Callable[[str], T]) -> None:
        self._names = dict.fromkeys(names)
        self._find = find
        self._found: dict[str, T] = {}

    def __getitem__(self, name: str) -> T:
        if name not in self._found:
            if name not in self._names:
                raise KeyError(name)
            self._found[name] = self._find(name)
        return self._found[name]

    def __contains__(self, name: object) -> bool:
        return name in self._names

    def __iter__(self) -> Iterator[str]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)
