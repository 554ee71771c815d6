"""What the saw is set to: every cut once, every piece named where it comes off, boards alike gathered."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.takeoff.model import CuttingDiagram
from plangen.takeoff.saw_settings import alike, saw_settings
from plangen.units import millimetres
from tests.sample_design import sample_design
from tests.takeoff.cases import metric_plywood, pine, plain_design, taken


def diagrams_of(rows: list[tuple[int, int, int]], sheet: bool) -> list[CuttingDiagram]:
    goods = (
        metric_plywood()
        if sheet
        else pine(widths=(millimetres(140), millimetres(260)), lengths=(millimetres(2400),))
    )
    design = plain_design(goods, [(n, millimetres(w), millimetres(long)) for n, w, long in rows], "mm")
    return [diagram for plan in taken(design)[0].plans for diagram in plan.diagrams]


ROWS = st.lists(
    st.tuples(st.integers(1, 9), st.integers(20, 250), st.integers(40, 2300)), min_size=1, max_size=4
)


@settings(max_examples=25, deadline=None)
@given(ROWS, st.booleans())
def test_every_cut_stands_in_one_setting_and_every_piece_comes_off(rows, sheet) -> None:
    for diagram in diagrams_of(rows, sheet):
        found = saw_settings(diagram)
        assert [number for one in found for number in one.numbers] == [cut.number for cut in diagram.cuts]
        by_number = {cut.number: cut for cut in diagram.cuts}
        for one in found:
            cuts = [by_number[number] for number in one.numbers]
            assert {(cut.by, cut.along, cut.at) for cut in cuts} == {(one.by, one.along, one.at)}
            assert not (one.trims and one.gives)
        wanted = Counter(piece.mark for piece in diagram.pieces)
        last: dict[str, int] = {}
        for one in found:
            for _, mark, number in one.gives:
                last[mark] = max(last.get(mark, 0), number)
                assert number <= wanted[mark]
        assert set(last) == set(wanted)
        assert sum(one.kept for one in found) == len(diagram.off_cuts)


def test_the_sample_s_first_board() -> None:
    """One rip for two B, which are crosscut one after the other. Worked out by hand."""
    [first, *_] = taken(sample_design())[0].plans[0].diagrams
    found = saw_settings(first)
    said = [(one.numbers, one.along, [(mark, number) for _, mark, number in one.gives]) for one in found]
    assert said == [
        ((1,), "y", []),
        ((2,), "x", [("B", 2)]),
        ((3, 4), "y", [("B", 2)]),
    ]
    assert [one.trims for one in found] == [True, False, False]


def test_boards_cut_alike_are_gathered_by_all_but_their_number() -> None:
    diagrams = diagrams_of([(8, 240, 1100)], sheet=False)
    assert [[one.number for one in group] for group in alike(diagrams)] == [[1, 2, 3, 4]]
    other = replace(diagrams[1], cuts=diagrams[1].cuts[:-1])
    groups = alike([diagrams[0], other, *diagrams[2:]])
    assert [[one.number for one in group] for group in groups] == [[1, 3, 4], [2]]


def test_cuts_by_hand_never_share_a_setting_with_those_at_the_saw() -> None:
    [first, *_] = taken(sample_design())[0].plans[0].diagrams
    cuts = tuple(replace(cut, by="hand") if cut.number == 3 else cut for cut in first.cuts)
    found = saw_settings(replace(first, cuts=cuts))
    assert [(one.numbers, one.by) for one in found[2:4]] == [((3,), "hand"), ((4,), "bench")]
