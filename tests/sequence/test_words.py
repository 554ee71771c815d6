"""What drafted steps say: how many, which faces, which edges, and only what is true."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from types import SimpleNamespace

import pytest

from plangen.design.model import Copy, Design, GlueUp, Joint, Part
from plangen.findings import Findings
from plangen.joinery.operation import Feature, Form, Operation, Span
from plangen.joinery.space import IDENTITY_TURN, Axis, Pose, Side
from plangen.prose import resolver
from plangen.sequence.edge_words import edges_named, edges_said
from plangen.sequence.tokens import resolve_tokens
from plangen.sequence.words import work_sayings
from plangen.takeoff import take_off
from plangen.units import LengthStyle, millimetres, phrase
from tests.sample_design import PLACE, sample_design
from tests.sequence.designs import box, design, entry, joint, operation, order, part

BOARD = part("board", "A", box(0, 600, 0, 100, 0, 20))  # runs across, wide deep, thick up
EDGES = [frozenset(pair) for pair in combinations(Side, 2) if pair[0].axis is not pair[1].axis]


def chamfer(edges, size: int = 2, kind: str = "chamfer") -> Operation:
    """One operation that works some edges of the board."""
    features = []
    for edge in edges:
        spans = {axis: Span(BOARD.blank.low.at(axis), BOARD.blank.high.at(axis)) for axis in Axis}
        for side in edge:
            at = BOARD.blank.side(side)
            ends = sorted((at, at - millimetres(size) * side.sign))
            spans[side.axis] = Span(*ends)
        features.append(Feature(Form.EDGE, Side.TOP, tuple(spans.items())))
    return Operation(kind, kind.capitalize(), Side.TOP, (), tuple(features), phrase(), place=PLACE)


def of_side(*sides: Side) -> list[frozenset[Side]]:
    return [edge for edge in EDGES if any(side in edge for side in sides)]


@pytest.mark.parametrize(
    ("edges", "words"),
    [
        (EDGES, "all edges"),
        (
            [edge for edge in EDGES if all(side.axis is not Axis.ACROSS for side in edge)],
            "the four long edges",
        ),
        (of_side(Side.TOP), "the edges around the top face"),
        (of_side(Side.LEFT), "the edges around the left end"),
        (of_side(Side.LEFT, Side.RIGHT), "the edges around both ends"),
        (of_side(Side.TOP, Side.BOTTOM), "the edges around the bottom face and top face"),
        ([{Side.TOP, Side.FRONT}, {Side.TOP, Side.BACK}], "the two long edges of the top face"),
        ([{Side.TOP, Side.FRONT}], "the top front edge"),
        ([{Side.TOP, Side.FRONT}, {Side.BACK, Side.BOTTOM}], "the top front and bottom back edges"),
    ],
)
def test_edges_have_the_shortest_true_name(edges, words: str) -> None:
    assert edges_named(BOARD, [frozenset(edge) for edge in edges]) == words


@pytest.mark.parametrize("together", [True, False])
def test_equal_chamfers_are_one_instruction(together: bool) -> None:
    long = [edge for edge in EDGES if all(side.axis is not Axis.ACROSS for side in edge)]
    operations = [chamfer(long)] if together else [chamfer([edge]) for edge in long]
    assert work_sayings(BOARD, operations) == ("Chamfer the four long edges by <=2>.",)
    rounds = [chamfer(long[:1], 5, "round over"), *operations]
    assert work_sayings(BOARD, rounds) == (
        "Round the bottom front edge over to a radius of <=5>.",
        "Chamfer the four long edges by <=2>.",
    )


def test_other_sizes_and_the_makers_words_stay_apart() -> None:
    top, bottom = of_side(Side.TOP), of_side(Side.BOTTOM)
    own = replace(chamfer(top[:1]), say=phrase("Ease the front edge with two strokes."))
    assert work_sayings(
        BOARD, [*(chamfer([edge], 2) for edge in top), *(chamfer([edge], 6) for edge in bottom)]
    ) == (
        "Chamfer the edges around the top face by <=2>.",
        "Chamfer the edges around the bottom face by <=6>.",
    )
    assert edges_said(BOARD, [own]) == {}
    assert work_sayings(BOARD, [own]) == ("Ease the front edge with two strokes.",)


def said(kind: str, *words) -> Operation:
    return replace(operation(kind), say=phrase(*words))


IN_TOP = said("hole", "Drill a hole in the top end.")
IN_BOTTOM = said("hole", "Drill a hole in the bottom end.")


@pytest.mark.parametrize(
    ("operations", "sayings"),
    [
        ([said("hole", "Drill a hole ", millimetres(4), " across, through in the bottom edge.")] * 3,
         ("Drill 3 holes <=4> across, through in the bottom edge.",)),
        ([said("tenon", "Cut a tenon on the left end."), said("tenon", "Cut a tenon on the right end.")],
         ("Cut a tenon on each end.",)),
        ([IN_TOP] * 2 + [IN_BOTTOM] * 2,
         ("Drill 2 holes in each end.",)),
        ([IN_TOP] * 2 + [IN_BOTTOM],
         ("Drill 2 holes in the top end.", "Drill a hole in the bottom end.")),
        ([said("lap", "Cut a lap, 6 from the left end."), said("lap", "Cut a lap, 9 from the left end.")],
         ("Cut a lap, 6 from the left end.", "Cut a lap, 9 from the left end.")),
        ([said("notch", "Cut a notch in the front edge. Keep the waste.")] * 2,
         ("Cut a notch in the front edge, in two places. Keep the waste.",)),
    ],
)  # fmt: skip
def test_equal_work_is_said_once_with_its_number(operations, sayings) -> None:
    assert work_sayings(BOARD, operations) == sayings


def test_each_instruction_names_its_pieces() -> None:
    dado, hole = operation("dado"), operation("dado")
    whole = design(
        part(
            "side",
            "A",
            box(0, 300, 0, 20, 0, 50),
            box(0, 300, 30, 50, 0, 50),
            operations=(dado, said("dado", "Cut x.")),
        ),
        part("rail", "B", box(0, 300, 60, 80, 0, 50), operations=(hole,)),
    )
    steps, _ = order(whole)
    (work,) = [step for step in steps.steps if step.kind == "work"]
    assert work.say.split("\n") == [
        "- On each {part:side}: work the dado.",
        "- On each {part:side}: cut x.",
        "- On {part:rail*1}: work the dado.",
    ]


def titles(whole: Design) -> list[str]:
    return [step.title for step in order(whole)[0].steps if step.joints]


def test_a_heading_names_only_what_is_joined_to_the_new_pieces() -> None:
    # The floor lies dry in the sides' grooves, and the handle goes to the ends alone.
    whole = design(
        part("side", "A", box(0, 300, 0, 20, 0, 100), box(0, 300, 180, 200, 0, 100)),
        part("floor", "B", box(0, 300, 15, 185, 10, 20)),
        part("end", "C", box(-20, 0, 0, 200, 0, 150), box(300, 320, 0, 200, 0, 150)),
        part("handle", "D", box(0, 300, 90, 110, 120, 140)),
        joints=(
            joint("grooves", "groove", ("side 1", "floor", "front"), ("side 2", "floor", "back"), glue=None),
            joint("corners", "dowelled", *((f"side {side}", f"end {end}", way) for side in (1, 2)
                                           for end, way in ((1, "right"), (2, "left")))),
            joint("handle", "dowelled", ("end 1", "handle", "left"), ("end 2", "handle", "right")),
        ),
    )  # fmt: skip
    assert titles(whole)[-1] == "Glue the ends and handle in place"
    bare = replace(whole, parts=whole.parts[:3], joints=whole.joints[:2])
    assert titles(bare)[-1] == "Glue the ends to the sides"


def test_pieces_that_come_dry_are_set_in() -> None:
    whole = design(
        part("post", "A", box(0, 20, 0, 20, 0, 100), box(180, 200, 0, 20, 0, 100)),
        part("rail", "B", box(20, 180, 0, 20, 0, 20), box(20, 180, 0, 20, 80, 100)),
        part("panel", "C", box(15, 185, 8, 12, 15, 85)),
        joints=(
            joint("frame", "mortise and tenon", *((f"post {post}", f"rail {rail}", way) for rail in (1, 2)
                                                  for post, way in ((1, "left"), (2, "right")))),
            joint("grooves", "groove", ("post 1", "panel", "left"), ("post 2", "panel", "right"),
                  ("rail 1", "panel", "bottom"), ("rail 2", "panel", "top"), glue=None),
        ),
    )  # fmt: skip
    assert titles(whole) == ["Glue the rails to the posts and set in the panel"]


def block_on_side() -> Design:
    return design(
        part("side", "A", box(0, 300, 0, 20, 0, 100), box(0, 300, 180, 200, 0, 100)),
        part("block", "B", box(50, 100, 20, 60, 0, 50)),
        joints=(joint("seat", "butt", ("side 1", "block", "front")),),
    )


def test_a_butt_joint_names_both_faces() -> None:
    steps, _ = order(block_on_side())
    say = next(step.say for step in steps.steps if step.joints)
    assert "Glue the front face of {part:block*1} to the back face of {part:side*1}, and clamp" in say


def test_glue_stands_with_what_a_step_needs() -> None:
    whole = block_on_side()
    glued = GlueUp("layers", 2, whole.parts[1].width, whole.parts[1].thickness / 2)
    whole = replace(whole, parts=(whole.parts[0], replace(whole.parts[1], glue_up=glued)))
    steps, _ = order(whole)
    needing = [step for step in steps.steps if "Wood glue, open 10 minutes" in step.tools]
    assert [step.title for step in needing] == ["Glue up the block", "Glue the block to the side"]
    bare = replace(whole, shop=replace(whole.shop, glues=()))
    assert "Wood glue" in next(step for step in order(bare)[0].steps if step.joints).tools
    late = replace(whole, shop=replace(whole.shop, glues=(("hide glue", Fraction(5)), ("wood glue", None))))
    tools = [step.tools[0] for step in order(late)[0].steps if step.kind == "glue"]
    assert tools == ["Hide glue, open 5 minutes", "Wood glue"]


def handed(name: str, hand: str, mirror: str, mark: str, **boxes) -> Part:
    whole = part("leg", mark, *boxes.values())
    copies = tuple(Copy(copy, name, Pose(IDENTITY_TURN, at.low), at, at, PLACE) for copy, at in boxes.items())
    return replace(whole, key=name, hand=hand, mirror=mirror, copies=copies)


def legs(*more: Joint) -> Design:
    left = handed(
        "leg left",
        "left",
        "leg right",
        "A-L",
        **{"front left leg": box(0, 40, 0, 40, 0, 500), "back right leg": box(360, 400, 160, 200, 0, 500)},
    )
    right = handed(
        "leg right",
        "right",
        "leg left",
        "A-R",
        **{"front right leg": box(360, 400, 0, 40, 0, 500), "back left leg": box(0, 40, 160, 200, 0, 500)},
    )
    return design(left, right, part("apron", "B", box(40, 360, 10, 30, 400, 500)), joints=more)  # fmt: skip


def test_single_copies_of_a_hand_are_named() -> None:
    front = joint(
        "front",
        "mortise and tenon",
        ("front left leg", "apron", "left"),
        ("front right leg", "apron", "right"),
    )
    steps, _ = order(legs(front))
    title = next(step.title for step in steps.steps if step.joints)
    assert title == "Glue the apron to the front left leg and front right leg"
    rest = next(step.say for step in steps.steps if step.kind == "other")
    assert rest == "Set the {copy:back right leg} and the {copy:back left leg} in place."


def test_sizes_stand_beside_what_is_cut() -> None:
    steps, _ = order(sample_design())
    cut = {use.part: use.size for step in steps.steps if step.made for use in step.parts}
    style = LengthStyle()
    assert cut["shelf"].text(style, unit=False).replace("\u00a0", " ") == "3/4 × 8 25/32 × 23"
    assert cut["back"].text(style, unit=False).startswith("0.22 × ")  # a sheet, as the caliper reads it
    assert all(use.size is None for step in steps.steps if not step.made for use in step.parts)


def test_numbers_print_with_their_nouns() -> None:
    whole = sample_design()
    solved = SimpleNamespace(design=whole, resolve=None)
    say = resolver(solved, take_off(whole, None, Findings()), LengthStyle())
    assert say("{part:shelf*2}") == "the two shelves [**B**](<part:shelf>)"
    assert say("{part:shelf*}") == "shelves [**B**](<part:shelf>)"
    assert say("{part:rail*1}") == "the rail [**C**](<part:rail>)"
    assert say("{part:side left*1}") == "the left side [**A-L**](<part:side left>)"
    assert say("Drive {hardware:screw*4}.") == "Drive 4 wood screws (1)."
    assert say("{hardware:screw*}") == "wood screws (1)"
    assert resolve_tokens("{hardware:x*4} {part:y*} {z}", str, str, str.upper, str) == "4 x Y Z"


def test_a_maker_may_type_a_number() -> None:
    words = "Press {shelf*2} on {side*2} with {screw*4}, then {shelf*}."
    steps, findings = order(sample_design(), "draft", entry(step="Look", say=words))
    assert not findings.has_errors
    assert steps.steps[-1].say == (
        "Press {part:shelf*2} on {part:side left*1} and {part:side right*1} with {hardware:screw*4}, "
        "then {part:shelf*}."
    )
