"""The larger examples: every row of their cut lists worked out by hand, and read back from the CSV files."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from plangen.findings import Severity
from plangen.joinery.space import Axis
from plangen.pipeline import Checked, Source, check
from plangen.takeoff import csv_files
from plangen.units import LengthStyle

ROOT = Path(__file__).resolve().parents[2]
SIDES = ("Length", "Width", "Thickness")
Row = tuple[int, float, float, float]  # number, length, width, thickness


def inch(text: str) -> float:
    """``3-1/4`` as millimetres."""
    return float(sum(Fraction(word) for word in text.split("-")) * Fraction(254, 10))


@cache
def checked(name: str) -> Checked:
    data = (ROOT / "projects" / name / "project.yaml").read_bytes()
    result = check(Source(name, "project.yaml", data))
    # The examples are what a newcomer copies: they warn of nothing.
    assert [f"{one.kind}: {one.message}" for one in result.findings] == []
    assert not any(one.severity is Severity.ERROR for one in result.findings)
    assert result.checked is not None
    return result.checked


def table(name: str, file: str) -> list[dict[str, str]]:
    found = checked(name)
    data = csv_files(found.design, found.take_off, LengthStyle(found.design.project.units))[file]
    return list(csv.DictReader(io.StringIO(data.decode("utf-8"))))


# Sewing table, inches. The frame stands 1-1/2 in from the left, right and front of a top of 42 x 22, and
# 2-3/4 from its back; legs are 1-3/4 square, so 35-1/2 lie between them across and 14-1/4 deep. From the
# floor: casters 3, legs to 30 less the top's 7/8. Drawer bottoms enter 1/4 less 1/32 at each end.
BETWEEN, ASIDE = "35-1/2", "14-1/4"
PLY, THIN = 0.472, 0.205
OPENING = 21 - PLY / 2 - 3.25  # from the leg's inner face to the divider in the middle
OUTSIDE = OPENING - 1  # a slide of 1/2 in at each side
GATE_TOP = 30 - 7 / 8 - 1 / 32
SEWING_TABLE: Mapping[str, Row] = {
    "Front leg, left": (1, inch("26-1/8"), inch("1-3/4"), inch("1-3/4")),
    "Front leg, right": (1, inch("26-1/8"), inch("1-3/4"), inch("1-3/4")),
    "Back leg, left": (1, inch("26-1/8"), inch("1-3/4"), inch("1-3/4")),
    "Back leg, right": (1, inch("26-1/8"), inch("1-3/4"), inch("1-3/4")),
    "Side apron": (2, inch(ASIDE) + 2 * inch("1"), inch("5-1/4"), inch("7/8")),
    "Back apron": (1, inch(BETWEEN) + 2 * inch("1"), inch("5-1/4"), inch("7/8")),
    "Upper front rail": (1, inch(BETWEEN) + 2 * inch("5/8"), inch("1-5/8"), inch("7/8")),
    "Lower front rail": (1, inch(BETWEEN) + 2 * inch("5/8"), inch("1-5/8"), inch("7/8")),
    "Drawer divider": (1, inch("3-1/2") + 2 * inch("3/8"), inch("1-5/8"), PLY * 25.4),
    # From the rails' back, 3-1/4, to the apron's front, 19-1/4 - 1/8 - 7/8, and 1/4 into it.
    "Drawer web": (1, inch("15") + inch("1/4"), inch("4-3/8"), PLY * 25.4),
    "Slide cleat": (2, inch(ASIDE), inch("3"), inch("3/4")),
    "Stretcher": (2, inch(ASIDE) + 2 * inch("3/4"), inch("2"), inch("7/8")),
    "Back stretcher": (1, inch(BETWEEN) + 2 * inch("3/4"), inch("2-1/2"), inch("7/8")),
    # Stretchers stand in the middle of the legs: the outer face 1-1/2 + 7/8 - 7/16 from the left.
    "Slat": (8, inch("42") - 2 * inch("1-15/16"), inch("1-1/2"), inch("7/8")),
    "Top": (1, inch("42"), inch("22"), inch("7/8")),
    "Leaf": (1, inch("42"), inch("13"), inch("7/8")),
    "Gate stile": (1, (GATE_TOP - (9 - 7 / 8 - 2)) * 25.4, inch("1-3/4"), inch("1-3/4")),
    "Gate leg": (1, (GATE_TOP - 1.125) * 25.4, inch("1-3/4"), inch("1-3/4")),
    "Gate rail": (2, inch("12") - 2 * inch("1-3/4") + 2 * inch("1"), inch("2-1/2"), inch("7/8")),
    "Drawer side, left": (2, inch("14"), inch("2-7/8"), PLY * 25.4),
    "Drawer side, right": (2, inch("14"), inch("2-7/8"), PLY * 25.4),
    "Drawer box front": (2, (OUTSIDE - 2 * PLY + 0.5) * 25.4, inch("2-7/8"), PLY * 25.4),
    "Drawer box back": (2, (OUTSIDE - 2 * PLY + 0.5) * 25.4, inch("2-7/8"), PLY * 25.4),
    "Drawer bottom": (2, (OUTSIDE - 2 * PLY + 0.4375) * 25.4, (14 - 2 * PLY + 0.4375) * 25.4, THIN * 25.4),
    "Drawer front": (2, (OPENING - 0.25) * 25.4, inch("3-1/4"), inch("7/8")),
    "Tray side": (2, inch("15"), inch("3"), inch("1/2")),
    "Tray end": (2, inch("10"), inch("3"), inch("1/2")),
    "Tray bottom": (1, inch("14-7/16"), inch("9-7/16"), THIN * 25.4),
    "Tray divider": (1, inch("9-1/4"), inch("1-3/4"), inch("1/2")),
    "Spool board": (1, inch("8-1/2"), inch("6-1/2"), inch("1/2")),
    "Spool rack peg": (12, inch("1-7/8"), inch("1/4"), inch("1/4")),
}

# Blanket chest, mm. Posts of 44 at the corners of 1000 x 460, so 912 lie between them across and 372 deep;
# muntins of 70 leave 421 beside them. Panels stand 260 high between rails of 90 and 70, in grooves of 10.
# Across the grain a panel keeps half of what it can swell, on the next whole millimetre: Wood Handbook
# (FPL-GTR-190) Eq. 13-2 with Table 13-5's C_T of white oak, 0.00365, over 4 % of moisture content.
WHITE_OAK = 0.00365


def panel(opening: int) -> float:
    gap = math.ceil((opening + 20) * WHITE_OAK * 4 / 2)
    return opening + 2.0 * (10 - gap)


BLANKET_CHEST: Mapping[str, Row] = {
    "Corner post, left": (2, 480, 44, 44),
    "Corner post, right": (2, 480, 44, 44),
    "Front top rail": (1, 912 + 36, 70, 22),
    "Back top rail": (1, 912 + 36, 70, 22),
    "Long bottom rail": (2, 912 + 36, 90, 22),
    "Short top rail": (2, 372 + 36, 70, 22),
    "Short bottom rail": (2, 372 + 36, 90, 22),
    "Muntin": (2, 260 + 40, 70, 22),
    "Long panel": (4, 260 + 2 * 9, panel(421), 12),
    "End panel": (2, 260 + 2 * 9, panel(372), 12),
    "Ledger": (2, 912, 22, 22),
    "Bottom": (1, 912, 460 - 2 * 28, 11.8),
    "Lid": (1, 1040, 460 - 6 + 20, 22),
    "Batten": (2, 330, 60, 20),
}

# Splayed stool, inches. A leg drops 18 - 1-3/4 while it goes aside by tan 8 and forward by tan 6 of that.
# Its foot is level, so half of the section times the slopes is added; its shoulder is square, so as much is
# taken off. A rung starts where its middle comes out of the leg, and stands off a face that tilts.
SIDE, AHEAD = math.tan(math.radians(8)), math.tan(math.radians(6))
DROP = 18 - 1.75
STRETCH = math.sqrt(1 + SIDE**2 + AHEAD**2)


def rung() -> float:
    """Length in inches: the leg's axes are rotated here by the least turn to its lean (Rodrigues)."""
    down = (-SIDE / STRETCH, -AHEAD / STRETCH, -1 / STRETCH)
    # Turn about (a, b, 0) = plumb x lean, by the angle between them.
    a, b = -down[1], down[0]
    sine, cosine = math.hypot(a, b), -down[2]
    a, b = a / sine, b / sine
    # The leg's own deep axis after the turn, in frame coordinates.
    deep = (a * b * (1 - cosine), cosine + b * b * (1 - cosine), a * sine)
    front = 2.75 - (DROP - 5.5) * AHEAD
    between = 11.5 - 2 * front
    out = 0.75 / deep[1]
    stands_off = 0.5 * abs(deep[0] / deep[1]) + 0.5 * abs(deep[2] / deep[1])
    return between - 2 * out - 2 * stands_off + 2 * 0.875


def stretcher() -> float:
    """From rung to rung, square to both: the rungs lie level, straight front to back."""
    left = 3.25 - (DROP - 5.5) * SIDE
    return 15 - 2 * left - 2 * 0.5 + 2 * 0.625


SPLAYED_STOOL: Mapping[str, Row] = {
    "Leg, left": (2, (DROP * STRETCH + 2.25) * 25.4, inch("1-1/2"), inch("1-1/2")),
    "Leg, right": (2, (DROP * STRETCH + 2.25) * 25.4, inch("1-1/2"), inch("1-1/2")),
    "Rung": (2, rung() * 25.4, inch("1"), inch("1")),
    "Stretcher": (1, stretcher() * 25.4, inch("1"), inch("1")),
    "Seat": (1, inch("15"), inch("11-1/2"), inch("1-3/4")),
}

EXAMPLES = {
    "sewing-table": SEWING_TABLE,
    "blanket-chest": BLANKET_CHEST,
    "splayed-stool": SPLAYED_STOOL,
}


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_row_of_the_cut_list(name: str) -> None:
    found = {
        row["Part"]: (int(row["Number"]), *(float(row[f"{side} exact, mm"]) for side in SIDES))
        for row in table(name, "cut-list.csv")
    }
    assert sorted(found) == sorted(EXAMPLES[name])
    for part, row in EXAMPLES[name].items():
        assert found[part] == pytest.approx(row, abs=1e-4), part


def test_the_sewing_table_is_as_large_as_a_tool_for_furniture_has_to_bear() -> None:
    assert 60 <= sum(row[0] for row in SEWING_TABLE.values()) <= 120


# Slats cross two stretchers; three buttons hold the top to each of three aprons; two drawers run on two
# slides each, which bring six screws; three leaf hinges bring six and two gate hinges four.
SEWING_HARDWARE = {
    ("Stem caster", "stem caster"): 4,
    ("Wood screw, flat head", "slat screws"): 8 * 2,
    ("Wood screw, pan head", "front screws"): 2 * 2,
    ("Dowel, fluted", "web dowels"): 2,
    ("Drawer slide", "runners"): 2 * 2,
    ("Wood screw, for the slide", "runners"): 2 * 2 * 6,
    ("Butt hinge", "leaf hinges"): 3,
    ("Wood screw, for the leaf hinge", "leaf hinges"): 3 * 6,
    ("Butt hinge", "gate hinges"): 2,
    ("Wood screw, for the gate hinge", "gate hinges"): 2 * 4,
    ("Turned knob", "knob"): 2,
    ("Mains outlet plate", "outlet"): 1,
    ("Wood screw, for the outlet", "outlet"): 2,
    ("Table button", "top buttons"): 3 * 3,
    ("Wood screw, for the top button", "top buttons"): 3 * 3,
    ("Leveler", "gate leveler"): 1,
    ("Wood screw, flat head", "cleat screws"): 2 * 3,
}


def test_hardware_is_counted_from_what_it_holds() -> None:
    rows = table("sewing-table", "hardware.csv")
    assert len(rows) == len(SEWING_HARDWARE)
    for (item, use), number in SEWING_HARDWARE.items():
        (row,) = (row for row in rows if row["Item"] == item and row["Used by"].startswith(use))
        assert int(row["Number"]) == number, (item, use)


def test_overall_sizes_of_every_position() -> None:
    """Width, depth and height, inches; the leaf's pin hangs 1/8 below the top, in the middle of the gap."""
    found = {
        position.name: tuple(float(position.overall.size(axis).inches) for axis in Axis)
        for position in checked("sewing-table").design.positions
    }
    assert found == {
        "leaf up": (42, 22 + 1 / 16 + 13, 30),
        "leaf up on its gate": (42, 22 + 1 / 16 + 13, 30),
        "leaf down": (42, 22 + 1 / 32 + 1 / 8 + 7 / 8, 30),
        # The fronts stand 1-1/2 + 1/8 in from the front of the top, and come out by 13.
        "drawers out": (42, 22 + 1 / 16 + 13 + 13 - 1.625, 30),
    }


def test_the_lid_stands_over_the_chest_by_what_rotation_gives() -> None:
    (opened,) = (one for one in checked("blanket-chest").design.positions if one.name == "lid open")
    # The pin lies 3 mm behind the back rail's face, which is 6 mm in from the back, and 1 mm over the rail:
    # the lid's front edge is 474 + 3 from it and turns by 95 degrees.
    reach = 477 * math.sin(math.radians(95)) + 1 * math.cos(math.radians(95))
    assert float(opened.overall.high.up) == pytest.approx(481 + reach, abs=0.2)
