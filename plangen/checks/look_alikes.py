"""Warn of parts that a builder will swap: one measure differs, and by little."""

from __future__ import annotations

from itertools import combinations

from plangen.checks.frame import printed
from plangen.design.model import Design, Part
from plangen.findings import Findings
from plangen.solids import Solids
from plangen.units import ZERO, Length, millimetres

# Under this a difference is missed at arm's length: common practice, no source.
NEAR = millimetres(6)


def parts_tell_apart(design: Design, solids: Solids, findings: Findings) -> None:
    """Add ``look-alikes`` for two parts of one stock that differ in one measure by less than 6 mm."""
    for one, two in combinations(design.parts, 2):
        if one.stock != two.stock or one.name == two.name:
            continue
        differences = [abs(a - b) for a, b in zip(_measures(one), _measures(two), strict=True)]
        small = [difference for difference in differences if difference]
        if len(small) == 1 and small[0] < NEAR:
            by = printed(small[0], design)
            if printed(ZERO, design) == by:
                by = f"less than is printed ({float(small[0]):.2g} mm)"
            findings.warning(
                "look-alikes",
                f"`{one.name}` and `{two.name}` differ by {by} in one measure only",
                two.place,
                "make them equal, or further apart; else a builder will swap them",
                part=two.name,
            )


def _measures(part: Part) -> tuple[Length, Length, Length]:
    return part.length, part.width, part.thickness
