"""Small things that hold, catch, pull or stop: each with its plate, its hole or its pocket."""

from __future__ import annotations

from typing import Any, ClassVar

from plangen.expressions import AngleExpr, LengthExpr
from plangen.joinery.hardware.ware import (
    Bearing,
    Block,
    Bored,
    Form,
    HardwareBody,
    HardwareEntry,
    HardwareKind,
    LetIn,
    Pair,
    Screwed,
    Sizes,
    Turned,
    UsualScrew,
    by,
    in_row,
)
from plangen.units import ZERO, Phrase, phrase

_SCREW = UsualScrew("6", "3.5mm", "5/8in", "16mm")


class Pull(HardwareEntry):
    """``pull: {kind: pull, centres: 96mm, bore: 5mm}``: two holes, so far apart between their centres."""

    centres: LengthExpr | None = None
    projection: LengthExpr | None = None


class FigureEight(Screwed):
    """``clip: {kind: figure-eight fastener, diameter: 20mm, thickness: 2.5mm, screws: 2}``.

    The disc of ``diameter`` is let into the top of the rail, open to the side that the other disc
    swings out of.
    """

    diameter: LengthExpr | None = None
    thickness: LengthExpr | None = None
    centres: LengthExpr | None = None


class TableButton(Screwed):
    """``button: {kind: table button, length: 1-1/2in, width: 1in, thickness: 3/4in, tongue: 3/8in}``.

    Of wood; its tongue goes into a groove of the rail.
    """

    length: LengthExpr | None = None
    width: LengthExpr | None = None
    thickness: LengthExpr | None = None
    tongue: LengthExpr | None = None
    tongue_thickness: LengthExpr | None = None


class Bracket(Screwed):
    """``bracket: {kind: angle bracket, length: 2in, height: 2in, width: 5/8in, thickness: 1/8in}``.

    ``length`` is the leg on the part that it is fitted to, ``height`` the other one.
    """

    length: LengthExpr | None = None
    height: LengthExpr | None = None
    width: LengthExpr | None = None
    thickness: LengthExpr | None = None


class Strap(Screwed):
    """``strap: {kind: anti-tip strap, length: 10in, screws: 2}``."""

    length: LengthExpr | None = None
    width: LengthExpr | None = None


class Magnet(HardwareBody):
    """``magnet: {kind: magnet, diameter: 10mm, thickness: 3mm, depth: 3mm}``; ``bore`` is its own width."""

    diameter: LengthExpr | None = None
    thickness: LengthExpr | None = None
    bore: LengthExpr | None = None
    depth: LengthExpr | None = None


class Catch(Screwed):
    """``catch: {kind: catch, length: 2in, width: 5/8in, height: 1/2in, screws: 2}``."""

    length: LengthExpr | None = None
    width: LengthExpr | None = None
    height: LengthExpr | None = None


class LidStay(Screwed, Bearing):
    """``stay: {kind: lid stay, length: 10in, opens: 80deg, load: 5, screws: 4}``."""

    length: LengthExpr | None = None
    opens: AngleExpr | None = None

    not_lengths: ClassVar[tuple[str, ...]] = ("load", "opens")


class EdgeBanding(HardwareBody):
    """``tape: {kind: edge banding, width: 7/8in, thickness: 0.5mm, length: 25ft}``: one roll."""

    width: LengthExpr | None = None
    thickness: LengthExpr | None = None
    length: LengthExpr | None = None


def _flat(*keys: str) -> Any:
    """Sizes that a thing has, in this order."""

    def size(_entry: Any, sizes: Sizes) -> Phrase:
        return by(*(sizes[key] for key in keys if key in sizes))

    return size


def _pull_cuts(_entry: Any, sizes: Sizes) -> tuple[Bored | LetIn, ...]:
    half = sizes["centres"] / 2
    return tuple(Bored("Pull hole", at, ZERO, sizes["bore"], sizes.get("depth")) for at in (-half, half))


def _pull_forms(_entry: Any, sizes: Sizes) -> tuple[Form, ...]:
    half, out = float(sizes["centres"]) / 2, float(sizes["projection"])
    radius = max(3.0, out * 0.16)
    posts = tuple(Turned(((0.0, radius), (out, radius)), at=(at, 0.0, 0.0)) for at in (-half, half))
    bar = Turned(
        ((-half - 2 * radius, radius), (half + 2 * radius, radius)), axis=0, at=(0.0, 0.0, out - radius)
    )
    return (*posts, bar)


def _eight_cuts(_entry: Any, sizes: Sizes) -> tuple[Bored | LetIn, ...]:
    return (Bored("Fastener recess", ZERO, ZERO, sizes["diameter"], sizes["thickness"]),)


def _eight_forms(_entry: Any, sizes: Sizes) -> tuple[Form, ...]:
    radius, thick, apart = (float(sizes[key]) for key in ("diameter", "thickness", "centres"))
    disc = ((-thick, radius / 2), (0.0, radius / 2))
    return (Turned(disc), Turned(disc, at=(0.0, apart, 0.0)))


def _block(*keys: str) -> Any:
    def forms(_entry: Any, sizes: Sizes) -> tuple[Form, ...]:
        if any(key not in sizes for key in keys):
            return ()
        long, wide, high = (float(sizes[key]) for key in keys)
        return (Block((-long / 2, -wide / 2, 0.0), (long / 2, wide / 2, high)),)

    return forms


def _button_forms(_entry: Any, sizes: Sizes) -> tuple[Form, ...]:
    long, wide, thick, tongue = (float(sizes[key]) for key in ("length", "width", "thickness", "tongue"))
    tip = float(sizes["tongue thickness"])
    return (
        Block((-long / 2, -wide / 2, 0.0), (long / 2 - tongue, wide / 2, thick)),
        Block((long / 2 - tongue, -wide / 2, thick - tip), (long / 2, wide / 2, thick)),
    )


def _bracket_forms(_entry: Any, sizes: Sizes) -> tuple[Form, ...]:
    long, high, wide, thick = (float(sizes[key]) for key in ("length", "height", "width", "thickness"))
    return (
        Block((0.0, -wide / 2, 0.0), (long, wide / 2, thick)),
        Block((0.0, -wide / 2, thick), (thick, wide / 2, high)),
    )


def _row_along(entry: Any, sizes: Sizes) -> tuple[Pair, ...]:
    if entry.screws is None or "pitch" not in sizes:
        return ()
    return in_row(entry.screws.number, sizes["pitch"], ZERO)


def _bracket_places(entry: Bracket, sizes: Sizes) -> tuple[Pair, ...]:
    """Half of the screws, in the leg on this part, the first ``inset`` from its free end."""
    if entry.screws is None or "inset" not in sizes or ("pitch" not in sizes and entry.screws.number > 2):
        return ()
    pitch = sizes.get("pitch", ZERO)
    return tuple(
        (sizes["length"] - sizes["inset"] - pitch * k, ZERO) for k in range(entry.screws.number // 2)
    )


def _magnet_cuts(_entry: Any, sizes: Sizes) -> tuple[Bored | LetIn, ...]:
    return (Bored("Magnet hole", ZERO, ZERO, sizes["bore"], sizes["depth"]),)


def _magnet_forms(_entry: Any, sizes: Sizes) -> tuple[Form, ...]:
    radius = float(sizes["diameter"]) / 2
    return (Turned(((-float(sizes["thickness"]), radius), (0.0, radius))),)


def _magnet_wrong(_entry: Any, sizes: Sizes) -> tuple[str, str, str] | None:
    if sizes["bore"] < sizes["diameter"]:
        return "bore", "the hole is narrower than the magnet", "bore its own diameter, or a little more"
    return None


def _stay_size(_entry: Any, sizes: Sizes) -> Phrase:
    return phrase(sizes["length"], " long")


def _strap_forms(_entry: Any, sizes: Sizes) -> tuple[Form, ...]:
    """A flat strap with an eye at each end; 1.5 mm thick and eyes of a third of its width: only drawn."""
    half, wide = float(sizes["length"]) / 2, float(sizes["width"]) / 2
    eyes = tuple(
        Turned(((1.5, wide / 3), (3.0, wide / 3)), at=(at, 0.0, 0.0)) for at in (wide - half, half - wide)
    )
    return (Block((-half, -wide, 0.0), (half, wide, 1.5)), *eyes)


def _stay_forms(_entry: Any, sizes: Sizes) -> tuple[Form, ...]:
    """An arm with a plate at each end, a twelfth of its length wide: only drawn."""
    half = float(sizes["length"]) / 2
    wide = half / 12
    plates = tuple(
        Block((at - 2 * wide, -1.6 * wide, 0.0), (at + 2 * wide, 1.6 * wide, 2.0))
        for at in (2 * wide - half, half - 2 * wide)
    )
    return (Block((2 * wide - half, -wide, 2.0), (half - 2 * wide, wide, 5.0)), *plates)


PULL = HardwareKind(
    "pull",
    "Pull",
    Pull,
    lambda _entry, sizes: phrase(sizes["centres"], " between centres"),
    needs=("centres", "bore"),
    defaults=lambda _entry, _sizes, metric: {"projection": "30mm" if metric else "1-1/4in"},
    cuts=_pull_cuts,
    forms=_pull_forms,
    says="Push its screws through from behind and drive them into the pull.",
    tools=("Screwdriver for the screws",),
)
FIGURE_EIGHT = HardwareKind(
    "figure-eight fastener",
    "Figure-eight fastener",
    FigureEight,
    lambda _entry, sizes: phrase(sizes["diameter"], " across"),
    needs=("diameter", "thickness"),
    defaults=lambda _entry, _sizes, _metric: {"centres": "diameter"},
    cuts=_eight_cuts,
    forms=_eight_forms,
    screw=_SCREW,
    says="Screw it into its recess so that it can still swing; the top moves with the seasons.",
)
TABLE_BUTTON = HardwareKind(
    "table button",
    "Table button",
    TableButton,
    _flat("length", "width", "thickness"),
    needs=("length", "width", "thickness", "tongue"),
    defaults=lambda _entry, _sizes, _metric: {"tongue thickness": "thickness / 2"},
    forms=_button_forms,
    screw=UsualScrew("8", "4mm", "1-1/4in", "30mm"),
    says="Set its tongue in the groove, short of the bottom, so that the top can move; screw it to the top.",
)
ANGLE_BRACKET = HardwareKind(
    "angle bracket",
    "Angle bracket",
    Bracket,
    _flat("length", "height", "width"),
    needs=("length", "height", "width", "thickness"),
    places=_bracket_places,
    forms=_bracket_forms,
    screw=_SCREW,
    says="Hold it tight in the corner, prick its holes through it, bore them and drive the screws.",
)
CLEAT_PLATE = HardwareKind(
    "cleat plate",
    "Cleat plate",
    Catch,
    _flat("length", "width"),
    needs=("length", "width", "height"),
    places=_row_along,
    forms=_block("length", "width", "height"),
    screw=_SCREW,
    says="Set it level, prick its holes through it, bore them and drive the screws.",
)
WALL_ANCHOR = HardwareKind(
    "wall anchor",
    "Wall anchor",
    HardwareEntry,
    _flat("diameter", "length"),
    cautions=("wall hanging",),
    says="Bore the wall for the anchor, and drive its screw into it; take an anchor made for your wall.",
    tools=("Drill, and a bit that suits the wall", "Screwdriver for the screws"),
)
STRAP = HardwareKind(
    "anti-tip strap",
    "Anti-tip strap",
    Strap,
    _stay_size,
    needs=("length",),
    defaults=lambda _entry, _sizes, metric: {"width": "20mm" if metric else "3/4in"},
    forms=_strap_forms,
    screw=UsualScrew("10", "5mm", "2in", "50mm"),
    cautions=("tip over",),
    says="Screw one end to the piece and the other into a stud or a wall anchor, and draw it tight.",
)
MAGNET = HardwareKind(
    "magnet",
    "Magnet",
    Magnet,
    lambda _entry, sizes: by(sizes["diameter"], sizes["thickness"]),
    needs=("diameter", "thickness"),
    defaults=lambda _entry, _sizes, _metric: {"bore": "diameter", "depth": "thickness"},
    cuts=_magnet_cuts,
    forms=_magnet_forms,
    wrong=_magnet_wrong,
    says="Try which way the magnets draw each other, then glue them in.",
    in_pairs=True,
)
CATCH = HardwareKind(
    "catch",
    "Catch",
    Catch,
    _flat("length", "width", "height"),
    needs=("length", "width", "height"),
    places=_row_along,
    forms=_block("length", "width", "height"),
    screw=_SCREW,
    says="Screw it on in the middle of its slots, try the door, and shift it until it holds.",
)
LID_STAY = HardwareKind(
    "lid stay",
    "Lid stay",
    LidStay,
    _stay_size,
    needs=("length",),
    forms=_stay_forms,
    screw=_SCREW,
    cautions=("pinch", "falling lid"),
    says="Hold the lid open as far as it should go, lay the stay from the lid to the inside of the case, and "
    "mark its holes on both. Screw one plate to each; the arm must fold between them as the lid shuts.",
)
EDGE_BANDING = HardwareKind(
    "edge banding",
    "Edge banding",
    EdgeBanding,
    _flat("width", "thickness", "length"),
    needs=("width", "thickness"),
)
