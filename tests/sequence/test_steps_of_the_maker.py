"""Steps the maker writes, changes to the draft, and the proof that nothing is left out."""

from dataclasses import replace

import pytest

from plangen.sequence.tokens import references
from tests.sample_design import sample_design
from tests.sequence.designs import (
    box,
    design,
    entry,
    fit,
    from_work,
    joint,
    kinds,
    operation,
    order,
    panel_frame,
    part,
    written,
)


def shelf_in_sides():
    """Two sides with a dado each, a shelf between them and a knob."""
    dado = (operation("dado", "housings"),)
    return design(
        part("side", "A", box(0, 20, 0, 100, 0, 300), box(180, 200, 0, 100, 0, 300), operations=dado),
        part("shelf", "B", box(20, 180, 0, 100, 100, 120)),
        joints=(joint("housings", "dado", ("side 1", "shelf", "left"), ("side 2", "shelf", "right")),),
        fits=(fit("knobs", "knob", 2, "side 1"),),
    )


CUT = entry(step="Cut it all", cut=["side", "shelf"])
WORK = entry(step="Cut the dadoes", work=["housings"])
JOIN = entry(step="Put it together", join=["housings"])
FIT = entry(step="Put the knobs on", fit=["knobs"])
WHOLE = (CUT, WORK, JOIN, FIT)


def test_steps_written_out_stand_as_they_are() -> None:
    steps, findings = order(shelf_in_sides(), *WHOLE)
    assert kinds(findings) == []
    assert [step.title for step in steps.steps] == [
        "Cut it all",
        "Cut the dadoes",
        "Put it together",
        "Put the knobs on",
    ]
    assert [step.kind for step in steps.steps] == ["cut", "work", "glue", "fit"]
    assert steps.steps[2].placed == ("side 1", "shelf", "side 2")
    assert [(use.item, use.number) for use in steps.steps[3].hardware] == [("knob", 2)]
    assert steps.steps[1].tools == ("A tool for the dado",)
    assert steps.steps[1].cautions == ("router",)
    assert not any(step.drafted for step in steps.steps)
    assert steps.using("shelf", ("shelf",)) == (3,)


@pytest.mark.parametrize(
    ("without", "found"),
    [
        (CUT, {"part-in-no-step"}),
        (WORK, {"operation-in-no-step"}),
        (JOIN, {"joint-in-no-step", "part-in-no-step"}),
        (FIT, {"hardware-in-no-step"}),
    ],
)
def test_what_is_left_out_is_named(without, found: set[str]) -> None:
    _, findings = order(shelf_in_sides(), *(one for one in WHOLE if one is not without))
    assert set(kinds(findings)) == found
    assert findings.has_errors


def test_left_over_hardware_is_counted() -> None:
    _, findings = order(shelf_in_sides(), CUT, WORK, JOIN)
    assert any("2 of `knob` left over" in finding.message for finding in findings)
    assert any(
        "the steps use 0 of `knob` and the bill says 2: 2 left over" in one.message for one in findings
    )


@pytest.mark.parametrize(
    ("entries", "kind"),
    [
        ((CUT, CUT, WORK, JOIN, FIT), "cut-twice"),
        ((CUT, WORK, WORK, JOIN, FIT), "worked-twice"),
        ((CUT, WORK, JOIN, JOIN, FIT), "closed-twice"),
        ((CUT, WORK, JOIN, FIT, FIT), "fitted-twice"),
        ((CUT, WORK, JOIN, FIT, entry(step="Again", place=["shelf"])), "placed-twice"),
        ((CUT, JOIN, WORK, FIT), "worked-after-closing"),
        ((WORK, CUT, JOIN, FIT), "worked-before-cut"),
        ((JOIN, CUT, WORK, FIT), "placed-before-cut"),
    ],
)
def test_twice_and_too_early(entries, kind: str) -> None:
    _, findings = order(shelf_in_sides(), *entries)
    assert kind in kinds(findings)
    assert findings.has_errors


def test_hardware_used_twice_is_counted() -> None:
    _, findings = order(shelf_in_sides(), CUT, WORK, JOIN, FIT, FIT)
    assert any("use 4 of `knob` and the bill says 2: 2 too many" in finding.message for finding in findings)


@pytest.mark.parametrize("make", [sample_design, shelf_in_sides, panel_frame])
def test_the_draft_written_out_is_whole_and_no_step_of_it_can_be_spared(make) -> None:
    whole = make()
    drafted, _ = order(whole)
    entries = [written(whole, step) for step in drafted.steps if step.kind != "mill"]
    steps, findings = order(whole, *entries)
    assert kinds(findings) == []
    assert [step.placed for step in steps.steps if step.placed] == [
        step.placed for step in drafted.steps if step.placed
    ]
    for spared in entries:
        if spared.dry or spared.finish:  # nothing is lost without them but care
            continue
        _, findings = order(whole, *(one for one in entries if one is not spared))
        assert findings.has_errors, spared.step


def measured_shelf():
    whole = shelf_in_sides()
    shelf = from_work(whole.parts[1])
    return replace(whole, parts=(whole.parts[0], shelf))


def test_a_size_from_the_work_is_measured_before_its_cut() -> None:
    whole = measured_shelf()
    cut = entry(step="Cut the sides", cut=["side"])
    measure = entry(step="Measure", measure=["shelf"])
    late = entry(step="Cut the shelf", cut=["shelf"])
    assert kinds(order(whole, cut, WORK, measure, late, JOIN, FIT)[1]) == []
    assert kinds(order(whole, cut, WORK, late, measure, JOIN, FIT)[1]) == ["measured-late"]
    assert kinds(order(whole, cut, WORK, late, JOIN, FIT)[1]) == ["not-measured"]


def test_names_that_stand_for_nothing_say_what_was_meant() -> None:
    _, findings = order(
        shelf_in_sides(), entry(step="Cut", cut=["shelv"]), entry(step="Work", work=["housing"]),
        entry(step="Work more", work=[{"side": ["dada"]}]), entry(step="Fit", fit=["knop"], show=["sid"]),
        entry(step="Join", join=["housingz"]), "draft",
    )  # fmt: skip
    wrong = [finding for finding in findings if finding.kind == "unknown-in-step"]
    assert [finding.remedy for finding in wrong] == [
        "did you mean `shelf`?", "did you mean `housings`?", "did you mean `dado`?", "did you mean `knob`?",
        "did you mean `side`?", "did you mean `housings`?",
    ]  # fmt: skip


def test_names_in_words_become_tokens() -> None:
    said = entry(
        step="Look",
        say="Hold {shelf} with {knob} at {side 2}, {side} and <shelf.length>; {housings}, {nobody}.",
    )
    steps, findings = order(shelf_in_sides(), "draft", said)
    assert steps.steps[-1].say == (
        "Hold {part:shelf} with {hardware:knob} at {copy:side 2}, {part:side} and <shelf.length>; "
        "{joint:housings}, \\{nobody}."
    )
    assert [name for _, name in references(steps.steps[-1].say)] == ["shelf.length"]
    assert kinds(findings) == ["unknown-in-step"]


def test_both_hands_of_a_name() -> None:
    steps, _ = order(sample_design(), "draft", entry(step="Look", say="Turn {side} over."))
    assert steps.steps[-1].say == "Turn {part:side left} and {part:side right} over."


def test_a_step_of_the_maker_takes_its_work_out_of_the_draft() -> None:
    steps, findings = order(shelf_in_sides(), entry(step="Dadoes first", work=["side"]), "draft")
    # Working before cutting is an error all the same: the steps stand where the maker put them.
    assert kinds(findings) == ["worked-before-cut"] * 1
    assert steps.steps[0].title == "Dadoes first"
    assert [step.kind for step in steps.steps].count("work") == 1


def test_work_by_kind_takes_only_that_kind() -> None:
    by_kind = [{"side": ["screw hole", "hole"]}]
    steps, findings = order(
        sample_design(), "draft", entry(before="back rabbets", title="Late dadoes", work=by_kind)
    )
    late = next(step for step in steps.steps if step.title == "Late dadoes")
    assert late.worked == (("side left", (3, 4)), ("side right", (3, 4)))
    wrong = [finding.kind for finding in findings]
    assert wrong == [
        "unknown-in-step",
        "unknown-in-step",
    ]  # the sample's kind is hole, there is no screw hole


def test_before_and_after_add_words() -> None:
    before = entry(before="housings", say="First this.", checks=["Is it square?"])
    after = entry(after="housings", say="Then that.", cautions=["clamps"])
    plain, _ = order(shelf_in_sides())
    steps, findings = order(shelf_in_sides(), "draft", before, after)
    assert kinds(findings) == []
    assert [step.title for step in steps.steps] == [step.title for step in plain.steps]
    said, drafted = (next(step for step in one.steps if step.joints) for one in (steps, plain))
    assert said.say == f"First this.\n\n{drafted.say}\n\nThen that."
    assert said.checks == ("Is it square?",)
    assert "clamps" in said.cautions


def test_before_and_after_with_a_title_make_a_step() -> None:
    steps, findings = order(
        shelf_in_sides(), "draft", entry(after="mill", title="Let it rest", say="Wait two days.")
    )
    assert kinds(findings) == []
    assert [step.title for step in steps.steps[:2]] == ["Mill the white pine", "Let it rest"]
    assert steps.steps[1].kind == "other"
    assert steps.steps[1].picture.kind == "none"


def test_replace_keeps_what_it_does_not_say() -> None:
    steps, findings = order(shelf_in_sides(), "draft", entry(replace="dado", say="Use a knife first."),
                            entry(replace="finish", title="Oil it"))  # fmt: skip
    assert kinds(findings) == []
    dado = next(step for step in steps.steps if step.kind == "work")
    assert dado.title == "Cut the dadoes in the sides"
    assert dado.say == "Use a knife first."
    assert dado.worked == (("side", (0,)),)
    assert steps.steps[-1].title == "Oil it"
    assert steps.steps[-1].say


def test_a_change_that_finds_no_step() -> None:
    _, findings = order(shelf_in_sides(), "draft", entry(replace="housngs", say="x"))
    assert kinds(findings) == ["unknown-in-step"]
    assert "housings" in findings.items[0].remedy
    _, findings = order(shelf_in_sides(), *WHOLE, entry(replace="housings", say="x"))
    assert kinds(findings) == ["no-draft"]
    _, findings = order(shelf_in_sides(), CUT, "draft", entry(replace="cut", say="x"))
    assert kinds(findings) == ["step-gone"]
    _, findings = order(shelf_in_sides(), "draft", "draft")
    assert kinds(findings) == ["draft-twice"]


def test_a_caution_without_words_is_an_error() -> None:
    _, findings = order(shelf_in_sides(), "draft", entry(step="Look", cautions=["table sow"]))
    assert kinds(findings) == ["unknown-caution"]


def test_the_order_that_shuts_a_piece_out_is_warned_of() -> None:
    whole = panel_frame()
    cut = entry(step="Cut", cut=["stile", "rail", "panel"])
    frame = entry(step="Close the frame", join=["frame"])
    panel = entry(step="Put the panel in", join=["panel groove"])
    steps, findings = order(whole, cut, frame, panel)
    assert kinds(findings) == ["no-way-in"]
    assert "step 3: panel and stile 1" in findings.items[0].message
    assert "`frame`" in findings.items[0].message
    assert kinds(order(whole, cut, entry(step="Both", join=["frame", "panel groove"]))[1]) == []
    assert len(steps.steps) == 3


def test_shown_pieces_are_the_maker_s() -> None:
    steps, _ = order(
        shelf_in_sides(), entry(step="Cut", cut=["side", "shelf"], show=["shelf"]), WORK, JOIN, FIT
    )
    assert steps.steps[0].picture.new == ("shelf",)
