"""A rule as a number."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from csv import writer
from dataclasses import dataclass
from io import StringIO


@dataclass(frozen=True, slots=True)
class Gauge:
    """One rule measured on one picture: the figure, the bound that the rule states, and whether it holds.

    ``at`` names the piece, joint or mark with the figure.
    """

    rule: int
    name: str
    figure: float
    bound: float
    holds: bool
    at: str = ""

    @property
    def fails_badly(self) -> bool:
        """Whether a builder would be misled: a piece all but hidden, a leader to something else."""
        if self.holds:
            return False
        return self.figure < 0.2 * self.bound if self.rule == 10 else self.rule == 20


def gauges_csv(rows: Sequence[tuple[str, Gauge]]) -> bytes:
    """Write gauges, each with the name of its picture, as a table for spreadsheets."""
    text = StringIO()
    table = writer(text, lineterminator="\n")
    table.writerow(("picture", "rule", "what", "figure", "bound", "holds", "at"))
    for picture, one in rows:
        holds = "yes" if one.holds else "no"
        table.writerow((picture, one.rule, one.name, f"{one.figure:g}", f"{one.bound:g}", holds, one.at))
    return text.getvalue().encode()


def at_least(rule: int, name: str, figure: float, bound: float, at: str = "") -> Gauge:
    """Give the gauge of a figure that must not be under its bound."""
    figure = round(float(figure), 3)
    return Gauge(rule, name, figure, bound, figure >= bound, at)


def at_most(rule: int, name: str, figure: float, bound: float, at: str = "") -> Gauge:
    """Give the gauge of a figure that must not be over its bound; ``at`` is given where it is."""
    figure = round(float(figure), 3)
    return Gauge(rule, name, figure, bound, figure <= bound, at)


def worst_of(rule: int, name: str, figures: Mapping[str, float], bound: float, *, most: bool) -> Gauge:
    """Give the gauge of the worst of some figures, which must not be over (``most``) or under the bound."""
    sign = -1 if most else 1
    at = min(figures, key=lambda item: (sign * round(float(figures[item]), 6), item))
    return (at_most if most else at_least)(rule, name, figures[at], bound, at)
