"""Replay a plan with a saw of paper: shares nothing with the planner but the records it reads.

Every cut must go straight through one piece that is there at that moment; when all cuts are made, the
rectangles that remain must be exactly the wanted pieces and the declared rests. What the saw does on the
way tells the stages, and which cuts are made by hand.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from plangen.takeoff.cutting import Layout, Panel, Piece, Plan
from plangen.takeoff.cutting.model import Cut, Sawing

Rect = tuple[int, int, int, int]  # low x, low y, high x, high y
STAGES = 3
_PAIRS = 200  # pieces on one panel whose distances are measured two by two as well


@dataclass(eq=False)
class Sawn:
    """A rectangle of wood, and the cut that divided it."""

    rect: Rect
    cut: Cut | None = None
    low: Sawn | None = None
    high: Sawn | None = None
    children: list[Sawn] = field(default_factory=list)


def saw(layout: Layout, kerf: int) -> tuple[Sawn, list[Sawn]]:
    """Make every cut; give the panel with all that it was divided into, and the cut rectangles in order."""
    whole = Sawn((0, 0, layout.panel.length, layout.panel.width))
    there: list[Sawn] = [whole]
    divided = []
    for cut in layout.cuts:
        across, along = (1, 0) if cut.along == "x" else (0, 1)
        hits = [
            one
            for one in there
            if (one.rect[along], one.rect[along + 2]) == (cut.low, cut.high)
            and one.rect[across] < cut.position < one.rect[across + 2]
        ]
        assert len(hits) == 1, f"{cut} goes straight through {len(hits)} pieces"
        (hit,) = hits
        assert cut.at == cut.position - hit.rect[across], "a reading starts at the low edge"
        there.remove(hit)
        low, high = list(hit.rect), list(hit.rect)
        low[across + 2], high[across] = cut.position, cut.position + kerf
        hit.cut, hit.low = cut, Sawn((low[0], low[1], low[2], low[3]))
        if high[across] < hit.rect[across + 2]:
            hit.high = Sawn((high[0], high[1], high[2], high[3]))
        hit.children = [hit.low] + ([hit.high] if hit.high else [])
        there.extend(hit.children)
        divided.append(hit)
    return whole, divided


def replay(layout: Layout, kerf: int) -> list[Rect]:
    """Give what lies on the bench when all cuts are made."""
    whole, _ = saw(layout, kerf)
    return [leaf.rect for leaf in _leaves(whole)]


def _leaves(sawn: Sawn) -> list[Sawn]:
    waiting, found = [sawn], []
    while waiting:
        one = waiting.pop()
        waiting.extend(one.children)
        if not one.children:
            found.append(one)
    return found


def check_layout(layout: Layout, kerf: int, margins: tuple[int, int, int, int] = (0, 0, 0, 0)) -> None:
    """Check what one panel becomes, and how far its pieces stay from its edges."""
    left, right, low, high = margins
    remaining = Counter(replay(layout, kerf))
    claimed = Counter(
        (item.x, item.y, item.x + item.length, item.y + item.width)
        for item in (*layout.pieces, *layout.rests)
    )
    assert remaining == claimed, "what the saw leaves is not what the plan says"
    for piece in layout.pieces:
        assert piece.x >= left
        assert piece.x + piece.length <= layout.panel.length - right
        assert piece.y >= low
        assert piece.y + piece.width <= layout.panel.width - high


def check_plan(
    plan: Plan,
    pieces: Sequence[Piece],
    panels: Sequence[Panel],
    kerf: int,
    margins: tuple[int, int, int, int] = (0, 0, 0, 0),
) -> None:
    """Check that a plan gives every piece, sawn from panels that there are, and claims nothing false."""
    wanted = {piece.name: piece for piece in pieces}
    cut = Counter(laid.name for layout in plan.layouts for laid in layout.pieces)
    assert cut == Counter({piece.name: piece.number for piece in pieces if piece.number})
    for layout in plan.layouts:
        assert layout.panel in panels
        assert layout.pieces, "a panel is bought for nothing"
        check_layout(layout, kerf, margins)
        for laid in layout.pieces:
            piece = wanted[laid.name]
            length, width = (laid.width, laid.length) if laid.turned else (laid.length, laid.width)
            assert not laid.turned or piece.may_turn
            assert length == piece.length
            usable = layout.panel.width - margins[2] - margins[3]
            narrow = piece.least_width is not None and piece.least_width <= usable < piece.width
            assert width == (usable if narrow else piece.width)
        if len(layout.pieces) <= _PAIRS:
            _check_distances(layout, kerf)
    used = Counter(layout.panel for layout in plan.layouts)
    for panel, number in used.items():
        assert panel.available is None or number <= panel.available, f"there are not {number} of {panel}"
    homes: dict[str, set[int]] = {}
    for index, layout in enumerate(plan.layouts):
        for laid in layout.pieces:
            homes.setdefault(wanted[laid.name].together, set()).add(index)
    for group, on in homes.items():
        assert not group or len(on) == 1, f"{group} come out of {len(on)} panels"
    assert plan.cost == sum(layout.panel.cost for layout in plan.layouts)
    assert plan.bound.number <= len(plan.layouts)
    assert plan.least_cost <= plan.cost
    assert plan.proved == (plan.cost == plan.least_cost)


def _check_distances(layout: Layout, kerf: int) -> None:
    for index, one in enumerate(layout.pieces):
        for two in layout.pieces[:index]:
            apart_x = max(two.x - one.x - one.length, one.x - two.x - two.length)
            apart_y = max(two.y - one.y - one.width, one.y - two.y - two.width)
            assert max(apart_x, apart_y) >= kerf, "no room for the saw between two pieces"


def check_sawn(plan: Plan, pieces: Sequence[Piece], panels: Sequence[Panel], sawing: Sawing) -> None:
    """Check a plan against everything that a shop's way of sawing asks for."""
    margins = sawing.margins
    check_plan(plan, pieces, panels, sawing.kerf, (margins.left, margins.right, margins.low, margins.high))
    for layout in plan.layouts:
        whole, divided = saw(layout, sawing.kerf)
        held = {(laid.x, laid.y, laid.x + laid.length, laid.y + laid.width) for laid in layout.pieces}
        check_stages(whole, held, sawing)
        for one in divided:
            check_hands(one, sawing)


def check_hands(divided: Sawn, sawing: Sawing) -> None:
    """A cut is made by hand exactly where what it divides is larger than the bench, along the rail."""
    cut, (x0, y0, x1, y1) = divided.cut, divided.rect
    assert cut is not None
    longer, shorter = max(x1 - x0, y1 - y0), min(x1 - x0, y1 - y0)
    large = sawing.bench is not None and (longer > max(sawing.bench) or shorter > min(sawing.bench))
    assert cut.by == ("hand" if large else "bench"), f"{cut} divides {longer} by {shorter}"
    if cut.by == "hand" and sawing.guide is not None:
        assert cut.high - cut.low <= sawing.guide, f"{cut} is longer than the rail"


def check_stages(whole: Sawn, held: set[Rect], sawing: Sawing) -> None:
    """Cuts run one way, then the other: three times once the edges are off, and once more to trim.

    A run of cuts one way is a stage; all that it divides comes from the same piece. A fourth run may
    only take waste off a piece. Where the first stage's way is fixed and a panel starts with the
    other, its first stage is one strip as wide as the panel, and counts.
    """
    rest = whole
    while rest.cut is not None and _is_edge(rest, sawing):
        assert rest.high is not None
        rest = rest.high
    begun = 1 if sawing.first and rest.cut is not None and rest.cut.along != sawing.first else 0
    waiting = [(rest, begun)]
    while waiting:
        sawn, before = waiting.pop()
        if sawn.cut is None:
            continue
        parts = _run(sawn, sawn.cut.along)
        filled = [part for part in parts if any(leaf.rect in held for leaf in _leaves(part))]
        assert before < STAGES or (before == STAGES and len(filled) == 1), "a cut of a fourth stage"
        waiting.extend((part, before + 1) for part in filled)


def _is_edge(sawn: Sawn, sawing: Sawing) -> bool:
    """Whether the cut takes off the left or low margin of the panel and nothing else."""
    cut, margins = sawn.cut, sawing.margins
    assert cut is not None
    margin, low = (margins.low, sawn.rect[1]) if cut.along == "x" else (margins.left, sawn.rect[0])
    return low == 0 and margin > 0 and cut.position + sawing.kerf == margin


def _run(sawn: Sawn, along: str) -> list[Sawn]:
    """Give the parts that a run of cuts one way leaves."""
    waiting, parts = [sawn], []
    while waiting:
        one = waiting.pop()
        if one.cut is not None and one.cut.along == along:
            waiting.extend(one.children)
        else:
            parts.append(one)
    return parts


def settings(plan: Plan) -> int:
    """How many different settings of fence and stop a plan asks for."""
    return len({(cut.along, cut.at) for layout in plan.layouts for cut in layout.cuts})
