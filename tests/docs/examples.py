"""The examples of the reference: small projects that build without a finding, and what they show."""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass
from pathlib import Path

from plangen.drawing.part_sheets.sheet import part_sheet
from plangen.drawing.pictures import Pictures
from plangen.drawing.writers.svg import svg_bytes
from plangen.joinery.joints import JOINTS
from plangen.joinery.operations import OPERATIONS
from plangen.pipeline import Checked, Source, check
from plangen.units import LengthStyle

ROOT = Path(__file__).resolve().parents[2]
DOCS = ROOT / "docs"
EXAMPLES, PICTURES = DOCS / "examples", DOCS / "pictures"
DIGESTS = PICTURES / "digests.txt"
WIDTH, HEIGHT = 120.0, 80.0  # mm of a picture
FIGURES = 3.0  # mm high
MOST_BYTES = 40_000


def joint_title(kind: str) -> str:
    """What the page calls a kind of joint: ``mitre joint`` where an operation has the name already."""
    return f"{kind} joint" if kind in OPERATIONS else kind


KINDS = (*OPERATIONS, *(joint_title(kind) for kind in JOINTS))


@dataclass(frozen=True)
class Example:
    """A small project by the name of what it shows."""

    name: str
    text: str

    @property
    def digest(self) -> str:
        """What its picture was made from."""
        return hashlib.sha256(self.text.encode()).hexdigest()[:16]

    @property
    def shown(self) -> str:
        """The text as the page prints it: without the head that examples share."""
        return self.text[len(self.head) :]

    @property
    def head(self) -> str:
        """What stands before the first of the sizes, hardware, parts or assemblies."""
        found = re.search(r"^(sizes|hardware|parts|assemblies):", self.text, re.MULTILINE)
        assert found is not None, self.name
        return self.text[: found.start()]

    @property
    def picture(self) -> Path:
        return PICTURES / f"{self.name}.svg"


def file_name(kind: str) -> str:
    """Give the example's file name for what the page calls a kind: ``mortise-and-tenon``."""
    return kind.replace(" ", "-")


def load(name: str) -> Example:
    """Give an example by its file name."""
    return Example(name, (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8"))


def all_examples() -> list[Example]:
    return [load(path.stem) for path in sorted(EXAMPLES.glob("*.yaml"))]


def built(example: Example) -> Checked:
    """Take an example through every check; it must have nothing to find."""
    file = f"{example.name}.yaml"
    result = check(Source(example.name, file, example.text.encode()))
    found = [f"{one.severity.value} {one.kind}: {one.message} ({one.place})" for one in result.findings]
    assert not found, "\n".join([file, *found])
    assert result.checked is not None
    return result.checked


def drawn(example: Example) -> bytes:
    """Draw what an example shows: its last position, joints open, or a worked part with its dimensions."""
    made = built(example)
    style = LengthStyle(made.design.project.units)
    pictures = Pictures(made.design, made.solids, made.take_off, made.order, style)
    if len(made.design.positions) > 1:
        return svg_bytes(pictures.position(made.design.positions[-1].name, WIDTH, HEIGHT))
    if made.design.joints or len(made.design.parts) > 1:
        return svg_bytes(pictures.exploded(WIDTH, HEIGHT))
    sheet = part_sheet(
        made.design,
        made.solids,
        made.design.parts[0],
        style,
        width=WIDTH,
        height=HEIGHT,
        figure_height=FIGURES,
    )
    return svg_bytes(sheet.drawing)


def digests() -> dict[str, str]:
    """Give what each committed picture was made from."""
    lines = DIGESTS.read_text(encoding="utf-8").splitlines() if DIGESTS.exists() else []
    return dict(line.split(": ") for line in lines)
