"""A book made by hand from the sample design, so that the booklet is tested without the rooms before it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Any

from plangen.booklet import Book
from plangen.design.model import Design, FromWork, Money, Part
from plangen.drawing.sheet.model import Drawing, Fill, Link, Mark, Meaning, Stroke, Text, Tone
from plangen.joinery.space import Axis, Side
from plangen.sequence.model import HardwareCount, OrderOfWork, PartUse, Step, StepPicture
from plangen.takeoff.model import CostLine, CutLine, CuttingDiagram, HardwareLine, Placed, StockPlan, TakeOff
from plangen.units import LengthStyle, inches, phrase
from tests.sample_design import sample_design

TEMPLATES = Path(__file__).parents[2] / "templates"


def templates() -> dict[str, str]:
    return {path.name: path.read_text("utf-8") for path in sorted(TEMPLATES.iterdir()) if path.is_file()}


def design() -> Design:
    """The sample, its back cut late from the opening."""
    made = sample_design()
    back = made.part("back")
    late = FromWork(
        Axis.ACROSS, phrase("opening between the rabbets, less ", inches("1/16")), back.width, inches("1/2")
    )
    parts = tuple(replace(part, from_work=(late,)) if part.key == "back" else part for part in made.parts)
    return replace(made, parts=parts)


def _line(part: Part, *notes: Any) -> CutLine:
    grown = part.length != part.shoulder_length
    return CutLine(
        part.key,
        part.mark,
        part.title,
        len(part.copies),
        part.stock,
        part.thickness,
        part.width,
        part.length,
        part.shoulder_length if grown else None,
        None,
        bool(part.from_work),
        tuple(notes),
    )


def take_off(made: Design) -> TakeOff:
    side_left, side_right, shelf, rail, back = made.parts
    lines = (
        _line(side_left, phrase("mirror of A-R")),
        _line(side_right, phrase("mirror of A-L")),
        _line(shelf, phrase(inches("1/4"), " into each dado")),
        _line(rail, phrase("fits between the sides")),
        _line(back),
    )
    usd = "USD"
    hardware = (
        HardwareLine(
            1,
            "screw",
            "Wood screw, flat head",
            phrase("No. 8 × ", inches("1.5")),
            4,
            1,
            (("rail screws", 4),),
            Money(Fraction("0.12"), usd),
            Money(Fraction("0.48"), usd),
        ),
        HardwareLine(
            2, "plug", "Plug", phrase(inches("3/8"), " across"), 4, None, (("rail screws", 4),), None, None
        ),
    )

    def board(number: int, length: str, *parts: Part) -> CuttingDiagram:
        placed = tuple(
            Placed(part.key, part.mark, inches(1), inches(0), part.length, part.width, False)
            for part in parts
        )
        return CuttingDiagram(
            "pine",
            number,
            inches(length),
            inches("9.25"),
            inches("3/4"),
            phrase("board"),
            placed,
            (),
            (),
            Fraction(71, 100),
        )

    sheet = CuttingDiagram(
        "ply", 1, inches(96), inches(48), inches("0.22"), phrase("sheet"), (), (), (), Fraction(9, 100)
    )
    pine = StockPlan(
        "pine",
        (board(1, "72", side_left, side_right), board(2, "72", shelf), board(3, "72", shelf, rail)),
        3,
        "All the lengths together come to more than two boards.",
        Fraction(14),
        Fraction("5.9"),
        None,
        Money(Fraction("58.80"), usd),
        inches("1/8"),
        inches("1/2"),
        inches("1/8"),
    )
    ply = StockPlan(
        "ply",
        (sheet,),
        1,
        "One sheet is the least.",
        None,
        None,
        Fraction(32),
        Money(Fraction(38), usd),
        inches("1/8"),
        inches(0),
        inches(0),
    )
    return TakeOff(
        lines,
        hardware,
        (pine, ply),
        (
            CostLine("White pine", "14 board feet", Money(Fraction("58.80"), usd)),
            CostLine("Birch plywood", "1 sheet", Money(Fraction(38), usd)),
            CostLine("Plug", "4", None),
        ),
        Money(Fraction("97.28"), usd),
        ("Plug",),
        {part.key: Fraction(2) for part in made.parts},
        Fraction("7.3"),
        "empty",
        (
            phrase("Router with a straight bit ", inches("1/2")),
            phrase("Drill bits ", inches("3/8"), " and ", inches("11/64")),
            phrase("Four bar clamps"),
            phrase("Jigsaw or bandsaw"),
        ),
        Fraction(20_000),
        Fraction(1_400_000),
    )


def _step(number: int, kind: Any, title: str, say: str, picture: StepPicture, **more: Any) -> Step:
    plain: dict[str, Any] = {
        "checks": (),
        "cautions": (),
        "parts": (),
        "hardware": (),
        "tools": (),
        "made": (),
        "worked": (),
        "placed": (),
        "measured": (),
        "joints": (),
        "drafted": True,
        "place": None,
    }
    plain.update(more)
    return Step(number=number, kind=kind, title=title, say=say, picture=picture, **plain)


def order() -> OrderOfWork:
    none = StepPicture("none")
    return OrderOfWork(
        (
            _step(
                1,
                "mill",
                "Plane the boards",
                "Joint one face. Plane to <pine.thickness>.",
                none,
                checks=("All boards are alike in thickness.",),
                cautions=("planer", "jointer"),
                tools=("Planer",),
            ),
            _step(
                2,
                "cut",
                "Cut the sides and shelves",
                "Crosscut square. Rip to width. Cut the two shelves to <shelf.length>.",
                StepPicture("pieces", ("left side", "right side", "bottom shelf", "upper shelf")),
                parts=(PartUse("side left", 1), PartUse("side right", 1), PartUse("shelf", 2)),
                cautions=("table saw",),
                made=("side left", "side right", "shelf", "rail"),
                tools=("Table saw", "Stop block"),
                checks=(
                    "Both sides are the same length.",
                    "Ends are square.",
                    "Shelves are <shelf.length> long.",
                ),
            ),
            _step(
                3,
                "work",
                "Rout the dadoes and rabbets",
                "Set the fence. Rout each dado <deep> deep. Rout the rabbet.",
                StepPicture("pieces", ("left side", "right side")),
                parts=(PartUse("side left", 1), PartUse("side right", 1)),
                worked=(("side left", (0, 1, 2)), ("side right", (0, 1, 2))),
                cautions=("router",),
                tools=("Router with a straight bit",),
            ),
            _step(
                4,
                "glue",
                "Glue the shelves into the sides",
                "- Brush glue into the dadoes.\n- Stand **B** in side A-L.\n"
                "- Lower A-R onto the shelves.\n- Clamp across both.",
                StepPicture("assembly", ("bottom shelf", "upper shelf", "right side"), ("left side",)),
                parts=(PartUse("side left", 1), PartUse("side right", 1), PartUse("shelf", 2)),
                cautions=("clamps", "glue"),
                placed=("left side", "right side", "bottom shelf", "upper shelf"),
                joints=("housings",),
                tools=("Four bar clamps",),
                checks=("No gap at any shoulder.", "Both diagonals are equal."),
            ),
            _step(
                5,
                "other",
                "Let the glue set",
                "Leave the clamps on overnight. Scrape off what was squeezed out.",
                none,
            ),
            _step(
                6,
                "fasten",
                "Screw the rail in place",
                "Hold **C** under the top. Drive the screws. Glue in the plugs.",
                StepPicture(
                    "assembly",
                    ("rail",),
                    ("left side", "right side"),
                    (("rail", Side.BACK),),
                    ("rail screws",),
                ),
                parts=(PartUse("rail", 1),),
                hardware=(HardwareCount("screw", 4), HardwareCount("plug", 4)),
                placed=("rail",),
                joints=("rail screws",),
                cautions=("drill",),
                tools=("Drill bits 3/8 and 11/64",),
                checks=("The rail is flush with the rabbet.",),
            ),
            _step(
                7,
                "measure",
                "Cut the back to fit",
                "Measure the opening. Cut **D** to that size. Lay it in its rabbets.",
                none,
                parts=(PartUse("back", 1),),
                made=("back",),
                measured=("back",),
                placed=("back",),
                joints=("back rabbets",),
            ),
            _step(
                8,
                "finish",
                "Sand and finish",
                "Ease the edges. Sand with the grain. Wipe on two thin coats.",
                none,
                cautions=("finish rags", "sanding dust"),
                checks=("Rags hang outdoors to dry.",),
            ),
        )
    )


_REFERENCES = {"<shelf.length>": "23\u00a0in", "<deep>": "1/4\u00a0in", "<pine.thickness>": "3/4\u00a0in"}


def resolve(text: str) -> str:
    for name, value in _REFERENCES.items():
        text = text.replace(name, value)
    return text


@dataclass(frozen=True)
class SimplePictures:
    """Frames with a name in them, and a link for every part that would be seen."""

    made: Design

    def _frame(self, name: str, width: float, height: float, keys: Sequence[str] = ()) -> Drawing:
        marks: list[Mark] = [
            Fill((((0, 0), (width, 0), (width, height), (0, height)),), Tone.PLAIN_FRONT),
            Stroke(((0, 0), (width, 0), (width, height), (0, height)), Meaning.VISIBLE, True),
            Text((width / 2, height / 2), name, 5.3, "middle"),
        ]
        for index, key in enumerate(keys):
            x, y = 10.0 + 14 * index, 10.0
            marks.append(Text((x, y), self.made.part(key).mark, 4.6, "middle", role="balloon"))
            marks.append(Link((x - 4, y - 2), (x + 4, y + 5), f"part:{key}"))
        return Drawing(width, height, tuple(marks), name)

    def hero(self, width: float, height: float) -> Drawing:
        return self._frame("hero", width, height)

    def views(self, width: float, height: float) -> Drawing:
        return self._frame("views", width, height)

    def exploded(self, width: float, height: float) -> Drawing:
        return self._frame("exploded", width, height, [part.key for part in self.made.parts])

    def step(self, step: Step, width: float, height: float) -> Drawing:
        return self._frame(f"step {step.number}", width, height, [use.part for use in step.parts])

    def assembly(self, key: str, width: float, height: float) -> Drawing:
        return self._frame(f"assembly {key}", width, height)

    def position(self, name: str, width: float, height: float) -> Drawing:
        return self._frame(f"position {name}", width, height)

    def section(self, letter: str, width: float, height: float) -> Drawing:
        return self._frame(f"section {letter}", width, height)

    def part_sheet(self, part: Part, width: float, height: float) -> Drawing:
        return self._frame(f"sheet 3\u00a013/16 of {part.key}", width, height)

    def cutting(self, diagrams: Sequence[CuttingDiagram], width: float, height: float) -> Drawing:
        keys = sorted({placed.part for diagram in diagrams for placed in diagram.pieces})
        return self._frame(f"{len(diagrams)} diagrams", width, height, keys)

    def hardware(self, width: float, height: float) -> tuple[Drawing, ...]:
        return tuple(self._frame(f"hardware {row}", width, height / 8) for row in (1, 2))


def book(**changes: Any) -> Book:
    """The whole sample book; any field can be given otherwise."""
    made = design()
    plain = Book(
        made, None, take_off(made), order(), LengthStyle(), SimplePictures(made), resolve, templates()
    )
    return replace(plain, **changes)
