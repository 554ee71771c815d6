"""Chapters, editions and pages: sets the booklet as a PDF from design, lists, steps, pictures and templates."""

from plangen.booklet.build import build_booklet, layout_defects, set_booklet
from plangen.booklet.model import Book, Booklet, Edition, LayoutDefect, PageRecord, Paper, Pictures

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
