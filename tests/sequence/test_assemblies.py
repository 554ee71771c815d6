"""Assemblies in the order of work: built once for all copies, then put in place as one body each."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from plangen.design.model import Assembly as Built
from plangen.design.model import AssemblyCopy, Design
from plangen.findings import Findings
from plangen.joinery.space import Side
from plangen.sequence.assembly import Assembly
from plangen.sequence.conservation import check_order
from plangen.sequence.model import OrderOfWork, Step
from plangen.sequence.rounds import staged_rounds
from tests.nested_design import DRAWERS, nested_design
from tests.sample_design import PLACE
from tests.sequence.designs import box, design, entry, joint, kinds, order, part

INNER = ("drawer.sides to face", "drawer.back to sides", "drawer.bottom to back")


@pytest.fixture(scope="module")
def nested() -> Design:
    return nested_design()


@pytest.fixture(scope="module")
def drafted(nested: Design) -> OrderOfWork:
    steps, findings = order(nested)
    assert kinds(findings) == []
    return steps


def closing(steps: OrderOfWork, name: str) -> Step:
    return next(step for step in steps.steps if name in step.joints)


def test_an_assembly_is_built_in_one_set_of_steps_before_it_is_put_in_place(drafted: OrderOfWork) -> None:
    numbers = [closing(drafted, name).number for name in INNER]
    assert numbers == list(range(numbers[0], numbers[0] + 3))
    assert {closing(drafted, name).assembly for name in INNER} == {"drawer"}
    # The knob goes on between: what is fitted to its pieces ends the building of an assembly.
    (fitted,) = (step for step in drafted.steps if step.fits and step.assembly == "drawer")
    assert fitted.number == numbers[-1] + 1
    assert closing(drafted, "slides").number == numbers[-1] + 2
    assert closing(drafted, "housings").assembly is None


def test_steps_count_all_copies_and_show_the_first(nested: Design, drafted: OrderOfWork) -> None:
    step = closing(drafted, INNER[0])
    assert len(step.placed) == 6
    assert {(use.part, use.number) for use in step.parts} == {("drawer.face", 2), ("drawer.side", 4)}
    assert [(count.item, count.number) for count in step.hardware] == [("screw", 16)]
    shown = {*step.picture.new, *step.picture.context}
    assert shown == {f"top drawer.{piece}" for piece in ("face", "left side", "right side")}
    assert set(dict(step.picture.offsets)) <= shown
    assert "Build both drawers alike" in step.say
    assert step.title == "Screw the face to the sides"  # the screws go through the face


def test_what_is_built_goes_in_place_as_one_thing(drafted: OrderOfWork) -> None:
    step = closing(drafted, "slides")
    assert step.title == "Mount the drawers to the sides"
    assert step.brought == tuple(DRAWERS)
    assert step.placed == ()
    assert [(use.part, use.number) for use in step.parts] == [("side", 2)]
    sides = dict(step.picture.offsets)
    assert len(sides) == 10, "all ten pieces of both drawers move"
    assert set(sides.values()) == {Side.FRONT}


def test_glue_time_counts_one_copy_for_they_are_glued_one_after_the_other(nested: Design) -> None:
    glues = (("wood glue", 3),)
    one = replace(nested, shop=replace(nested.shop, glues=glues))
    _, findings = order(one)
    assert "glue-open-time" not in kinds(findings)  # a minute for one drawer, two for both; 0.7 × 3 allowed
    _, findings = order(replace(nested, shop=replace(nested.shop, glues=(("wood glue", 1),))))
    assert "glue-open-time" in kinds(findings)


def three_deep() -> Design:
    """A stand holds two racks, a rack two trays, a tray two cheeks and a floor."""
    cheeks, floors, backs = [], [], []
    for rack in (0, 1):
        for tray in (0, 1):
            a, u = 500 * rack, 200 * tray
            cheeks += [box(a, a + 10, 0, 100, u, u + 50), box(a + 210, a + 220, 0, 100, u, u + 50)]
            floors.append(box(a + 10, a + 210, 0, 100, u, u + 10))
        backs.append(box(500 * rack, 500 * rack + 220, 100, 110, 0, 250))
    names = [("left rack", "lower"), ("left rack", "upper"), ("right rack", "lower"), ("right rack", "upper")]
    trays = [f"{rack}.{tray} tray" for rack, tray in names]

    def named(key: str, boxes: list[Any], copies: list[str], assembly: str) -> Any:
        made = part(key, key[0].upper(), *boxes, assembly=assembly)
        return replace(
            made,
            copies=tuple(replace(copy, name=name) for copy, name in zip(made.copies, copies, strict=True)),
        )

    parts = (
        named("rack.tray.cheek", cheeks, [f"{t}.cheek {n}" for t in trays for n in (1, 2)], "rack.tray"),
        named("rack.tray.floor", floors, [f"{t}.floor" for t in trays], "rack.tray"),
        named("rack.back", backs, ["left rack.back", "right rack.back"], "rack"),
        part("stand", "S", box(0, 720, 110, 120, 0, 250)),
    )
    joints = (
        joint("stand glue", "butt", *(("stand", f"{r} rack.back", "back") for r in ("left", "right"))),
        replace(
            joint(
                "rack.trays to back",
                "butt",
                *((f"{t.split('.')[0]}.back", f"{t}.floor", "back") for t in trays),
            ),
            assembly="rack",
        ),
        replace(
            joint(
                "rack.tray.dadoes",
                "dado",
                *(
                    (f"{t}.cheek {n}", f"{t}.floor", side)
                    for t in trays
                    for n, side in ((1, "left"), (2, "right"))
                ),
            ),
            assembly="rack.tray",
        ),
    )

    def placed(name: str) -> AssemblyCopy:
        members = tuple(c.name for one in parts for c in one.copies if c.name.startswith(f"{name}."))
        return AssemblyCopy(name, members, box(0, 1, 0, 1, 0, 1), PLACE)

    tray = Built(
        "rack.tray", "rack.tray", "Tray", tuple(placed(t) for t in trays),
        ("rack.tray.cheek", "rack.tray.floor"), ("rack.tray.dadoes",), "rack", PLACE,
    )  # fmt: skip
    rack = Built(
        "rack", "rack", "Rack", (placed("left rack"), placed("right rack")),
        ("rack.back",), ("rack.trays to back",), None, PLACE,
    )  # fmt: skip
    return design(*parts, joints=joints, assemblies=(tray, rack))


def test_three_deep_each_is_built_before_what_holds_it() -> None:
    whole = three_deep()
    assert staged_rounds(whole, Assembly(whole)) == (
        ("rack.tray", ("rack.tray.dadoes",)),
        ("rack", ("rack.trays to back",)),
        (None, ("stand glue",)),
    )
    steps, findings = order(whole)
    assert kinds(findings) == []
    inner, middle, outer = (
        closing(steps, name) for name in ("rack.tray.dadoes", "rack.trays to back", "stand glue")
    )
    assert len(inner.placed) == 12
    assert {*inner.picture.new} == {f"left rack.lower tray.{p}" for p in ("cheek 1", "cheek 2", "floor")}
    assert "all four trays" in inner.say
    assert middle.brought == tuple(
        f"{r} rack.{t} tray" for r in ("left", "right") for t in ("lower", "upper")
    )
    assert middle.title == "Glue the back to the trays"
    assert {name.split(".")[0] for name in (*middle.picture.new, *middle.picture.context)} == {"left rack"}
    assert outer.brought == ("left rack", "right rack")
    assert outer.title == "Glue the stand to the racks"


def test_a_built_assembly_is_one_body_even_where_no_joint_ties_all_of_it(nested: Design) -> None:
    assembly = Assembly(nested)
    without = [name for name in INNER if name != "drawer.bottom to back"]
    group = assembly.groups(without)
    assert group["top drawer.bottom"] != group["top drawer.face"]
    group = assembly.groups(INNER)
    assert len({group[name] for name in group if name.startswith("top drawer.")}) == 1
    assert group["top drawer.face"] != group["bottom drawer.face"]


def test_assemblies_that_no_joint_holds_are_set_in_place_last(nested: Design) -> None:
    loose = replace(nested, joints=tuple(one for one in nested.joints if one.name != "slides"))
    steps, findings = order(loose)
    assert kinds(findings) == []
    step = next(step for step in steps.steps if step.brought)
    assert step.title == "Put the two drawers in place"
    assert step.brought == tuple(DRAWERS)
    assert step.placed == ()
    assert set(dict(step.picture.offsets).values()) == {Side.FRONT}


def test_the_maker_may_name_assemblies_and_their_pieces(nested: Design) -> None:
    steps, findings = order(
        nested,
        "draft",
        entry(replace="drawer", title="Put {drawer*2} together", say="Work on {top drawer.face}."),
    )
    assert kinds(findings) == []
    step = closing(steps, INNER[0])
    assert step.title == "Put the two drawers together"
    assert step.say == "Work on {copy:top drawer.face}."
    steps, findings = order(nested, "draft", entry(step="Build the drawers", join=["drawer"]))
    assert kinds(findings).count("placed-before-built") == 2, "the slides are closed before"
    assert steps.steps[-1].joints == INNER


def test_placing_an_assembly_does_not_place_its_pieces_twice(nested: Design) -> None:
    loose = replace(nested, joints=tuple(one for one in nested.joints if one.name != "slides"))
    steps, findings = order(
        loose,
        "draft",
        entry(step="Top one first", place=["top drawer"]),
        entry(step="Then", place=["bottom drawer"]),
    )
    assert kinds(findings) == []
    assert [step.brought for step in steps.steps if step.brought] == [("top drawer",), ("bottom drawer",)]


def test_an_assembly_left_on_the_bench_is_an_error(nested: Design) -> None:
    loose = replace(nested, joints=tuple(one for one in nested.joints if one.name != "slides"))
    drafted, _ = order(loose)
    findings = Findings()
    check_order(loose, Assembly(loose), [step for step in drafted.steps if not step.brought], findings)
    assert sorted(one.message for one in findings.sorted()) == [
        "no step puts the bottom drawer in place",
        "no step puts the top drawer in place",
    ]


def test_names_are_said_as_a_maker_would(nested: Design) -> None:
    steps, _ = order(nested)
    knobs = next(step for step in steps.steps if step.fits)
    assert "{part:drawer.face*2}" in knobs.say
    one = replace(nested, fits=(replace(nested.fits[0], copies=("top drawer.face",)),))
    steps, _ = order(one)
    assert "the {copy:top drawer.face}" in next(step for step in steps.steps if step.fits).say


def test_what_lies_loose_in_an_assembly_is_put_in_once_it_is_built_and_before_that_goes_in_place() -> None:
    whole = three_deep()
    loose = tuple(one for one in whole.joints if one.name != "rack.trays to back")
    tray, rack = whole.assemblies
    whole = replace(whole, joints=loose, assemblies=(tray, replace(rack, joints=())))
    steps, findings = order(whole)
    assert kinds(findings) == []
    inner, outer = closing(steps, "rack.tray.dadoes"), closing(steps, "stand glue")
    into = next(step for step in steps.steps if len(step.brought) == 4)
    assert inner.number < into.number
    assert into.assembly == "rack"
    assert into.title == "Put the four trays in place"
    assert set(dict(into.picture.offsets)) == set(into.picture.new), "each has a way in"
    assert {name.split(".")[0] for name in into.picture.new} == {"left rack"}
    assert outer.brought == ("left rack", "right rack")


def test_a_part_that_two_kinds_of_assembly_share_is_called_by_its_own_name_in_both() -> None:
    nested = nested_design()
    (drawer,) = nested.assemblies
    kinds_of = tuple(
        replace(
            drawer,
            key=copy.name,
            copies=(copy,),
            joints=tuple(f"{copy.name}.{name.partition('.')[2]}" for name in drawer.joints),
        )
        for copy in drawer.copies
    )
    joints = [one for one in nested.joints if one.assembly is None]
    for kind in kinds_of:
        here = set(kind.copies[0].members)
        joints += [
            replace(
                one,
                name=f"{kind.key}.{one.name.partition('.')[2]}",
                contacts=tuple(item for item in one.contacts if item.fixed in here),
                hardware=(),
                assembly=kind.key,
            )
            for one in nested.joints
            if one.assembly == "drawer"
        ]
    parts = tuple(
        replace(one, assembly="top drawer") if one.assembly == "drawer" else one for one in nested.parts
    )
    steps, findings = order(replace(nested, parts=parts, joints=tuple(joints), assemblies=kinds_of))
    assert kinds(findings) == []
    for name in DRAWERS:
        step = closing(steps, f"{name}.back to sides")
        assert step.title == "Glue the back to the sides"
        assert step.assembly == name
        assert [use.number for use in step.parts] == [1]
    slides = closing(steps, "slides")
    assert slides.title == "Mount the drawers to the sides"
