"""What each example must come to, worked out by hand from its drawing in terms of its named sizes."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from tests.whole.sums import Project


@dataclass(frozen=True)
class Piece:
    """One line of a cut list: inches; ``shoulder`` is the length between shoulders where it differs."""

    title: str
    number: int
    stock: str
    thickness: Fraction
    width: Fraction
    length: Fraction
    shoulder: Fraction | None = None


def pieces(name: str) -> tuple[Piece, ...]:
    """The cut list of a project."""
    return {"step-stool": _stool, "wall-cabinet": _cabinet}[name](Project(name))


def hardware(name: str) -> dict[str, int]:
    """How many pieces of each item: the number at one joint times the pairs of parts that it joins."""
    return {"step-stool": _stool_hardware, "wall-cabinet": _cabinet_hardware}[name](Project(name))


def _stool(p: Project) -> tuple[Piece, ...]:
    thick = p["poplar.thickness"]
    between = p["width"] - 2 * thick
    parts = p.data["parts"]
    lower_back = p.sum(parts["lower tread"]["place"]["back"])
    lower = Piece("Lower tread", 1, "poplar", thick, lower_back, between + 2 * p["housing"], between)
    upper_wide = p["depth"] - p["upper front"]
    upper = Piece("Upper tread", 1, "poplar", thick, upper_wide, between + 2 * p["lap"], between)
    sides = [
        Piece(f"Side, {hand}", 1, "poplar", thick, p["depth"], p["height"]) for hand in ("left", "right")
    ]
    rail = Piece("Rail", 1, "poplar", thick, p.sum(parts["rail"]["width"]), between)
    return (*sides, lower, upper, rail)


def _stool_hardware(p: Project) -> dict[str, int]:
    # Every screwed joint meets both sides; each screw is plugged.
    screws = sum(
        2 * int(p.joint(name)["per joint"]) for name in ("lower screws", "upper screws", "rail screws")
    )
    return {"screw": screws, "plug": screws}


def _cabinet(p: Project) -> tuple[Piece, ...]:
    ply, thin, maple = (p[f"{stock}.thickness"] for stock in ("ply", "back ply", "maple"))
    parts = p.data["parts"]
    case_deep = p["depth"] - maple  # behind the face frame
    sides = [Piece(f"Side, {hand}", 1, "ply", ply, case_deep, p["height"]) for hand in ("left", "right")]
    inside = p["width"] - 2 * ply
    tops = [
        Piece(f"Case {word}", 1, "ply", ply, case_deep, inside + 2 * p["lap"], inside)
        for word in ("top", "bottom")
    ]
    opening = p["height"] - 2 * ply
    back = Piece("Back", 1, "back ply", thin, inside + 2 * p["tongue"], opening + 2 * p["tongue"], opening)
    rail_wide = {
        key: p.sum(parts[key]["width"]) for key in ("hanging rail", "spacer rail", "stile", "frame rail")
    }
    rails = [
        Piece(key.capitalize(), 1, "maple", maple, rail_wide[key], inside)
        for key in ("hanging rail", "spacer rail")
    ]
    stile = Piece("Stile", 2, "maple", maple, rail_wide["stile"], p["height"])
    frame = Piece("Frame rail", 2, "maple", maple, rail_wide["frame rail"], p["width"])
    # From an eighth behind the front of the case to a little before the back, which stands before the rails.
    deep = case_deep - Fraction(1, 8) - p["hang"] - thin - p["play"]
    shelf = Piece("Shelf", 2, "ply", ply, deep, inside - 2 * p["play"])
    return (*sides, *tops, back, *rails, stile, frame, shelf)


def _cabinet_hardware(p: Project) -> dict[str, int]:
    pins = next(fields for entry in p.data["fit"] for fields in entry.values() if fields["name"] == "pins")
    (wall,) = (fit["wall screw"] for fit in p.data["parts"]["hanging rail"]["fit"])
    return {
        "dowel": 2 * int(p.joint("rail ends")["per joint"]) + 2 * int(p.joint("spacer ends")["per joint"]),
        "top screw": int(p.joint("rail to top")["per joint"]),
        "pin": int(pins["number"]),
        "wall screw": int(wall["row"]["number"]),
    }
