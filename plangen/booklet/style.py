"""The measures of a page: paper, grid, type sizes, tones. Lengths in points unless a name says mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from reportlab.lib.colors import HexColor
from reportlab.lib.enums import TA_LEFT, TA_RIGHT
from reportlab.lib.styles import ParagraphStyle

from plangen.booklet.model import Edition, Paper
from plangen.drawing.sheet.model import Weight
from plangen.drawing.writers.pdf_fonts import font_name

MM = 72 / 25.4
PAPER_MM: dict[Paper, tuple[float, float]] = {
    "letter": (215.9, 279.4),
    "a4": (210.0, 297.0),
}  # ISO 216 for A4
MARGIN_MM, PUNCH_MARGIN_MM = 19.0, 25.0
GUTTER_MM = 4.0
COLUMNS = 12

INK = HexColor("#000000")
SECONDARY = HexColor("#595959")
BAR = HexColor("#8C8C8C")
PAPER_WHITE = HexColor("#FFFFFF")

HEAD_RULE, HAIR_RULE, RING, RING_STRONG = 0.5 * MM, 0.18 * MM, 0.25 * MM, 0.5 * MM


@dataclass(frozen=True)
class Page:
    """The paper and its text block; ``bottom`` and ``top`` bound what text may fill."""

    width: float
    height: float
    left: float
    right: float
    top: float
    bottom: float
    foot: float  # baseline of the running foot

    @property
    def measure(self) -> float:
        """Width of the text block."""
        return self.right - self.left

    @property
    def depth(self) -> float:
        """Height of the text block."""
        return self.top - self.bottom

    def span(self, columns: int) -> float:
        """Width of a number of grid columns with the gutters between them."""
        gutter = GUTTER_MM * MM
        one = (self.measure - (COLUMNS - 1) * gutter) / COLUMNS
        return columns * one + (columns - 1) * gutter

    def column(self, index: int) -> float:
        """Offset of a grid column from the left edge of the text block."""
        return self.span(index) + GUTTER_MM * MM if index else 0.0


def page_of(paper: Paper, edition: Edition) -> Page:
    """Give the page of a paper size; the binder edition keeps room for the punch on the left."""
    width, height = (side * MM for side in PAPER_MM[paper])
    left = (PUNCH_MARGIN_MM if edition == "binder" else MARGIN_MM) * MM
    return Page(
        width,
        height,
        left,
        width - MARGIN_MM * MM,
        height - 17 * MM,
        21 * MM,
        12.5 * MM,
    )


@dataclass(frozen=True)
class TypeSizes:
    """Type sizes and leadings, in points."""

    body: float
    body_leading: float
    small: float
    small_leading: float
    figure: float  # sizes in the cut list
    heading: float = 25.0
    heading_leading: float = 29.0
    section: float = 13.0
    block: float = 10.5
    eyebrow: float = 10.5
    big: float = 32.0
    title: float = 52.0
    line: float = 16.0


def type_sizes(edition: Edition) -> TypeSizes:
    """Give the type of an edition: the binder is read at arm's length, so its figures are 5 mm high."""
    if edition == "binder":
        return TypeSizes(body=12.0, body_leading=16.0, small=10.0, small_leading=13.0, figure=22.0)
    return TypeSizes(body=10.5, body_leading=14.17, small=9.0, small_leading=12.0, figure=10.5)


REGULAR, SEMIBOLD, BOLD = (font_name(weight) for weight in (Weight.REGULAR, Weight.SEMIBOLD, Weight.BOLD))


@dataclass(frozen=True)
class Look:
    """Page, type and the paragraph styles made from them."""

    page: Page
    sizes: TypeSizes
    edition: Edition

    def style(
        self,
        name: str,
        size: float,
        leading: float,
        *,
        weight: str = REGULAR,
        colour: Any = INK,
        right: bool = False,
        before: float = 0.0,
        after: float = 0.0,
        indent: float = 0.0,
        keep: bool = False,
        hang: float | None = None,
    ) -> Any:
        """Give a paragraph style; widows and orphans are never allowed."""
        return ParagraphStyle(
            name,
            fontName=weight,
            fontSize=size,
            leading=leading,
            textColor=colour,
            alignment=TA_RIGHT if right else TA_LEFT,
            spaceBefore=before,
            spaceAfter=after,
            leftIndent=indent,
            firstLineIndent=0,
            bulletIndent=0 if hang is None else hang,
            allowWidows=0,
            allowOrphans=0,
            keepWithNext=1 if keep else 0,
            bulletFontName=SEMIBOLD,
            bulletFontSize=size,
            splitLongWords=0,
            uriWasteReduce=0,
        )

    @property
    def body(self) -> Any:
        """Running text."""
        return self.style("body", self.sizes.body, self.sizes.body_leading, after=2.2 * MM)

    @property
    def cell(self) -> Any:
        """Text in a table."""
        return self.style("cell", self.sizes.body, self.sizes.body_leading)

    @property
    def item(self) -> Any:
        """A list item."""
        return self.style("item", self.sizes.body, self.sizes.body_leading, after=1.4 * MM, indent=6 * MM)

    @property
    def section(self) -> Any:
        """A section head inside a chapter."""
        size = self.sizes.section
        return self.style(
            "section", size, size * 1.3, weight=SEMIBOLD, before=7 * MM, after=2.4 * MM, keep=True
        )

    @property
    def block(self) -> Any:
        """A small head."""
        size = self.sizes.block
        return self.style(
            "block", size, size * 1.3, weight=SEMIBOLD, before=4 * MM, after=1.2 * MM, keep=True
        )

    @property
    def heading(self) -> Any:
        """The head of a page."""
        return self.style("heading", self.sizes.heading, self.sizes.heading_leading, weight=SEMIBOLD)

    @property
    def small(self) -> Any:
        """Captions and notes."""
        return self.style("small", self.sizes.small, self.sizes.small_leading, colour=SECONDARY)


def look_of(paper: Paper, edition: Edition) -> Look:
    """Give the whole look of an edition on a paper."""
    return Look(page_of(paper, edition), type_sizes(edition), edition)
