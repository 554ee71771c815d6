"""The cutting diagrams of finished files, measured and sawn again, against the cut list file."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from fractions import Fraction

import pytest

from tests.whole.making import PROJECTS, Made, Variant
from tests.whole.paper import Paper, table
from tests.whole.sawn import (
    Drawn,
    carry_out,
    check_places,
    cuts_of,
    marks_told,
    read,
    separable,
)
from tests.whole.sums import MM, Project

Built = Callable[[Variant], Made]


@pytest.fixture(params=PROJECTS)
def made(request: pytest.FixtureRequest, built: Built) -> Made:
    return built(Variant(str(request.param)))


def kerf_of(made: Made) -> float:
    project = Project(made.variant.project)
    return float(project.sum(project.data["shop"]["kerf"]))


def diagrams(made: Made) -> dict[tuple[str, int], Drawn]:
    """The diagrams by stock and number."""
    found = {}
    for name, data in sorted(made.files.items()):
        match = re.fullmatch(r"drawings/cutting-(.+)-(\d+)\.svg", name)
        if match:
            found[match[1].replace("-", " "), int(match[2])] = read(data)
    assert found
    return found


def orders(made: Made) -> dict[tuple[str, int], list[tuple[str, float]]]:
    """The written orders by stock and number: stocks stand in the order of the file."""
    stocks = iter(Project(made.variant.project).stock)
    blocks: list[list[dict[str, str]]] = []
    for row in table(made.files, "cutting-orders"):
        if row["Cut"] == "1" or row["Cut"].startswith("1 to"):
            blocks.append([])
        blocks[-1].append(row)
    found, stock = {}, ""
    for block in blocks:
        number = int(block[0]["No."])
        stock = next(stocks) if number == 1 else stock
        found[stock, number] = cuts_of(block)
    return found


def wanted(made: Made) -> dict[str, tuple[int, float, float]]:
    """By mark, how many pieces are sawn, and the least width and length of each, in inches."""
    found = {}
    for row in table(made.files, "cut-list"):
        glued = re.search(r"glue up from (\d+) boards", row["Note"])
        boards = int(glued[1]) if glued else 1
        width, length = (float(Fraction(row[f"{side} exact, mm"]) / MM) for side in ("Width", "Length"))
        found[row["Mark"].rstrip("*")] = (int(row["Number"]) * boards, width / boards, length)
    return found


def test_pieces_lie_apart_and_can_be_sawn_out(made: Made) -> None:
    for drawn in diagrams(made).values():
        check_places(drawn, kerf_of(made))


def test_what_is_drawn_is_what_is_told(made: Made) -> None:
    for drawn in diagrams(made).values():
        told = sorted((mark, width, length) for mark, width, length in drawn.told)
        seen = sorted((round(rect[3] - rect[1], 3), round(rect[2] - rect[0], 3)) for _, rect in drawn.pieces)
        assert len(told) == len(seen)
        sizes = sorted((width, length) for _, width, length in told)
        for (width, length), (drawn_width, drawn_length) in zip(sizes, seen, strict=True):
            assert abs(width - drawn_width) <= drawn.near + 1 / 64
            assert abs(length - drawn_length) <= drawn.near + 1 / 64
        inside = Counter(mark for mark, _ in drawn.pieces if mark)
        assert inside <= marks_told(drawn), "a mark stands in a piece that is another"
        for mark, rect in drawn.pieces:
            if mark:
                near = [one for one in drawn.told if one[0] == mark]
                assert any(abs(one[2] - (rect[2] - rect[0])) <= drawn.near + 1 / 64 for one in near)


def test_every_piece_of_the_cut_list_is_sawn_once_and_large_enough(made: Made) -> None:
    sawn: Counter[str] = Counter()
    need = wanted(made)
    for drawn in diagrams(made).values():
        for mark, width, length in drawn.told:
            sawn[mark] += drawn.alike
            assert length >= need[mark][2] - 1 / 64, f"{mark} is sawn too short for its grain"
            assert width >= need[mark][1] - 1 / 64, f"{mark} is sawn too narrow"
    assert sawn == Counter({mark: number for mark, (number, _, _) in need.items()})


def test_the_written_order_saws_the_drawn_pieces(made: Made) -> None:
    kerf, written = kerf_of(made), orders(made)
    for key, drawn in diagrams(made).items():
        left = carry_out(drawn, written[key], kerf)
        assert drawn.number_of_cuts <= len(written[key])
        framed = 1.0 * drawn.scale  # what is kept is framed a hair inside its edges
        for rects, inset in (([rect for _, rect in drawn.pieces], 0.06), (drawn.kept, framed)):
            for rect in rects:
                near = [
                    one for one in left if max(abs(a - b) for a, b in zip(one, rect, strict=True)) <= inset
                ]
                assert len(near) == 1, f"{rect} is not what the saw leaves"


def test_the_share_that_becomes_parts_is_printed_true(made: Made) -> None:
    need = wanted(made)
    words = " ".join(Paper(made.pdf).texts)
    for drawn in diagrams(made).values():
        area = sum(need[mark][1] * need[mark][2] for mark, _, _ in drawn.told)
        share = 100 * area / (drawn.length * drawn.width)
        assert f"{int(share + 0.5)} % becomes parts." in words


def test_the_boards_to_buy_are_the_boards_drawn(made: Made) -> None:
    bought = Counter(
        (round(float(row["Length exact, mm"]) / 25.4, 2), round(float(row["Width exact, mm"]) / 25.4, 2))
        for row in table(made.files, "boards-and-sheets")
    )
    drawn: Counter[tuple[float, float]] = Counter()
    for one in diagrams(made).values():
        drawn[round(one.length, 2), round(one.width, 2)] += one.alike
    assert drawn == bought


def test_the_checker_sees_a_pinwheel_and_a_missing_kerf() -> None:
    arms = [(0.0, 0.0, 6.0, 4.0), (6.0, 0.0, 10.0, 6.0), (4.0, 6.0, 10.0, 10.0), (0.0, 4.0, 4.0, 10.0)]
    assert not separable(arms, 0)
    assert separable(arms[:3], 0)
    assert not separable(arms[:3], 0.1)
