"""Every joint and operation of the reference by points alone: volumes agree, no two pieces share room."""

from __future__ import annotations

from functools import cache
from itertools import combinations

import numpy as np
import pytest

from plangen.joinery.operation import Form
from plangen.pipeline import Checked
from tests.docs.examples import EXAMPLES, built, load
from tests.outside.inside import in_wood, own_frame, spread

NAMES = [path.stem for path in sorted(EXAMPLES.glob("*.yaml"))]
POINTS = 20_000
NEAR = 0.004  # of the blank
# Of a round piece the chords of a mesh take off more: twenty-four of them leave sin(15°) / 15°, 0.989 of it.
ROUND = 0.012
SHARED = 2  # points of a pair that may lie in both, where round faces touch


@cache
def made(name: str) -> Checked:
    return built(load(name))


@pytest.mark.parametrize("name", NAMES)
def test_the_volume_of_every_part(name: str) -> None:
    for part in made(name).design.parts:
        blank = float(part.length) * float(part.width) * float(part.thickness)
        share = float(np.mean(in_wood(part, spread(part.blank, POINTS))))
        turned = any(one.form is Form.ROUND for work in part.operations for one in work.features)
        near = NEAR + ROUND * share if turned else NEAR
        assert share == pytest.approx(made(name).solids.parts[part.key].volume / blank, abs=near), part.key


@pytest.mark.parametrize("name", NAMES)
def test_no_two_pieces_share_room(name: str) -> None:
    design = made(name).design
    part_of = design.part_of
    for one, two in combinations(design.copies.values(), 2):
        common = one.box.overlap(two.box)
        if not common.empty:
            points = spread(common, POINTS)
            both = in_wood(part_of[one.name], own_frame(one, points))
            both &= in_wood(part_of[two.name], own_frame(two, points))
            assert int(np.sum(both)) <= SHARED, (one.name, two.name)


def test_the_points_see_a_tenon_without_its_mortise() -> None:
    design = made("mortise-and-tenon").design
    post, rail = design.copies["left post"], design.copies["rail"]
    points = spread(post.box.overlap(rail.box), POINTS)
    tenon = in_wood(design.part_of["rail"], own_frame(rail, points))
    mortised = in_wood(design.part_of["left post"], own_frame(post, points))
    # The tenon's share of the rail's end: a third of 3/4 in thick, and 3 of 4 in wide.
    assert float(np.mean(tenon)) == pytest.approx(1 / 3 * 3 / 4, abs=0.01)
    assert not np.any(tenon & mortised)
    assert np.any(tenon & ~mortised)
