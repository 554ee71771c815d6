"""Loose pieces go in before their way is closed; panels before the frame around them."""

from __future__ import annotations

from dataclasses import replace

from plangen.joinery.space import Side
from plangen.sequence.assembly import Assembly
from plangen.sequence.clamping import clamps_for
from plangen.sequence.rounds import joint_rounds
from plangen.sequence.way_in import _bars
from tests.sequence.designs import box, design, joint, order, panel_frame, part
from tests.sequence.test_resting import rests


def chest(lid_height: int = 300):
    """Four glued walls with a ledge, a floor that only lies on it, and a lid hinged over all."""
    whole = design(
        part("end", "A", box(0, 20, 0, 200, 0, 300), box(380, 400, 0, 200, 0, 300)),
        part("side", "B", box(20, 380, 0, 20, 0, 300), box(20, 380, 180, 200, 0, 300)),
        part("ledge", "C", box(20, 380, 20, 40, 0, 20), box(20, 380, 160, 180, 0, 20)),
        part("floor", "D", box(20, 380, 20, 180, 20, 30)),
        part("lid", "E", box(0, 400, 0, 200, lid_height, lid_height + 20)),
        joints=(
            joint("corners", "dowelled", *(
                (f"end {end}", f"side {side}", way)
                for end, way in ((1, "left"), (2, "right")) for side in (1, 2)
            )),
            joint("ledges", "butt", ("side 1", "ledge 1", "front"), ("side 2", "ledge 2", "back")),
            joint("hinges", "hinged", ("side 2", "lid", "bottom"), glue=None, apart=True),
        ),
    )  # fmt: skip
    return rests(whole, "floor on ledges", ("ledge 1", "floor"), ("ledge 2", "floor"))


def test_a_floor_goes_in_before_the_lid_is_on() -> None:
    whole = chest()
    rounds = joint_rounds(whole, Assembly(whole))
    assert rounds[-2:] == (("floor on ledges",), ("hinges",))
    steps, findings = order(whole)
    assert not findings.has_errors
    floor = next(step for step in steps.steps if "floor on ledges" in step.joints)
    assert floor.title == "Set the floor on the ledges"
    assert dict(floor.picture.offsets) == {"floor": Side.TOP}


def test_what_has_its_way_goes_in_last() -> None:
    whole = chest()
    # Without the side that stands in front, the floor slides in from there, lid or not.
    parts = tuple(
        replace(one, copies=one.copies[1:]) if one.name in ("side", "ledge") else one for one in whole.parts
    )
    joints = tuple(
        replace(one, contacts=tuple(
            item for item in one.contacts
            if not {"side 1", "ledge 1"} & {item.fixed, item.moving}
        ))
        for one in whole.joints
    )  # fmt: skip
    whole = replace(whole, parts=parts, joints=joints)
    assert joint_rounds(whole, Assembly(whole))[-1] == ("floor on ledges",)


def test_a_box_bars_only_what_comes_toward_it() -> None:
    one, above, inside = (box(0, 10, 0, 10, low, high) for low, high in ((0, 10), (20, 30), (5, 15)))
    assert _bars(one, above, Side.TOP)
    assert not _bars(one, above, Side.BOTTOM)
    assert not _bars(one, above, Side.LEFT)
    assert not _bars(one, inside, Side.TOP)  # a housing, a notch: joints tell of these


def test_a_panel_is_said_before_the_frame_that_shuts_it_in() -> None:
    steps, _ = order(panel_frame())
    closing = next(step for step in steps.steps if "frame" in step.joints)
    said = closing.say.lower()
    assert said.index("close the panel groove") < said.index("close the frame")
    assert "For {part:panel*1}: close the panel groove." in closing.say


def test_what_is_tried_dry_is_named_and_measured() -> None:
    steps, _ = order(panel_frame())
    dry = next(step for step in steps.steps if step.kind == "dry fit")
    assert "{part:stile*2}, {part:rail*2} and {part:panel*1}" in dry.say
    assert "Both diagonals are equal." in dry.checks
    assert "You can still move {part:panel*1}." in dry.checks
    # 400 mm over both stiles, 20 mm thick, 600 mm tall.
    assert "Outside it measures <=400> wide, <=20> deep and <=600> high." in dry.checks


def test_clamps_are_counted_by_joints() -> None:
    frame, groove = panel_frame().joints
    assert clamps_for([frame]) == 2  # one for each rail, which it closes at both ends
    assert clamps_for([groove]) == 0  # dry
    assert clamps_for([replace(frame, kind="screwed")]) == 0  # its screws draw it tight
    steps, _ = order(panel_frame())
    closing = next(step for step in steps.steps if "frame" in step.joints)
    assert "Have everything at hand, with two clamps." in closing.say
    assert closing.say.count("Have everything at hand") == 1
    assert "Clamps" in closing.tools


def test_glued_faces_take_a_clamp_every_200_mm() -> None:
    seam = joint("seam", "butt", ("a", "b", "left"))
    (contact,) = seam.contacts
    long = replace(contact, face=box(0, 0, 0, 20, 0, 500))
    assert clamps_for([replace(seam, contacts=(long,))]) == 3
    assert clamps_for([seam]) == 1


def test_joints_apart_from_each_other_share_a_step_and_both_are_in_its_heading() -> None:
    whole = design(
        part("apron", "A", box(0, 300, 0, 20, 0, 50)),
        part("web", "B", box(100, 110, 20, 100, 0, 50)),
        part("rail", "C", box(0, 300, 200, 220, 0, 50)),
        part("divider", "D", box(100, 110, 120, 200, 0, 50)),
        joints=(
            joint("one", "dado", ("apron", "web", "front")),
            joint("two", "dado", ("rail", "divider", "back")),
        ),
    )
    assert joint_rounds(whole, Assembly(whole)) == (("one", "two"),)
    steps, _ = order(whole)
    (closing,) = (step for step in steps.steps if step.joints)
    assert closing.title == "Glue the web to the apron and the divider to the rail"
