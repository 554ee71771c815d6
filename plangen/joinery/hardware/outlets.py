"""A mains outlet plate: its body in a pocket, its flange on the face or let in flush."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from plangen.expressions import LengthExpr, YesNo
from plangen.joinery.hardware.ware import (
    Block,
    Bored,
    Form,
    HardwareKind,
    LetIn,
    Pair,
    Screwed,
    Sizes,
    UsualScrew,
    by,
    in_row,
)
from plangen.units import ZERO, Length


class Outlet(Screwed):
    """``outlet: {kind: mains outlet plate, plate length: …, plate width: …, body length: …, …}``.

    The body goes through a pocket, the flange of the plate covers its edge. ``body depth`` is how far
    it reaches behind the plate; in a thinner part the pocket goes right through. ``let in: yes`` sinks
    the plate flush, in a recess with corners of the radius ``corner``: 1/4 in or 6 mm unless said.
    """

    plate_length: LengthExpr | None = None
    plate_width: LengthExpr | None = None
    plate_thickness: LengthExpr | None = None
    body_length: LengthExpr | None = None
    body_width: LengthExpr | None = None
    body_depth: LengthExpr | None = None
    corner: LengthExpr | None = None
    let_in: YesNo | None = None


def _defaults(entry: Outlet, _sizes: Sizes, metric: bool) -> Mapping[str, str]:
    """A plate 3 mm thick; corners that a 1/2 in or 12 mm bit leaves: common practice, no source."""
    usual = {"plate thickness": "3mm"}
    return (
        usual | {"corner": "6mm" if metric else "1/4in", "sunk": "plate thickness"} if entry.let_in else usual
    )


def _cuts(entry: Outlet, sizes: Sizes) -> tuple[Bored | LetIn, ...]:
    sunk = sizes.get("sunk", ZERO)
    along, over = _about(sizes["body length"]), _about(sizes["body width"])
    pocket = LetIn("Pocket", along, over, sizes["body depth"] + sunk, opens=True)
    if not entry.let_in:
        return (pocket,)
    along, over = _about(sizes["plate length"]), _about(sizes["plate width"])
    return (LetIn("Recess", along, over, sunk, sizes["corner"]), pocket)


def _about(size: Length) -> Pair:
    """From one end to the other of what lies about the middle."""
    return -size / 2, size / 2


def _forms(_entry: Any, sizes: Sizes) -> tuple[Form, ...]:
    long, wide = (float(sizes[f"plate {key}"]) / 2 for key in ("length", "width"))
    body, broad, deep = (float(sizes[f"body {key}"]) for key in ("length", "width", "depth"))
    back = -float(sizes.get("sunk", ZERO))
    return (
        Block((-long, -wide, back), (long, wide, back + float(sizes["plate thickness"]))),
        Block((-body / 2, -broad / 2, back - deep), (body / 2, broad / 2, back)),
    )


def _places(entry: Outlet, sizes: Sizes) -> tuple[Pair, ...]:
    """Its screws lie in a row along it through the middle, as far apart as their ``pitch``."""
    if entry.screws is None or "pitch" not in sizes:
        return ()
    return in_row(entry.screws.number, sizes["pitch"], ZERO)


def _wrong(entry: Outlet, sizes: Sizes) -> tuple[str, str, str] | None:
    for key in ("length", "width"):
        if sizes[f"plate {key}"] <= sizes[f"body {key}"]:
            return (
                f"plate {key}",
                "the plate does not cover the edge of its pocket",
                "a plate is larger than the body behind it",
            )
    if "corner" in sizes and not entry.let_in:
        return (
            "corner",
            "its corners matter only where it is let in",
            "add `let in: yes`, or take `corner` out",
        )
    if sizes.get("corner", ZERO) * 2 > min(sizes["plate length"], sizes["plate width"]):
        return "corner", "its corners are rounder than it is wide", "make it half of the width at most"
    if any(abs(along) <= sizes["body length"] / 2 for along, _ in _places(entry, sizes)):
        return (
            "screws",
            "its screws would go into the pocket",
            "the `pitch` is from screw to screw along the plate, and wider than the body",
        )
    return None


KIND = HardwareKind(
    "mains outlet plate",
    "Mains outlet plate",
    Outlet,
    lambda _entry, sizes: by(sizes["plate length"], sizes["plate width"]),
    needs=("plate length", "plate width", "body length", "body width", "body depth"),
    defaults=_defaults,
    cuts=_cuts,
    places=_places,
    forms=_forms,
    wrong=_wrong,
    screw=UsualScrew("6", "3.5mm", "5/8in", "16mm"),
    cautions=("mains wiring",),
    says=(
        "Leave the wiring dead until the piece stands: follow local codes, and have it done or checked "
        "by a licensed electrician."
    ),
)
