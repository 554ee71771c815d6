"""Copies: what the pins say, merged along ``same as``, spread into rows; and the solving of one axis."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches

from plangen.description.model import Description, PartEntry, PinsEntry, SpreadEntry
from plangen.expressions import Centring, Expression, QuarterTurn, Text
from plangen.findings import Findings, Place
from plangen.joinery.space import AXIS_WORDS, IDENTITY_TURN, Axis, Side
from plangen.joinery.transform import Turn


@dataclass(frozen=True)
class Mirrored:
    """Placed as the mirror image of another copy."""

    of: str
    axis: Axis
    at: Expression | None  # None: the middle of the frame
    place: Place


@dataclass(frozen=True)
class InRow:
    """One of several at equal gaps; ``index`` counts from 0."""

    spread: SpreadEntry
    index: int
    number: int


@dataclass(frozen=True)
class Copied:
    """One copy before anything is solved: its pins by side and axis."""

    name: str
    part: str
    entry: PartEntry
    pins: Mapping[Side, Expression]
    centred: Mapping[Axis, Centring]
    mirrored: Mirrored | None
    row: InRow | None
    turn: tuple[Axis, Axis, Axis]  # the frame axes that the part's runs, wide and thick point along
    turned: Turn | None
    place: Place
    place_of: Mapping[str, Place]

    def pinned(self, axis: Axis) -> bool:
        """Whether anything is said of an axis."""
        sides = (Side.of(axis, False), Side.of(axis, True))
        in_row = self.row is not None and AXIS_WORDS[self.row.spread.going] is axis
        return in_row or axis in self.centred or any(side in self.pins for side in sides)


def quarter_turn(turned: QuarterTurn) -> Turn:
    """Give the turn: positive is anticlockwise seen from the right, the front or above."""
    # The axis that turns onto the other for a quarter turn: right to back, right to top, back to top.
    from_axis, to_axis = {
        Axis.UP: (Axis.ACROSS, Axis.DEEP),
        Axis.DEEP: (Axis.ACROSS, Axis.UP),
        Axis.ACROSS: (Axis.DEEP, Axis.UP),
    }[AXIS_WORDS[turned.axis]]
    rows = [list(row) for row in IDENTITY_TURN]
    for _ in range(turned.degrees // 90 % 4):
        rows[from_axis.value], rows[to_axis.value] = (
            [-value for value in rows[to_axis.value]],
            rows[from_axis.value],
        )
    first, second, third = rows
    return (first[0], first[1], first[2]), (second[0], second[1], second[2]), (third[0], third[1], third[2])


def resolve_like(parts: Mapping[str, PartEntry], findings: Findings) -> dict[str, PartEntry]:
    """Fill parts that are ``like`` another with that one's values."""
    done: dict[str, PartEntry] = {}

    def resolve(name: str, seen: tuple[str, ...]) -> PartEntry:
        entry = parts[name]
        if entry.like is None or name in done:
            return done.get(name, entry)
        base_name = str(entry.like)
        if base_name in seen or base_name not in parts:
            near = get_close_matches(base_name, list(parts), 1)
            findings.error(
                "undefined-name",
                f"`{name}` is like `{base_name}`, which is "
                + ("like it in turn" if base_name in seen else "no part"),
                entry.like.place,
                f"did you mean `{near[0]}`?" if near and base_name not in seen else "name another part",
            )
            return entry
        base = resolve(base_name, (*seen, name))
        own = entry.model_fields_set | {"mark", "place_", "like"}
        filled = {key: getattr(base, key) for key in base.model_fields_set if key not in own}
        done[name] = entry.model_copy(update=filled)
        return done[name]

    for name in parts:
        done[name] = resolve(name, (name,))
    return done


def lay_out_copies(
    description: Description, parts: Mapping[str, PartEntry], findings: Findings
) -> dict[str, Copied]:
    """Give every copy with its pins merged; rows become single copies."""
    raw: dict[str, tuple[str, PinsEntry]] = {}
    for part, entry in parts.items():
        for name, pins in entry.place_.items():
            raw[name] = (part, pins)
    copies: dict[str, Copied] = {}
    for name, (part, pins) in raw.items():
        axes = _axes(part, parts[part], pins, findings)
        if axes is None:
            continue
        merged = _merge(name, raw, findings, (name,))
        if merged is None:
            continue
        sides, centred, mirrored, places = merged
        copied = Copied(
            name,
            part,
            parts[part],
            sides,
            centred,
            mirrored,
            None,
            axes,
            quarter_turn(pins.turned) if pins.turned else None,
            pins.place,
            places,
        )
        if pins.spread is None:
            copies[name] = copied
            continue
        for row_name, row in _rows(name, pins.spread, findings):
            copies[row_name] = replace(copied, name=row_name, row=row)
    return copies


def _axes(part: str, entry: PartEntry, pins: PinsEntry, findings: Findings) -> tuple[Axis, Axis, Axis] | None:
    missing = [key for key in ("stock", "runs", "thick") if getattr(entry, key) is None]
    if missing:
        for key in missing:
            remedy = {
                "stock": "name a stock",
                "runs": "say which way the grain runs: across, deep or up",
                "thick": "say which way the thickness lies: across, deep or up",
            }[key]
            findings.error(
                "missing-key",
                f"`{part}` does not say its `{key}`",
                entry.place,
                f"add `{key}:` — {remedy}",
                part=part,
            )
        return None
    assert entry.runs is not None
    assert entry.thick is not None
    runs, thick = AXIS_WORDS[entry.runs], AXIS_WORDS[entry.thick]
    if runs is thick:
        findings.error(
            "runs-and-thick",
            f"`{part}` runs and is thick in the same direction",
            entry.place_of("thick"),
            "name two different directions",
            part=part,
        )
        return None
    wide = next(axis for axis in Axis if axis not in (runs, thick))
    if pins.turned is not None and pins.turned.degrees % 180:
        about = AXIS_WORDS[str(pins.turned.axis)]
        first, second = (axis for axis in Axis if axis is not about)
        swap = {first: second, second: first, about: about}
        runs, wide, thick = swap[runs], swap[wide], swap[thick]
    return runs, wide, thick


_Merged = tuple[dict[Side, Expression], dict[Axis, Centring], Mirrored | None, dict[str, Place]]


def _merge(
    name: str, raw: Mapping[str, tuple[str, PinsEntry]], findings: Findings, seen: tuple[str, ...]
) -> _Merged | None:
    """The pins of a copy over those of the copy it is the same as."""
    pins = raw[name][1]
    sides = {side: getattr(pins, side.word) for side in Side if getattr(pins, side.word) is not None}
    centred = {axis: getattr(pins, axis.word) for axis in Axis if getattr(pins, axis.word) is not None}
    places = {key: pins.place_of(key) for key in (*(s.word for s in sides), *(a.word for a in centred))}
    mirrored = None
    if pins.mirror_of is not None:
        other = _known(pins.mirror_of, raw, findings)
        if other is None:
            return None
        plane = pins.plane
        axis = AXIS_WORDS[str(plane.axis)] if plane is not None else Axis.ACROSS
        mirrored = Mirrored(other, axis, plane.at if plane is not None else None, pins.place_of("mirror_of"))
    if pins.same_as is None:
        return sides, centred, mirrored, places
    other = _known(pins.same_as, raw, findings)
    if other is None:
        return None
    if other in seen:
        findings.error(
            "cycle",
            "these are the same as each other in a ring: " + " → ".join((*seen, other)),
            pins.same_as.place,
            "give one of them pins of its own",
        )
        return None
    base = _merge(other, raw, findings, (*seen, other))
    if base is None:
        return None
    said = {side.axis for side in sides} | set(centred)
    for side, expression in base[0].items():
        if side.axis not in said:
            sides[side] = expression
            places[side.word] = base[3][side.word]
    for axis, centring in base[1].items():
        if axis not in said:
            centred[axis] = centring
            places[axis.word] = base[3][axis.word]
    return sides, centred, mirrored or base[2], places


def _known(name: Text, raw: Mapping[str, tuple[str, PinsEntry]], findings: Findings) -> str | None:
    if str(name) in raw:
        return str(name)
    near = get_close_matches(str(name), list(raw), 1)
    findings.error(
        "undefined-name",
        f"there is no copy called `{name}`",
        name.place,
        f"did you mean `{near[0]}`?" if near else "name a copy that is placed",
    )
    return None


def _rows(name: str, spread: SpreadEntry, findings: Findings) -> list[tuple[str, InRow]]:
    number = spread.number
    if number is None:
        findings.error(
            "missing-key", "a spread needs the number of its copies", spread.place, "add `number: 5`"
        )
        return []
    if not 1 <= number <= 200:
        findings.error(
            "spread", "a spread has between 1 and 200 copies", spread.place_of("number"), "check the number"
        )
        return []
    names = (
        [str(text) for text in spread.names]
        if spread.names is not None
        else [f"{name} {i + 1}" for i in range(number)]
    )
    if len(names) != number:
        findings.error(
            "spread",
            f"{len(names)} names for {number} copies",
            spread.place_of("names"),
            "give each copy one name",
        )
        return []
    return [(row_name, InRow(spread, index, number)) for index, row_name in enumerate(names)]
