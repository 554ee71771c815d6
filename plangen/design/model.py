"""The design: everything solved, nothing printed. Later rooms read these records and no others."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from typing import Literal

from plangen.findings import Place
from plangen.joinery.hardware.ware import Ware
from plangen.joinery.operation import Operation
from plangen.joinery.space import Axis, Box, Direction, Pose, Side, Stance
from plangen.units import ZERO, Length, Phrase


@dataclass(frozen=True, slots=True)
class Money:
    """An amount in a currency; exact."""

    amount: Fraction
    currency: str  # ISO 4217 code


@dataclass(frozen=True, slots=True)
class Consumable:
    """A glue or a finish as it is bought.

    ``holds`` is what a bottle or a can holds: mm3 of a volume, g of a mass; ``covers`` the mm2 that one
    of these units covers once. ``price`` is that of one bottle or can.
    """

    name: str
    title: str
    container: Literal["bottle", "can"]
    coats: int  # of a glue: one
    holds: Fraction | None
    covers: Fraction | None
    measure: Literal["volume", "mass"]  # of both
    holds_words: str  # as the label has it: "16 fl oz"
    covers_words: str
    price: Money | None
    place: Place


@dataclass(frozen=True, slots=True)
class Revision:
    """One row of the maker's revision table; ``day`` is the date of the revision, never of a build."""

    letter: str
    day: date | None
    words: str


@dataclass(frozen=True, slots=True)
class Project:
    """What the title block and the cover say."""

    title: str
    code: str
    revision: str
    revised: date | None
    line: str  # one line of what it is
    maker: str
    level: str
    hours: tuple[tuple[str, Fraction], ...]  # phase, hours
    units: Literal["inch", "mm"]
    licence: tuple[str, ...]  # paragraphs; empty: the template's own words
    revisions: tuple[Revision, ...]
    contact: str = ""
    currency: str | None = None
    priced: date | None = None  # the date of the prices
    standard: Literal["iso", "asme"] = "iso"  # whose lines and lettering the drawings have
    cover: str = ""  # the name of the position that the cover shows; none: as described


@dataclass(frozen=True, slots=True)
class Allowances:
    """What is cut over, by the maker's own rules; None where the usual is taken."""

    length: Length | None = None  # of a piece, off both ends together
    width: Length | None = None  # of a piece, off both edges together
    thickness: Length | None = None  # of a piece, off both faces together
    end: Length | None = None  # of a board, off each end
    sheet_edge: Length | None = None  # of a sheet, off each edge, kerf and all
    tape: Length | None = None  # rough sizes are rounded up to this


@dataclass(frozen=True, slots=True)
class Shop:
    """What the maker's shop can do."""

    kerf: Length
    planer: Length | None
    glues: tuple[tuple[str, Fraction | None], ...]  # name, open time in minutes
    moisture_change: Fraction | None  # percent
    waste: Fraction | None = None  # share of what is bought that is lost, where a stock says none of its own
    bench: tuple[Length, Length] | None = None  # the largest piece for the saw bench: longer, shorter side
    guide: Length | None = None  # the longest cut of a hand-held saw along a rail; None: as long as wanted
    first_cut: Literal["crosscut", "rip"] | None = None  # of a sheet
    prefer: tuple[Literal["stock", "settings", "off-cut"], ...] = ("stock", "settings", "off-cut")
    rough: Allowances = Allowances()
    spare: int = 0  # spare blanks of each stock and thickness


@dataclass(frozen=True, slots=True)
class Offer:
    """One size of board or sheet that is sold, or that is there already.

    ``price`` is that of one, by the stock's price where it has none of its own. ``have`` is how many are
    there: then no more can be had, and they cost nothing unless they have a price of their own; None: as
    many as are wanted are bought.
    """

    width: Length
    length: Length
    price: Money | None = None
    have: int | None = None


@dataclass(frozen=True, slots=True)
class Stock:
    """A material as it is bought (``label``) and as it is (``thickness``)."""

    name: str
    kind: Literal["solid", "plywood"]
    title: str  # "White pine", "Birch plywood"
    species: str
    label: Phrase  # what to ask for: "4/4", "3/4 in"
    label_thickness: Length  # nominal
    thickness: Length  # actual
    widths: tuple[Length, ...]  # boards: each width sold, or (low, high) when ``random_widths``
    lengths: tuple[Length, ...]  # boards: each length sold
    random_widths: bool
    sheet: tuple[Length, Length] | None  # width, length; the grain runs along the length
    price: Money | None
    price_per: Literal["board foot", "piece", "metre", "foot", "sheet", "cubic metre"] | None
    density: Fraction | None  # kg/m3
    density_source: str
    place: Place
    waste: Fraction | None = None  # share of what is bought that is lost; its own, else the shop's
    buy: Literal["by plan", "by waste rule"] = "by plan"
    offers: tuple[Offer, ...] = ()  # boards or sheets that are listed one by one
    defects: Fraction = Fraction(0)  # share of the length of every board that knots, checks and sapwood take
    turns: bool = False  # a sheet without grain: its pieces may lie either way


@dataclass(frozen=True, slots=True)
class Hardware:
    """A thing bought by the piece."""

    name: str
    kind: str  # 'wood screw', 'dowel', 'plug', 'shelf pin', 'wall screw' …
    title: str  # "Wood screw, flat head"
    size: Phrase  # "No. 8 × 1-1/4"
    length: Length | None
    diameter: Length | None
    head: str
    price: Money | None
    pack: int | None  # pieces in a box, where given
    stock: str | None  # plugs: the stock they are cut from
    place: Place
    head_diameter: Length | None = None
    ware: Ware | None = None  # where its kind has sizes, cuts and a shape of its own
    packs: tuple[tuple[int, Money], ...] = ()  # sizes of box to choose from, each with its price


@dataclass(frozen=True, slots=True)
class FromWork:
    """A size that the builder measures on the work and cuts late.

    ``measured`` says what is measured; ``change`` is what is added to that reading (less when negative)
    to give the size. ``formula`` says both.
    """

    axis: Axis
    formula: Phrase  # "opening between the stiles, less 1/8 in"
    expected: Length
    leave: Length  # cut this much over until then
    measured: Phrase = field(default_factory=Phrase)
    change: Length = ZERO


@dataclass(frozen=True, slots=True)
class Section:
    """A stretch of a glued-up width that is glued and planed by itself: all of it, or one of several.

    ``board_width`` is a board's once its edges are jointed, ``board_rough`` as it is ripped.
    ``width`` is the section's as it is glued.
    """

    number: int  # 1, 2, 3 … from one edge
    boards: int
    width: Length
    board_width: Length
    board_rough: Length


@dataclass(frozen=True, slots=True)
class GlueUp:
    """A piece made wide or thick from boards.

    ``width`` and ``thickness`` are those of one board, layer or strip as it counts in the finished
    piece: ``number`` of them side by side make its width, face to face its thickness. Strips are
    boards on edge: of the board each is ripped from, ``board_width`` is the strip's height.
    """

    kind: Literal["boards", "layers", "strips"]
    number: int
    width: Length  # of each board, at final size
    thickness: Length
    sections: tuple[Section, ...] = ()  # none: made by hand in a test, one section of all boards
    over_length: Length = ZERO  # glued up longer than the finished piece, trimmed after
    over_width: Length = ZERO
    over_thickness: Length = ZERO
    rough_length: Length | None = None  # of each board as it is cut, where the file says how much over
    rough_width: Length | None = None  # of each board as it is ripped
    say: tuple[Phrase, ...] = ()  # how to glue it up, in order, after the boards are milled
    grain: Literal["alternate", "same"] | None = None


@dataclass(frozen=True, slots=True)
class Blank:
    """Parts that are milled together and sawn apart later; sizes finished, saw cuts between them in it."""

    name: str
    title: str
    stock: str
    how: Literal["side by side", "end to end", "stacked"]
    number: int  # of such blanks
    parts: tuple[str, ...]  # keys
    each: tuple[int, ...]  # how many of each part come out of one blank
    length: Length
    width: Length
    thickness: Length
    place: Place


@dataclass(frozen=True, slots=True)
class Copy:
    """One placed piece. ``box`` is the finished blank in the frame, ``shoulders`` without what joints add.

    A piece of an assembly is named by the way to it, ``top drawer.face``, and ``path`` holds the
    placed assemblies from the outermost in: ``("top drawer",)``. A piece that leans has a
    ``stance``: ``pose`` carries the part upright, the stance from there into the frame, and ``box``
    and ``shoulders`` are what bounds it in the frame.
    """

    name: str
    part: str
    pose: Pose
    box: Box
    shoulders: Box
    place: Place
    path: tuple[str, ...] = ()
    stance: Stance | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """One thing to make: one drawing, one line of the cut list, ``len(copies)`` pieces.

    The part's own frame is the frame as its first copy stands, origin at the finished blank's low
    corner; ``blank`` is that box. A mirror pair is two parts with one mark and two hands.
    """

    key: str  # unique: the part's name, with " left"/" right" for a hand
    name: str  # the maker's name
    title: str  # "Side, left"
    mark: str  # "A", for a pair "A-L" and "A-R"
    hand: Literal["left", "right"] | None
    mirror: str | None  # the key of the other hand
    stock: str
    runs: Axis  # the grain and the length
    wide: Axis
    thick: Axis
    blank: Box
    shoulder_length: Length
    shoulder_width: Length
    operations: tuple[Operation, ...]
    copies: tuple[Copy, ...]
    from_work: tuple[FromWork, ...]
    glue_up: GlueUp | None
    inside: Side | None  # the face that looks to the middle of the frame, when it has one
    pattern: bool  # gets a full-size pattern
    note: str
    place: Place
    assembly: str | None = None  # the key of the assembly it belongs to
    finish: tuple[str, ...] | None = None  # the finishes that go on; None: all of the project's
    may_turn: bool = False  # may be cut across the grain of its sheet
    one_board: str = ""  # all pieces with the same words come out of one board or sheet

    @property
    def length(self) -> Length:
        """Finished length, along the grain."""
        return self.blank.size(self.runs)

    @property
    def width(self) -> Length:
        """Finished width."""
        return self.blank.size(self.wide)

    @property
    def thickness(self) -> Length:
        """Finished thickness."""
        return self.blank.size(self.thick)

    def side_word(self, axis: Axis) -> Literal["length", "width", "thickness"]:
        """Call the size along an axis by its name."""
        if axis is self.runs:
            return "length"
        return "width" if axis is self.wide else "thickness"


@dataclass(frozen=True, slots=True)
class HardwareUse:
    """Hardware that one joint or one fit uses, over all its contacts.

    ``spots`` says where each piece goes: the copy that receives it first, the middle of its head
    end in the frame, and the side of that copy it enters from.
    """

    item: str
    number: int
    by: str  # name of the joint or fit
    spots: tuple[tuple[str, tuple[float, float, float], Side], ...]
    turned: bool = False  # a quarter turn on its face


@dataclass(frozen=True, slots=True)
class Contact:
    """Two copies that one joint brings together.

    ``closes`` is the way ``moving`` travels to close the joint; None: any way that fits. Where that is
    no direction of the frame, as with leaning pieces, ``way`` holds it and ``closes`` the nearest.
    """

    fixed: str  # copy
    moving: str  # copy
    face: Box  # the touching area in the frame, flat along one axis (what bounds it where it leans)
    closes: Side | None
    way: Direction | None = None


@dataclass(frozen=True, slots=True)
class Joint:
    """One declared joint, over all the pairs of copies that it joins."""

    name: str
    kind: str
    title: str  # "Dado"
    contacts: tuple[Contact, ...]
    glue: str | None
    glue_area: Fraction  # mm2 over all contacts
    apart: bool  # comes apart: never glued
    hardware: tuple[HardwareUse, ...]
    say: Phrase  # how to put it together
    cautions: tuple[str, ...]
    place: Place
    tools: tuple[Phrase, ...] = ()  # what closing it needs: drill bits, driver
    assembly: str | None = None  # the key of the assembly that it belongs to


@dataclass(frozen=True, slots=True)
class Fit:
    """Hardware fitted to one part: pegs, pins, knobs, wall screws."""

    name: str
    copies: tuple[str, ...]
    hardware: HardwareUse
    say: Phrase
    place: Place
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Fact:
    """A fact from ``expect`` with what was found."""

    text: str
    holds: bool
    place: Place


@dataclass(frozen=True, slots=True)
class AssemblyCopy:
    """One placed assembly; ``members`` are its pieces, those of assemblies inside it among them.

    All copies of an assembly list corresponding pieces in the same order.
    """

    name: str  # "top drawer"; inside another assembly "chest.top drawer"
    members: tuple[str, ...]  # copies
    box: Box
    place: Place


@dataclass(frozen=True, slots=True)
class Assembly:
    """Parts that are built together first and then put in place, once or several times.

    Copies with equal pieces are one assembly: "make four". Where the copies differ, each difference
    is an assembly of its own, with one ``name`` and another ``key``.
    """

    key: str  # "drawer", or "drawer (top drawer)"
    name: str  # the maker's name
    title: str
    copies: tuple[AssemblyCopy, ...]
    parts: tuple[str, ...]  # keys of the parts that are directly in it
    joints: tuple[str, ...]  # names of the joints that are closed in it
    within: str | None  # the key of the assembly that it is a piece of
    place: Place


@dataclass(frozen=True, slots=True)
class Row:
    """Copies that the maker spread at equal gaps.

    ``copies`` are pieces, or placed assemblies, in their order along ``axis``; ``pitch`` is from each
    to the same side of the next, None where their sizes differ.
    """

    copies: tuple[str, ...]
    axis: Axis
    gap: Length
    pitch: Length | None


@dataclass(frozen=True, slots=True)
class Motion:
    """How one joint lets pieces move: about a line, or along it; ``point`` in mm, ``way`` a unit vector.

    A turn is anticlockwise when ``way`` points at the eye. ``most`` is in degrees or millimetres.
    """

    joint: str
    kind: Literal["turns", "slides"]
    moves: tuple[str, ...]  # copies
    point: Direction
    way: Direction
    most: Fraction | None
    against: str = ""  # the copy that the pieces move against, and go along with where it moves itself


@dataclass(frozen=True, slots=True)
class Position:
    """One way the piece can stand: as described, leaf up, drawer out.

    ``values`` are degrees or millimetres by joint. ``stances`` holds where each piece that moved
    stands now: the stance takes the place of the copy's own.
    """

    name: str
    title: str
    values: tuple[tuple[str, Fraction], ...]
    stances: Mapping[str, Stance]
    overall: Box
    place: Place


@dataclass(frozen=True)
class Design:
    """The whole project, solved. ``parts`` are in order of declaration (hands next to each other)."""

    project: Project
    shop: Shop
    stock: Mapping[str, Stock]
    hardware: Mapping[str, Hardware]
    parts: tuple[Part, ...]
    joints: tuple[Joint, ...]
    fits: tuple[Fit, ...]
    facts: tuple[Fact, ...]
    sizes: Mapping[str, Length | Fraction]
    overall: Box
    groups: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # name: copies
    assemblies: tuple[Assembly, ...] = ()  # inner ones before the ones that hold them
    motions: tuple[Motion, ...] = ()
    positions: tuple[Position, ...] = ()  # the first is as described
    rows: tuple[Row, ...] = ()
    glues: tuple[Consumable, ...] = ()  # those of the shop, in its order
    finishes: tuple[Consumable, ...] = ()  # in the order they go on
    blanks: tuple[Blank, ...] = ()  # parts that are milled together

    @property
    def copies(self) -> dict[str, Copy]:
        """Every copy by its name, in the order of the parts."""
        return {copy.name: copy for part in self.parts for copy in part.copies}

    @property
    def part_of(self) -> dict[str, Part]:
        """The part of each copy."""
        return {copy.name: part for part in self.parts for copy in part.copies}

    def part(self, key: str) -> Part:
        """The part with a key."""
        return next(part for part in self.parts if part.key == key)
