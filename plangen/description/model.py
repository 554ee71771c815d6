"""What the maker's file may say, as models.

Field names are the maker's keys with ``_`` for a space; a trailing ``_`` keeps a key such as ``from``
or ``place`` apart from what Python or the base model already calls so.
"""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Discriminator, Field, Tag, WithJsonSchema

from plangen.expressions import (
    Amount,
    AngleExpr,
    Centring,
    Coverage,
    Day,
    Entry,
    Expr,
    ExpressionError,
    FactExpr,
    LengthExpr,
    LengthList,
    MirrorPlane,
    Name,
    NameKey,
    Names,
    NamesOrNone,
    NumberExpr,
    PathKey,
    PathName,
    Price,
    QuarterTurn,
    Share,
    SheetSize,
    SideWord,
    Text,
    Whole,
    Words,
    WordsKey,
    YesNo,
    by_shape,
)
from plangen.joinery.hardware.rows import HardwareRows
from plangen.joinery.joint import JointEntry
from plangen.joinery.outline import OutlineEntry
from plangen.joinery.work import WorkEntry

AxisWord = Literal["across", "deep", "up"]

# Read as text like every scalar; an editor that reads it as a number is right too.
LanguageVersion = Annotated[Literal["1"], WithJsonSchema({"enum": [1, "1"]})]


class RevisionEntry(Entry):
    """A row of the revision table."""

    revision: Words
    date: Day | None = None
    words: Words


class ProjectEntry(Entry):
    """What the piece is called and what the cover says of it."""

    title: Words
    code: Words = Text("")
    revision: Words = Text("A")
    revised: Day | None = None
    line: Words = Text("")
    maker: Words = Text("")
    contact: Words = Text("")
    level: Words = Text("")
    units: Literal["inch", "mm"]
    standard: Literal["iso", "asme"] | None = None  # for the lines of drawings; None: by the units
    hours: dict[WordsKey, NumberExpr] = Field(default_factory=dict)
    licence: list[Words] = Field(default_factory=list)
    revisions: list[RevisionEntry] = Field(default_factory=list)
    prices_of: Day | None = None
    cover: Words | None = None  # the position that the cover shows


class GlueEntry(Entry):
    """A glue that joints may name, and how it is sold."""

    open_time: NumberExpr | None = None  # minutes
    covers: Coverage | None = None  # the faces of joints, one of the two spread
    bottle: Amount | None = None
    price: Price | None = None  # of a bottle


class FinishEntry(Entry):
    """A finish: how many coats, how far it goes, and how it is sold."""

    title: Words | None = None
    coats: Whole = 1
    covers: Coverage | None = None  # one coat
    can: Amount | None = None
    price: Price | None = None  # of a can


BuyWord = Literal["by plan", "by waste rule"]
AimWord = Literal["stock", "settings", "off-cut"]


class RoughEntry(Entry):
    """How much over its finished size a piece is cut, and what a board or sheet loses round about."""

    length: LengthExpr | None = None  # in all, so that both ends can be squared
    width: LengthExpr | None = None  # in all, so that the edges can be jointed
    thickness: LengthExpr | None = None  # in all, so that both faces can be planed
    ends: LengthExpr | None = None  # off each end of a board
    sheet_edges: LengthExpr | None = None  # off each edge of a sheet
    round_up_to: LengthExpr | None = None  # rough sizes


class ShopEntry(Entry):
    """What the shop can do."""

    kerf: LengthExpr | None = None
    planer: LengthExpr | None = None
    saw_bench: SheetSize | None = None  # the largest piece that goes over it
    rail: LengthExpr | None = None  # the longest cut with a hand-held saw
    first_cut: Literal["crosscut", "rip"] | None = None  # of a sheet
    prefer: list[AimWord] = Field(default_factory=list)  # what counts first among cutting plans
    rough: RoughEntry | None = None
    glue: dict[WordsKey, GlueEntry] = Field(default_factory=dict)
    moisture_change: Words | None = None
    waste: Share | None = None  # of what is bought; where a stock says none of its own
    spare: Whole | None = None  # blanks of boards, for each stock and thickness


class BoardEntry(Entry):
    """A board of one size, to be bought or on the rack."""

    width: LengthExpr
    length: LengthExpr
    price: Price | None = None
    have: Whole | None = None


class SheetEntry(Entry):
    """A sheet of one size, to be bought or on the rack."""

    size: SheetSize
    price: Price | None = None
    have: Whole | None = None


class StockEntry(Entry):
    """A material: ``solid`` wood by rough thickness, ``plywood`` by label and sheet."""

    kind: Literal["solid", "plywood"]
    title: Words | None = None
    species: Words | None = None
    rough: Words | None = None  # quarters: 4/4
    label: LengthExpr | None = None  # plywood: what it is sold as
    thickness: LengthExpr  # what it measures
    widths: LengthList | None = None
    lengths: LengthList | None = None
    boards: list[BoardEntry] = Field(default_factory=list)
    sheet: SheetSize | None = None
    sheets: list[SheetEntry] = Field(default_factory=list)
    grain: Literal["fixed", "free"] | None = None  # of a sheet
    defects: Share | None = None  # of the length of every board
    price: Price | None = None
    density: NumberExpr | None = None  # kg/m3
    waste: Share | None = None  # of what is bought
    buy: BuyWord | None = None


class FromWorkEntry(Entry):
    """A size read off the work: the formula, and how much over to leave until then."""

    from_work: LengthExpr
    leave: LengthExpr | None = None
    measure: Words | None = None  # in words: "the opening between the stiles"


Size = Annotated[
    Annotated[LengthExpr, Tag("text")] | Annotated[FromWorkEntry, Tag("map")], Discriminator(by_shape)
]
Worked = Annotated[
    Annotated[Name, Tag("text")] | Annotated[dict[NameKey, Names], Tag("map")], Discriminator(by_shape)
]


class StripSize(SheetSize):
    """What one strip of a glue-up measures: its thickness, then its width, which stands on edge."""

    wanted = "a strip size"
    example = "3/4in x 1-3/4in"

    @classmethod
    def from_text(cls, text: Text) -> Self:
        """Read ``3/4in x 1-3/4in``; raises ExpressionError."""
        try:
            return super().from_text(text)
        except ExpressionError:
            raise cls.fault(
                text,
                f"`{text}` is not a strip size",
                f"write thickness x width with a space on either side of the x: `{cls.example}`",
            ) from None


class OverSizeEntry(Entry):
    """How much over its finished size a piece is glued up, to be trimmed off when the glue is dry."""

    length: LengthExpr | None = None  # in all, off both ends
    width: LengthExpr | None = None  # in all, off both edges
    thickness: LengthExpr | None = None  # planed off


class GlueUpEntry(Entry):
    """A piece glued up from boards side by side, layers face to face, or strips on edge."""

    boards: Words | None = None  # how many, side by side; or `best`: as few as the stock and the planer let
    board: Literal["width"] | None = None
    layers: Whole | None = None
    strips: Whole | None = None  # how many, side by side on edge
    strip: StripSize | None = None  # its thickness, then its width, which is the thickness of the part
    sections: Whole | None = None  # how many parts of the width are glued and planed alone, then joined
    allowance: OverSizeEntry | None = None  # how much over its finished size it is glued up
    grain: Literal["alternate", "same"] | None = None  # growth rings of neighbours: by turns, or one way


class SpreadEntry(Entry):
    """Several copies at equal gaps, or at a pitch.

    With a ``gap`` it is the copies that share what is left, equally or by ``shares``.
    """

    number: Whole | None = None
    gap_at_most: LengthExpr | None = None
    going: AxisWord
    from_: LengthExpr | None = Field(default=None, alias="from")
    to: LengthExpr | None = None
    ends: Words | None = None  # gap | flush | half gap | a length
    pitch: LengthExpr | None = None
    first: LengthExpr | None = None
    names: Names | None = None
    gap: LengthExpr | None = None  # between neighbours; the sizes follow
    shares: list[NumberExpr] | None = None  # of the sizes, in the order of the copies


class LeanEntry(Entry):
    """A piece or an assembly that leans: which end moves, and how far which ways.

    ``lean: {bottom: {left: 8deg, front: 8deg}}``: the top stays, the foot goes left and to the front,
    by angles as they show from the front and from the side.
    """

    left: dict[SideWord, AngleExpr] | None = None
    right: dict[SideWord, AngleExpr] | None = None
    front: dict[SideWord, AngleExpr] | None = None
    back: dict[SideWord, AngleExpr] | None = None
    bottom: dict[SideWord, AngleExpr] | None = None
    top: dict[SideWord, AngleExpr] | None = None
    ends: Literal["level", "square"] | None = None  # how a leaning piece's ends are sawn


class StretchEntry(Entry):
    """A piece from one to another, at a height (or at a place across or deep): a stretcher."""

    from_: PathName = Field(alias="from")
    to: PathName
    across: LengthExpr | None = None
    deep: LengthExpr | None = None
    up: LengthExpr | None = None


class PinsEntry(Entry):
    """Where one copy stands: two facts for each direction."""

    left: LengthExpr | None = None
    right: LengthExpr | None = None
    front: LengthExpr | None = None
    back: LengthExpr | None = None
    bottom: LengthExpr | None = None
    top: LengthExpr | None = None
    across: Centring | None = None
    deep: Centring | None = None
    up: Centring | None = None
    same_as: Name | None = None
    mirror_of: Name | None = None
    plane: MirrorPlane | None = None
    turned: QuarterTurn | None = None
    spread: SpreadEntry | None = None
    lean: LeanEntry | None = None
    stretch: StretchEntry | None = None


class AssemblyPinsEntry(PinsEntry):
    """Where one copy of an assembly stands: one fact for each direction, as its own size is known."""

    given: dict[NameKey, Expr] = Field(default_factory=dict)


class RowEntry(Entry):
    """A row of equal fittings."""

    number: Whole
    going: Literal["along", "over"]
    ends: Words | None = None
    pitch: LengthExpr | None = None
    first: LengthExpr | None = None


class GridEntry(Entry):
    """Fittings in rows along the part and over it; each row as ``row`` has it."""

    along: Whole
    over: Whole
    ends: Words | None = None


class FitEntry(Entry):
    """Hardware on one part: where it goes, or only how many where no hole is bored for it.

    Under a part, ``part`` is that part; under the top-level ``fit`` it is named, in an assembly by the
    way to it, such as ``drawer.face``, and then the fit is made in every copy of that. ``at`` is a place on
    the face: its ``middle``, its ``corners`` or its two ``ends``, these ``from edges`` (and ``from
    ends``) so far in. ``each`` is how many go to one place.
    """

    part: PathName | None = None
    name: Name | None = None
    face: SideWord | None = None
    number: Whole | None = None
    each: Whole | None = None
    at: Literal["middle", "corners", "ends"] | None = None
    from_edges: LengthExpr | None = None
    from_ends: LengthExpr | None = None
    row: RowEntry | None = None
    grid: GridEntry | None = None
    along: Literal["centre"] | None = None
    over: Literal["centre"] | None = None
    turned: YesNo | None = None  # a quarter turn on its face
    from_left: LengthExpr | None = None
    from_right: LengthExpr | None = None
    from_front: LengthExpr | None = None
    from_back: LengthExpr | None = None
    from_bottom: LengthExpr | None = None
    from_top: LengthExpr | None = None
    bore: LengthExpr | None = None
    depth: LengthExpr | None = None  # left out: through
    say: Words | None = None


class PartEntry(Entry):
    """A part: what it is made of, which way it runs, and where its copies stand.

    ``place`` is one map of pins or a map of copies; the reader gives both as a map of copies.
    """

    stock: Name | None = None
    runs: AxisWord | None = None
    thick: AxisWord | None = None
    length: Size | None = None
    width: Size | None = None
    thickness: Size | None = None
    title: Words | None = None
    mark: Words | None = None
    like: Name | None = None
    alike: YesNo | None = None
    pattern: YesNo | None = None
    grain: Words | None = None
    may_turn: YesNo | None = None
    one_board: Words | None = None  # all pieces with the same words come out of one board or sheet
    note: Words | None = None
    finish: NamesOrNone | None = None  # `none`, or those of the finishes that go on
    glue_up: GlueUpEntry | None = None
    outline: OutlineEntry | None = None
    cut: list[WorkEntry] = Field(default_factory=list)  # each a map of one kind to its values
    fit: list[dict[NameKey, FitEntry]] = Field(default_factory=list)  # each a map of one hardware name
    place_: dict[NameKey, PinsEntry]


class AssemblyEntry(Entry):
    """Parts that are built together first and then placed as one, once or several times.

    It has a frame of its own. Its parts know the project's sizes, stock and hardware and what is
    ``given``; each placed copy may give other values. ``hold by`` names the part whose sides are the
    assembly's sides; without it they are those of the whole.
    """

    title: Words | None = None
    like: Name | None = None
    given: dict[NameKey, Expr] = Field(default_factory=dict)
    sizes: dict[NameKey, Expr] = Field(default_factory=dict)
    hold_by: Name | None = None
    parts: dict[NameKey, PartEntry] = Field(default_factory=dict)
    assemblies: dict[NameKey, AssemblyEntry] = Field(default_factory=dict)
    groups: dict[NameKey, Names] = Field(default_factory=dict)
    joints: list[JointEntry] = Field(default_factory=list)
    fit: list[dict[NameKey, FitEntry]] = Field(default_factory=list)
    place_: dict[NameKey, AssemblyPinsEntry]


class StepEntry(Entry):
    """A step that the maker writes, or a change to a drafted one.

    Exactly one of ``step``, ``replace``, ``before``, ``after``. ``step`` is the heading. The other
    three name what the drafted step is about (a joint, a part, or a kind of step such as ``finish``).
    """

    step: Words | None = None
    replace: Name | None = None
    before: Name | None = None
    after: Name | None = None
    mill: Names | None = None  # parts
    glue_up: Names | None = None  # parts glued up from boards, before they are cut to size
    cut: Names | None = None  # parts cut to size
    work: list[Worked] | None = None  # joints, parts, or part: kinds of operation
    measure: Names | None = None  # parts with a size from the work
    place_: Names | None = None  # copies put in place with no joint
    dry: Names | None = None  # joints tried dry
    join: Names | None = None  # joints closed
    fit: Names | None = None  # fits
    finish: YesNo | None = None
    title: Words | None = None
    say: Words | None = None
    checks: list[Words] = Field(default_factory=list)
    tools: list[Words] = Field(default_factory=list)
    cautions: list[Words] = Field(default_factory=list)
    show: Names | None = None  # parts or copies to picture, where the tool's choice is not right


Step = Annotated[
    Annotated[Literal["draft"], Tag("text")] | Annotated[StepEntry, Tag("map")], Discriminator(by_shape)
]


class BlankEntry(Entry):
    """Parts that are milled together as one piece of wood and sawn apart later."""

    parts: Names
    how: Literal["side by side", "end to end", "stacked"]
    number: Whole | None = None  # of such blanks; one unless said
    title: Words | None = None


class Description(Entry):
    """The whole file."""

    plangen: LanguageVersion
    project: ProjectEntry
    shop: ShopEntry = Field(default_factory=ShopEntry)
    sizes: dict[NameKey, Expr] = Field(default_factory=dict)
    stock: dict[NameKey, StockEntry]
    hardware: HardwareRows = Field(default_factory=dict)  # each by its kind
    finish: dict[NameKey, FinishEntry] = Field(default_factory=dict)  # in the order they go on
    parts: dict[NameKey, PartEntry] = Field(default_factory=dict)
    assemblies: dict[NameKey, AssemblyEntry] = Field(default_factory=dict)
    groups: dict[NameKey, Names] = Field(default_factory=dict)  # a name for copies
    blanks: dict[WordsKey, BlankEntry] = Field(default_factory=dict)
    joints: list[JointEntry] = Field(default_factory=list)  # each a map of one kind to its values
    positions: dict[NameKey, dict[PathKey, Expr]] = Field(default_factory=dict)  # joint: angle or length
    fit: list[dict[NameKey, FitEntry]] = Field(default_factory=list)  # each a map of one hardware name
    expect: list[FactExpr] = Field(default_factory=list)
    steps: list[Step] = Field(default_factory=lambda: ["draft"])  # type: ignore[arg-type]
