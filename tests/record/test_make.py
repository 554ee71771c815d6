"""A record says everything exactly, and says it the same way every time."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import replace
from fractions import Fraction

import pytest

from plangen.record import page_texts, read_record, record_bytes
from plangen.units import LengthStyle, inches
from tests.booklet.sample_book import book
from tests.record.sample_records import PAGES, TEXTS, record, with_part
from tests.sample_design import sample_design


def _part(made: dict, key: str) -> dict:
    return next(part for part in made["parts"] if part["key"] == key)


def _sizes(part: dict) -> dict[str, dict]:
    return {one["name"]: one for one in part["measures"]}


def test_sizes_are_exact_near_and_printed() -> None:
    shelf = _sizes(_part(record(), "shelf"))
    # 24 in less two sides of 3/4 in, plus two dadoes of 1/4 in: 23 in = 584.2 mm.
    assert shelf["length"] == {"name": "length", "exact": "2921/5", "mm": 584.2, "printed": "23\u00a0in"}
    assert Fraction(shelf["shoulder length"]["exact"]) == Fraction("571.5")
    assert shelf["thickness"]["printed"] == "3/4\u00a0in"


def test_printed_sizes_follow_the_style() -> None:
    inch, metric = record(), record(style=LengthStyle("mm"))
    assert _sizes(_part(metric, "shelf"))["length"]["printed"] == "584\u00a0mm"
    assert (
        _sizes(_part(metric, "shelf"))["length"]["exact"] == _sizes(_part(inch, "shelf"))["length"]["exact"]
    )


def test_operations_hold_their_numbers_and_their_sentence() -> None:
    side = _part(record(), "side left")
    assert [one["kind"] for one in side["operations"]] == ["dado", "dado", "rabbet", "hole", "hole", "curve"]
    upper = side["operations"][1]
    assert upper["joint"] == "housings"
    assert (
        upper["sentence"]
        == "Cut a dado 3/4\u00a0in wide and 1/4\u00a0in deep, 10\u00a0in up from the bottom end."
    )
    named = {one["name"]: one["printed"] for one in upper["features"][0]["measures"]}
    assert named == {
        "size along the length": "3/4\u00a0in",
        "from the bottom": "10\u00a0in",
        "size along the width": "8\u00a03/4\u00a0in",
        "depth": "1/4\u00a0in",
    }
    hole = {one["name"]: one["exact"] for one in side["operations"][3]["features"][0]["measures"]}
    assert Fraction(hole["from the bottom"]) == Fraction("15.25") * Fraction("25.4")
    assert Fraction(hole["from the back"]) == (Fraction("0.22") + Fraction("0.375")) * Fraction("25.4")
    assert Fraction(hole["counterbore diameter"]) == Fraction(3, 8) * Fraction("25.4")


def test_counts_bills_and_totals() -> None:
    made = record()
    assert _part(made, "shelf")["count"] == 2
    assert len(_part(made, "shelf")["copies"]) == 2
    assert [(line["item"], line["count"], line["mark"]) for line in made["hardware"]] == [
        ("screw", 4, 1),
        ("plug", 4, 2),
    ]
    totals = {one["name"]: one["printed"] for one in made["totals"]}
    assert totals["pieces"] == "6"  # two sides, two shelves, a rail, a back
    assert totals["hardware pieces"] == "8"
    assert totals["sheets"] == "1"


def test_every_piece_lies_on_a_board_once() -> None:
    made = record()
    laid: dict[str, int] = {}
    for plan in made["plans"]:
        for diagram in plan["diagrams"]:
            for piece in diagram["pieces"]:
                laid[piece["part"]] = laid.get(piece["part"], 0) + 1
    assert laid == {part["key"]: part["count"] for part in made["parts"]}


def test_findings_are_warnings_and_notes_without_the_path_of_the_machine() -> None:
    made = record()
    assert [(one["severity"], one["file"], one["line"]) for one in made["findings"]] == [
        ("note", "project.yaml", 4),
        ("warning", "project.yaml", 2),
    ]
    assert b"someone" not in record_bytes(made)


def test_bytes_are_the_same_every_time_and_read_back() -> None:
    data = record_bytes(record())
    assert data == record_bytes(record())
    assert data.endswith(b"}\n")
    assert read_record(data) == record()
    assert list(json.loads(data)) == sorted(record())


def test_bytes_are_the_same_in_another_process() -> None:
    code = (
        "import hashlib; from tests.record.sample_records import record;"
        "from plangen.record import record_bytes;"
        "print(hashlib.sha256(record_bytes(record())).hexdigest())"
    )
    runs = {
        subprocess.run([sys.executable, "-c", code], env={"PYTHONHASHSEED": seed, "PYTHONPATH": "."},
                       capture_output=True, text=True, check=True).stdout
        for seed in ("1", "77")
    }  # fmt: skip
    assert len(runs) == 1


def test_a_page_keeps_its_digest_when_only_revision_and_numbers_move() -> None:
    before = record()
    project = sample_design().project
    later = replace(
        sample_design(), project=replace(project, revision="C", revised=project.revised.replace(month=4))
    )
    texts = tuple(
        text.replace("revision B", "revision C").replace("Revision\nB", "Revision\nC")
        .replace("14 March", "14 April").replace("2026-03-14", "2026-04-14").replace("of 4", "of 5")
        for text in (*TEXTS, "New page\n5 of 4")
    )  # fmt: skip
    after = record(later, pages=(*PAGES, replace(PAGES[-1], number=5, label="5", steps=(3,))), texts=texts)
    assert [page["digest"] for page in after["pages"][:4]] == [page["digest"] for page in before["pages"]]
    assert len({page["digest"] for page in after["pages"]}) == 5


@pytest.mark.parametrize("place", range(4))
def test_a_page_changes_its_digest_with_any_word(place: int) -> None:
    texts = tuple(f"{text} 23 1/2" if index == place else text for index, text in enumerate(TEXTS))
    before, after = record()["pages"], record(texts=texts)["pages"]
    changed = [
        one["number"] for one, two in zip(before, after, strict=True) if one["digest"] != two["digest"]
    ]
    assert changed == [place + 1]


def test_pages_need_a_text_each() -> None:
    with pytest.raises(ValueError, match="4 pages"):
        record(texts=TEXTS[:3])


def test_the_words_of_a_real_booklet_are_read_back() -> None:
    from plangen.booklet import set_booklet

    booklet = set_booklet(book())
    texts = page_texts(booklet.pdf)
    assert len(texts) == len(booklet.pages)
    assert "revision B" in texts[3]
    made = record(pages=booklet.pages, texts=texts)
    assert [page["label"] for page in made["pages"]] == [str(n + 1) for n in range(len(texts))]


def test_a_step_counts_what_its_references_print() -> None:
    def longer(text: str) -> str:
        return text.replace("<shelf.length>", "24\u00a0in")

    one, two = record(resolver=lambda text: text), record(resolver=longer)
    changed = [
        a["number"] for a, b in zip(one["steps"], two["steps"], strict=True) if a["digest"] != b["digest"]
    ]
    assert changed == [2]


def test_named_sizes_are_kept() -> None:
    assert record()["sizes"]["width"]["printed"] == "24\u00a0in"
    counted = with_part(sample_design(), "rail", note="x")
    made = record(replace(counted, sizes={"width": inches(24), "rows": Fraction(5, 2)}))
    assert made["sizes"]["rows"] == {"exact": "5/2", "value": 2.5, "printed": "2.5"}
