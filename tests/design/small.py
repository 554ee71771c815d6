"""Small projects for tests: text in, a design or its findings out."""

from __future__ import annotations

from textwrap import dedent, indent

from plangen.description import read_description
from plangen.design.build import Solved, make_design
from plangen.design.marks import KeptMarks
from plangen.design.model import Copy, Design, Part
from plangen.findings import Finding, Findings, Severity
from plangen.joinery.cuts import BoxCut, PrismCut, RoundCut
from plangen.joinery.operation import Operation
from plangen.joinery.space import Axis, Box, Point
from plangen.solids import part_solid
from plangen.units import Length, LengthStyle, inches, millimetres

STOCK = {
    "inch": "pine: {kind: solid, species: eastern white pine, rough: 4/4, thickness: 3/4in}",
    "mm": "pine: {kind: solid, species: eastern white pine, rough: 4/4, thickness: 20mm}",
}


def project(
    parts: str,
    joints: str = "",
    *,
    units: str = "inch",
    sizes: str = "",
    stock: str = "",
    hardware: str = "",
    fit: str = "",
    expect: str = "",
    head: str = "",
) -> str:
    """Give the text of a project; each argument is what stands under its key, dedented."""
    text = (
        f"plangen: 1\nproject: {{title: Test piece, units: {units}}}\nshop: {{glue: {{wood glue: {{}}}}}}\n"
    )
    text += dedent(head)
    for key, body in (
        ("sizes", sizes),
        ("stock", f"{STOCK[units]}\n{dedent(stock).strip()}"),
        ("hardware", hardware),
        ("parts", parts),
        ("joints", joints),
        ("fit", fit),
        ("expect", expect),
    ):
        if body.strip():
            text += f"{key}:\n{indent(dedent(body).strip(), '  ')}\n"
    return text


def placed(pins: str, *, more: str = "", sizes: str = "", keys: str = "") -> str:
    """One board 3/4 in thick, that runs across, and whatever else."""
    return project(
        f"board:\n  stock: pine\n  runs: across\n  thick: up\n{keys}  place: {{{pins}}}\n{more}", sizes=sizes
    )


def attempt(text: str, kept: KeptMarks | None = None) -> tuple[Solved | None, Findings]:
    """Read and solve; nothing but findings may come of a bad text."""
    findings = Findings()
    description = read_description(text.encode(), "project.yaml", findings)
    return (make_design(description, findings, kept) if description is not None else None), findings


def solve(text: str, kept: KeptMarks | None = None) -> Design:
    """Give the design of a text that has no fault."""
    solved, findings = attempt(text, kept)
    wrong = [item for item in findings if item.severity is Severity.ERROR]
    assert not wrong, "\n".join(f"{item.kind}: {item.message} ({item.place})" for item in wrong)
    assert solved is not None
    return solved.design


def faults(text: str, *, only_errors: bool = True) -> list[Finding]:
    """Give what is wrong with a text, in the order of its lines."""
    solved, findings = attempt(text)
    wrong = [item for item in findings.sorted() if item.severity is Severity.ERROR or not only_errors]
    assert (solved is None) == any(item.severity is Severity.ERROR for item in wrong)
    return wrong


def kinds(text: str) -> list[str]:
    """Give the kinds of the errors of a text."""
    return [item.kind for item in faults(text)]


def the_fault(text: str, kind: str) -> Finding:
    """Give the one error of a text, which must be of a kind."""
    wrong = faults(text)
    assert [item.kind for item in wrong] == [kind], [(item.kind, item.message) for item in wrong]
    assert wrong[0].place is not None
    assert wrong[0].remedy
    return wrong[0]


def line_at(text: str, finding: Finding) -> str:
    """Give the text of the line that a finding points at, from its column on."""
    assert finding.place is not None
    return text.splitlines()[finding.place.line - 1][finding.place.column - 1 :]


def box(*sides: str | int, unit: str = "in") -> Box:
    """Give a box from left, front, bottom, right, back and top."""
    make = inches if unit == "in" else millimetres
    left, front, bottom, right, back, top = (make(_plain(str(side))) for side in sides)
    return Box(Point(left, front, bottom), Point(right, back, top))


def _plain(text: str) -> str | int:
    """``-1-1/2`` is minus one and a half."""
    from fractions import Fraction

    sign, text = (-1, text[1:]) if text.startswith("-") else (1, text)
    return str(sign * sum(Fraction(word) for word in text.split("-")))


def length(text: str) -> Length:
    """Give a length in inches: ``15-1/2``."""
    return inches(_plain(text))


def work(part: Part, kind: str) -> list[Operation]:
    """Give the operations of a kind on a part."""
    return [operation for operation in part.operations if operation.kind == kind]


def one(part: Part, kind: str) -> Operation:
    """Give the only operation of a kind on a part."""
    (found,) = work(part, kind)
    return found


def box_cut(operation: Operation) -> Box:
    """Give the box that an operation takes away, in the part's own frame."""
    (cut,) = operation.cuts
    assert isinstance(cut, BoxCut)
    return cut.box


def rounds(operation: Operation) -> list[RoundCut]:
    """Give the round holes of an operation."""
    assert all(isinstance(cut, RoundCut) for cut in operation.cuts)
    return [cut for cut in operation.cuts if isinstance(cut, RoundCut)]


def prism(operation: Operation) -> PrismCut:
    """Give the only prism that an operation takes away."""
    (cut,) = operation.cuts
    assert isinstance(cut, PrismCut)
    return cut


def sizes(part: Part) -> tuple[Length, Length, Length]:
    """Give finished length, width and thickness."""
    return part.length, part.width, part.thickness


def taken(part: Part) -> float:
    """Give the volume that operations take off a part's blank, in cubic inches."""
    whole = 1.0
    for axis in Axis:
        whole *= float(part.blank.size(axis))
    return (whole - part_solid(part).volume) / 25.4**3


def copy(design: Design, name: str) -> Copy:
    """Give a copy by its name."""
    return design.copies[name]


def said(operation: Operation) -> str:
    """Give the sentence of an operation, lengths printed in inches."""
    return operation.say.text(LengthStyle("inch")).replace("\u00a0", " ")
