"""What a booklet is made from, and what it is when it is made."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, Protocol

from plangen.design.model import Design, Part
from plangen.drawing.cutting_plane import CuttingPlane
from plangen.drawing.sheet.model import Drawing
from plangen.sequence.model import OrderOfWork, Step
from plangen.solids.model import Solids
from plangen.takeoff.model import CuttingDiagram, TakeOff
from plangen.units import LengthStyle

Paper = Literal["letter", "a4"]
Edition = Literal["publish", "binder", "sample"]


class Pictures(Protocol):
    """Whoever draws the pictures; widths and heights in millimetres, and no drawing is larger than asked."""

    def hero(self, width: float, height: float) -> Drawing:
        """The finished piece, shaded, for the cover."""

    def views(self, width: float, height: float) -> Drawing:
        """The views with overall sizes."""

    def exploded(self, width: float, height: float) -> Drawing:
        """The parts drawn apart, with marks and no sizes."""

    def assembly(self, key: str, width: float, height: float) -> Drawing:
        """One copy of an assembly, its parts drawn apart."""

    def position(self, name: str, width: float, height: float) -> Drawing:
        """The piece in one of its positions."""

    def section(self, letter: str, width: float, height: float) -> Drawing:
        """The piece cut through at the plane with a letter."""

    def step(self, step: Step, width: float, height: float) -> Drawing:
        """The picture of one step."""

    def part_sheet(self, part: Part, width: float, height: float) -> Drawing:
        """The dimensioned drawing of one part."""

    def cutting(self, diagrams: Sequence[CuttingDiagram], width: float, height: float) -> Drawing:
        """Boards or sheets of one stock, to scale."""

    def hardware(self, width: float, height: float) -> tuple[Drawing, ...]:
        """The hardware at full size, row by row; what is taller or wider is left out."""


@dataclass(frozen=True)
class Book:
    """Everything one booklet is made from.

    ``resolve`` turns the ``<upper shelf.length>`` of a Markdown text into printed lengths and marks; it
    may write links such as ``[B](<part:shelf>)``. ``templates`` maps file names to texts: the chapters,
    ``chapters.toml`` and ``words.toml``. ``changes`` is Markdown on what differs from the last revision.
    ``patterns`` are full-size pages, each drawn for the whole paper; ``notes`` are the maker's paragraphs.
    """

    design: Design
    solids: Solids | None
    take_off: TakeOff
    order: OrderOfWork
    style: LengthStyle
    pictures: Pictures
    resolve: Callable[[str], str]
    templates: Mapping[str, str]
    paper: Paper = "letter"
    edition: Edition = "publish"
    changes: str = ""
    notes: tuple[str, ...] = ()
    patterns: tuple[tuple[str, tuple[Drawing, ...]], ...] = ()  # part key, pages
    sections: tuple[CuttingPlane, ...] = ()
    settings: tuple[str, ...] = ()  # NAME=VALUE: what this variant was made with


@dataclass(frozen=True, slots=True)
class PageRecord:
    """One page: its number from 1, its printed label, its chapter and what is marked on it."""

    number: int
    label: str
    chapter: str
    marks: tuple[str, ...]  # part marks, sorted
    steps: tuple[int, ...]  # steps that begin on it
    filled: float  # share of the text block's height that is used


DefectKind = Literal["overfull", "near-empty", "stranded-heading", "outside", "unfinished"]


@dataclass(frozen=True, slots=True)
class LayoutDefect:
    """Something on a page that a typesetter would not let pass."""

    kind: DefectKind
    page: int
    words: str


@dataclass(frozen=True, slots=True)
class Booklet:
    """A finished booklet."""

    pdf: bytes
    pages: tuple[PageRecord, ...]
    defects: tuple[LayoutDefect, ...]
    places: Mapping[str, int]  # named place ("part:shelf", "step:3", "chapter:cut-list") to page number
