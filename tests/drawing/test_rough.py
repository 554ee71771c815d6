"""The rough look at a scene comes near the exact one, so that it may choose what is looked at closely."""

from __future__ import annotations

import pytest

from plangen.design.model import Design
from plangen.drawing.explosion import explode
from plangen.drawing.hidden_lines import pictorial
from plangen.drawing.rough import rough_shares
from plangen.drawing.scene import Actor, Sight, copy_actor
from plangen.joinery.space import Axis
from plangen.solids import build_solids
from tests.drawing.sample_table import sample_table
from tests.sample_design import sample_design
from tests.sequence.designs import box, design, part

VIEWS = [pictorial(yaw, pitch) for yaw, pitch in ((32, 20), (-32, 20), (45, 24), (-32, 50))]


def _actors(whole: Design, apart: float = 0.0) -> tuple[Actor, ...]:
    solids = build_solids(whole)
    offsets = explode(whole, dict.fromkeys(Axis, apart)) if apart else {}
    return tuple(
        copy_actor(whole, solids, copy, "plain", offset=offsets.get(name, (0.0, 0.0, 0.0)))
        for name, copy in whole.copies.items()
    )


@pytest.mark.parametrize("whole", [sample_design(), sample_table()], ids=["case", "table"])
@pytest.mark.parametrize("apart", [0.0, 80.0])
def test_shares_are_near_the_exact_ones(whole: Design, apart: float) -> None:
    actors = _actors(whole, apart)
    things = {name: (name,) for name in whole.copies}
    for view in VIEWS:
        exact = Sight(actors, view)
        rough = rough_shares(actors, view, things)
        errors = [abs(rough[name] - exact.share_seen(name)) for name in things]
        assert sum(errors) / len(errors) < 0.04
        assert max(errors) < 0.2


def test_a_thing_of_several_pieces_hides_nothing_of_itself() -> None:
    whole = design(
        part("front", "A", box(0, 100, 0, 20, 0, 100)), part("back", "B", box(0, 100, 20, 40, 0, 100))
    )
    actors = _actors(whole)
    view = pictorial(0, 0)
    assert rough_shares(actors, view, {"both": ("front", "back")})["both"] == pytest.approx(1.0)
    apart = rough_shares(actors, view, {"front": ("front",), "back": ("back",)})
    assert apart["front"] == pytest.approx(1.0)
    assert apart["back"] == pytest.approx(0.0, abs=1e-6)


def test_what_is_not_in_the_scene_is_left_out() -> None:
    whole = sample_table()
    assert rough_shares(_actors(whole), VIEWS[0], {"nothing": ("no such piece",)}) == {}
