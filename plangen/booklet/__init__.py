"""Chapters, editions and pages: sets the booklet from design, lists, steps, pictures and templates."""

from plangen.drawing.writers.pdf_fonts import register_fonts

register_fonts()  # before anything of this room imports platypus, which reads its default font at import

from plangen.booklet.build import build_booklet, layout_defects, set_booklet  # noqa: E402
from plangen.booklet.model import Book, Booklet, Edition, LayoutDefect, PageRecord, Paper, Pictures  # noqa: E402

__all__ = [
    "Book",
    "Booklet",
    "Edition",
    "LayoutDefect",
    "PageRecord",
    "Paper",
    "Pictures",
    "build_booklet",
    "layout_defects",
    "set_booklet",
]
