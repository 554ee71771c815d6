"""Tables under their headings: begun on the page of the heading, or whole on the next."""

from __future__ import annotations

import pytest
from reportlab.platypus import Paragraph

from plangen.booklet.keeping import Headed, keep_heads
from plangen.booklet.setting import Setting
from plangen.booklet.style import look_of
from plangen.booklet.tables import Cell, Column, LineTable, Row
from plangen.booklet.words import read_words
from tests.booklet.sample_book import book


@pytest.fixture(scope="module")
def setting() -> Setting:
    made = book()
    return Setting(made, look_of(made.paper, made.edition), read_words(made.templates["words.toml"]), {}, 0)


def _headed(setting: Setting, rows: int) -> Headed:
    table = LineTable(setting, [Column("Item")], [Row((Cell(f"row {n}"),)) for n in range(rows)])
    (one,) = keep_heads(setting, [Paragraph("Wood", setting.look.section), table])
    assert isinstance(one, Headed)
    return one


def test_a_table_that_fills_a_page_begins_under_its_heading(setting: Setting) -> None:
    width, depth = setting.look.page.measure, setting.look.page.depth
    pieces = _headed(setting, 60).split(width, 0.5 * depth)
    assert isinstance(pieces[0], Headed)
    assert pieces[0].wrap(width, depth)[1] <= 0.5 * depth
    assert not isinstance(pieces[1], Headed), "the heading is said once"


def test_a_table_goes_over_whole_where_that_leaves_no_great_gap(setting: Setting) -> None:
    width, depth = setting.look.page.measure, setting.look.page.depth
    few = _headed(setting, 12)
    tall = few.wrap(width, depth)[1]
    assert few.split(width, tall) == [few]
    assert few.split(width, min(tall - 1, 0.3 * depth)) == []
