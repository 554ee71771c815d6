"""Hardware on one part: which fits there are, and how many of what each uses."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from plangen.description.model import FitEntry
from plangen.design.alike import Same, Worked
from plangen.design.frame import Frame
from plangen.design.model import Fit, HardwareUse
from plangen.design.standing import Placement
from plangen.design.values import meant
from plangen.expressions import Text
from plangen.findings import Findings
from plangen.joinery.cuts import RoundCut
from plangen.joinery.hardware.ware import Ware
from plangen.joinery.space import Side
from plangen.units import phrase

Spot: TypeAlias = tuple[str, tuple[float, float, float], Side]


@dataclass(frozen=True)
class Fitted:
    """One fit: its name, the hardware, the part or copy it goes on, and what is said of it."""

    name: str
    hardware: str
    on: str
    entry: FitEntry
    ware: Ware | None = None
    outside: bool = False  # typed outside its assembly: a number typed is that of all copies


Handed: TypeAlias = tuple[str, FitEntry]  # hardware and its fit, by the part's name where it is


def hand_down(frames: Mapping[Frame, Sequence[Placement]], findings: Findings) -> dict[Frame, list[Handed]]:
    """Give each frame the fits that are typed outside it: ``part: drawer.face`` goes to every drawer."""
    handed: dict[Frame, list[Handed]] = {frame: [] for frame in frames}
    for outer, places in frames.items():
        for item in outer.description.fit:
            for hardware, entry in item.items():
                if entry.part is None or "." not in entry.part:
                    continue
                *way, part = str(entry.part).split(".")
                kind, path = (*places[0].kind, *way), (*places[0].path, *way)
                inner = [one for one, there in frames.items() if there[0].kind == kind and part in one.named]
                inner = inner or [
                    one
                    for one, there in frames.items()
                    if all(place.path == path for place in there) and part in one.named
                ]
                if not inner or (entry.number is not None and len(inner) > 1):
                    _not_handed(hardware, entry, bool(inner), outer, findings)
                    continue
                local = Text(part, entry.part.place)
                for one in inner:
                    handed[one].append((hardware, entry.model_copy(update={"part": local})))
    return handed


def _not_handed(hardware: str, entry: FitEntry, several: bool, outer: Frame, findings: Findings) -> None:
    """Report a fit for a part in an assembly that no assembly takes."""
    assert entry.part is not None
    if several:
        findings.error(
            "fit-elsewhere",
            f"`{entry.part}` is in assemblies that differ, so that `number` is no number of each",
            entry.place_of("number"),
            "write the fit under the part itself, or take `number` out and say where on its `face` it goes",
        )
    elif str(entry.part) in outer.named:
        findings.error(
            "copies-differ",
            f"`{hardware}` on `{entry.part}` alone would make it differ from the other copies",
            entry.part.place,
            "name the assembly and not one copy of it, or write the fit under the part itself",
        )
    else:
        findings.error(
            "undefined-name",
            f"there is no part called `{entry.part}`",
            entry.part.place,
            meant(str(entry.part), outer.named, "name a part"),
        )


def fit_entries(frame: Frame, handed: Sequence[Handed], findings: Findings) -> list[Fitted]:
    """Every fit of a frame, those from outside it last; those with unknown names are left out, reported."""
    parts = {copied.part: copied.entry for copied in frame.copies.values()}
    items: list[tuple[str | None, Mapping[str, FitEntry], bool]] = [
        (part, item, False) for part, entry in parts.items() for item in entry.fit
    ]
    for typed in frame.description.fit:
        own = {name: one for name, one in typed.items() if "." not in (one.part or "")}
        items.append((None, own, False))
    items += [(None, {hardware: entry}, True) for hardware, entry in handed]
    found: list[Fitted] = []
    counts: dict[str, int] = {}
    for under, item, outside in items:
        for hardware, entry in item.items():
            on = _goes_on(hardware, entry, under, frame, findings)
            if on is None:
                continue
            counts[hardware] = counts.get(hardware, 0) + 1
            numbered = hardware + (f" {counts[hardware]}" if counts[hardware] > 1 else "")
            name = str(entry.name) if entry.name is not None else numbered
            times = sum(other.entry is entry for other in found)
            if entry.name is not None and times:  # the fit of a part that is like another
                name = f"{name} {times + 1}"
            if any(other.name == name for other in found):
                findings.error(
                    "name-clash",
                    f"`{name}` is the name of two fits",
                    entry.place_of("name"),
                    "give one of them another name",
                )
                continue
            ware = frame.hardware[hardware].ware if hardware in frame.hardware else None
            found.append(Fitted(name, str(hardware), on, entry, ware, outside))
    return found


def _goes_on(
    hardware: str, entry: FitEntry, under: str | None, frame: Frame, findings: Findings
) -> str | None:
    """The part or copy that a fit goes on; None, with a finding, when the fit makes no sense."""
    place = hardware.place if isinstance(hardware, Text) else entry.place
    if hardware not in frame.description.hardware:
        findings.error(
            "undefined-name",
            f"there is no hardware called `{hardware}`",
            place,
            meant(hardware, frame.description.hardware, "add it under `hardware`"),
        )
        return None
    on = str(entry.part) if entry.part is not None else under
    if on is None or on not in frame.named:
        findings.error(
            "undefined-name",
            f"there is no part called `{on}`" if on else f"`{hardware}` does not say its `part`",
            entry.part.place if entry.part is not None else place,
            meant(on or "", frame.named, "name a part"),
        )
        return None
    if entry.face is None and entry.number is None:
        findings.error(
            "missing-key",
            f"how many of `{hardware}` go on `{on}` is not said",
            entry.place,
            "add `number:`, or `face:` and where on it",
        )
        return None
    if under is not None and on not in (under, *frame.named.get(under, ())):
        findings.error(
            "fit-elsewhere",
            f"`{hardware}` stands under `{under}` and says it goes on `{on}`",
            entry.place_of("part"),
            "move it under the part it goes on, or to `fit` at the end",
        )
        return None
    siblings = frame.named.get(frame.copied(frame.named[on][0]).part, ())
    if entry.face is not None and len(frame.named[on]) < len(siblings):
        findings.error(
            "copies-differ",
            f"holes for `{hardware}` in `{on}` alone would make it differ from the other copies",
            entry.place_of("face"),
            f"fit it to the whole part, or make `{on}` a part of its own with "
            f"`like: {frame.copied(frame.named[on][0]).part}`",
        )
        return None
    return on


def make_fits(
    fits: list[Fitted], groups: list[tuple[str, tuple[Same, ...]]], findings: Findings
) -> tuple[Fit, ...]:
    """Give the fits with their places: one for each place on each copy, or the number that is typed.

    What brings its own screws makes a fit of these too, named after it.
    """
    made = []
    every = [worked for _, sames in groups for same in sames for worked, _ in same.copies]
    for fit in fits:
        members = [worked for worked in every if fit.on in (worked.piece.part, worked.piece.copy)]
        ware = fit.ware
        spots = [spot for worked in members for spot in _spots(fit, worked)]
        each = fit.entry.each if fit.entry.each is not None else 1
        if fit.entry.face is None:
            number = (fit.entry.number or 0) * each
        else:
            number = (len(spots) if ware is None else _places(fit.entry) * len(members)) * each
        if fit.entry.number is not None and fit.entry.face is not None and fit.entry.number != number:
            findings.error(
                "contacts",
                f"`{fit.name}` has {number} places, not {fit.entry.number}",
                fit.entry.place_of("number"),
                "correct the number, or the row",
            )
        copies = tuple(worked.piece.copy for worked in members)
        use = HardwareUse(fit.hardware, number, fit.name, tuple(spots), bool(fit.entry.turned))
        say = phrase(str(fit.entry.say)) if fit.entry.say is not None else ware.say if ware else phrase("")
        cautions = ware.cautions if ware is not None else ()
        made.append(Fit(fit.name, copies, use, say, fit.entry.place, cautions))
        if ware is not None and ware.screws is not None:
            name = f"{fit.name} screws"
            leads = tuple(spot for worked in members for spot in _leads(fit, worked))
            screws = HardwareUse(ware.screws.name, ware.screws.number * number, name, leads)
            made.append(Fit(name, copies, screws, phrase(""), fit.entry.place))
    return tuple(made)


def _places(entry: FitEntry) -> int:
    """How many places there are on one copy."""
    if entry.row is not None:
        return entry.row.number
    if entry.grid is not None:
        return entry.grid.along * entry.grid.over
    return {"corners": 4, "ends": 2}.get(str(entry.at), 1)


def _spots(fit: Fitted, worked: Worked) -> list[Spot]:
    """Where each piece of hardware sits on a copy, whatever is cut there for it."""
    made = next((one for one in worked.operations if one.joint == fit.name and one.seats), None)
    return [(worked.piece.copy, seat.floats(), made.side) for seat in made.seats] if made else []


def _leads(fit: Fitted, worked: Worked) -> list[Spot]:
    return [
        (worked.piece.copy, one.mouth.floats(), one.side)
        for operation in worked.operations
        if operation.joint == fit.name and operation.kind == "lead hole"
        for one in operation.cuts
        if isinstance(one, RoundCut)
    ]
