"""What stands in a frame before anything is solved: copies, assemblies, and the names of all of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from plangen.description.model import AssemblyEntry, Description, PartEntry
from plangen.design.pinned import Pinned
from plangen.design.placing import Copied, resolve_like
from plangen.design.values import fault, meant
from plangen.expressions import Text
from plangen.findings import Findings

MOST_PIECES = 2000  # of a whole project, assemblies unfolded
DEEPEST = 12  # assemblies within one another


@dataclass(frozen=True)
class Layout:
    """One frame: the project's, or that of an assembly.

    ``description`` is what is written for this frame; the project's stock, hardware and shop stand in
    each. ``inner`` holds the layout of every assembly described here, whatever it is given.
    """

    description: Description
    parts: Mapping[str, PartEntry]
    copies: Mapping[str, Copied]
    nested: Mapping[str, Copied]  # placed assemblies
    inner: Mapping[str, Layout]  # by the name of the assembly
    number: int  # of pieces, assemblies unfolded
    groups: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    hold_by: Text | None = None

    @property
    def pieces(self) -> tuple[str, ...]:
        """Every copy of a part, those in assemblies by the way to them."""
        found = list(self.copies)
        for name, copied in self.nested.items():
            found += [f"{name}.{piece}" for piece in self.inner[copied.part].pieces]
        return tuple(found)

    def names(self) -> dict[str, tuple[str, ...]]:
        """The copies that each name of this frame stands for."""
        named: dict[str, tuple[str, ...]] = {}

        def add(name: str, copies: tuple[str, ...]) -> None:
            named[name] = tuple(dict.fromkeys((*named.get(name, ()), *copies)))

        for copied in self.copies.values():
            add(copied.part, (copied.name,))
        for name in self.copies:
            named.setdefault(name, (name,))
        for name, copied in self.nested.items():
            for inner, pieces in self.inner[copied.part].names().items():
                members = tuple(f"{name}.{piece}" for piece in pieces)
                add(f"{name}.{inner}", members)
                if copied.part != name:
                    add(f"{copied.part}.{inner}", members)
            members = tuple(f"{name}.{piece}" for piece in self.inner[copied.part].pieces)
            add(name, members)
            if copied.part != name:
                add(copied.part, members)
        for name, members in self.groups.items():
            add(name, members)
        return named


def lay_out(description: Description, findings: Findings) -> Layout:
    """Lay out the whole project. What cannot be laid out is reported and left out.

    Raises ProjectError where assemblies within assemblies come to more pieces than can be handled.
    """
    return _lay_out(description, findings, (), None)


def _lay_out(
    description: Description, findings: Findings, holding: tuple[str, ...], hold_by: Text | None
) -> Layout:
    parts = resolve_like(description.parts, findings)
    assemblies = resolve_like(description.assemblies, findings, "assembly", holding)
    inner: dict[str, Layout] = {}
    for name, entry in assemblies.items():
        if not entry.parts and not entry.assemblies:
            findings.error(
                "empty-assembly",
                f"there is nothing in the assembly `{name}`",
                entry.place,
                "describe its `parts`, or say what it is `like`",
            )
            continue
        if len(holding) >= DEEPEST:
            findings.error(
                "too-deep",
                f"`{name}` stands in more than {DEEPEST} assemblies within one another",
                entry.place,
                "put its parts into the assembly around it",
            )
            continue
        inner[name] = _lay_out(
            within(description, entry),
            findings,
            (*holding, name),
            entry.hold_by,
        )
    pinned = Pinned(parts, {name: assemblies[name] for name in inner}, findings)
    copies: dict[str, Copied] = {}
    for name in pinned.raw:
        for copied in pinned.copies(name):
            if copied.name in copies:
                findings.error(
                    "name-clash",
                    f"`{copied.name}` is the name of two copies",
                    copied.place,
                    "give the copies of the spread other `names`",
                    ((copies[copied.name].place, "the other stands here"),),
                    copied.part,
                )
                continue
            copies[copied.name] = copied
    nested = {name: copied for name, copied in copies.items() if copied.nested is not None}
    single = {name: copied for name, copied in copies.items() if copied.nested is None}
    number = len(single) + sum(inner[copied.part].number for copied in nested.values())
    if number > MOST_PIECES:
        raise fault(
            "too-many-pieces",
            f"assemblies within assemblies come to {number:,} pieces",
            description.place_of("assemblies"),
            f"a project has at most {MOST_PIECES:,}; place fewer copies",
        )
    layout = Layout(description, parts, single, nested, inner, number, hold_by=hold_by)
    return replace(layout, groups=_groups(layout, findings))


def _groups(layout: Layout, findings: Findings) -> dict[str, tuple[str, ...]]:
    """The copies of each group; a member may be a part, a copy, an assembly, or a group."""
    written = layout.description.groups
    named = layout.names()
    done: dict[str, tuple[str, ...]] = {}

    def members(name: str, seen: tuple[str, ...]) -> tuple[str, ...]:
        if name in done:
            return done[name]
        found: dict[str, None] = {}
        for member in written[name]:
            key = str(member)
            if key in written and key not in seen:
                found |= dict.fromkeys(members(key, (*seen, key)))
            elif key in named:
                found |= dict.fromkeys(named[key])
            else:
                findings.error(
                    "cycle" if key in seen else "undefined-name",
                    f"the group `{name}` holds `{key}`, which "
                    + ("holds it in turn" if key in seen else "is no part, copy, assembly or group"),
                    member.place,
                    "take it out" if key in seen else meant(key, [*named, *written], "name what it holds"),
                )
        done[name] = tuple(found)
        return done[name]

    return {name: members(name, (name,)) for name in written}


def within(description: Description, assembly: AssemblyEntry) -> Description:
    """Give what is written for an assembly's frame, in the form of a whole project."""
    return description.model_copy(
        update={
            "sizes": assembly.sizes,
            "parts": assembly.parts,
            "assemblies": assembly.assemblies,
            "groups": assembly.groups,
            "joints": assembly.joints,
            "fit": assembly.fit,
            "positions": {},
            "expect": [],
        }
    )
