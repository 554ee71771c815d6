"""Hardware on single pieces: when it can go on, what it goes on with, and the maker's words for it."""

from __future__ import annotations

from plangen.description import read_description
from plangen.design.build import make_design
from plangen.findings import Findings
from plangen.prose import check_prose
from tests.sequence.designs import kinds
from tests.sequence.written_projects import HEAD, ordered

CHEST = """
stock:
  pine: {kind: solid, species: white pine, rough: 4/4, thickness: 3/4in, widths: [9-1/4in], lengths: [8ft]}
hardware:
  knob: {kind: knob, diameter: 1in, length: 1in, bore: 3/16in}
  magnet: {kind: magnet, diameter: 3/8in, thickness: 1/8in}
  screw: {kind: wood screw, gauge: 8, length: 1in, head: flat}
  strap: {kind: anti-tip strap, length: 10in, width: 3/4in, screws: 2}
parts:
  shelf:
    stock: pine
    runs: across
    thick: up
    width: 9in
    fit:
      - magnet: {face: top, from right: 1in, from front: 3in}
      - strap: {face: back, at: middle, say: "Screw the {strap} on, <pine.thickness> above the {shelf}."}
    place: {left: 0, right: 18in, front: 0, bottom: 0}
assemblies:
  drawer:
    parts:
      face:
        stock: pine
        runs: across
        thick: deep
        width: 5in
        fit: [{knob: {face: front, at: middle}}]
        place: {left: 0, right: 12in, front: 0, bottom: 0}
      front:
        stock: pine
        runs: across
        thick: deep
        width: 5in
        fit: [{magnet: {face: bottom, from right: 1in, from front: 3/8in}}]
        place: {left: 0, right: 12in, front: face.back, bottom: 0}
    joints:
      - screwed: {name: facing, through: front, into: face, with: screw, per joint: 4}
    place: {left: 3in, front: 0, bottom: shelf.top}
joints:
  - rests: {name: standing, between: [drawer, shelf]}
"""


def test_a_knob_goes_on_before_its_back_is_shut() -> None:
    _, order, findings = ordered(CHEST)
    assert kinds(findings) == []
    (fitted,) = (step for step in order.steps if "drawer.knob" in step.fits)
    (closing,) = (step for step in order.steps if "drawer.facing" in step.joints)
    assert fitted.number < closing.number
    assert fitted.assembly == "drawer"


def test_a_written_step_that_shuts_the_back_first_is_warned_of() -> None:
    _, order, findings = ordered(
        CHEST + "steps:\n  - draft\n  - step: Screw on the knob\n    fit: [drawer.knob]\n"
    )
    assert order.steps[-1].fits == ("drawer.knob",)
    (warning,) = (finding for finding in findings if finding.kind == "no-way-in")
    assert "from behind" in warning.message
    assert warning.place is not None
    assert warning.place.line > CHEST.count("\n")


def test_a_screw_into_the_wall_goes_in_from_the_front() -> None:
    """It goes through its part and all that lies behind; another screw would have to come from there."""
    hung = CHEST.replace(
        "{knob: {face: front, at: middle}}", "{SCREW: {face: front, at: middle, bore: 1/4in}}"
    )
    rows = "  SCREW: {kind: wood screw, gauge: 10, length: 3in, head: pan}\n"
    hung = hung.replace("hardware:\n", "hardware:\n" + rows)
    hung += "steps:\n  - draft\n  - step: Drive the screws\n    fit: [drawer.SCREW]\n"
    said = {item: kinds(ordered(hung.replace("SCREW", item))[2]) for item in ("wall screw", "long screw")}
    assert said == {"wall screw": [], "long screw": ["no-way-in"]}


def test_magnets_that_draw_each_other_go_on_in_one_step() -> None:
    _, order, _ = ordered(CHEST)
    (step,) = (step for step in order.steps if "magnet" in step.fits)
    assert set(step.fits) == {"magnet", "drawer.magnet"}
    assert step.title == "Fit the magnets"
    assert [(count.item, count.number) for count in step.hardware] == [("magnet", 2)]


def test_references_in_the_words_of_a_fit_work_as_in_steps() -> None:
    _, order, _ = ordered(CHEST)
    (step,) = (step for step in order.steps if "strap" in step.fits)
    assert "the {hardware:strap} on, <pine.thickness> above the {part:shelf}." in step.say


def test_a_name_that_is_nothing_in_the_words_of_a_fit_is_found_at_the_fit() -> None:
    _, _, findings = ordered(CHEST.replace("the {strap} on", "the {stramp} on"))
    (finding,) = (one for one in findings if one.kind == "unknown-in-step")
    line = next(
        number for number, text in enumerate(CHEST.splitlines(), 1) if "stra" in text and "face" in text
    )
    assert finding.place is not None
    assert finding.place.line == line + 3
    assert "`strap`" in finding.remedy


def test_a_size_that_is_nothing_in_the_words_of_a_fit_of_an_assembly_is_found() -> None:
    text = HEAD + CHEST.replace(
        "{face: front, at: middle}", '{face: front, at: middle, say: "At <no.width>."}'
    )
    findings = Findings()
    description = read_description(text.encode(), "project.yaml", findings)
    assert description is not None
    solved = make_design(description, findings)
    assert solved is not None
    check_prose(description, solved, findings)
    (finding,) = (one for one in findings if "<no.width>" in one.message)
    assert finding.place is not None
    assert "no.width" in text.splitlines()[finding.place.line - 1]


def test_what_keeps_a_piece_from_tipping_is_no_hook_to_hang_it_by() -> None:
    _, order, _ = ordered(CHEST)
    last = order.steps[-1]
    assert last.fits[0] == "strap"  # on the wall when all is finished
    assert last.title == "Fasten it to the wall with the strap"
