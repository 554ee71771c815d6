"""The dimensioned drawing of one part, and its full-size pattern."""

from plangen.drawing.part_sheets.pattern import pattern_pages
from plangen.drawing.part_sheets.plan import Dimension, PartPlan, part_dimensions
from plangen.drawing.part_sheets.printed import PrintedDimension
from plangen.drawing.part_sheets.sheet import PartSheet, part_sheet, printed_dimensions

__all__ = [
    "Dimension",
    "PartPlan",
    "PartSheet",
    "PrintedDimension",
    "part_dimensions",
    "part_sheet",
    "pattern_pages",
    "printed_dimensions",
]
