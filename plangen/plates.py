"""Every drawing of one build: pictures, part sheets, cutting diagrams, patterns, and their files."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial
from itertools import takewhile
from typing import Literal

from plangen.design.model import Design, Part, Position
from plangen.drawing.cutting_plane import CuttingPlane, choose_planes
from plangen.drawing.cutting_sheets import cutting_drawing
from plangen.drawing.full_size import part_drawing, pattern_drawings
from plangen.drawing.gauge_model import Gauge
from plangen.drawing.gauge_sheets import gauge_sheet
from plangen.drawing.part_sheets.pattern import pattern_pages
from plangen.drawing.part_sheets.sheet import part_sheet
from plangen.drawing.pictures import Pictures
from plangen.drawing.section_sheet import details_on, section_sheet
from plangen.drawing.sections import Section, cut_through
from plangen.drawing.sheet.model import Drawing, Text
from plangen.drawing.title_block import TitleBlock, block_height, block_of, title_block
from plangen.drawing.views import views_of
from plangen.drawing.writers.dxf import dxf_bytes
from plangen.drawing.writers.svg import svg_bytes
from plangen.sequence.model import OrderOfWork, Step
from plangen.solids import Solids, part_solid
from plangen.takeoff.model import CuttingDiagram, TakeOff
from plangen.units import LengthStyle

# Room on the paper for the drawings that are written as files of their own, in mm.
FILE_WIDTH, FILE_HEIGHT = 178.0, 200.0
FILE_MARGIN = 6.0  # mm of white paper round them
PATTERN_MARGIN = 8.0  # mm that a home printer cannot reach, with a little to spare
PAPERS = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}  # ASME Y14.1; ISO 216
LEAST_VIEWS = 80.0  # mm of height under which the views need all the room there is
BLOCK_GAP = 6.0  # mm between a drawing and its title block
BINDER_FIGURES, FIGURES = 5.0, 3.44  # mm high, where the sheet has room for them
# mm: read at arm's length, and from the machine beside it (common practice, no source)
LEAST_FIGURES = {"publish": 2.5, "binder": 5.0, "sample": 2.5}


@dataclass(frozen=True)
class Plates:
    """Draws on demand; the files hold the booklet's own drawings, so that both show the same lines."""

    design: Design
    solids: Solids
    take_off: TakeOff
    order: OrderOfWork
    style: LengthStyle
    edition: Literal["publish", "binder", "sample"]
    paper: Literal["letter", "a4"]

    @cached_property
    def _pictures(self) -> Pictures:
        return Pictures(self.design, self.solids, self.take_off, self.order, self.style)

    def hero(self, width: float, height: float) -> Drawing:
        """Draw the finished piece for the cover."""
        return self._by_standard(self._pictures.hero(width, height))

    @cached_property
    def _drawn(self) -> dict[str, Drawing]:
        """The last drawing made for each file."""
        return {}

    def views(self, width: float, height: float) -> Drawing:
        """Draw the views with overall sizes, over a title block where there is room for one."""
        room = height - block_height(self._block("views", "", ""), width) - BLOCK_GAP
        if room < LEAST_VIEWS:
            return self._keep("views", self._views(width, height))
        return self._titled("views", self._keep("views", self._views(width, room)))

    def _views(self, width: float, height: float, position: Position | None = None) -> Drawing:
        """Draw the views; a preview does not mark planes of sections that it does not show."""
        planes = self.sections if position is None and self.edition != "sample" else ()
        piece = self._pictures.whole(position)
        return views_of(piece, self.style, width, height, view=self._pictures.view, planes=planes)

    @cached_property
    def sections(self) -> tuple[CuttingPlane, ...]:
        """The planes at which the piece is cut through."""
        return choose_planes(self.design, self.solids)

    def section(self, letter: str, width: float, height: float) -> Drawing:
        """Draw the piece cut through at the plane with a letter; its details go on with their letters."""
        drawing = self._section(letter, width, height)
        return self._keep(_file_name("section", letter), drawing)

    def _section(self, letter: str, width: float, height: float) -> Drawing:
        """Draw a section after those before it in the same room: their details have the first letters."""
        key = (letter, width, height)
        if key not in self._cut_drawn:
            before = takewhile(lambda plane: plane.letter != letter, self.sections)
            lettered = sum(details_on(self._section(plane.letter, width, height)) for plane in before)
            if letter not in self._cut:
                plane = next(one for one in self.sections if one.letter == letter)
                self._cut[letter] = cut_through(self.design, self.solids, plane)
            cut = self._cut[letter]
            self._cut_drawn[key] = section_sheet(self.design, cut, self.style, width, height, lettered)
        return self._cut_drawn[key]

    @cached_property
    def _cut_drawn(self) -> dict[tuple[str, float, float], Drawing]:
        """Every section as drawn, by its letter and its room."""
        return {}

    @cached_property
    def _cut(self) -> dict[str, Section]:
        """The piece as cut at each plane; a page that is set again is laid out again and not cut again."""
        return {}

    def exploded(self, width: float, height: float) -> Drawing:
        """Draw the exploded view."""
        return self._keep("exploded", self._pictures.exploded(width, height))

    def assembly(self, key: str, width: float, height: float) -> Drawing:
        """Draw the exploded view of an assembly by itself."""
        return self._keep(_file_name("assembly", key), self._pictures.assembly(key, width, height))

    def position(self, name: str, width: float, height: float) -> Drawing:
        """Draw the piece in one of its positions."""
        return self._keep(_file_name("position", name), self._pictures.position(name, width, height))

    def _keep(self, name: str, drawing: Drawing) -> Drawing:
        self._drawn[name] = self._by_standard(drawing)
        return self._drawn[name]

    def _by_standard(self, drawing: Drawing) -> Drawing:
        """The drawing with the lines of the project's drawing standard."""
        return replace(drawing, standard=self.design.project.standard)

    def step(self, step: Step, width: float, height: float) -> Drawing:
        """Draw the picture of a step; pieces lying apart show the work done on them so far and no more."""
        if step.picture.kind != "pieces":
            return self._by_standard(self._pictures.step(step, width, height))
        return self._by_standard(self._pictures.pieces(step, self.solids_after(step), width, height))

    def gauges(self) -> tuple[tuple[str, Gauge], ...]:
        """Measure the exploded views and step pictures drawn so far by the rules for pictures."""
        sheets = [(f"sheet of part {mark}", gauge) for mark, found in self._gauged.items() for gauge in found]
        return (*self._pictures.gauges(), *sheets)

    def solids_after(self, step: Step) -> Solids:
        """Every part that the step shows, as it is when the step is done."""
        done: dict[str, set[int]] = {}
        for earlier in self.order.steps[: step.number]:
            for key, indices in earlier.worked:
                done.setdefault(key, set()).update(indices)
        part_of = self.design.part_of
        parts = dict(self.solids.parts)
        for key in dict.fromkeys(part_of[copy].key for copy in (*step.picture.new, *step.picture.context)):
            part = self.design.part(key)
            worked = tuple(o for index, o in enumerate(part.operations) if index in done.get(key, ()))
            if len(worked) < len(part.operations):
                parts[key] = part_solid(replace(part, operations=worked))
        return Solids(parts)

    def hardware(self, width: float, height: float) -> tuple[Drawing, ...]:
        """Draw the hardware at full size, row by row."""
        return tuple(self._by_standard(row) for row in self._pictures.hardware(width, height))

    def part_sheet(self, part: Part, width: float, height: float) -> Drawing:
        """Draw the dimensioned sheet of a part."""
        sheet = part_sheet(
            self.design,
            self.solids,
            part,
            self.style,
            width=width,
            height=height,
            figure_height=BINDER_FIGURES if self.edition == "binder" else FIGURES,
        )
        self._gauged.setdefault(part.mark, gauge_sheet(sheet, LEAST_FIGURES[self.edition]))
        return self._keep(f"part-{part.mark}", sheet.drawing)

    @cached_property
    def _gauged(self) -> dict[str, tuple[Gauge, ...]]:
        """How well the sheet of each part keeps the rules, as it stands in the booklet."""
        return {}

    def cutting(self, diagrams: Sequence[CuttingDiagram], width: float, height: float) -> Drawing:
        """Draw some boards or sheets of one stock."""
        plan = next(plan for plan in self.take_off.plans if plan.stock == diagrams[0].stock)
        ticked = self.edition == "binder"
        return self._by_standard(cutting_drawing(plan, diagrams, self.style, width, height, ticked=ticked))

    def patterns(self) -> tuple[tuple[str, tuple[Drawing, ...]], ...]:
        """Draw the full-size patterns, by part; one of a mirror pair serves both."""
        if self.edition == "sample":
            return ()
        width, height = PAPERS[self.paper]
        room = (width - 2 * PATTERN_MARGIN, height - 2 * PATTERN_MARGIN - 12)
        return tuple(
            (part.key, tuple(map(self._by_standard, pattern_pages(self.design, part, self.style, room))))
            for part in self.design.parts
            if part.pattern and part.hand != "right"
        )

    def svg_files(self) -> dict[str, bytes]:
        """Give every drawing as a file: those of the booklet, and any that this edition leaves out."""
        wanted: dict[str, Callable[[], Drawing]] = {
            "views": lambda: self.views(FILE_WIDTH, FILE_HEIGHT),
            "exploded": lambda: self.exploded(FILE_WIDTH, FILE_HEIGHT),
        }
        for plane in self.sections:
            name = _file_name("section", plane.letter)
            wanted[name] = partial(self.section, plane.letter, FILE_WIDTH, FILE_HEIGHT)
        for one in self.design.assemblies:
            wanted[_file_name("assembly", one.key)] = partial(self.assembly, one.key, FILE_WIDTH, FILE_HEIGHT)
        for other in self.design.positions[1:]:
            name = other.name
            wanted[_file_name("position", name)] = partial(self.position, name, FILE_WIDTH, FILE_HEIGHT)
            wanted[_file_name("views", name)] = partial(self._views, FILE_WIDTH, FILE_HEIGHT, other)
        for part in self.design.parts:
            wanted[f"part-{part.mark}"] = partial(self.part_sheet, part, FILE_WIDTH, FILE_HEIGHT)
        for plan in self.take_off.plans:
            for diagram in plan.diagrams:
                wanted[_cutting_name(diagram)] = partial(self.cutting, (diagram,), FILE_WIDTH, FILE_HEIGHT)
        for name, draw in wanted.items():
            if name not in self._drawn:
                drawing = draw()
                self._drawn.setdefault(name, drawing)  # what it kept itself has no title block yet
        return {f"{name}.svg": svg_bytes(self._sheet(name)) for name in wanted}

    def _sheet(self, name: str) -> Drawing:
        """Give a kept drawing with its title block, and white paper round it."""
        drawing = self._titled(name, self._drawn[name])
        width, height = drawing.width + 2 * FILE_MARGIN, drawing.height + 2 * FILE_MARGIN
        return replace(drawing, width=width, height=height, marks=drawing.moved(FILE_MARGIN, FILE_MARGIN))

    def dxf_files(self) -> dict[str, bytes]:
        """Give every part and every pattern at full size for machines; the sample edition gives none."""
        if self.edition == "sample":
            return {}
        drawn: dict[str, Drawing] = {}
        for part in self.design.parts:
            drawn[f"part-{part.mark}"] = part_drawing(self.solids, part, self.style)
            for number, pattern in enumerate(pattern_drawings(part, self.style), 1):
                drawn[f"pattern-{part.mark}" + (f"-{number}" if number > 1 else "")] = pattern
        return {f"{name}.dxf": dxf_bytes(self._by_standard(drawing)) for name, drawing in drawn.items()}

    def _titled(self, name: str, drawing: Drawing) -> Drawing:
        """Put a title block under a drawing, as wide as it is and as high as its words need."""
        scales = (mark.text for mark in drawing.marks if isinstance(mark, Text) and mark.role == "scale")
        unnamed = "bar" if name.startswith("cutting") else "none"  # proven by its bar only; not to scale
        block = self._block(name, drawing.title, next(scales, unnamed))
        width = max(drawing.width, 140.0)
        under = block_height(block, width) + BLOCK_GAP
        marks = (*drawing.moved(0.0, under), *title_block(block, width, symbol=False))
        return replace(drawing, width=width, height=drawing.height + under, marks=marks)

    def _block(self, name: str, title: str, scale: str) -> TitleBlock:
        """Fill the fields of ISO 7200 for a drawing; sheets count in file order."""
        names = self._sheet_names
        document = "General arrangement" if name == "views" else title
        return block_of(self.design.project, document, names.index(name) + 1, sheets=len(names), scale=scale)

    @cached_property
    def _sheet_names(self) -> tuple[str, ...]:
        sections = (_file_name("section", one.letter) for one in self.sections)
        assemblies = (_file_name("assembly", one.key) for one in self.design.assemblies)
        positions = (
            _file_name(kind, one.name) for one in self.design.positions[1:] for kind in ("position", "views")
        )
        parts = (f"part-{part.mark}" for part in self.design.parts)
        cutting = (_cutting_name(diagram) for plan in self.take_off.plans for diagram in plan.diagrams)
        return ("views", "exploded", *sections, *assemblies, *positions, *parts, *cutting)


def _file_name(kind: str, name: str) -> str:
    """Name a drawing's file after what it shows: words joined by hyphens, and nothing that no file may be."""
    return "-".join([kind, *re.findall(r"\w+", name)])


def _cutting_name(diagram: CuttingDiagram) -> str:
    return f"cutting-{diagram.stock.replace(' ', '-')}-{diagram.number}"
