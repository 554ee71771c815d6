"""A comparison names every number that moved, none that did not, and survives any old record."""

from __future__ import annotations

import copy
import json
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.booklet.model import PageRecord
from plangen.record import changes_markdown, compare, read_record, record_bytes, report_text
from plangen.sequence.model import HardwareCount, OrderOfWork, PartUse
from plangen.units import LengthStyle, inches, millimetres, phrase
from tests.booklet.sample_book import order
from tests.record.sample_records import (
    INCH,
    PAGES,
    TEXTS,
    lengthened,
    record,
    with_dadoes_moved,
    with_longer_shelves,
    with_part,
)
from tests.sample_design import sample_design

SAME = record()
BYTES = record_bytes(SAME)


def _numbered(steps: list[Any]) -> OrderOfWork:
    return OrderOfWork(tuple(replace(step, number=n) for n, step in enumerate(steps, 1)))


def test_nothing_changed() -> None:
    found = compare(read_record(BYTES) or {}, SAME)
    assert found.comparable
    assert not found.changed
    assert not found.acts
    assert changes_markdown(found, INCH) == ""
    assert report_text(found) == "Nothing changed since the last build.\n"


def test_a_longer_shelf_moves_its_lengths_and_nothing_else() -> None:
    found = compare(SAME, record(with_longer_shelves(inches("1/2"))))
    told = [
        (one.mark, one.part, one.work, one.measure, one.old.printed, one.new.printed) for one in found.sizes
    ]
    assert told == [
        ("B", "Shelf", "", "length", "23\u00a0in", "23\u00a01/2\u00a0in"),
        ("B", "Shelf", "", "shoulder length", "22\u00a01/2\u00a0in", "23\u00a0in"),
    ]
    assert not found.parts
    assert not found.hardware
    assert not found.steps
    assert [act for act in found.acts if "already cut B (Shelf)" in act] == list(found.acts)
    assert {one.name for one in found.totals} <= {"weight", "wood to buy", "cost", "boards"}


def test_both_directions_tell_the_same_story() -> None:
    longer = record(with_longer_shelves(inches("1/2")))
    there, back = compare(SAME, longer), compare(longer, SAME)
    assert [(one.old, one.new) for one in there.sizes] == [(one.new, one.old) for one in back.sizes]


def test_a_moved_dado_is_told_from_the_side_it_is_measured_from() -> None:
    found = compare(SAME, record(with_dadoes_moved(inches(1))))
    (one,) = found.sizes
    assert (one.mark, one.work, one.measure) == ("A-L", "Dado 2 (housings)", "from the bottom")
    assert (one.old.printed, one.new.printed) == ("10\u00a0in", "11\u00a0in")
    assert found.acts == ("Only if you have already worked A-L (Side, left): check Dado 2 (housings).",)


def test_a_change_under_the_printed_fraction_is_counted_and_misleads_nobody() -> None:
    found = compare(SAME, record(with_longer_shelves(millimetres("1/100"))))
    assert len(found.sizes) == 2
    assert not any(one.seen for one in found.sizes)
    assert not found.acts
    text = changes_markdown(found, INCH)
    assert "2 more sizes move by less than what is printed" in text
    assert "length: " not in text


def test_parts_that_come_go_and_take_another_name() -> None:
    design = sample_design()
    rail = design.part("rail")
    brace = replace(rail, key="brace", name="brace", title="Brace", mark="E")
    without = replace(design, parts=tuple(part for part in design.parts if part.key != "rail"))
    found = compare(record(design), record(replace(without, parts=(*without.parts, brace))))
    assert [(one.kind, one.mark) for one in found.parts] == [("removed", "C"), ("added", "E")]
    assert "Everyone: 1 of the new part E (Brace) to make." in found.acts
    assert "Only if you have already cut C (Rail): it is no longer used." in found.acts

    renamed = with_part(design, "rail", key="apron", name="apron", title="Apron")
    (one,) = compare(record(design), record(renamed)).parts
    assert (one.kind, one.mark, one.old, one.new) == ("renamed", "C", "Rail", "Apron")


def test_a_renamed_part_leaves_the_steps_that_use_it_alone() -> None:
    renamed = with_part(sample_design(), "rail", key="apron", name="apron")
    steps = [
        replace(
            step, parts=tuple(replace(use, part="apron") if use.part == "rail" else use for use in step.parts)
        )
        for step in order().steps
    ]
    assert not compare(SAME, record(renamed, steps=_numbered(steps))).steps


def test_count_and_stock() -> None:
    design = sample_design()
    one_shelf = with_part(design, "shelf", copies=design.part("shelf").copies[:1])
    (one,) = compare(SAME, record(one_shelf)).parts
    assert (one.kind, one.mark, one.old, one.new) == ("count", "B", "2", "1")
    other = with_part(design, "rail", stock="ply")
    assert [(one.kind, one.old, one.new) for one in compare(SAME, record(other)).parts] == [
        ("stock", "pine", "ply")
    ]


def test_work_that_comes_and_goes() -> None:
    design = sample_design()
    operations = design.part("side left").operations
    fewer = record(with_part(design, "side left", operations=operations[:3] + operations[4:]))
    gone = compare(SAME, fewer)
    assert [(one.kind, one.mark, one.work) for one in gone.work] == [
        ("removed", "A-L", "Screw hole 1 (rail screws)")
    ]
    assert not gone.sizes  # the hole that stays is not taken for the one that went
    assert [one.kind for one in compare(fewer, SAME).work] == ["added"]


def test_another_shape_without_another_number_is_still_told() -> None:
    design = sample_design()
    *others, curve = design.part("side left").operations
    (cut,) = curve.cuts
    (loop,) = cut.loops  # type: ignore[union-attr]
    line, arc, close = loop.segments
    bulged = replace(loop, segments=(line, replace(arc, left=False), close))  # type: ignore[call-arg]
    changed = replace(curve, cuts=(replace(cut, loops=(bulged,)),))  # type: ignore[call-arg]
    found = compare(SAME, record(with_part(design, "side left", operations=(*others, changed))))
    assert [(one.kind, one.work) for one in found.work] == [("changed", "Curve")]


def test_hardware_counts_and_sizes() -> None:
    design = sample_design()
    joint = design.joints[2]
    screws, plugs = joint.hardware
    fewer = replace(joint, hardware=(replace(screws, number=2, spots=screws.spots[:2]), plugs))
    found = compare(SAME, record(replace(design, joints=(*design.joints[:2], fewer))))
    assert [(one.title, one.old_count, one.new_count) for one in found.hardware] == [
        ("Wood screw, flat head", 4, 2)
    ]
    assert "2 of Wood screw, flat head, No. 8 × 1\u00a01/2\u00a0in will be left over." in found.acts[0]
    longer = replace(design.hardware["screw"], size=phrase("No. 8 × ", inches(2)))
    (one,) = compare(SAME, record(replace(design, hardware={**design.hardware, "screw": longer}))).hardware
    assert (one.old_size, one.new_size) == ("No. 8 × 1\u00a01/2\u00a0in", "No. 8 × 2\u00a0in")


def test_joints() -> None:
    design = sample_design()
    grooved = replace(design.joints[0], kind="groove", title="Groove")
    (one,) = compare(SAME, record(replace(design, joints=(grooved, *design.joints[1:])))).joints
    assert (one.name, one.old, one.new) == ("housings", "Dado", "Groove")


def test_steps_changed_added_removed_and_moved() -> None:
    steps = list(order().steps)
    glue = replace(steps[3], say="Brush glue into the dadoes. Clamp.")
    extra = replace(steps[4], title="Plug the holes", say="Tap in the plugs.", kind="fit")
    found = compare(SAME, record(steps=_numbered([*steps[:3], glue, extra, *steps[4:7]])))
    assert [(one.kind, one.old_number, one.new_number, one.why) for one in found.steps] == [
        ("changed", 4, 4, ("words",)),
        ("added", 0, 5, ()),
        ("moved", 5, 6, ()),
        ("moved", 6, 7, ()),
        ("moved", 7, 8, ()),
        ("removed", 8, 0, ()),
    ]
    text = report_text(found)
    assert "steps 5 to 7 are now steps 6 to 8" in text
    assert "Old step 8: no longer there: Sand and finish" in text


def test_a_step_with_another_title_or_other_things_is_changed() -> None:
    steps = list(order().steps)
    steps[5] = replace(
        steps[5], title="Fix the rail", parts=(PartUse("rail", 2),), hardware=(HardwareCount("screw", 6),)
    )
    found = compare(SAME, record(steps=_numbered(steps)))
    assert [(one.kind, one.new_number, one.why) for one in found.steps] == [
        ("changed", 6, ("title", "parts", "hardware"))
    ]


def test_pages_by_what_they_show() -> None:
    inserted = PageRecord(3, "3", "Parts", ("C",), (), 0.5)
    pages = (
        *PAGES[:2],
        inserted,
        *(replace(page, number=page.number + 1, label=str(page.number + 1)) for page in PAGES[2:]),
    )
    texts = tuple(
        text.replace("4 of 4", "5 of 5").replace("3 of 4", "4 of 5").replace("of 4", "of 5") for text in TEXTS
    )
    found = compare(SAME, record(pages=pages, texts=(*texts[:2], "Rail\n3 of 5", *texts[2:])))
    assert [(one.kind, one.old_label, one.new_label) for one in found.pages] == [("added", "", "3")]
    reworded = (*TEXTS[:2], "Shelf\n23 1/2\n3 of 4", TEXTS[3])
    changed = compare(SAME, record(texts=reworded))
    assert [(one.kind, one.new_label, one.chapter) for one in changed.pages] == [("changed", "3", "Parts")]
    fewer = tuple(text.replace("of 4", "of 3") for text in TEXTS[:3])
    shorter = compare(SAME, record(pages=PAGES[:3], texts=fewer))
    assert [(one.kind, one.old_label) for one in shorter.pages] == [("removed", "4")]


@pytest.mark.parametrize(
    "other",
    [{"style": LengthStyle("mm")}, {"paper": "a4"}, {"edition": "binder"}, {"pages": (), "texts": ()}],
)
def test_pages_of_another_booklet_are_not_compared_but_sizes_are(other: dict[str, Any]) -> None:
    found = compare(SAME, record(with_longer_shelves(inches("1/2")), **other))
    assert not found.pages_compared
    assert not found.pages
    assert {one.measure for one in found.sizes} == {"length", "shoulder length"}
    assert "not compared" in report_text(found)


def test_the_words_on_pages() -> None:
    pages = tuple(PageRecord(n, str(n), "Parts" if n < 8 else "Steps", (), (), 0.9) for n in range(1, 10))
    old = [f"page {n}" for n in range(1, 10)]
    new = [f"{text} anew" if n in (1, 3, 4, 5, 7, 9) else text for n, text in enumerate(old, 1)]
    one, two = (record(pages=pages, texts=tuple(texts)) for texts in (old, new))
    text = report_text(compare(one, two))
    assert "Pages:\n  Parts: print pages 1, 3 to 5 and 7 again\n  Steps: print page 9 again\n" in text
    last = record(pages=pages[:8], texts=tuple(old[:8]))
    assert "Steps: take old page 9 out" in report_text(compare(one, last))
    assert "Steps: page 9 new" in report_text(compare(last, one))


def test_a_thickness_is_told_as_a_caliper_reads_it() -> None:
    design = sample_design()
    back = design.part("back")
    thinner = record(with_part(design, "back", **lengthened(back, back.thick, inches("-0.017"))))
    assert "D Back: thickness: 0.203 in, was 0.22 in" in report_text(compare(SAME, thinner))
    assert "**D Back**: thickness: 5.2\u00a0mm, was 5.6\u00a0mm" in changes_markdown(
        compare(SAME, thinner), LengthStyle("mm")
    )


def test_shoulders_that_come_and_go() -> None:
    design = sample_design()
    plain = record(with_part(design, "shelf", shoulder_length=design.part("shelf").length))
    gone, come = compare(SAME, plain), compare(plain, SAME)
    assert [(one.measure, one.new) for one in gone.sizes] == [("shoulder length", None)]
    assert gone.acts == ("Only if you have already cut B (Shelf): it has no shoulder length of its own now.",)
    assert come.acts == (
        "Only if you have already cut B (Shelf): its shoulder length is 22\u00a01/2\u00a0in now.",
    )


def test_another_unit_alone_changes_no_size() -> None:
    found = compare(SAME, record(style=LengthStyle("mm")))
    assert (found.sizes, found.parts, found.hardware, found.totals, found.steps) == ((), (), (), (), ())


def test_the_words_in_both_units() -> None:
    found = compare(SAME, record(with_longer_shelves(inches("1/2"))))
    assert "**B Shelf**: length: 23\u00a01/2\u00a0in, was 23\u00a0in" in changes_markdown(found, INCH)
    assert "**B Shelf**: length: 597\u00a0mm, was 584\u00a0mm" in changes_markdown(found, LengthStyle("mm"))
    assert (
        "Who must act:\n  Only if you have already cut B (Shelf): its length is now 23 1/2 in"
        in report_text(found)
    )


def test_the_revisions_are_named() -> None:
    design = with_longer_shelves(inches("1/2"))
    later = replace(design, project=replace(design.project, revision="C"))
    text = changes_markdown(compare(SAME, record(later)), INCH)
    assert text.startswith("What changed from revision B to revision C.\n")
    assert text.endswith("\n")
    assert not text.endswith("\n\n")


def test_signs_of_the_maker_stay_words() -> None:
    design = with_part(sample_design(), "shelf", title="Shelf *<b>*")
    assert r"Shelf \*\<b\>\*" in changes_markdown(compare(SAME, record(design)), INCH)


def test_named_sizes_and_the_overall_size_come_first() -> None:
    design = sample_design()
    wider = replace(design, sizes={**design.sizes, "width": inches(30)})
    (one,) = compare(SAME, record(wider)).sizes
    assert (one.mark, one.measure, one.new.exact) == ("", "width", Fraction(762))


@pytest.mark.parametrize("number", [0, 2, 99, True, "1", None, 1.0, [1]])
def test_an_unknown_format_is_said(number: Any) -> None:
    found = compare({**SAME, "format": number}, SAME)
    assert not found.comparable
    assert "format" in found.reason
    assert found.reason in report_text(found)
    assert found.reason.split(":")[0] in changes_markdown(found, INCH)


@pytest.mark.parametrize(
    "data", [b"", b"{", b"[]", b"\xff\xfe", b"null", b"[" * 100_000, BYTES[: len(BYTES) // 2]]
)
def test_a_damaged_file_is_an_empty_record(data: bytes) -> None:
    old = read_record(data)
    assert old == {}
    assert not compare(old, SAME).comparable


def test_no_file_is_no_record() -> None:
    assert read_record(None) is None


_JUNK = st.one_of(
    st.none(), st.booleans(), st.integers(), st.floats(allow_nan=True), st.text(max_size=5),
    st.sampled_from(["1/0", "9" * 5000, "1e999999999", "nan", "-"]), st.lists(st.integers(), max_size=2),
    st.dictionaries(st.text(max_size=3), st.integers(), max_size=2),
)  # fmt: skip


def _places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [path, *(place for key, one in inner for place in _places(one, (*path, key)))]


PLACES = [place for place in _places(SAME) if place]


@given(place=st.sampled_from(PLACES), junk=_JUNK, gone=st.booleans())
@settings(max_examples=150, deadline=None, derandomize=True)
def test_no_damage_raises(place: tuple[Any, ...], junk: Any, gone: bool) -> None:
    old = copy.deepcopy(SAME)
    inner: Any = old
    for key in place[:-1]:
        inner = inner[key]
    if gone:
        del inner[place[-1]]
    else:
        inner[place[-1]] = junk
    found = compare(old, SAME)
    assert report_text(found).endswith("\n")
    assert found.comparable or found.reason
    assert changes_markdown(found, INCH) == "" or found.changed or not found.comparable


def test_a_record_is_plain_data() -> None:
    assert json.loads(json.dumps(SAME)) == SAME
