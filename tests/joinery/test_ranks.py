"""The order in which a piece is worked."""

from __future__ import annotations

import pytest

from plangen.joinery.operation import Group, Operation
from plangen.joinery.operations import OPERATIONS
from plangen.joinery.ranks import JOINT_WORK, work_group, work_rank
from plangen.joinery.space import Side
from plangen.units import Phrase


def made(kind: str, joint: str | None = None) -> Operation:
    return Operation(kind, kind, Side.TOP, (), (), Phrase(), joint=joint)


def test_joints_then_holes_then_shapes_then_edges() -> None:
    kinds = ["half-lap", "rabbet", "tenon", "screw hole", "hole", "notch", "mitre", "chamfer", "round over"]
    ranks = [work_rank(made(kind)) for kind in kinds]
    assert ranks == sorted(set(ranks))


def test_what_joints_cut_is_listed_once_and_is_no_kind_a_maker_types() -> None:
    table = [kind for _, kinds in JOINT_WORK for kind in kinds]
    assert len(table) == len(set(table))
    assert not set(table) & set(OPERATIONS)


@pytest.mark.parametrize(
    ("kind", "group"),
    [
        ("slot", Group.JOINTS),
        ("pocket", Group.JOINTS),
        ("leaf recess", Group.JOINTS),
        ("holes", Group.HOLES),
        ("round", Group.SHAPES),
        ("bevel", Group.SHAPES),
        ("compound mitre", Group.SHAPES),
        ("edge banding", Group.EDGES),
        ("profile", Group.EDGES),
    ],
)
def test_each_kind_stands_where_the_trade_does_it(kind: str, group: Group) -> None:
    assert work_group(made(kind)) is group


def test_an_operation_may_name_its_own_group() -> None:
    late = Operation("curve", "Curve", Side.TOP, (), (), Phrase(), group=Group.PATTERN)
    assert work_rank(made("curve")) < work_rank(made("compound mitre")) < work_rank(late)
    assert work_rank(late) < work_rank(made("edge banding")) < work_rank(made("chamfer"))


def test_a_notch_round_a_stopped_housing_is_joint_work() -> None:
    assert work_rank(made("notch", "housings")) < work_rank(made("hole")) < work_rank(made("notch"))


def test_a_kind_that_is_new_stands_with_the_shapes() -> None:
    assert work_rank(made("hole")) < work_rank(made("finial")) < work_rank(made("chamfer"))
