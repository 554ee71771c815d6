"""The bound by weighing all ways to fill a sheet: never above a plan that is known, and above plain area."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.takeoff.cutting import Panel, Piece, Sawing, plan_sheets
from plangen.takeoff.cutting.opening import openings
from plangen.takeoff.cutting.recreate import prepare
from plangen.takeoff.cutting.scales import load_of, needs
from plangen.takeoff.cutting.sheets_proof import Proof, prove
from tests.cutting.verifier import check_sawn
from tests.cutting.workshop_sheets import jobs

WORK = 300_000


def divided(draw, length, width, kerf, depth):
    """Saw a rectangle straight through again and again; give what it falls into."""
    side = draw(st.sampled_from(["length", "width", "done"] if depth else ["done"]))
    room = {"length": length, "width": width}.get(side, 0) - kerf
    if room < 10:
        return [(length, width)]
    low = draw(st.integers(5, room - 5))
    high = room - low
    parts = [(low, width), (high, width)] if side == "length" else [(length, low), (length, high)]
    return [one for part in parts for one in divided(draw, *part, kerf, depth - 1)]


@st.composite
def sawn(draw):
    """Panels of two kinds with what comes off them, in any number of stages, nothing left over."""
    kerf = draw(st.integers(0, 3))
    panels = [
        Panel("large", 240, 120, Fraction(draw(st.integers(5, 9)))),
        Panel("small", draw(st.integers(60, 200)), draw(st.integers(40, 119)), Fraction(4)),
    ]
    taken = draw(st.lists(st.sampled_from([0, 1]), min_size=1, max_size=3))
    sizes = Counter(
        one for kind in taken for one in divided(draw, panels[kind].length, panels[kind].width, kerf, 4)
    )
    pieces = []
    for at, ((length, width), number) in enumerate(sizes.items()):
        turns, swapped = draw(st.sampled_from([(False, False), (True, False), (True, True)]))
        pieces.append(Piece(str(at), *((width, length) if swapped else (length, width)), number, turns))
    return pieces, panels, Sawing(kerf), taken


@settings(max_examples=15, deadline=None, derandomize=True)
@given(sawn())
def test_never_above_what_was_sawn(job):
    """What came off panels fits on them again, however clever the proof."""
    pieces, panels, sawing, taken = job
    cost = sum((panels[kind].cost for kind in taken), Fraction(0))
    load = load_of(pieces, panels, sawing)
    nothing = Proof(Fraction(0), ())
    singly = [
        (min(kind for kind, room in enumerate(load.rooms) if fits(ways, room)), Counter({at: 1}))
        for at, ways in enumerate(load.ways)
    ]
    proof = prove(load, panels, singly, cost * 2, nothing, WORK // 3)
    assert 0 < proof.floor <= cost
    assert max(need.number for need in proof.needs) <= len(taken)


def fits(ways, room):
    return any(way.along <= room[0] and way.across <= room[1] for way in ways)


def test_more_is_proved_than_sizes_say():
    """Ten parts on a whole and a half sheet: by sizes one whole would do, or two halves."""
    job = next(job for job in jobs(2026, 47) if job.name == "2026-046")
    _, weighed = needs(job.pieces, job.sheets, job.sawing)
    assert all(need.need <= need.have[0] for need in weighed), "sizes alone do not forbid one whole sheet"
    plan = plan_sheets(job.pieces, job.sheets, job.sawing, WORK * 2)
    check_sawn(plan, job.pieces, job.sheets, job.sawing)
    assert plan.proved
    assert plan.cost == job.sheets[0].cost + job.sheets[1].cost
    assert plan.bound.reason == "patterns"


def test_the_least_cost_is_that_of_a_full_sheet():
    """Three rows that fill a sheet to the last: every first plan takes two, and the least is exactly one."""
    rows = {30: (48, 62, 43, 34, 53), 45: (52, 35, 43, 42, 68, 39, 35, 53, 71, 42)}
    sizes = [(length, width) for width, lengths in rows.items() for length in lengths]
    pieces = [Piece(str(at), *size) for at, size in enumerate(sizes)]
    sheet = Panel("sheet", 240, 120, Fraction(100))
    assert sum(length * width for length, width in sizes) == sheet.length * sheet.width
    assert all(plan.cost == 200 for plan in openings(prepare(pieces, [sheet], Sawing(0))))
    plan = plan_sheets(pieces, [sheet], Sawing(0), WORK)
    check_sawn(plan, pieces, [sheet], Sawing(0))
    assert (plan.cost, plan.least_cost) == (100, 100)
