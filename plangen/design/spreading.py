"""Copies in a row: at equal gaps between two places, or at a pitch from a first."""

from __future__ import annotations

from fractions import Fraction

from plangen.design.placing import Copied, InRow
from plangen.design.values import Values, fault
from plangen.expressions import parse_expression
from plangen.joinery.space import Side
from plangen.units import ZERO, Length


def row_start(copied: Copied, size: Length, scope: Values) -> Length:
    """Give the low end of a copy of a row along the row. Raises ProjectError."""
    row = _row(copied)
    spread = row.spread
    if spread.pitch is None and spread.first is None:
        first, gap = first_and_gap(copied, size, scope)
        return first + (size + gap) * row.index
    if spread.first is None or spread.pitch is None or spread.from_ is not None or spread.to is not None:
        raise fault(
            "spread",
            "a spread goes `from` one place `to` another, or from its `first` place by a `pitch`",
            spread.place,
            f"`first` is the {Side.of(row.axis, False).word} of the first copy, "
            "`pitch` from there to the same side of the next",
            copied.part,
        )
    pitch = spread.pitch.length(scope)
    if not pitch:
        raise fault(
            "spread",
            "with no pitch all copies stand in one place",
            spread.place_of("pitch"),
            "give the distance from one copy to the next",
            copied.part,
        )
    return spread.first.length(scope) + pitch * row.index


def first_and_gap(copied: Copied, size: Length, scope: Values) -> tuple[Length, Length]:
    """Give where the first copy of a row begins, and the gap between neighbours. Raises ProjectError."""
    row = _row(copied)
    spread = row.spread
    if spread.gap is not None:
        return shared_ends(copied, scope)[0], spread.gap.length(scope)
    if spread.pitch is not None and spread.first is not None:
        return spread.first.length(scope), spread.pitch.length(scope) - size
    if spread.from_ is None or spread.to is None:
        raise fault(
            "missing-key",
            "a spread needs `from` and `to`, or `first` and `pitch`",
            spread.place,
            "say between which two places the copies stand",
            copied.part,
        )
    low, high = spread.from_.length(scope), spread.to.length(scope)
    free = high - low - size * row.number
    inset, gaps = _ends(copied, row, scope)
    # ``gaps`` counts those at the two ends too; an inset at either end is no gap.
    gap = (free - inset * 2) / gaps
    if gap.mm < 0:
        raise fault(
            "spread",
            f"{row.number} copies of `{copied.part}` do not fit between the two places",
            spread.place,
            "use fewer, or make them narrower",
            copied.part,
        )
    most = spread.gap_at_most.length(scope) if spread.gap_at_most is not None else None
    if most is not None and gap > most:
        raise fault(
            "spread",
            f"the gaps come to more than `gap at most` with {row.number} copies",
            spread.place_of("gap_at_most"),
            "use more copies",
            copied.part,
        )
    ends = str(spread.ends or "gap")
    return low + {"gap": gap, "half gap": gap / 2}.get(ends, inset), gap


def shared_ends(copied: Copied, scope: Values) -> tuple[Length, Length]:
    """Give the ends of a copy in a row whose copies share what its gaps leave. Raises ProjectError.

    The gaps are typed; what is left between ``from`` and ``to`` is divided by ``shares``, equally
    without them.
    """
    row = _row(copied)
    spread = row.spread
    assert spread.gap is not None
    if (
        spread.from_ is None
        or spread.to is None
        or spread.pitch is not None
        or spread.gap_at_most is not None
    ):
        raise fault(
            "spread",
            "a spread with a `gap` goes `from` one place `to` another",
            spread.place,
            "give both, and neither `pitch` nor `gap at most`; the sizes follow",
            copied.part,
        )
    gap = spread.gap.length(scope)
    inset, _ = _ends(copied, row, scope)
    outer = {"gap": gap, "half gap": gap / 2}.get(str(spread.ends or "gap"), inset)
    low, high = spread.from_.length(scope) + outer, spread.to.length(scope) - outer
    free = high - low - gap * (row.number - 1)
    shares = [share.number(scope) for share in spread.shares or ()] or [Fraction(1)] * row.number
    if len(shares) != row.number or min(shares) <= 0:
        raise fault(
            "spread",
            f"{len(shares)} shares for {row.number} copies"
            if len(shares) != row.number
            else "a share is not above zero",
            spread.place_of("shares"),
            "give each copy a share above zero, in the order of the row",
            copied.part,
        )
    if free.mm <= 0 or gap.mm < 0:
        raise fault(
            "spread",
            f"the gaps leave nothing for {row.number} copies of `{copied.part}`"
            if gap.mm >= 0
            else "a gap is below zero",
            spread.place_of("gap"),
            "make the gap smaller, or use fewer copies",
            copied.part,
        )
    part = free / sum(shares)
    start = low + gap * row.index + part * sum(shares[: row.index], Fraction(0))
    return start, start + part * shares[row.index]


def _ends(copied: Copied, row: InRow, scope: Values) -> tuple[Length, Fraction]:
    """What is kept free at either end, and how many gaps are left."""
    ends = row.spread.ends
    if ends is None or str(ends) == "gap":
        return ZERO, Fraction(row.number + 1)
    if str(ends) == "half gap":
        return ZERO, Fraction(row.number)
    if row.number < 2:
        raise fault(
            "spread",
            "one copy has no neighbour to keep a gap from",
            row.spread.place,
            "use `centred`, or `ends: gap`",
            copied.part,
        )
    inset = ZERO if str(ends) == "flush" else parse_expression(ends).length(scope)
    return inset, Fraction(row.number - 1)


def _row(copied: Copied) -> InRow:
    assert copied.row is not None
    return copied.row
