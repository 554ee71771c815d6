"""Every kind of joint: what its operations take away is what its solids lose, and no wood is in twice.

Solids are weighed by their triangles, and beside that each part by its sections (``sections.py``), which
know nothing of solids.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from plangen.design.model import Design
from plangen.joinery.cuts import Arc, BoreCut, Cut, PrismCut, RoundCut
from plangen.joinery.joints import JOINTS
from plangen.joinery.space import Axis
from plangen.solids.outline import SAGITTA
from tests.design.small import solve
from tests.joinery.corners import case, frame, shelf
from tests.joinery.sections import volume_by_sections
from tests.joinery.together import CUBIC_INCH, bodies, overlap, volume

EXAMPLES = Path(__file__).resolve().parents[2] / "docs" / "examples"


def path_of(kind: str) -> Path:
    """The small project that the reference shows for a kind of joint."""
    name = kind.replace(" ", "-")
    of_joint = EXAMPLES / f"{name}-joint.yaml"
    return of_joint if of_joint.exists() else EXAMPLES / f"{name}.yaml"


# Where the reference's example leaves a shape of the kind out.
MORE = {
    "bridle": frame("bridle: {in: stile, for: rail}"),
    "finger": case("finger: {between: [upright, lid], pin: 1/2in, gap: 1/64in}"),
    "through dovetails": case("through dovetails: {tails: lid, pins: upright, number: 5, slope: 9deg}"),
    "sliding dovetail": shelf(
        "sliding dovetail: {in: side, for: shelf, slope: 14deg, stopped: {front: 1in}}"
    ),
    "mitre": frame(
        "mitre: {between: [stile, rail], spline: {with: slip, depth: 1/2in}}", "slip: {kind: spline}"
    ),
    "dado": shelf("dado: {in: side, for: shelf, depth: 1/4in, stopped: {front: 1in}, ends: round}"),
}


def chords(cuts: list[Cut]) -> float:
    """What the chords of solids may leave of arcs, in mm3: their sagitta times the curved area."""
    curved = 0.0
    for cut in cuts:
        if isinstance(cut, RoundCut):
            curved += math.pi * float(cut.diameter) * float(cut.depth)
        elif isinstance(cut, PrismCut):
            arcs = [s for loop in cut.loops for s in loop.segments if isinstance(s, Arc)]
            curved += sum(math.pi * float(arc.radius) for arc in arcs) * float(cut.high - cut.low)
    return SAGITTA * curved


def check(design: Design) -> None:
    solids = {name: volume(body) * CUBIC_INCH for name, body in bodies(design).items()}
    weighed = 0
    for part in design.parts:
        cuts = [cut for operation in part.operations for cut in operation.cuts]
        if any(isinstance(cut, BoreCut) for cut in cuts):
            continue
        whole = 1.0
        for axis in Axis:
            whole *= float(part.blank.size(axis))
        for axis in Axis:
            found = volume_by_sections(part, axis)
            for copy in part.copies:
                assert solids[copy.name] == pytest.approx(found, abs=1e-6 * whole + chords(cuts))
                weighed += 1
    assert weighed or any(operation.cuts for part in design.parts for operation in part.operations)
    assert overlap(design) == pytest.approx(0, abs=1e-6)


# That every kind has an example is tested of the reference.
@pytest.mark.parametrize("kind", [kind for kind in sorted(JOINTS) if path_of(kind).exists()])
def test_the_example_of_every_kind(kind: str) -> None:
    design = solve(path_of(kind).read_text(encoding="utf-8"))
    assert any(joint.kind == kind for joint in design.joints)
    check(design)


@pytest.mark.parametrize("kind", sorted(MORE))
def test_the_shapes_that_the_examples_leave_out(kind: str) -> None:
    check(solve(MORE[kind]))
