"""Casters: on a stem that goes up a hole, or on a plate that is screwed on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar

from plangen.expressions import LengthExpr, YesNo
from plangen.joinery.hardware.ware import (
    Bearing,
    Block,
    Bored,
    Form,
    HardwareKind,
    LetIn,
    Pair,
    Screwed,
    Sizes,
    Turned,
    UsualScrew,
    by,
    grid,
)
from plangen.units import ZERO, Length, Phrase, phrase


class StemCaster(Bearing):
    """``caster: {kind: stem caster, height: 4in, stem: 7/16in, stem length: 1-1/2in}``.

    ``bore`` and ``depth`` are those of the hole for the socket or the stem; ``height`` is from the
    floor to the end of the leg.
    """

    height: LengthExpr | None = None
    stem: LengthExpr | None = None  # diameter
    stem_length: LengthExpr | None = None
    bore: LengthExpr | None = None
    depth: LengthExpr | None = None
    wheel: LengthExpr | None = None  # diameter
    locking: YesNo | None = None


class PlateCaster(Screwed, Bearing):
    """``caster: {kind: plate caster, height: 100mm, plate length: 92mm, plate width: 66mm, screws: 4}``."""

    height: LengthExpr | None = None
    plate_length: LengthExpr | None = None
    plate_width: LengthExpr | None = None
    plate_thickness: LengthExpr | None = None
    wheel: LengthExpr | None = None
    locking: YesNo | None = None

    not_lengths: ClassVar[tuple[str, ...]] = ("load",)


def _stem_defaults(_entry: Any, sizes: Sizes, metric: bool) -> Mapping[str, str]:
    """The hole is as wide as the stem and a little deeper than it is long: common practice, no source."""
    deeper = "3mm" if metric else "1/8in"
    return {"bore": "stem", "depth": f"stem length + {deeper}", "wheel": "height * 3 / 4"}


def _wheel(sizes: Sizes) -> tuple[Form, ...]:
    height, radius = float(sizes["height"]), float(sizes["wheel"]) / 2
    half = radius * 0.28
    rim = ((-half, radius * 0.9), (-half * 0.7, radius), (half * 0.7, radius), (half, radius * 0.9))
    offset = radius * 0.35
    return (
        Turned(rim, axis=1, at=(offset, 0.0, height - radius)),
        Block((-radius * 0.35, -half * 1.5, 0.0), (radius * 0.55, -half * 1.15, height - radius * 0.9)),
        Block((-radius * 0.35, half * 1.15, 0.0), (radius * 0.55, half * 1.5, height - radius * 0.9)),
    )


def _stem_forms(_entry: Any, sizes: Sizes) -> tuple[Form, ...]:
    radius, long = float(sizes["stem"]) / 2, float(sizes["stem length"])
    return (Turned(((-long, radius * 0.8), (-long + radius * 0.4, radius), (0.0, radius))), *_wheel(sizes))


def _stem_cuts(_entry: Any, sizes: Sizes) -> tuple[Bored | LetIn, ...]:
    return (Bored("Socket hole", ZERO, ZERO, sizes["bore"], sizes["depth"]),)


def _stem_wrong(_entry: Any, sizes: Sizes) -> tuple[str, str, str] | None:
    if sizes["depth"] < sizes["stem length"]:
        return "depth", "the hole is less deep than the stem is long", "bore at least as deep as the stem"
    if sizes["wheel"] >= sizes["height"]:
        return "wheel", "the wheel is as large as the whole caster is high", "check `height` and `wheel`"
    return None


def _stem_size(entry: StemCaster, sizes: Sizes) -> Phrase:
    locks = ", locking" if entry.locking else ""
    return phrase(sizes["height"], " high, stem ", sizes["stem"], " × ", sizes["stem length"], locks)


def _plate_forms(_entry: Any, sizes: Sizes) -> tuple[Form, ...]:
    long, wide, thick = (float(sizes[f"plate {key}"]) for key in ("length", "width", "thickness"))
    return (Block((-long / 2, -wide / 2, 0.0), (long / 2, wide / 2, thick)), *_wheel(sizes))


def _plate_places(entry: PlateCaster, sizes: Sizes) -> tuple[Pair, ...]:
    if entry.screws is None or entry.screws.number != 4 or "inset" not in sizes:
        return ()
    return grid(sizes["plate length"], sizes["plate width"], sizes["inset"])


def _plate_size(entry: PlateCaster, sizes: Sizes) -> Phrase:
    locks = ", locking" if entry.locking else ""
    words = phrase(sizes["height"], " high, plate ")
    return words + by(sizes["plate length"], sizes["plate width"]) + phrase(locks)


def _one_height(_entry: Any, sizes: Sizes) -> tuple[Length, Length]:
    return sizes["height"], sizes["height"]


STEM = HardwareKind(
    "stem caster",
    "Stem caster",
    StemCaster,
    _stem_size,
    needs=("height", "stem", "stem length"),
    defaults=_stem_defaults,
    cuts=_stem_cuts,
    height=_one_height,
    forms=_stem_forms,
    wrong=_stem_wrong,
    says="Drive the socket in flush, then push the stem in until it snaps.",
    tools=("Hammer and a block of wood",),
)
PLATE = HardwareKind(
    "plate caster",
    "Plate caster",
    PlateCaster,
    _plate_size,
    needs=("height", "plate length", "plate width"),
    defaults=lambda _entry, _sizes, _metric: {"plate thickness": "2.5mm", "wheel": "height * 3 / 4"},
    places=_plate_places,
    height=_one_height,
    forms=_plate_forms,
    screw=UsualScrew("12", "5mm", "3/4in", "20mm"),
    says="Set the plate square, prick its holes through it, bore them and drive the screws.",
)
