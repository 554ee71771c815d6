"""Clear openings between level pieces, looked for among many pieces, are those of the exact lengths."""

from __future__ import annotations

from itertools import combinations

from plangen.drawing.openings import clear_openings
from plangen.joinery.space import Axis
from plangen.pipeline import Source, check

ROWS = """
plangen: 1
project: {title: Rack, units: mm}
shop: {kerf: 3mm, glue: {wood glue: {open time: 10}}}
stock:
  oak: {kind: solid, species: white oak, rough: 26mm, thickness: 20mm, widths: 120mm to 250mm, lengths: [2400mm]}
parts:
  post:
    stock: oak
    runs: up
    thick: across
    place:
      first post: {left: 0, front: 0, back: 200mm, bottom: 0, top: 1000mm}
      middle post: {same as: first post, left: 300mm}
      last post: {same as: first post, left: 600mm}
  shelf:
    stock: oak
    runs: across
    thick: up
    place:
      low: {left: first post.right, right: middle post.left, front: 0, back: 200mm, spread: {number: 5, going: up, from: 0, to: 1000mm, ends: flush}}
      far: {left: middle post.right, right: last post.left, front: 0, back: 200mm, spread: {number: 5, going: up, from: 0, to: 1000mm, ends: flush}}
joints:
  - butt: {between: [post, shelf]}
"""  # noqa: E501


def test_every_bay_has_its_openings_and_no_others() -> None:
    made = check(Source("rack", "project.yaml", ROWS.encode(), {})).checked
    assert made is not None
    found = {(one.low, one.high, one.left, one.right) for one in clear_openings(made.design)}
    shelves = made.design.part("shelf").copies
    wanted = set()
    for one, two in combinations(sorted(shelves, key=lambda copy: copy.box.low.up), 2):
        same = one.box.low.across == two.box.low.across
        between = [other for other in shelves if one.box.low.up < other.box.low.up < two.box.low.up]
        if same and not any(other.box.low.across == one.box.low.across for other in between):
            wanted.add((one.box.high.up, two.box.low.up, one.box.low.across, one.box.high.across))
    assert len(wanted) == 8
    assert found == wanted
    assert {high - low for low, high, *_ in found} == {
        (made.design.overall.size(Axis.UP) - 5 * shelves[0].box.size(Axis.UP)) / 4
    }
