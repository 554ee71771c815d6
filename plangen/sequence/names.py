"""What a name in the maker's steps stands for, and what was meant when it stands for nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from difflib import get_close_matches

from plangen.design.model import AssemblyCopy, Design, Fit, Joint, Part
from plangen.findings import Findings, Place
from plangen.sequence.words import body_said


def _part_names(part: Part) -> tuple[str, ...]:
    """What a part answers to: its key and its name."""
    return (part.key, part.name)


class Names:
    """The names of one design as the maker's steps use them; unknown ones become findings."""

    def __init__(self, design: Design, findings: Findings) -> None:
        self.design = design
        self.findings = findings
        self.copies = design.copies
        self.part_of = design.part_of
        self.joints: dict[str, Joint] = {joint.name: joint for joint in design.joints}
        self.fits: dict[str, Fit] = {fit.name: fit for fit in design.fits}
        self.keys = {part.key: part for part in design.parts}
        self.assemblies: dict[str, tuple[AssemblyCopy, ...]] = {}
        for assembly in design.assemblies:
            for name in dict.fromkeys((assembly.key, assembly.name)):
                self.assemblies[name] = (*self.assemblies.get(name, ()), *assembly.copies)
        for copy in (copy for assembly in design.assemblies for copy in assembly.copies):
            self.assemblies.setdefault(copy.name, (copy,))

    def copies_named(self, name: str) -> tuple[str, ...]:
        """Give the copies of a copy, part, group or assembly; none when there is no such name."""
        if name in self.copies:
            return (name,)
        if name in self.design.groups:
            return tuple(
                copy for member in self.design.groups[name]
                for copy in ((member,) if member in self.copies else self.copies_named(member))
            )  # fmt: skip
        of_part = tuple(
            copy.name for part in self.design.parts if name in _part_names(part) for copy in part.copies
        )
        bodies = self.assemblies.get(name, ())
        return of_part or tuple(copy for body in bodies for copy in body.members)

    def parts_named(self, name: str) -> tuple[str, ...]:
        """Give the keys of the parts of a copy's, part's or group's name."""
        if name in self.keys:
            return (name,)
        return tuple(dict.fromkeys(self.part_of[copy].key for copy in self.copies_named(name)))

    def part_keys(self, names: Iterable[str] | None, place: Place | None) -> tuple[str, ...]:
        """Give part keys for a list of names, each once; what is unknown becomes a finding."""
        return self._all(names, place, self.parts_named, "part", self._part_words())

    def copy_names(self, names: Iterable[str] | None, place: Place | None) -> tuple[str, ...]:
        """Give copies for a list of names, each once; what is unknown becomes a finding."""
        return self._all(names, place, self.copies_named, "part or copy", self._part_words())

    def joint_names(self, names: Iterable[str] | None, place: Place | None) -> tuple[str, ...]:
        """Give joints for a list of names; what is unknown becomes a finding."""
        return self._all(names, place, self.joints_of, "joint", [*self.joints, *self.assemblies])

    def joints_of(self, name: str) -> tuple[str, ...]:
        """Give a joint by its name; all joints that are closed in an assembly by the assembly's."""
        if name in self.joints:
            return (name,)
        keys = [one.key for one in self.design.assemblies if name in (one.key, one.name)]
        return tuple(joint.name for joint in self.joints.values() if joint.assembly in keys)

    def brought_names(self, names: Iterable[str] | None) -> tuple[tuple[str, ...], list[str]]:
        """Give the placed assemblies among some names, each once, and the names that are of other things."""
        found: dict[str, None] = {}
        left: list[str] = []
        for name in names or ():
            bodies = () if self._is_piece(name) else self.assemblies.get(name, ())
            found.update(dict.fromkeys(body.name for body in bodies))
            if not bodies:
                left.append(name)
        return tuple(found), left

    def _is_piece(self, name: str) -> bool:
        named = name in self.copies or name in self.design.groups
        return named or any(name in _part_names(part) for part in self.design.parts)

    def fit_names(self, names: Iterable[str] | None, place: Place | None) -> tuple[str, ...]:
        """Give fits for a list of names of fits or of hardware; what is unknown becomes a finding."""

        def found(name: str) -> tuple[str, ...]:
            if name in self.fits:
                return (name,)
            return tuple(fit.name for fit in self.fits.values() if fit.hardware.item == name)

        known = [*self.fits, *(fit.hardware.item for fit in self.fits.values())]
        return self._all(names, place, found, "fit", known)

    def token(self, name: str, place: Place | None, many: str = "") -> str:
        """Give the tokens for a name in braces; an unknown one becomes a finding and stays a name.

        ``many`` is the number typed after it, with its star. Where a name stands for both hands of a pair,
        each hand gets its own number.
        """
        if name in self.design.hardware:
            return f"{{hardware:{name}{many}}}"
        if name in self.copies and len(self.part_of[name].copies) > 1:
            return f"{{copy:{name}}}"
        if name in self.assemblies and not self._is_piece(name):
            return body_said(self.design, name, many)
        keys = self.parts_named(name)
        if keys:
            words = [f"{{part:{key}{many and self._number(key, keys, many)}}}" for key in keys]
            return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
        if name in self.joints:
            return f"{{joint:{name}}}"
        self.unknown(name, "part, copy, hardware or joint", place,
                     [*self._part_words(), *self.design.hardware, *self.joints])  # fmt: skip
        return f"\\{{{name}}}"

    def _number(self, key: str, keys: tuple[str, ...], many: str) -> str:
        return many if len(keys) == 1 or many == "*" else f"*{len(self.keys[key].copies)}"

    def unknown(self, name: str, what: str, place: Place | None, known: Iterable[str]) -> None:
        """Say that a step names nothing, and what was nearest."""
        words = list(dict.fromkeys(known))
        near = get_close_matches(name, words, 1, 0.5)
        if near:
            remedy = f"did you mean `{near[0]}`?"
        elif words:
            shown = ", ".join(f"`{word}`" for word in words[:12])
            remedy = f"the names are {shown}{' …' if len(words) > 12 else ''}"
        else:
            remedy = f"this project has no {what}"
        self.findings.error(
            "unknown-in-step",
            f"`{name}` is no {what} of this project",
            getattr(name, "place", None) or place,
            remedy,
        )

    def _part_words(self) -> list[str]:
        parts = (part.name for part in self.design.parts)
        return [*parts, *self.copies, *self.design.groups, *self.assemblies]

    def _all(
        self,
        names: Iterable[str] | None,
        place: Place | None,
        found: Callable[[str], tuple[str, ...]],
        what: str,
        known: Iterable[str],
    ) -> tuple[str, ...]:
        given: dict[str, None] = {}
        for name in names or ():
            items = found(name)
            if not items:
                self.unknown(name, what, place, known)
            given.update(dict.fromkeys(items))
        return tuple(given)
