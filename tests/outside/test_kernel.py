"""Every joint and operation of the reference, built again by a solid modeller with true faces."""

from __future__ import annotations

from itertools import combinations

import pytest

from tests.docs.examples import EXAMPLES, built, load
from tests.outside.kernel import part_shape, shared, stood, volume
from tests.whole.test_examples import checked

NAMES = [path.stem for path in sorted(EXAMPLES.glob("*.yaml"))]
LEAST = 1.0  # mm3 that two pieces must share to take the same room


@pytest.mark.parametrize("name", NAMES)
def test_both_kernels_agree_on_every_part_and_no_pieces_share_room(name: str) -> None:
    made = built(load(name))
    shapes = {part.key: part_shape(part) for part in made.design.parts}
    for key, shape in shapes.items():
        assert volume(shape) == pytest.approx(made.solids.parts[key].volume, rel=1e-6), key
    placed = [
        (copy.name, stood(shapes[part.key], copy)) for part in made.design.parts for copy in part.copies
    ]
    for (one, first), (two, second) in combinations(placed, 2):
        assert shared(first, second) < LEAST, (one, two)


@pytest.mark.parametrize("name", ["sewing-table", "blanket-chest"])
def test_both_kernels_agree_on_the_larger_examples(name: str) -> None:
    made = checked(name)
    for part in made.design.parts:
        assert volume(part_shape(part)) == pytest.approx(made.solids.parts[part.key].volume, rel=1e-6), (
            part.key
        )
