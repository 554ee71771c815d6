"""Hinges: two leaves on a pin, let in or laid on; and the same sold by the length."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from plangen.expressions import LengthExpr
from plangen.joinery.hardware.ware import (
    Block,
    Form,
    HardwareKind,
    Pair,
    Screwed,
    Sizes,
    Turned,
    UsualScrew,
    by,
    in_row,
)
from plangen.units import Phrase, phrase


class Hinge(Screwed):
    """``hinge: {kind: butt hinge, length: 2in, leaf: 3/4in, thickness: 1/16in, screws: 6}``.

    ``leaf`` is from the middle of the pin to the free edge of a leaf, ``thickness`` that of one leaf,
    ``closed`` the thickness of the closed hinge over both leaves, and ``pin out`` how far the middle
    of the pin stands outside the face that the hinge opens to.
    """

    length: LengthExpr | None = None
    leaf: LengthExpr | None = None
    thickness: LengthExpr | None = None
    knuckle: LengthExpr | None = None  # diameter
    closed: LengthExpr | None = None
    pin_out: LengthExpr | None = None


def _defaults(entry: Hinge, sizes: Sizes, _metric: bool) -> Mapping[str, str]:
    """A plain hinge: the leaves lie as far apart as the knuckle is thick, and the pin stands at its middle.

    Common practice, no source. A knuckle is wound from its leaf, about three leaves thick.
    """
    return {"knuckle": "thickness * 3", "closed": "knuckle", "pin out": "knuckle / 2"}


def _wrong(_entry: Any, sizes: Sizes) -> tuple[str, str, str] | None:
    if sizes["leaf"] <= sizes["knuckle"] / 2:
        return (
            "leaf",
            "a leaf counted from the middle of the pin is wider than half the knuckle",
            ("measure from the middle of the pin to the free edge of the leaf"),
        )
    if sizes["closed"] < sizes["thickness"] * 2:
        return "closed", "a closed hinge is no thinner than its two leaves", "measure over both leaves"
    return None


def _places(entry: Hinge, sizes: Sizes) -> tuple[Pair, ...]:
    """The places on one leaf: half of the screws, in a row ``inset`` from its free edge."""
    screws = entry.screws
    if screws is None or "pitch" not in sizes or "inset" not in sizes:
        return ()
    return in_row(screws.number // 2, sizes["pitch"], sizes["leaf"] - sizes["inset"])


def _forms(_entry: Any, sizes: Sizes) -> tuple[Form, ...]:
    """Open flat, the pin along it; the leaves lie on the face."""
    half, leaf, thick = (float(sizes[key]) for key in ("length", "leaf", "thickness"))
    half, radius = half / 2, float(sizes["knuckle"]) / 2
    return (
        Block((-half, -leaf, -thick), (half, -radius * 0.6, 0.0)),
        Block((-half, radius * 0.6, -thick), (half, leaf, 0.0)),
        Turned(((-half, radius), (half, radius)), axis=0, at=(0.0, 0.0, radius - thick)),
    )


def _size(_entry: Any, sizes: Sizes) -> Phrase:
    return by(sizes["length"], sizes["leaf"] * 2) + phrase(" open")


_SCREW = UsualScrew("6", "3.5mm", "5/8in", "16mm")
_SAYS = "Lay the leaf in its recess, prick the holes through it, bore them and drive one screw first to try."

BUTT = HardwareKind(
    "butt hinge",
    "Butt hinge",
    Hinge,
    _size,
    needs=("length", "leaf", "thickness"),
    defaults=_defaults,
    places=_places,
    forms=_forms,
    wrong=_wrong,
    screw=_SCREW,
    cautions=("pinch",),
    says=_SAYS,
    also_called=("hinge",),
)
CONTINUOUS = HardwareKind(
    "continuous hinge",
    "Continuous hinge",
    Hinge,
    _size,
    needs=("length", "leaf", "thickness"),
    defaults=_defaults,
    places=_places,
    forms=_forms,
    wrong=_wrong,
    screw=_SCREW,
    cautions=("pinch",),
    says=_SAYS,
)
