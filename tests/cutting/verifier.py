"""Replay a plan with a saw of paper: shares nothing with the planner but the records it reads.

Every cut must go straight through one piece that is there at that moment; when all cuts are made, the
rectangles that remain must be exactly the wanted pieces and the declared rests.
"""

from __future__ import annotations

from collections import Counter

from plangen.takeoff.cutting import Layout, Panel, Piece, Plan

Rect = tuple[int, int, int, int]  # low x, low y, high x, high y


def replay(layout: Layout, kerf: int) -> list[Rect]:
    pieces: list[Rect] = [(0, 0, layout.panel.length, layout.panel.width)]
    for cut in layout.cuts:
        if cut.along == "x":
            hits = [r for r in pieces if (r[0], r[2]) == (cut.low, cut.high) and r[1] < cut.position < r[3]]
        else:
            hits = [r for r in pieces if (r[1], r[3]) == (cut.low, cut.high) and r[0] < cut.position < r[2]]
        assert len(hits) == 1, f"{cut} goes straight through {len(hits)} pieces"
        x0, y0, x1, y1 = hits[0]
        pieces.remove(hits[0])
        after = cut.position + kerf
        if cut.along == "x":
            assert cut.at == cut.position - y0, "the reading is taken from the low edge of the piece"
            pieces.append((x0, y0, x1, cut.position))
            if after < y1:
                pieces.append((x0, after, x1, y1))
        else:
            assert cut.at == cut.position - x0
            pieces.append((x0, y0, cut.position, y1))
            if after < x1:
                pieces.append((after, y0, x1, y1))
    return pieces


def check_layout(layout: Layout, kerf: int, margins: tuple[int, int, int, int] = (0, 0, 0, 0)) -> None:
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
    pieces: list[Piece],
    panels: list[Panel],
    kerf: int,
    margins: tuple[int, int, int, int] = (0, 0, 0, 0),
) -> None:
    wanted = {piece.name: piece for piece in pieces}
    cut = Counter(laid.name for layout in plan.layouts for laid in layout.pieces)
    assert cut == Counter({piece.name: piece.number for piece in pieces if piece.number})
    for layout in plan.layouts:
        assert layout.panel in panels
        check_layout(layout, kerf, margins)
        for laid in layout.pieces:
            piece = wanted[laid.name]
            length, width = (laid.width, laid.length) if laid.turned else (laid.length, laid.width)
            assert not laid.turned or piece.may_turn
            assert length == piece.length
            usable = layout.panel.width - margins[2] - margins[3]
            narrow = piece.least_width is not None and piece.least_width <= usable < piece.width
            assert width == (usable if narrow else piece.width)
        for one in layout.pieces:
            for two in layout.pieces:
                if one is not two:
                    apart_x = max(two.x - one.x - one.length, one.x - two.x - two.length)
                    apart_y = max(two.y - one.y - one.width, one.y - two.y - two.width)
                    assert max(apart_x, apart_y) >= kerf, "no room for the saw between two pieces"
    assert plan.bound.number <= len(plan.layouts)
    assert plan.least_cost <= plan.cost
