"""Small designs for the lists: the shared sample, and boxes of plain parts in any stock."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from plangen.design.model import Copy, Design, Part, Stock
from plangen.findings import Findings
from plangen.joinery.space import IDENTITY_TURN, ORIGIN, Axis, Box, Point, Pose
from plangen.takeoff import take_off
from plangen.takeoff.model import TakeOff
from plangen.units import ZERO, Length, inches, millimetres, phrase
from tests.sample_design import PLACE, sample_design

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


def plain_part(
    index: int, number: int, width: Length, length: Length, stock: Stock, thickness: Length | None = None
) -> Part:
    key = f"piece {index}"
    blank = Box(ORIGIN, Point(length, width, thickness or stock.thickness))
    copies = tuple(
        Copy(f"{key} {copy}", key, Pose(IDENTITY_TURN, ORIGIN), blank, blank, PLACE) for copy in range(number)
    )
    return Part(
        key, key, key.capitalize(), LETTERS[index], None, None, stock.name, Axis.ACROSS, Axis.DEEP, Axis.UP,
        blank, length, width, (), copies, (), None, None, False, "", PLACE,
    )  # fmt: skip


def plain_design(stock: Stock, rows: list[tuple[int, Length, Length]], units: str = "inch") -> Design:
    """Rows are number, width, length."""
    parts = tuple(plain_part(index, *row, stock) for index, row in enumerate(rows))
    sample = sample_design()
    kerf = inches("1/8") if units == "inch" else millimetres(3)
    return replace(
        sample, project=replace(sample.project, units=units), shop=replace(sample.shop, kerf=kerf),
        stock={stock.name: stock}, hardware={}, joints=(), fits=(), parts=parts,
    )  # fmt: skip


def pine(**changes: object) -> Stock:
    return replace(sample_design().stock["pine"], **changes)  # type: ignore[arg-type]


def plywood(**changes: object) -> Stock:
    return replace(sample_design().stock["ply"], **changes)  # type: ignore[arg-type]


def metric_plywood() -> Stock:
    eighteen = millimetres(18)
    return plywood(
        sheet=(millimetres(1220), millimetres(2440)), label=phrase(eighteen), thickness=eighteen, price=None
    )


def taken(design: Design) -> tuple[TakeOff, Findings]:
    findings = Findings()
    return take_off(design, None, findings), findings


def kinds(findings: Findings) -> list[str]:
    return [finding.kind for finding in findings]


__all__ = [
    "ZERO",
    "Fraction",
    "inches",
    "kinds",
    "metric_plywood",
    "millimetres",
    "phrase",
    "pine",
    "plain_design",
    "plain_part",
    "plywood",
    "taken",
]  # fmt: skip
