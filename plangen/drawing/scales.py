"""The scales a drawing may be printed at, and the choice among them."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.units.printing import System


@dataclass(frozen=True, order=True, slots=True)
class Scale:
    """``paper`` millimetres on the sheet for every ``real`` millimetres of the piece."""

    paper: int
    real: int

    @property
    def factor(self) -> float:
        """What a size of the piece is multiplied by."""
        return self.paper / self.real

    @property
    def text(self) -> str:
        """The scale as printed: ``1:4``."""
        return f"{self.paper}:{self.real}"


# ISO 5455:1979, table 1 (recommended scales), as remembered.
METRIC_SCALES = tuple(
    Scale(*pair)
    for pair in ((5, 1), (2, 1), (1, 1), (1, 2), (1, 5), (1, 10), (1, 20), (1, 50), (1, 100), (1, 200))
)

# Common practice, no source: even fractions of an inch, then whole fractions of an inch to the foot
# (1:12 is 1 in, 1:16 is 3/4 in, 1:24 is 1/2 in, 1:32 is 3/8 in, 1:48 is 1/4 in, 1:96 is 1/8 in).
INCH_SCALES = tuple(
    Scale(*pair)
    for pair in (
        (4, 1),
        (2, 1),
        (1, 1),
        (1, 2),
        (1, 4),
        (1, 8),
        (1, 12),
        (1, 16),
        (1, 24),
        (1, 32),
        (1, 48),
        (1, 96),
    )
)


# ISO 5455:1979 lets intermediate scales be used in exceptional cases (as remembered): where a page would
# stay half empty. 1:3 and 1:6 are 4 in and 2 in to the foot (common practice, no source).
BETWEEN_METRIC = tuple(Scale(1, real) for real in (3, 4, 6, 8, 15, 25, 30, 40))
BETWEEN_INCH = tuple(Scale(1, real) for real in (3, 6, 10, 20))


def standard_scales(system: System) -> tuple[Scale, ...]:
    """Give the scales customary for a unit system, the largest first."""
    return METRIC_SCALES if system == "mm" else INCH_SCALES


def fine_scales(system: System) -> tuple[Scale, ...]:
    """Give the standard scales and the steps between them that fill a page better, the largest first."""
    between = BETWEEN_METRIC if system == "mm" else BETWEEN_INCH
    return tuple(sorted((*standard_scales(system), *between), key=lambda scale: -scale.factor))


def choose_scale(
    width: float,
    height: float,
    room_width: float,
    room_height: float,
    system: System,
    *,
    largest: Scale = Scale(1, 1),
) -> Scale:
    """Choose the largest standard scale at which ``width`` × ``height`` goes into the room (all mm).

    Never larger than ``largest``. Where even the smallest scale is too large, the next whole hundred
    (metric) or whole multiple of 48 (inch) that fits is made. Raises ValueError for a room of no size.
    """
    if room_width <= 0 or room_height <= 0:
        raise ValueError("no room for a drawing")
    needed = max(width / room_width, height / room_height)
    for scale in standard_scales(system):
        if scale.factor <= largest.factor and needed * scale.factor <= 1 + 1e-9:
            return scale
    step = 100 if system == "mm" else 48
    return Scale(1, step * -(-int(needed + 1) // step))
