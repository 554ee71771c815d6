"""What pieces are called in words: by their part, by their own name, and by the assembly they are in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from plangen.design.model import Assembly, AssemblyCopy, Design, Part
from plangen.units import Phrase, Reading, phrase


@dataclass(frozen=True, slots=True)
class Body:
    """One placed assembly: what it is a copy of, and which."""

    assembly: Assembly
    copy: AssemblyCopy


def bodies_of(design: Design) -> Mapping[str, tuple[Body, ...]]:
    """Give for each copy the placed assemblies that it is in, the outermost first; none for the others."""
    found: dict[str, list[Body]] = {name: [] for name in design.copies}
    for assembly in reversed(design.assemblies):  # inner ones come first in the design
        for copy in assembly.copies:
            for member in copy.members:
                found[member].append(Body(assembly, copy))
    return {name: tuple(some) for name, some in found.items()}


def body_within(bodies: tuple[Body, ...], within: str | None) -> Body | None:
    """Give the body as which a copy is handled where ``within`` is built; None: it is a piece by itself.

    ``bodies`` are those that the copy is in; ``within`` is the key of an assembly, None the whole.
    """
    if within is None:
        return bodies[0] if bodies else None
    keys = [body.assembly.key for body in bodies]
    if within not in keys:
        return bodies[0] if bodies else None
    return next(iter(bodies[keys.index(within) + 1 :]), None)


def says_more(part: Part, copy: str) -> bool:
    """Whether a copy's name tells more than the part's name, its hand and a number do."""
    known = {*part_noun(part).lower().split(), part.hand}
    return any(word not in known and not word.isdigit() for word in copy.lower().replace(".", " ").split())


def copy_words(name: str) -> str:
    """Give a name inside assemblies as it is said: ``top drawer.face`` is ``face of the top drawer``.

    An assembly whose words are all in the name of its piece is not said again: ``gate.gate stile`` is
    the ``gate stile``.
    """
    *holders, own = name.split(".")
    said = [own]
    for holder in reversed(holders):
        if not set(holder.split()) <= set(said[-1].split()):
            said.append(holder)
    return " of the ".join(said)


def part_noun(part: Part) -> str:
    """Give what one piece of a part is called anywhere, by the rule of the part's title.

    ``drawer face`` for the face of a drawer, but ``gate stile`` for the gate stile of a gate.
    """
    *holders, own = part.name.split(".")
    if not holders or set(holders[-1].split()) & set(own.split()):
        return own
    return f"{holders[-1]} {own}"


def stock_words(design: Design, name: str) -> Phrase:
    """Give what a stock is called in a list: its title, and what tells it from others of that title.

    That is its label, or where they have that in common too its thickness.
    """
    stock = design.stock[name]
    alike = [one for one in design.stock.values() if one is not stock and one.title == stock.title]
    if not alike:
        return phrase(stock.title)
    words = phrase(stock.title, ", ", stock.label)
    if any(one.label == stock.label for one in alike):
        words += phrase(", ", Reading(stock.thickness), " thick")
    return words


def own_name(name: str) -> str:
    """Give a name inside assemblies without them: ``face`` of ``top drawer.face``."""
    return name.rpartition(".")[2]
