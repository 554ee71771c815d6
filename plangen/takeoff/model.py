"""The records of the take-off. Every printed list is a view of these."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from plangen.design.model import Money
from plangen.takeoff.banding import BandingLine
from plangen.units import ZERO, Length, Phrase


@dataclass(frozen=True, slots=True)
class CutLine:
    """One line of the cut list: a mark, how many, and the finished size (L along the grain)."""

    part: str  # key
    mark: str
    title: str
    number: int
    stock: str
    thickness: Length
    width: Length
    length: Length
    shoulder_length: Length | None  # where joints add to the length
    shoulder_width: Length | None
    from_work: bool  # starred: cut late from a measured opening
    notes: tuple[Phrase, ...]
    cut_length: Length | None = None  # as it is cut, where banding adds to it
    cut_width: Length | None = None
    banding: Length = ZERO  # of one piece, all edges end to end
    diameter: Length | None = None  # of a piece that is round over its whole length


@dataclass(frozen=True, slots=True)
class HardwareLine:
    """One line of the hardware bill."""

    number_mark: int  # the square mark: 1, 2, 3 …
    item: str
    title: str
    size: Phrase
    count: int
    packs: int | None
    by: tuple[tuple[str, int], ...]  # joint or fit name, count
    price: Money | None
    cost: Money | None


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece on a board or sheet: its low corner from the low left, and its size as cut."""

    part: str  # key
    mark: str
    x: Length
    y: Length
    length: Length  # along x
    width: Length  # along y
    turned: bool


@dataclass(frozen=True, slots=True)
class SawCut:
    """One pass of the saw, in order: straight from edge to edge of the piece it cuts.

    ``along`` is the direction of the cut; ``at`` its reading from the low edge of that piece. ``by`` tells
    whether that piece goes over the saw bench, or is so large that a hand-held saw divides it along a rail.
    """

    number: int
    along: Literal["x", "y"]
    at: Length
    low: Length  # where the cut starts and ends along itself, on the board or sheet
    high: Length
    position: Length  # coordinate of the cut line on the board or sheet
    by: Literal["bench", "hand"] = "bench"


@dataclass(frozen=True, slots=True)
class OffCut:
    """A piece left over that is worth keeping."""

    x: Length
    y: Length
    length: Length
    width: Length


@dataclass(frozen=True, slots=True)
class CuttingDiagram:
    """One board or sheet to buy, and how to cut it. x is along the grain."""

    stock: str
    number: int  # 1, 2, 3 … within its stock
    length: Length
    width: Length
    thickness: Length
    title: Phrase
    pieces: tuple[Placed, ...]
    cuts: tuple[SawCut, ...]
    off_cuts: tuple[OffCut, ...]
    used: Fraction  # share of the area that becomes parts
    kind: Literal["board", "sheet"] = "board"


@dataclass(frozen=True, slots=True)
class StockPlan:
    """What to buy of one stock, with the bound that says how good the plan is."""

    stock: str
    diagrams: tuple[CuttingDiagram, ...]
    bound: int  # no plan can use fewer boards or sheets than this
    bound_reason: str  # one sentence
    board_feet: Fraction | None  # bought, by the trade rule
    net_board_feet: Fraction | None  # of finished parts, actual sizes
    square_feet: Fraction | None  # sheets bought
    cost: Money | None
    kerf: Length
    allowance_length: Length  # each piece is cut this much over
    allowance_width: Length
    bound_words: Phrase = field(default_factory=Phrase)  # ``bound_reason`` with its lengths still exact
    measure_note: Phrase = field(default_factory=Phrase)  # what the measures count, and what is waste
    volume: Fraction = Fraction(0)  # mm3 bought, at the nominal thickness
    net_volume: Fraction = Fraction(0)  # mm3 of the finished blanks, at their real thickness


@dataclass(frozen=True, slots=True)
class CostLine:
    """A line of the cost table; ``cost`` is None where the maker gave no price.

    ``quantity`` is in the project's own units; ``words`` prints it in those of any edition.
    """

    title: str
    quantity: str
    cost: Money | None
    words: Phrase = field(default_factory=Phrase)


@dataclass(frozen=True, slots=True)
class TakeOff:
    """All lists of one build."""

    cut_list: tuple[CutLine, ...]  # in the order of marks; grouped by stock when printed
    hardware: tuple[HardwareLine, ...]
    plans: tuple[StockPlan, ...]
    costs: tuple[CostLine, ...]
    total_cost: Money | None
    unpriced: tuple[str, ...]  # what the total leaves out
    part_mass: Mapping[str, Fraction]  # kg of one piece, by part key
    mass: Fraction  # kg, the whole
    mass_note: str
    tools: tuple[Phrase, ...]
    glue_area: Fraction  # mm2
    finish_area: Fraction  # mm2
    area_note: str = ""  # what the two areas count
    glues: tuple[tuple[str, Fraction | None], ...] = ()  # every glue used: name, open time in minutes
    banding: tuple[BandingLine, ...] = ()  # bought by length
