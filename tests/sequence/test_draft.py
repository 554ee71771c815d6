from dataclasses import replace

import pytest

from plangen.design.model import GlueUp
from plangen.handbook.safety import has_caution
from plangen.joinery.space import Side
from plangen.sequence.assembly import Assembly
from plangen.sequence.order import tools_needed
from plangen.sequence.rounds import joint_rounds
from plangen.sequence.tokens import resolve_tokens
from plangen.units import inches, millimetres, phrase
from tests.sample_design import sample_design
from tests.sequence.designs import (
    box,
    design,
    fit,
    from_work,
    joint,
    kinds,
    operation,
    order,
    panel_frame,
    part,
)


def titles(steps) -> list[str]:
    return [step.title for step in steps.steps]


def test_the_sample_in_order() -> None:
    steps, findings = order(sample_design())
    assert kinds(findings) == []
    assert titles(steps) == [
        "Mill the white pine",
        "Cut the white pine parts to size",
        "Cut the birch plywood parts to size",
        "Cut the dadoes and rabbets in the sides",
        "Drill the screw holes in the sides",
        "Saw the curves of the sides",
        "Try the joints dry",
        "Glue the shelves to the sides",
        "Glue the back to the sides",
        "Screw the rail to the sides",
        "Sand and finish",
    ]
    assert [step.number for step in steps.steps] == list(range(1, 12))
    assert all(step.drafted for step in steps.steps)


def test_every_text_prints_and_every_caution_has_words() -> None:
    steps, _ = order(sample_design())
    for step in steps.steps:
        for text in (step.title, step.say, *step.checks, *step.tools):
            printed = resolve_tokens(text, lambda _: "3 in", str, str, str)
            assert "<" not in printed
            assert "{" not in printed
        assert step.say
        assert all(has_caution(key) for key in step.cautions)


def test_sentences_are_short() -> None:
    # At most 20 words to a sentence: common practice for instructions, no source.
    steps, _ = order(sample_design())
    for step in steps.steps:
        for line in step.say.split("\n"):
            for sentence in line.split(". "):
                words = resolve_tokens(
                    sentence.partition(": ")[2] or sentence,  # what is worked stands before the colon
                    lambda _: "3in",
                    str,
                    lambda key: key.split(" ")[0],
                    str,
                ).split()
                assert len(words) <= 20, sentence


def test_hardware_and_pieces_of_each_step() -> None:
    steps, _ = order(sample_design())
    rail = steps.steps[9]
    assert [(use.item, use.number) for use in rail.hardware] == [("screw", 4), ("plug", 4)]
    assert [(use.part, use.number) for use in rail.parts] == [("rail", 1)]
    cut = steps.steps[1]
    assert [(use.part, use.number) for use in cut.parts] == [
        ("side left", 1),
        ("side right", 1),
        ("shelf", 2),
        ("rail", 1),
    ]


def test_one_step_names_its_parts_tools_once() -> None:
    steps, _ = order(sample_design())
    tools = tools_needed(steps)
    assert len(tools) == len(set(tools))
    assert "Router with a straight bit <=127/10>" in tools


def test_a_mirror_pair_is_worked_in_one_step_and_said_once() -> None:
    steps, _ = order(sample_design())
    dadoes = steps.steps[3]
    assert dadoes.worked == (("side left", (0, 1, 2)), ("side right", (0, 1, 2)))
    assert dadoes.say.count("<=254/5>") == 1
    assert "mirror pair" in dadoes.say


def test_work_of_the_drawing_shows_the_side_the_tool_enters() -> None:
    steps, _ = order(sample_design())
    assert dict(steps.steps[3].picture.sides) == {"left side": Side.RIGHT, "right side": Side.LEFT}
    assert dict(steps.steps[4].picture.sides) == {"left side": Side.LEFT, "right side": Side.RIGHT}


def test_pictures_draw_pieces_out_the_way_they_go_in() -> None:
    steps, _ = order(sample_design())
    shelves, back, rail = (step.picture for step in steps.steps[7:10])
    assert dict(shelves.offsets) == {"left side": Side.LEFT, "right side": Side.RIGHT}
    assert shelves.context == ()
    assert dict(back.offsets) == {"back": Side.BACK}
    assert set(back.context) == {"left side", "right side", "bottom shelf", "upper shelf"}
    # The rail cannot come in from left or right between the sides, so it comes from the open front.
    assert dict(rail.offsets) == {"rail": Side.FRONT}
    assert rail.hardware == ("rail screws",)


def test_offsets_follow_what_is_in_the_way() -> None:
    # A cleat between two cheeks with a lid in front and a floor below: only the top and back are open.
    whole = design(
        part("cheek", "A", box(0, 20, 0, 100, 0, 100), box(120, 140, 0, 100, 0, 100)),
        part("lid", "B", box(20, 120, 0, 10, 0, 100)),
        part("floor", "C", box(20, 120, 10, 100, 0, 10)),
        part("cleat", "D", box(20, 120, 40, 60, 30, 50)),
        joints=(
            joint(
                "case",
                "butt",
                ("cheek 1", "lid", "left"),
                ("cheek 2", "lid", "right"),
                ("cheek 1", "floor", "left"),
                ("cheek 2", "floor", "right"),
            ),
            joint("cleats", "butt", ("cheek 1", "cleat", "left"), ("cheek 2", "cleat", "right")),
        ),
    )
    steps, _ = order(whole)
    cleat = next(step for step in steps.steps if step.joints == ("cleats",))
    assert dict(cleat.picture.offsets) == {"cleat": Side.TOP}


def test_a_captive_panel_goes_in_while_the_frame_is_open() -> None:
    whole = panel_frame()
    assert joint_rounds(whole, Assembly(whole)) == (("frame", "panel groove"),)
    steps, findings = order(whole)
    assert kinds(findings) == []
    closing = [step for step in steps.steps if step.joints]
    assert len(closing) == 1
    assert closing[0].kind == "glue"


def test_a_captive_panel_is_tried_dry_and_left_dry() -> None:
    steps, _ = order(panel_frame())
    dry = next(step for step in steps.steps if step.kind == "dry fit")
    assert [(use.part, use.number) for use in dry.parts] == [("stile", 2), ("rail", 2), ("panel", 1)]
    closing = next(step for step in steps.steps if step.joints)
    assert "but none in the grooves" in closing.say
    # All five pieces come from their own side of the panel, which stands still.
    assert {copy: side.word for copy, side in closing.picture.offsets} == {
        "stile 1": "left", "stile 2": "right", "rail 1": "bottom", "rail 2": "top",
    }  # fmt: skip


def face_frame_case():
    """A case of dadoed boards and a face frame of laps, glued to the case's front."""
    return design(
        part("side", "A", box(0, 20, 0, 300, 0, 500), box(380, 400, 0, 300, 0, 500)),
        part("shelf", "B", box(20, 380, 0, 300, 0, 20), box(20, 380, 0, 300, 480, 500)),
        part("cleat", "C", box(20, 380, 260, 280, 460, 480)),
        part("stile", "D", box(0, 40, -20, 0, 0, 500), box(360, 400, -20, 0, 0, 500)),
        part("frame rail", "E", box(0, 400, -20, 0, 0, 40)),
        joints=(
            joint("stiles to sides", "butt", ("side 1", "stile 1", "back"), ("side 2", "stile 2", "back")),
            joint("rail to shelf", "butt", ("shelf 1", "frame rail", "back")),
            joint("cleat to shelf", "butt", ("shelf 2", "cleat", "top")),
            joint("cleat ends", "dowelled", ("side 1", "cleat", "left"), ("side 2", "cleat", "right")),
            joint(
                "case",
                "dado",
                *(
                    (f"side {side}", f"shelf {shelf}", way)
                    for shelf in (1, 2)
                    for side, way in ((1, "left"), (2, "right"))
                ),
            ),
            joint("laps", "half-lap", ("stile 1", "frame rail", "front"), ("stile 2", "frame rail", "front")),
        ),
    )


def test_assemblies_are_built_first_and_then_joined_in_one_go() -> None:
    whole = face_frame_case()
    assert joint_rounds(whole, Assembly(whole)) == (
        ("cleat to shelf", "laps"),
        ("cleat ends", "case"),  # the dowels and the dadoes of the sides shut each other in
        ("stiles to sides", "rail to shelf"),
    )
    steps, findings = order(whole)
    assert [one.kind for one in findings if one.kind != "glue-open-time"] == []
    last = [step for step in steps.steps if step.joints][-1]
    assert last.placed == ()
    assert {side for _, side in last.picture.offsets} == {Side.FRONT}
    assert {copy for copy, _ in last.picture.offsets} == {"stile 1", "stile 2", "frame rail"}
    assert last.title == "Glue the stiles to the sides and the frame rail to the shelf"


def test_work_with_the_same_machine_is_one_step_up_to_ten_marks() -> None:
    def drilled(name: str, mark: str, kind: str = "hole"):
        return part(name, mark, box(0, 300, 0, 20, 0, 50), operations=(operation(kind),))

    few = design(*(drilled(name, name.upper()) for name in "abc"))
    work = [step.worked for step in order(few)[0].steps if step.kind == "work"]
    assert work == [(("a", (0,)), ("b", (0,)), ("c", (0,)))]
    many = design(*(drilled(name, name.upper()) for name in "abcdefghijk"))
    work = [step.worked for step in order(many)[0].steps if step.kind == "work"]
    assert [len(parts) for parts in work] == [10, 1]


def test_work_of_other_machines_and_groups_stays_apart() -> None:
    def worked(name: str, kind: str, tool: str):
        return part(name, name.upper(), box(0, 300, 0, 20, 0, 50),
                    operations=(replace(operation(kind), tools=(phrase(tool),)),))  # fmt: skip

    parts = (
        worked("a", "dado", "Router, 1/2 bit"),
        worked("b", "groove", "Router or table saw"),
        worked("c", "tenon", "Table saw"),
        worked("d", "round over", "Router, round-over bit"),
        worked("e", "chamfer", "Block plane"),
    )
    steps = [step for step in order(design(*parts))[0].steps if step.kind == "work"]
    assert [[key for key, _ in step.worked] for step in steps] == [["a", "b"], ["c"], ["e", "d"]]
    assert steps[0].title == "Cut the dado and groove in the a and b"
    assert steps[2].title == "Plane the chamfer on the e and rout the round over on the d"


def test_what_pins_hold_is_placed_with_its_pins() -> None:
    case = part("case", "A", box(0, 600, 0, 20, 0, 100))
    whole = design(case, part("shelf", "B", box(0, 300, 20, 40, 0, 100)),
                   fits=(fit("pins", "knob", 4, "shelf"),))  # fmt: skip
    steps, findings = order(whole)
    assert kinds(findings) == []
    assert [(step.kind, step.placed) for step in steps.steps if step.placed] == [
        ("other", ("case",)), ("fit", ("shelf",)),
    ]  # fmt: skip


def test_a_joint_waits_when_it_would_shut_another_out() -> None:
    # Declared first, the cap would close the only way in for the two shelves.
    whole = design(
        part("post", "A", box(0, 20, 0, 20, 0, 300), box(180, 200, 0, 20, 0, 300)),
        part("cap", "B", box(0, 200, 0, 20, 300, 320)),
        part("shelf", "C", box(20, 180, 0, 20, 100, 120), box(20, 180, 0, 20, 200, 220)),
        joints=(
            joint("caps", "mortise and tenon", ("post 1", "cap", "bottom"), ("post 2", "cap", "bottom")),
            joint(
                "shelves",
                "mortise and tenon",
                ("post 1", "shelf 1", "left"),
                ("post 2", "shelf 1", "right"),
                ("post 1", "shelf 2", "left"),
                ("post 2", "shelf 2", "right"),
            ),
        ),
    )
    assert joint_rounds(whole, Assembly(whole)) == (("shelves",), ("caps",))
    assert kinds(order(whole)[1]) == []


def test_joints_that_bring_in_the_same_piece_close_together() -> None:
    whole = design(
        part("side", "A", box(0, 20, 0, 100, 0, 100), box(180, 200, 0, 100, 0, 100)),
        part("floor", "B", box(20, 180, 0, 100, 0, 20)),
        part("rail", "C", box(20, 180, 0, 20, 20, 60)),
        joints=(
            joint("floor", "dado", ("side 1", "floor", "left"), ("side 2", "floor", "right")),
            joint("rail screws", "screwed", ("side 1", "rail", "left"), ("side 2", "rail", "right")),
            joint("rail glue", "butt", ("floor", "rail", "bottom")),
        ),
    )
    assert joint_rounds(whole, Assembly(whole)) == (("floor",), ("rail screws", "rail glue"))


def test_hinges_and_what_comes_apart_go_last() -> None:
    whole = design(
        part("post", "A", box(0, 20, 0, 20, 0, 300)),
        part("arm", "B", box(20, 100, 0, 20, 0, 20)),
        part("door", "C", box(20, 100, 0, 20, 100, 200)),
        joints=(
            joint("hinge", "hinged", ("post", "door", None), glue=None),
            joint("loose arm", "bridle", ("post", "arm", "left"), glue=None, apart=True),
            joint("brace", "butt", ("arm", "door", None)),
        ),
    )
    rounds = joint_rounds(whole, Assembly(whole))
    assert rounds[-1] == ("hinge",)
    steps, _ = order(whole)
    loose = next(step for step in steps.steps if "loose arm" in step.joints)
    assert "no glue" in loose.say


def test_a_size_from_the_work_waits_for_its_opening() -> None:
    whole = panel_frame()
    panel = from_work(whole.parts[2], operations=(operation("rabbet"),))
    rest = joint("panel rests", "rests", ("rail 1", "panel", None), glue=None)
    whole = replace(whole, parts=(*whole.parts[:2], panel), joints=(rest, whole.joints[0]))
    steps, findings = order(whole)
    assert kinds(findings) == []
    frame = next(step for step in steps.steps if "frame" in step.joints)
    measure = next(step for step in steps.steps if step.measured)
    work = next(step for step in steps.steps if step.worked)
    rests = next(step for step in steps.steps if "panel rests" in step.joints)
    assert frame.number < measure.number < work.number < rests.number
    assert measure.kind == "measure"
    assert measure.made == measure.measured == ("panel",)
    assert "less <=3>" in measure.say
    assert all("panel" not in step.made for step in steps.steps if step is not measure)
    assert steps.making("panel") == (measure.number, work.number)


def test_panels_are_glued_up_before_they_are_cut() -> None:
    top = part(
        "top", "A", box(0, 900, 0, 500, 0, 20), glue_up=GlueUp("boards", 4, millimetres(125), millimetres(20))
    )
    steps, findings = order(design(top))
    assert kinds(findings) == []
    assert titles(steps) == [
        "Mill the white pine",
        "Glue up the top",
        "Cut the white pine parts to size",
        "Sand and finish",
    ]
    assert "four boards <=125> wide" in steps.steps[1].say
    assert "glue" in steps.steps[1].cautions
    assert steps.steps[-1].placed == ("top",)


def test_fits_then_finish_then_the_wall() -> None:
    board = part("board", "A", box(0, 600, 0, 20, 0, 100))
    whole = design(board, fits=(fit("hang", "wall screw", 2, "board"), fit("knobs", "knob", 3, "board")))
    steps, findings = order(whole)
    assert kinds(findings) == []
    assert [step.kind for step in steps.steps] == ["mill", "cut", "fit", "finish", "hang"]
    assert [(use.item, use.number) for use in steps.steps[-1].hardware] == [("wall screw", 2)]
    assert "wall hanging" in steps.steps[-1].cautions
    assert "Fit {hardware:knob*3} to {part:board*1}" in steps.steps[2].say


def test_what_no_joint_holds_is_put_in_place() -> None:
    whole = design(
        part("box", "A", box(0, 600, 0, 20, 0, 100)), part("tray", "B", box(0, 300, 20, 40, 0, 100))
    )
    steps, findings = order(whole)
    assert kinds(findings) == []
    assert [step.title for step in steps.steps if step.placed] == ["Put the box and tray in place"]


def test_short_parts_are_warned_of() -> None:
    steps, _ = order(design(part("peg", "A", box(0, 100, 0, 20, 0, 20))))
    cut = next(step for step in steps.steps if step.kind == "cut")
    assert "short part" in cut.cautions


def test_slow_glue_ups_are_warned_of() -> None:
    shelves = tuple(
        joint(
            f"tier {tier}", "dado", ("post 1", f"shelf {tier}", "left"), ("post 2", f"shelf {tier}", "right")
        )
        for tier in range(1, 9)
    )
    whole = design(
        part("post", "A", box(0, 20, 0, 20, 0, 900), box(180, 200, 0, 20, 0, 900)),
        part("shelf", "B", *(box(20, 180, 0, 20, tier * 100, tier * 100 + 20) for tier in range(1, 9))),
        joints=(
            replace(shelves[0], name="all tiers", contacts=tuple(c for one in shelves for c in one.contacts)),
        ),
    )
    _, findings = order(whole)
    assert kinds(findings) == ["glue-open-time"]  # 16 contacts, 8 minutes of the sample's 10
    assert not findings.has_errors


@pytest.mark.parametrize("times", [1, 2])
def test_the_same_design_gives_the_same_order(times: int) -> None:
    assert order(sample_design())[0] == order(sample_design())[0]


def test_a_size_of_words_is_exact() -> None:
    whole = part(
        "rail",
        "A",
        box(0, 300, 0, 20, 0, 50),
        operations=(replace(operation("dado"), say=phrase("Cut it ", inches("1/3"), " deep.")),),
    )
    steps, _ = order(design(whole))
    assert "<=127/15>" in next(step.say for step in steps.steps if step.kind == "work")
