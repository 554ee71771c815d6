"""Lay pieces out on boards and sheets so that a saw can really cut them.

Knows no furniture: rectangles in, rectangles and saw cuts out. All lengths are whole numbers of one
small unit that the caller chooses, so that a plan is exact and the same on every machine. ``x`` runs
along the length of a board or sheet (along its grain), ``y`` across it.
"""

from plangen.takeoff.cutting.boards import plan_boards
from plangen.takeoff.cutting.bounds import fewest
from plangen.takeoff.cutting.lengths import plan_lengths
from plangen.takeoff.cutting.model import (
    Aim,
    Bound,
    Cut,
    Direction,
    GuideTooShortError,
    Laid,
    Layout,
    Margins,
    Panel,
    Piece,
    Plan,
    Rest,
    Sawing,
    TogetherError,
    TooFewError,
    TooLargeError,
)
from plangen.takeoff.cutting.sheets import plan_sheets

__all__ = [
    "Aim",
    "Bound",
    "Cut",
    "Direction",
    "GuideTooShortError",
    "Laid",
    "Layout",
    "Margins",
    "Panel",
    "Piece",
    "Plan",
    "Rest",
    "Sawing",
    "TogetherError",
    "TooFewError",
    "TooLargeError",
    "fewest",
    "plan_boards",
    "plan_lengths",
    "plan_sheets",
]
