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
class StagedLine:
    """One line of what is milled now, cut now or cut later: a part's pieces at the size they get then."""

    part: str  # key
    mark: str
    title: str
    number: int
    stock: str
    thickness: Length
    width: Length
    length: Length  # along the grain
    notes: tuple[Phrase, ...] = ()
    starred: bool = False  # a size of it is read from the work
    spare: bool = False  # more than the parts need
    rough_thickness: Length | None = None  # what it is planed from; None where it comes at its thickness


@dataclass(frozen=True, slots=True)
class Stage:
    """A list of pieces by when the shop comes to them; ``includes`` says what its sizes hold."""

    name: Literal["mill", "cut", "later"]
    title: str
    includes: Phrase
    lines: tuple[StagedLine, ...]  # by stock, then thick before thin, wide before narrow, long before short


@dataclass(frozen=True, slots=True)
class HardwareLine:
    """One line of the hardware bill.

    ``bought`` are the packs to buy, large ones first: pieces in each, and how many; single pieces are
    packs of one. ``left`` of their pieces are over. ``included`` of the ``count`` lie in the box with
    ``included_with``, a row of ``hardware``, and are neither bought nor paid. ``cost`` is None where the
    maker gave no price, and where nothing is to be bought.
    """

    number_mark: int  # the square mark: 1, 2, 3 …
    item: str
    title: str
    size: Phrase
    count: int
    packs: int | None
    by: tuple[tuple[str, int], ...]  # joint or fit name, count
    price: Money | None
    cost: Money | None
    bought: tuple[tuple[int, int], ...] = ()
    left: int = 0
    included: int = 0
    included_with: str = ""


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
    spare: bool = False  # more than the parts need


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
    bought: bool = True  # or taken from the rack
    unsound: Length = ZERO  # of its length, at the high end: left for knots, checks and sapwood


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

    @property
    def bought(self) -> tuple[CuttingDiagram, ...]:
        """The boards or sheets that are bought; the others stand on the rack."""
        return tuple(diagram for diagram in self.diagrams if diagram.bought)


@dataclass(frozen=True, slots=True)
class CostLine:
    """A line of the cost table; ``cost`` is None where the maker gave no price.

    ``quantity`` is in the project's own units; ``words`` prints it in those of any edition. ``cost`` is
    exact, and printed as it is paid: rounded to the currency's smallest coin, halves up. The total is the
    sum of the lines as they are printed. ``item`` is the row of the file that it comes from.
    """

    title: str
    quantity: str
    cost: Money | None
    words: Phrase = field(default_factory=Phrase)
    kind: Literal["wood", "hardware", "banding", "glue", "finish"] = "wood"
    item: str = ""
    named: Phrase = field(default_factory=Phrase)  # ``title`` with its lengths still exact


@dataclass(frozen=True, slots=True)
class WasteRule:
    """What the waste rule would buy of one stock: the need over one less the share that is lost.

    ``need`` is what the finished parts and spare blanks take, ``least`` the need over one less ``share``,
    ``buy`` that rounded up to what the yard sells; all in ``unit``. ``governs``: it is what the cost
    counts, in place of the cutting plan. ``words`` say all of it.
    """

    stock: str
    share: Fraction
    need: Fraction
    least: Fraction
    buy: Fraction
    unit: Literal["board foot", "cubic metre", "board", "sheet"]
    cost: Money | None
    governs: bool
    words: Phrase


@dataclass(frozen=True, slots=True)
class ConsumableLine:
    """One glue or finish to buy.

    ``area`` is that of one coat in mm2, of a glue one of the two faces. ``amount`` is what all coats take
    in mm3 or g (``measure``), None where nothing says how far it goes. ``number`` bottles or cans hold it,
    None where nothing says what one holds, and ``left`` is over. ``assumed``: how far it goes is common
    practice and not the maker's figure. ``words`` say all of it.
    """

    kind: Literal["glue", "finish"]
    item: str
    title: str
    area: Fraction
    coats: int
    amount: Fraction | None
    measure: Literal["volume", "mass"]
    number: int | None
    left: Fraction | None
    cost: Money | None
    assumed: bool
    words: Phrase


@dataclass(frozen=True, slots=True)
class TakeOff:
    """All lists of one build."""

    cut_list: tuple[CutLine, ...]  # in the order of marks; printed in the shop's order
    hardware: tuple[HardwareLine, ...]
    plans: tuple[StockPlan, ...]
    costs: tuple[CostLine, ...]
    total_cost: Money | None  # the sum of the lines, each rounded as it is paid
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
    consumables: tuple[ConsumableLine, ...] = ()  # glues, then finishes, by area
    waste_rules: tuple[WasteRule, ...] = ()  # beside the plans, for stock whose waste is said
    assembly_mass: Mapping[str, Fraction] = field(default_factory=dict)  # kg of one copy, by assembly key
    cost_notes: tuple[
        Phrase, ...
    ] = ()  # the date of the prices, what the total leaves out, how it is rounded
    stages: tuple[Stage, ...] = ()  # what to mill now, cut now, cut later
    hardware_note: str = ""  # what the counts leave out
    consumable_note: Phrase = field(
        default_factory=Phrase
    )  # where the figures come from, and what is left to the maker
