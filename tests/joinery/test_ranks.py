"""The order in which a piece is worked."""

from __future__ import annotations

from plangen.joinery.operation import Operation
from plangen.joinery.operations import OPERATIONS
from plangen.joinery.ranks import WORK_ORDER, work_rank
from plangen.joinery.space import Side
from plangen.units import Phrase


def made(kind: str, joint: str | None = None) -> Operation:
    return Operation(kind, kind, Side.TOP, (), (), Phrase(), joint=joint)


def test_joints_then_holes_then_shapes_then_edges() -> None:
    kinds = ["half-lap", "rabbet", "tenon", "screw hole", "hole", "notch", "mitre", "chamfer", "round over"]
    ranks = [work_rank(made(kind)) for kind in kinds]
    assert ranks == sorted(set(ranks))


def test_every_kind_a_maker_may_type_is_in_the_table_once() -> None:
    table = [kind for group in WORK_ORDER for kind in group]
    assert len(table) == len(set(table))
    assert {kind for kind in OPERATIONS if kind != "holes"} <= set(table)


def test_a_notch_round_a_stopped_housing_is_joint_work() -> None:
    assert work_rank(made("notch", "housings")) < work_rank(made("hole")) < work_rank(made("notch"))


def test_a_kind_that_is_new_stands_with_the_shapes() -> None:
    assert work_rank(made("hole")) < work_rank(made("finial")) < work_rank(made("chamfer"))
