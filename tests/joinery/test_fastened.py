"""Butt joints, screws and dowels: where each goes, how it is bored, how many are bought."""

from __future__ import annotations

from itertools import pairwise

import pytest

from plangen.joinery.cuts import RoundCut
from plangen.joinery.space import Point, Side
from plangen.units import millimetres
from tests.design.small import (
    box,
    faults,
    kinds,
    length,
    line_at,
    one,
    project,
    rounds,
    said,
    solve,
    the_fault,
    work,
)
from tests.joinery.boards import railed_sides, with_joints

HARDWARE = """
screw: {kind: wood screw, gauge: 8, length: 1-1/2in, head: flat}
plug: {kind: plug, diameter: 3/8in}
dowel: {kind: dowel, diameter: 3/8in, length: 1-1/2in}
"""
# Two sides 10 in deep, 20 in high; a rail on edge 3/4 by 4 in between them, its back flush at 10 in.
PARTS = railed_sides()


def fastened(*joints: str, hardware: str = HARDWARE, parts: str = PARTS) -> str:
    return with_joints(parts, *joints, hardware=hardware)


def places(cuts: list[RoundCut]) -> list[tuple[float, float, float]]:
    return [tuple(round(value / 25.4, 6) for value in cut.mouth.floats()) for cut in cuts]


def holes(part: object, kind: str) -> list[RoundCut]:
    return [cut for operation in work(part, kind) for cut in rounds(operation)]  # type: ignore[arg-type]


class TestButt:
    def test_nothing_is_cut_and_the_face_is_glued(self) -> None:
        design = solve(fastened("butt: {name: seam, between: [side, rail], contacts: 2}"))
        assert all(not part.operations for part in design.parts)
        (joint,) = design.joints
        assert joint.contacts[0].face == box("3/4", "9-1/4", 15, "3/4", 10, 19)
        assert joint.contacts[0].closes is Side.LEFT
        assert joint.glue_area == 2 * 3 * length("1").mm ** 2  # 3/4 by 4 at both ends

    def test_with_no_glue_there_is_no_area(self) -> None:
        (joint,) = solve(fastened("butt: {between: [side, rail], glue: none}")).joints
        assert (joint.glue, joint.glue_area) == (None, 0)

    def test_resting_is_never_glued(self) -> None:
        (joint,) = solve(fastened("rests: {between: [side, rail]}")).joints
        assert (joint.glue, joint.kind) == (None, "rests")

    def test_what_comes_apart_is_not_glued(self) -> None:
        (joint,) = solve(fastened("butt: {between: [side, rail], apart: yes}")).joints
        assert (joint.glue, joint.apart) == (None, True)
        text = fastened("butt: {between: [side, rail], apart: yes, glue: wood glue}")
        assert line_at(text, the_fault(text, "glued-apart")).startswith("glue")

    def test_a_glue_must_be_in_the_shop(self) -> None:
        text = fastened("butt: {between: [side, rail], glue: hide glue}")
        assert line_at(text, the_fault(text, "unknown-glue")).startswith("hide glue")


class TestScrewed:
    def test_two_screws_at_each_end_half_a_pitch_in(self) -> None:
        design = solve(fastened("screwed: {through: side, into: rail, with: screw, per joint: 2}"))
        # The face is 4 in long: each screw stands 1 in from its ends, in the middle of the 3/4 in.
        assert places(holes(design.part("side left"), "screw hole")) == [
            (0, 9.625, 16),
            (0, 9.625, 18),
        ]
        assert places(holes(design.part("rail"), "lead hole"))[:2] == [(0, 0.375, 1), (0, 0.375, 3)]

    def test_the_bores_are_the_handbook_s(self) -> None:
        design = solve(fastened("screwed: {through: side, into: rail, with: screw, per joint: 2}"))
        clearance = work(design.part("side left"), "screw hole")[0]
        lead = work(design.part("rail"), "lead hole")[0]
        # No. 8 in softwood: shank 11/64 in, lead 5/64 in (the charts named in handbook/screws.py).
        (hole,) = rounds(clearance)
        assert (hole.diameter, hole.depth, hole.side) == (length("11/64"), length("3/4"), Side.LEFT)
        assert clearance.features[0].countersink
        assert clearance.features[0].depth is None
        (bored,) = rounds(lead)
        # 1-1/2 in less the 3/4 in that it passes through.
        assert (bored.diameter, bored.depth, bored.side) == (length("5/64"), length("3/4"), Side.LEFT)
        assert said(clearance) == (
            "Drill a hole 11/64 in across, through in the outside face, countersunk for the head."
        )

    def test_every_screw_is_bought_and_has_its_place(self) -> None:
        design = solve(fastened("screwed: {name: s, through: side, into: rail, with: screw, per joint: 3}"))
        (use,) = design.joints[0].hardware
        assert (use.item, use.number, use.by) == ("screw", 6, "s")
        assert [(copy, side) for copy, _, side in use.spots] == [("left side", Side.LEFT)] * 3 + [
            ("right side", Side.RIGHT)
        ] * 3
        # 4 in in three: 2/3 in from the ends, rounded to 11/16 in as a tape shows.
        assert [round(at[2] / 25.4, 6) for _, at, _ in use.spots[:3]] == [15.6875, 17, 18.3125]

    def test_a_plug_sits_in_a_counterbore(self) -> None:
        design = solve(
            fastened(
                "screwed: {through: side, into: rail, with: screw, per joint: 2, plug: plug, sunk: 5/16in}"
            )
        )
        operation = work(design.part("side left"), "screw hole")[0]
        hole, mouth = rounds(operation)
        assert (mouth.diameter, mouth.depth) == (length("3/8"), length("5/16"))
        assert hole.diameter == length("11/64")
        feature = operation.features[0]
        assert (feature.counterbore, feature.countersink, feature.plugged) == (
            (length("3/8"), length("5/16")),
            False,
            True,
        )
        # The head stands 5/16 in deeper, so the thread goes 5/16 in farther.
        assert holes(design.part("rail"), "lead hole")[0].depth == length("1-1/16")
        assert [(use.item, use.number) for use in design.joints[0].hardware] == [("screw", 4), ("plug", 4)]

    def test_the_usual_counterbore_is_a_quarter_inch(self) -> None:
        # Common practice, no source.
        design = solve(fastened("screwed: {through: side, into: rail, with: screw, plug: plug}"))
        assert work(design.part("side left"), "screw hole")[0].features[0].counterbore == (
            length("3/8"),
            length("1/4"),
        )

    def test_a_pan_head_is_not_countersunk(self) -> None:
        design = solve(
            fastened(
                "screwed: {through: side, into: rail, with: screw}",
                hardware=HARDWARE.replace("head: flat", "head: pan"),
            )
        )
        assert not work(design.part("side"), "screw hole")[0].features[0].countersink

    def test_on_a_dado_the_wood_is_what_the_dado_leaves(self) -> None:
        joints = (
            "dado: {in: side, for: rail, depth: 1/4in}",
            "screwed: {through: side, into: rail, with: screw, per joint: 2}",
        )
        design = solve(fastened(*joints))
        lead = holes(design.part("rail"), "lead hole")[0]
        # It passes 1/2 in of side, so 1 in of thread bites; the hole starts in the rail's finished end.
        assert lead.depth == length("1")
        assert places([lead]) == [(0, 0.375, 1)]

    def test_on_the_ledge_of_a_rabbet_it_goes_through_the_back(self) -> None:
        text = project(
            """
            side:
              stock: pine
              runs: up
              thick: across
              place:
                left side: {left: 0, front: 0, back: 8in, bottom: 0, top: 20in}
                right side: {mirror of: left side, plane: across at 6in}
            back:
              stock: pine
              runs: up
              thick: deep
              place: {left: left side.right, right: right side.left, bottom: 0, top: 20in, back: 8in}
            """,
            """
            - rabbet: {in: side, for: back, width: 3/8in}
            - screwed: {through: back, into: side, with: screw, per joint: 4}
            """,
            hardware="screw: {kind: wood screw, gauge: 6, length: 1-1/4in, head: flat}",
        )
        design = solve(text)
        (joint,) = [item for item in design.joints if item.kind == "screwed"]
        # The side is fixed to the back: it would have to move backward, the back forward.
        assert (joint.contacts[0].fixed, joint.contacts[0].closes) == ("back", Side.BACK)
        clearance = holes(design.part("back"), "screw hole")
        # The ledge is 3/8 in wide from 3/8 to 3/4 across: the screws stand in its middle, 2 in from the
        # ends at most.
        assert places(clearance[:4]) == [(0.1875, 0.75, up) for up in (2, 7.333333, 12.666667, 18)]
        lead = holes(design.part("side"), "lead hole")[0]
        assert (lead.side, lead.depth) == (Side.BACK, length("1/2"))
        assert places([lead]) == [(0.5625, 7.25, 2)]

    def test_metric_screws(self) -> None:
        text = project(
            PARTS.replace("10in", "250mm")
            .replace("20in", "500mm")
            .replace("8in", "200mm")
            .replace("4in", "100mm")
            .replace("19in", "480mm"),
            "- screwed: {through: side, into: rail, with: screw, per joint: 2}",
            units="mm",
            hardware="screw: {kind: wood screw, gauge: 4mm, length: 40mm, head: flat}",
        )
        design = solve(text)
        hole = holes(design.part("side left"), "screw hole")[0]
        # Common practice, no source: 0.5 mm over the shank.
        assert hole.diameter == millimetres("4.5")
        assert hole.mouth == Point(millimetres(0), millimetres(240), millimetres(405))
        assert holes(design.part("rail"), "lead hole")[0].depth == millimetres(20)

    @pytest.mark.parametrize(
        ("keys", "expected"),
        [
            ("per joint: 1", [17]),
            ("per joint: 2, from ends: 1/2in", [15.5, 18.5]),
            ("every: 2in", [16, 18]),
            ("every: 3/2 * 1in", [15.6875, 17, 18.3125]),
        ],
    )
    def test_where_they_stand(self, keys: str, expected: list[float]) -> None:
        design = solve(fastened(f"screwed: {{through: side, into: rail, with: screw, {keys}}}"))
        found = [at[2] for at in places(holes(design.part("side left"), "screw hole"))]
        assert found == pytest.approx(expected)

    @pytest.mark.parametrize("every", ["1in", "1-1/8in", "1-1/2in", "2in", "5in"])
    def test_none_are_farther_apart_than_every(self, every: str) -> None:
        design = solve(fastened(f"screwed: {{through: side, into: rail, with: screw, every: {every}}}"))
        found = [at[2] for at in places(holes(design.part("side left"), "screw hole"))]
        assert max(two - one for one, two in pairwise(found)) <= float(
            length(every.removesuffix("in")).inches
        )

    @pytest.mark.parametrize(
        ("keys", "kind", "at"),
        [
            ("per joint: 0", "fasteners", "per joint"),
            ("per joint: 300", "fasteners", "per joint"),
            ("per joint: 40", "fasteners", "per joint"),
            ("per joint: 2, from ends: 2in", "fasteners", "from ends"),
            ("per joint: 2, from ends: -1in", "fasteners", "from ends"),
            ("per joint: 1, from ends: 1in", "fasteners", "from ends"),
            ("per joint: 2, every: 1in", "fasteners", "every"),
            ("every: 0", "fasteners", "every"),
            ("every: -2in", "fasteners", "every"),
            ("plug: plug, sunk: 3/4in", "counterbore-too-deep", "sunk"),
            ("plug: plug, sunk: 0", "counterbore-too-shallow", "sunk"),
            ("sunk: -1/4in", "counterbore-too-shallow", "sunk"),
        ],
    )
    def test_what_cannot_be(self, keys: str, kind: str, at: str) -> None:
        text = fastened(f"screwed: {{through: side, into: rail, with: screw, {keys}}}")
        wrong = faults(text)
        assert {item.kind for item in wrong} == {kind}
        assert line_at(text, wrong[0]).startswith(at)

    @pytest.mark.parametrize(
        ("screw", "kind"),
        [
            ("{kind: wood screw, gauge: 8, length: 3/4in}", "screw-too-short"),
            ("{kind: wood screw, gauge: 8, length: 20in}", "screw-too-long"),
            ("{kind: wood screw, gauge: 8}", "screw-size"),
            ("{kind: bolt, gauge: 99, length: 1-1/2in}", "bad-gauge"),
            ("{kind: wood screw, gauge: 8mm, diameter: 20mm, length: 1-1/2in}", "fasteners"),
        ],
    )
    def test_screws_that_do_not_do(self, screw: str, kind: str) -> None:
        text = fastened("screwed: {through: side, into: rail, with: screw}", hardware=f"screw: {screw}")
        assert set(kinds(text)) == {kind}

    def test_a_face_smaller_than_its_screws_is_refused(self) -> None:
        text = fastened("screwed: {through: side, into: rail, with: screw, per joint: 2}").replace(
            "width: 4in", "width: 1/8in"
        )
        assert set(kinds(text)) == {"fasteners"}

    def test_little_wood_under_the_head_is_told(self) -> None:
        text = fastened("screwed: {through: side, into: rail, with: screw, plug: plug, sunk: 5/8in}")
        assert "little-under-head" in [item.kind for item in faults(text, only_errors=False)]

    def test_screws_may_not_go_both_ways_between_the_same_pieces(self) -> None:
        text = fastened("screwed: {through: [side, rail], into: [side, rail], with: screw}")
        assert kinds(text) == ["both-roles"]

    def test_screws_come_on_top_of_glue_and_of_one_another(self) -> None:
        design = solve(
            fastened(
                "butt: {between: [side, rail]}",
                "screwed: {name: low, through: side, into: rail, with: screw, per joint: 1}",
            )
        )
        assert [joint.kind for joint in design.joints] == ["butt", "screwed"]

    def test_unknown_hardware_is_named(self) -> None:
        text = fastened("screwed: {through: side, into: rail, with: scrw}")
        wrong = the_fault(text, "undefined-name")
        assert (line_at(text, wrong)[:4], wrong.remedy) == ("scrw", "did you mean `screw`?")


class TestDowelled:
    def test_both_pieces_are_bored_half_and_a_little(self) -> None:
        design = solve(
            fastened(
                "dowelled: {between: [side, rail], with: dowel, per joint: 2}",
                hardware="dowel: {kind: dowel, diameter: 3/8in, length: 1in}",
            )
        )
        in_side, in_rail = (
            holes(design.part("side left"), "dowel hole"),
            holes(design.part("rail"), "dowel hole"),
        )
        # Common practice, no source: 1/16 in for glue beyond half of the dowel.
        assert {cut.depth for cut in (*in_side, *in_rail)} == {length("9/16")}
        assert {cut.diameter for cut in (*in_side, *in_rail)} == {length("3/8")}
        assert places(in_side) == [(0.75, 9.625, 16), (0.75, 9.625, 18)]
        assert places(in_rail) == [(0, 0.375, 1), (0, 0.375, 3), (14.5, 0.375, 1), (14.5, 0.375, 3)]
        assert [cut.side for cut in in_rail] == [Side.LEFT] * 2 + [Side.RIGHT] * 2
        (use,) = design.joints[0].hardware
        assert (use.item, use.number) == ("dowel", 4)

    @pytest.mark.parametrize(
        ("dowel", "kind"),
        [
            ("{kind: dowel, diameter: 3/8in, length: 1-1/2in}", "dowel-too-long"),  # through the side
            ("{kind: dowel, diameter: 3/4in, length: 1in}", "dowel-too-thick"),
            ("{kind: dowel, diameter: 3/8in}", "dowel-size"),
            ("{kind: dowel, diameter: 0, length: 1in}", "zero-size"),
        ],
    )
    def test_dowels_that_do_not_do(self, dowel: str, kind: str) -> None:
        text = fastened("dowelled: {between: [side, rail], with: dowel}", hardware=f"dowel: {dowel}")
        assert kind in kinds(text)
        assert set(kinds(text)) <= {kind, "undefined-name"}

    def test_a_dowel_claims_its_contact(self) -> None:
        text = fastened(
            "butt: {name: seam, between: [side, rail]}",
            "dowelled: {name: pins, between: [side, rail], with: dowel}",
            hardware="dowel: {kind: dowel, diameter: 3/8in, length: 1in}",
        )
        wrong = faults(text)
        assert {item.kind for item in wrong} == {"contact-claimed"}
        assert "`pins` and `seam` both join left side and rail" in wrong[0].message
        assert line_at(text, wrong[0]).startswith("dowelled")


def test_one_operation_for_each_hole_of_a_joint() -> None:
    design = solve(fastened("screwed: {through: side, into: rail, with: screw, per joint: 1}"))
    assert one(design.part("side left"), "screw hole").joint == "screwed"
