"""What is threaded: levelers, inserts, T-nuts, barrel nuts and washers."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar

from plangen.expressions import LengthExpr, Words
from plangen.joinery.hardware.ware import (
    Bearing,
    Bored,
    Form,
    HardwareBody,
    HardwareKind,
    LetIn,
    Pair,
    Sizes,
    Turned,
    by,
)
from plangen.units import ZERO, Phrase, phrase


class Leveler(Bearing):
    """``foot: {kind: leveler, thread: 5/16-18, bore: 3/8in, depth: 1in, least: 3/4in, most: 1-1/2in}``.

    ``bore`` and ``depth`` are the hole for its insert or T-nut; ``least`` and ``most`` how far it holds
    the leg off the floor.
    """

    thread: Words | None = None
    bore: LengthExpr | None = None
    depth: LengthExpr | None = None
    least: LengthExpr | None = None
    most: LengthExpr | None = None
    foot: LengthExpr | None = None  # diameter
    diameter: LengthExpr | None = None  # of the spindle
    length: LengthExpr | None = None  # of the spindle

    not_lengths: ClassVar[tuple[str, ...]] = ("load",)


class Insert(HardwareBody):
    """``insert: {kind: threaded insert, thread: 1/4-20, bore: 3/8in, depth: 1/2in}``."""

    thread: Words | None = None
    bore: LengthExpr | None = None
    depth: LengthExpr | None = None
    diameter: LengthExpr | None = None  # over the outer thread, or of a T-nut's flange
    length: LengthExpr | None = None


class Washer(HardwareBody):
    """``washer: {kind: washer, bore: 17/64in, diameter: 5/8in, thickness: 1/16in}``."""

    bore: LengthExpr | None = None
    diameter: LengthExpr | None = None
    thickness: LengthExpr | None = None


def _threaded(entry: Any, rest: Phrase) -> Phrase:
    return phrase(f"{entry.thread}" + (", " if rest else "")) + rest if entry.thread is not None else rest


def _leveler_size(entry: Leveler, sizes: Sizes) -> Phrase:
    if "least" in sizes and "most" in sizes:
        return _threaded(entry, phrase(sizes["least"], " to ", sizes["most"], " high"))
    return _threaded(entry, _across(entry, sizes))


def _across(_entry: Any, sizes: Sizes) -> Phrase:
    if "diameter" not in sizes:
        if "length" in sizes:
            return phrase(sizes["length"], " long")
        return phrase("for a hole of ", sizes["bore"]) if "bore" in sizes else phrase()
    if "length" in sizes:
        return by(sizes["diameter"], sizes["length"])
    return phrase(sizes["diameter"], " across")


def _hole(title: str) -> Any:
    def cuts(_entry: Any, sizes: Sizes) -> tuple[Bored | LetIn, ...]:
        if "bore" not in sizes:
            return ()
        return (Bored(title, ZERO, ZERO, sizes["bore"], sizes.get("depth")),)

    return cuts


def _range(_entry: Any, sizes: Sizes) -> Pair | None:
    return (sizes["least"], sizes["most"]) if "least" in sizes and "most" in sizes else None


def _range_wrong(_entry: Any, sizes: Sizes) -> tuple[str, str, str] | None:
    found = _range(_entry, sizes)
    if found is not None and found[0] > found[1]:
        return "most", "a leveler can not be higher at least than at most", "give `least` below `most`"
    if ("least" in sizes) != ("most" in sizes):
        return (
            ("least" if "least" in sizes else "most"),
            "a leveler's height goes from least to most",
            ("give both `least` and `most`"),
        )
    return None


def _leveler_forms(_entry: Any, sizes: Sizes) -> tuple[Form, ...]:
    if "diameter" not in sizes or "length" not in sizes:
        return ()
    spindle, long = float(sizes["diameter"]) / 2, float(sizes["length"])
    foot = float(sizes["foot"]) / 2 if "foot" in sizes else spindle * 3
    out = float(sizes["least"]) if "least" in sizes else spindle * 2
    return (
        Turned(
            (
                (out - long, spindle),
                (out - foot * 0.3, spindle),
                (out - foot * 0.3, foot * 0.8),
                (out - foot * 0.1, foot),
                (out, foot),
            )
        ),
    )


def _sleeve(_entry: Any, sizes: Sizes) -> tuple[Form, ...]:
    if "length" not in sizes or ("diameter" not in sizes and "bore" not in sizes):
        return ()
    radius, long = float(sizes.get("diameter", sizes.get("bore", ZERO))) / 2, float(sizes["length"])
    return (Turned(((-long, radius), (0.0, radius))),)


def _tnut_forms(_entry: Any, sizes: Sizes) -> tuple[Form, ...]:
    if "length" not in sizes or "bore" not in sizes:
        return ()
    radius, long = float(sizes["bore"]) / 2, float(sizes["length"])
    flange = float(sizes["diameter"]) / 2 if "diameter" in sizes else radius * 2.2
    return (Turned(((-long, radius), (0.0, radius), (0.0, flange), (1.5, flange))),)


def _washer_forms(_entry: Any, sizes: Sizes) -> tuple[Form, ...]:
    radius = float(sizes["diameter"]) / 2
    return (Turned(((0.0, radius), (float(sizes["thickness"]), radius))),)


def _thin(_entry: Any, _sizes: Sizes, metric: bool) -> Mapping[str, str]:
    return {"thickness": "1.5mm" if metric else "1/16in"}


LEVELER = HardwareKind(
    "leveler",
    "Leveler",
    Leveler,
    _leveler_size,
    cuts=_hole("Leveler hole"),
    height=_range,
    forms=_leveler_forms,
    wrong=_range_wrong,
    says="Set its insert flush, and turn it in; level the piece where it stands.",
    tools=("Hex key or wrench for the insert", "Spirit level"),
)
INSERT = HardwareKind(
    "threaded insert",
    "Threaded insert",
    Insert,
    lambda entry, sizes: _threaded(entry, _across(entry, sizes)),
    needs=("bore", "depth"),
    cuts=_hole("Insert hole"),
    forms=_sleeve,
    says="Start the insert square and turn it in until it is flush.",
    tools=("Hex key or wrench for the insert",),
)
T_NUT = HardwareKind(
    "T-nut",
    "T-nut",
    Insert,
    lambda entry, sizes: _threaded(entry, _across(entry, sizes)),
    needs=("bore",),
    cuts=_hole("T-nut hole"),
    forms=_tnut_forms,
    says="Draw the T-nut in with a bolt and a washer until its prongs are home.",
    tools=("Wrench",),
    also_called=("t-nut",),
)
BARREL_NUT = HardwareKind(
    "barrel nut",
    "Barrel nut",
    Insert,
    lambda entry, sizes: _threaded(entry, _across(entry, sizes)),
    needs=("diameter", "length"),
    defaults=lambda _entry, _sizes, _metric: {"bore": "diameter"},
    cuts=_hole("Barrel nut hole"),
    forms=_sleeve,
    says="Push the barrel nut in, its slot in line with the bolt.",
)
WASHER = HardwareKind(
    "washer",
    "Washer",
    Washer,
    lambda _entry, sizes: by(sizes["bore"], sizes["diameter"]) + phrase(" across"),
    needs=("bore", "diameter"),
    defaults=_thin,
    forms=_washer_forms,
)
