"""Wedges that a maker makes: their sizes follow from the joint that they close, and are said with it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from plangen.findings import Place
from plangen.joinery.fastening import said
from plangen.joinery.piece import Bench, Fastener
from plangen.units import ZERO, Length, Phrase, inches, millimetres, phrase
from plangen.units.printing import NO_BREAK_SPACE

# A wedge that holds, and still lets itself be knocked out: common practice, no source.
SLOPE: Final = Fraction(1, 8)


@dataclass(frozen=True, slots=True)
class Wedge:
    """A wedge to be made: ``thickness`` all along, ``wide`` at its butt, ``narrow`` at its tip."""

    length: Length
    thickness: Length
    wide: Length
    narrow: Length


def tusk_wedge(across: Length, wide: Length, thickness: Length, length: Length | None, bench: Bench) -> Wedge:
    """Give the wedge that is ``wide`` where it enters a tenon and goes ``across`` it at 1:8.

    It stands out at both sides; how far, a hand's grip for the mallet, is common practice, no source.
    Where it would taper to nothing on the far side it stands out less there.
    """
    grip = inches(1) if bench.units == "inch" else millimetres(25)
    least = inches("1/8") if bench.units == "inch" else millimetres(3)
    whole = length if length is not None else bench.round_up(across + grip * 2)
    spare = max(ZERO, whole - across)
    room = (wide - across * SLOPE - least) / SLOPE
    below = min(spare / 2, max(ZERO, room))
    above = spare - below
    butt = wide + above * SLOPE
    return Wedge(whole, thickness, butt, butt - whole * SLOPE)


def say_tusk_wedge(wedge: Wedge) -> Phrase:
    """Say how the wedge of a tusk tenon is made."""
    words = phrase("Make each wedge ", wedge.thickness, " thick and ", wedge.length, " long, one edge ")
    words += phrase("straight along the grain and the other sloped 1:8: ", wedge.wide, " wide at the butt ")
    return words + phrase("and ", wedge.narrow, " at the tip.")


def kerf_wedge(kerf: Length, depth: Length, tenon: Length) -> Wedge:
    """Give a wedge for a saw kerf: twice the kerf at its butt, an edge at its tip: common practice."""
    return Wedge(depth, tenon, kerf * 2, ZERO)


def say_kerf_wedge(wedge: Wedge) -> Phrase:
    """Say how the wedges in the end of a tenon are made."""
    return phrase(
        "For each kerf ", wedge.length, " deep make a wedge as wide as the tenon is thick, ", wedge.thickness,
        ", and as long as the kerf is deep, tapering along the grain from ", wedge.wide, " thick to an edge.",
    )  # fmt: skip


def report_no_size(
    row: Fastener, thickness: Length, width: Length, length: Length, place: Place, bench: Bench
) -> None:
    """Warn of a row of wedges that gives no size, so that the bill of hardware could not say it."""
    if row.ware is not None or any(size is not None for size in (row.thickness, row.width, row.length)):
        return
    sizes = {"thickness": thickness, "width": width, "length": length}
    typed = ", ".join(f"{key}: {_typed(size, bench)}" for key, size in sizes.items())
    bench.findings.warning(
        "hardware-no-size",
        f"the row `{row.name}` gives no size, so the bill of hardware cannot say which {row.kind} to make",
        place,
        f"here it comes out as `{typed}`: write that in its row",
    )


def _typed(size: Length, bench: Bench) -> str:
    """Write a length as a maker types it: ``1-3/8in``."""
    number, unit = said(size, bench).rsplit(NO_BREAK_SPACE, 1)
    return number.replace(NO_BREAK_SPACE, "-") + unit
