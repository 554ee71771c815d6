"""Shop practice that the lists and diagrams go by: one place for every allowance, none hidden.

All of it common practice, no source, except where a line says otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from plangen.design.gluing_order import RULES, rounded_up
from plangen.design.model import Design
from plangen.units import Length, inches, millimetres

__all__ = ["CUBIC_METRE", "INCH", "METRIC", "SQUARE_FOOT", "Practice", "practice", "rounded_up"]


@dataclass(frozen=True, slots=True)
class Practice:
    """Allowances in one system, so that what is marked with a tape falls on its lines."""

    over_length: Length  # boards: cut over, so that both ends can be squared
    over_width: Length  # boards: ripped over, so that the edge can be jointed
    end: Length  # boards: what comes off each end, where the wood has checked
    factory_edge: Length  # sheets: what comes off each edge, kerf and all
    tape: Length  # rough sizes are rounded up to this
    off_cut_length: Length  # an off-cut is worth keeping from this size up
    off_cut_width: Length
    lengths: tuple[Length, ...]  # boards, where the maker lists none
    widths: tuple[Length, ...]
    over_thickness: Length | None = None  # boards: what planing has to take; None: whatever it takes


# The length allowance is that of I. S. Griffith's bills (1912-1916); his 1/4 in of width is for rough
# edges, and half of it does for boards bought with straight ones.
INCH: Final = Practice(
    over_length=RULES["inch"].length,
    over_width=RULES["inch"].jointing,
    end=inches(1),
    factory_edge=inches("1/4"),
    tape=RULES["inch"].tape,
    off_cut_length=inches(6),
    off_cut_width=inches(2),
    lengths=(inches(72), inches(96), inches(120)),
    # Dressed widths of 1×4 to 1×12: American Softwood Lumber Standard, PS 20, Table 3, dry.
    widths=tuple(inches(width) for width in ("7/2", "11/2", "29/4", "37/4", "45/4")),
)
METRIC: Final = Practice(
    over_length=RULES["mm"].length,
    over_width=RULES["mm"].jointing,
    end=millimetres(25),
    factory_edge=millimetres(6),
    tape=RULES["mm"].tape,
    off_cut_length=millimetres(150),
    off_cut_width=millimetres(50),
    lengths=(millimetres(1800), millimetres(2400), millimetres(3000)),
    widths=tuple(millimetres(width) for width in (95, 120, 145, 195, 245)),
)

SQUARE_FOOT: Final = Fraction(3048, 10) ** 2  # mm2
CUBIC_METRE: Final = Fraction(10**9)  # mm3


def practice(design: Design) -> Practice:
    """Give the allowances of a project: the usual ones of its own units, and the shop's over them."""
    usual, own = METRIC if design.project.units == "mm" else INCH, design.shop.rough
    return replace(
        usual,
        over_length=usual.over_length if own.length is None else own.length,
        over_width=usual.over_width if own.width is None else own.width,
        over_thickness=own.thickness,
        end=usual.end if own.end is None else own.end,
        factory_edge=usual.factory_edge if own.sheet_edge is None else own.sheet_edge,
        tape=own.tape or usual.tape,
    )
