"""What can come together: checked against trying every group of pieces in every direction."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plangen.joinery.space import Side
from plangen.sequence.assembly import Assembly, Bond, _stuck
from plangen.sequence.trade import plain_kind
from tests.sample_design import sample_design
from tests.sequence.designs import box, design, joint, operation, panel_frame, part

NODES = ("a", "b", "c", "d")
SIDES = tuple(Side)
FREE = st.frozensets(st.sampled_from(SIDES), max_size=4)
PAIRS = st.sampled_from(list(combinations(NODES, 2)))
BONDS = st.lists(
    st.builds(lambda pair, free: Bond(pair[0], pair[1], free, False), PAIRS, FREE), min_size=1, max_size=7
)


def can_leave(group: frozenset[str], rest: frozenset[str], bonds: list[Bond], side: Side) -> bool:
    """Whether a group can move toward a side past all that stays."""
    for bond in bonds:
        if bond.moving in group and bond.fixed in rest and side not in bond.free:
            return False
        if bond.fixed in group and bond.moving in rest and side.opposite not in bond.free:
            return False
    return True


def comes_apart(nodes: frozenset[str], bonds: list[Bond]) -> bool:
    """Try every split in every direction, in any order."""
    if len(nodes) < 2:
        return True
    for size in range(1, len(nodes)):
        for some in combinations(sorted(nodes), size):
            group, rest = frozenset(some), nodes - frozenset(some)
            free = any(can_leave(group, rest, bonds, side) for side in SIDES)
            if free and comes_apart(group, bonds) and comes_apart(rest, bonds):
                return True
    return False


@given(BONDS)
def test_the_blocking_graph_finds_what_trying_everything_finds(bonds: list[Bond]) -> None:
    nodes = tuple(node for node in NODES if any(node in (bond.fixed, bond.moving) for bond in bonds))
    assert (_stuck(nodes, bonds) == ()) == comes_apart(frozenset(nodes), bonds)


def test_a_dado_open_at_the_front_lets_its_shelf_out_there() -> None:
    bonds = Assembly(sample_design()).bonds["housings"]
    assert bonds[0].free == {Side.RIGHT, Side.FRONT}  # stopped by the rabbet's wood at the back
    assert bonds[1].free == {Side.LEFT, Side.FRONT}


def test_a_mortise_lets_its_tenon_out_one_way() -> None:
    whole = design(
        part("leg", "A", box(0, 50, 0, 50, 0, 400),
             operations=(operation("mortise", "frame", cut=box(20, 50, 15, 35, 300, 360)),)),
        part("rail", "B", box(20, 300, 10, 40, 290, 370),
             operations=(operation("tenon", "frame", cut=box(0, 30, 0, 5, 0, 80)),
                         operation("tenon", "frame", cut=box(0, 30, 25, 30, 0, 80)))),
        joints=(joint("frame", "mortise and tenon", ("leg", "rail", "left")),),
    )  # fmt: skip
    (bond,) = Assembly(whole).bonds["frame"]
    assert bond.free == {Side.RIGHT}


def test_a_bridle_lets_its_tongue_out_of_the_open_end() -> None:
    # The slot is open at the top of the leg and right through across it; the rail's cheeks are cut away.
    whole = design(
        part("leg", "A", box(0, 50, 0, 50, 0, 400),
             operations=(operation("bridle", "corner", cut=box(0, 50, 15, 35, 350, 400)),)),
        part("rail", "B", box(0, 300, 0, 50, 350, 400),
             operations=(operation("bridle", "corner", cut=box(0, 50, 0, 15, 0, 50)),
                         operation("bridle", "corner", cut=box(0, 50, 35, 50, 0, 50)))),
        joints=(joint("corner", "bridle", ("leg", "rail", "left")),),
    )  # fmt: skip
    (bond,) = Assembly(whole).bonds["corner"]
    assert bond.free == {Side.RIGHT, Side.TOP}


def test_dowels_let_a_piece_out_one_way() -> None:
    whole = design(
        part("side", "A", box(0, 20, 0, 100, 0, 300)),
        part("rail", "B", box(20, 200, 0, 20, 0, 60)),
        joints=(joint("dowels", "dowelled", ("side", "rail", "left")),),
    )
    (bond,) = Assembly(whole).bonds["dowels"]
    assert bond.free == {Side.RIGHT}
    assert not bond.lying


def test_pieces_that_lie_together_part_any_way_but_into_each_other() -> None:
    bonds = Assembly(sample_design()).bonds["rail screws"]
    assert bonds[0].free == set(Side) - {Side.LEFT}
    assert bonds[0].lying


def test_what_is_shut_in_is_named() -> None:
    assembly = Assembly(panel_frame())
    assert assembly.comes_together(["frame", "panel groove"], [])
    assert set(assembly.stuck(["panel groove"], ["frame"])) >= {"panel", "stile 1"}
    assert assembly.stuck(["panel groove"], []) == ()
    assert assembly.members(["frame"]) == ("stile 1", "rail 1", "rail 2", "stile 2")


@pytest.mark.parametrize("kind", ["half-lap", "half_lap", "Half lap"])
def test_kinds_are_one_however_written(kind: str) -> None:
    assert plain_kind(kind) == "half lap"
