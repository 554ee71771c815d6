"""Groups are ranked along an axis as a search over all that is known ranks them."""

from __future__ import annotations

import networkx
from hypothesis import given
from hypothesis import strategies as st

from plangen.drawing.ranking import Ranking

NAMES = "abcdefg"
NAME = st.sampled_from(NAMES)
SAYINGS = st.lists(st.one_of(st.tuples(NAME, NAME), st.sets(NAME, min_size=1, max_size=3)), max_size=25)


@given(SAYINGS)
def test_what_would_close_a_ring_is_refused_and_nothing_else(
    sayings: list[tuple[str, str] | set[str]],
) -> None:
    ranking = Ranking(NAMES)
    group = {name: name for name in NAMES}
    pairs: list[tuple[str, str]] = []
    for saying in sayings:
        if isinstance(saying, tuple):
            possible = _ringless(group, [*pairs, saying])
            assert ranking.put(*saying) == possible
            pairs += [saying] if possible else []
        else:
            least = min(group[name] for name in saying)
            gone = {group[name] for name in saying}
            joined = {name: least if of in gone else of for name, of in group.items()}
            possible = _ringless(joined, pairs)
            assert ranking.join(sorted(saying)) == possible
            group = joined if possible else group
    assert {name: NAMES[number] for name, number in ranking.group.items()} == group
    order = [NAMES[number] for number in ranking.order()]
    assert sorted(order) == sorted(set(group.values()))
    for low, high in pairs:
        assert order.index(group[low]) < order.index(group[high])


def test_a_thousand_pieces_on_one_board_are_ranked() -> None:
    names = ["board", *(f"peg {number}" for number in range(1000))]
    ranking = Ranking(names, [names[1:501]])
    assert all(ranking.put("board", name) for name in names[1:])
    assert not ranking.put("peg 700", "board")
    assert ranking.join(names[501:])
    assert ranking.order() == [0, 1, 501]


def _ringless(group: dict[str, str], pairs: list[tuple[str, str]]) -> bool:
    graph = networkx.DiGraph((group[low], group[high]) for low, high in pairs)
    return bool(networkx.is_directed_acyclic_graph(graph))
