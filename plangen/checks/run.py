"""The table of checks; a check takes the design and its solids and adds findings."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from plangen.checks.edges_together import edges_leave_wood
from plangen.checks.feet import feet_carry_the_piece, feet_reach_one_floor
from plangen.checks.groove_and_tenon import grooves_keep_off_tenons
from plangen.checks.holes_cross import holes_keep_apart
from plangen.checks.joint_cut_away import joints_keep_their_wood
from plangen.checks.lead_hole_in_sheet import screws_hold_in_edges
from plangen.checks.look_alikes import parts_tell_apart
from plangen.checks.matched import matched_parts_share_a_board
from plangen.checks.moving import drawers_run_on_both_sides, hinges_carry_their_leaf
from plangen.checks.shelf_sag import shelves_stay_level
from plangen.checks.slivers import joints_leave_a_section, skins_can_exist
from plangen.checks.tip_over import tall_pieces_are_held
from plangen.checks.wood_movement import panels_have_room, wide_wood_may_move
from plangen.design.model import Design
from plangen.findings import Findings
from plangen.solids import Solids, check_interference, check_positions, check_solids

Check: TypeAlias = Callable[[Design, Solids, Findings], None]

CHECKS: tuple[Check, ...] = (
    check_solids,
    check_interference,
    check_positions,
    parts_tell_apart,
    screws_hold_in_edges,
    holes_keep_apart,
    joints_keep_their_wood,
    skins_can_exist,
    joints_leave_a_section,
    grooves_keep_off_tenons,
    edges_leave_wood,
    wide_wood_may_move,
    panels_have_room,
    matched_parts_share_a_board,
    shelves_stay_level,
    tall_pieces_are_held,
    feet_reach_one_floor,
    feet_carry_the_piece,
    hinges_carry_their_leaf,
    drawers_run_on_both_sides,
)


def run_checks(design: Design, solids: Solids, findings: Findings) -> None:
    """Run every check."""
    for check in CHECKS:
        check(design, solids, findings)
