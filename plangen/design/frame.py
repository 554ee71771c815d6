"""The frame: where every copy stands, what joints add to it, and which copies meet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from plangen.description.model import Description
from plangen.design.bounds import bounding
from plangen.design.layout import Layout
from plangen.design.leaning import UPRIGHT, CentreLine, Slant, centre_line, lean_of, slant, tilt
from plangen.design.materials import hard, make_fastener
from plangen.design.meeting import facing, overlapping, sloping, touching
from plangen.design.model import Hardware, Stock
from plangen.design.moisture import moisture_change
from plangen.design.pinning import solve_ends
from plangen.design.placing import Copied
from plangen.design.properties import field_of, property_of
from plangen.design.values import AlreadySaidError, Memo, Values, fault
from plangen.expressions import KindEntry, Quantity
from plangen.findings import Findings, ProjectError
from plangen.joinery.body import JointBody, JointKind, Meeting
from plangen.joinery.joints import JOINTS
from plangen.joinery.piece import USUAL_CHANGE, Bench, Fastener, Piece
from plangen.joinery.space import Axis, Box, Point, Side, Stance
from plangen.joinery.transform import Transform, box_onto_box, carried_stance
from plangen.units import ZERO, Length

Ends = tuple[Length, Length]
Given = tuple[tuple[str, Quantity], ...]


class Frame:
    """Solves copies on demand; every answer is worked out once and every fault reported once.

    Each assembly has a frame for everything it is ``given``; ``outer`` is the one it stands in.
    """

    def __init__(
        self,
        layout: Layout,
        stock: Mapping[str, Stock],
        hardware: Mapping[str, Hardware],
        findings: Findings,
        outer: Frame | None = None,
        given: Given = (),
    ) -> None:
        self.layout = layout
        self.description: Description = layout.description
        self.copies = layout.copies
        self.nested = layout.nested
        self.stock = stock
        self.hardware = hardware
        self.findings = findings
        self.memo = Memo(findings)
        self.given = given
        self.named = layout.names()
        self.single = frozenset((*layout.pieces, *layout.nested))
        self._shoulders: dict[str, Box] = {}
        self._middles: dict[Axis, Length] = {}
        self._variants: dict[tuple[str, Given], Frame] = {}
        self.values: Values = Values(
            self.description.project.units,
            self.description,
            self.memo,
            self.named,
            self.single,
            lambda name, prop, place: property_of(self, name, prop, place),
            lambda name, prop, place: field_of(self, name, prop, place),
            dict(given),
            outer.values if outer is not None else None,
        )

    def copied(self, name: str) -> Copied:
        """The copy before anything is solved. Raises ProjectError for one that could not be laid out."""
        if name in self.copies:
            return self.copies[name]
        if name in self.nested:
            return self.nested[name]
        way_in = self.way_in(name)
        if way_in is None:
            raise AlreadySaidError
        return way_in[1].copied(way_in[2])

    # Assemblies

    def way_in(self, name: str) -> tuple[str, Frame, str] | None:
        """The assembly that a piece stands in, its frame, and the piece's name there. Raises ProjectError."""
        holder, dot, inner = name.partition(".")
        if not dot or holder not in self.nested:
            return None
        return holder, self.inner(holder), inner

    def inner(self, name: str) -> Frame:
        """The frame of a placed assembly; those that are given the same share one. Raises ProjectError."""
        copied = self.nested[name]

        def work() -> Frame:
            scope = self.values.owned_by(name)
            given = tuple((key, scope.worth(expression)) for key, expression in copied.given.items())
            key = (copied.part, given)
            if key not in self._variants:
                layout = self.layout.inner[copied.part]
                self._variants[key] = Frame(layout, self.stock, self.hardware, self.findings, self, given)
            return self._variants[key]

        return self.memo.get(("inner", name), f"what {name} is given", copied.place, work)

    @property
    def variants(self) -> tuple[Frame, ...]:
        """The frames of the assemblies that stand here, once for everything they are given."""
        return tuple(dict.fromkeys(self.inner(name) for name in self.nested))

    def hold(self) -> Box:
        """The box an assembly is placed by: its whole, or the shoulders of one piece. Raises ProjectError."""

        def work() -> Box:
            name = self.layout.hold_by
            if name is not None:
                held = self.named.get(name, ())
                if len(held) != 1 and name not in self.nested:
                    raise fault(
                        "hold-by",
                        f"`{name}` is " + (f"{len(held)} pieces" if held else "no piece of it"),
                        name.place,
                        "an assembly is held by one of its pieces",
                    )
                return self.shoulders(held[0] if len(held) == 1 else name)
            boxes = [self.bounds(name) for name in (*self.copies, *self.nested)]
            if not boxes:
                raise AlreadySaidError
            return bounding(boxes)

        return self.memo.get("hold", "the size of the assembly", None, work)

    def nested_size(self, name: str, axis: Axis) -> Length:
        """The size of a placed assembly along an axis of this frame. Raises ProjectError."""
        way = Transform(self.nested[name].way, Point(ZERO, ZERO, ZERO))
        return way.box(self.inner(name).hold()).size(axis)

    def transform(self, name: str) -> Transform:
        """How the frame of a placed assembly is carried into this one, upright. Raises ProjectError."""
        found = box_onto_box(self.nested[name].way, self.inner(name).hold(), self.shoulders(name))
        assert found is not None
        return found

    # Where a copy stands

    def levels(self, name: str, axis: Axis) -> Ends:
        """Where the pins put a copy along an axis; of a leaning one its middle line. Raises ProjectError."""
        copied = self.copied(name)
        label = f"{name} ({axis.word})"
        return self.memo.get(
            ("levels", name, axis), label, copied.place, lambda: solve_ends(self, copied, axis)
        )

    def axis(self, name: str, axis: Axis) -> Ends:
        """The low and high shoulder of a copy along an axis. Raises ProjectError."""
        if name not in self.copies and name not in self.nested:
            box = self.shoulders(name)
            return box.low.at(axis), box.high.at(axis)
        slanted = self.slant(name)
        if slanted is not None:
            return slanted.upright.low.at(axis), slanted.upright.high.at(axis)
        return self.levels(name, axis)

    def shoulders(self, name: str) -> Box:
        """The copy's box without what joints add, upright where it leans. Raises ProjectError."""
        box = self._shoulders.get(name)
        if box is None:
            way_in = self.way_in(name)
            if way_in is not None:
                holder, inner, piece = way_in
                box = self.transform(holder).box(inner.shoulders(piece))
            else:
                ends = [self.axis(name, axis) for axis in Axis]
                box = Box(Point(*(end[0] for end in ends)), Point(*(end[1] for end in ends)))
            self._shoulders[name] = box
        return box

    # Pieces that lean

    def slant(self, name: str) -> Slant | None:
        """How a copy of this frame leans by its own pins; None for the usual one. Raises ProjectError."""
        copied = self.copies.get(name)
        if copied is None or (copied.lean is None and copied.stretch is None):
            return None
        return self.memo.get(
            ("slant", name),
            f"how {name} leans",
            copied.place,
            lambda: slant(self, copied, self.centre_line(name), self._joined_ends(name)),
        )

    def centre_line(self, name: str) -> CentreLine:
        """The middle line of a leaning copy. Raises ProjectError."""
        copied = self.copies[name]
        return self.memo.get(
            ("line", name), f"how {name} leans", copied.place, lambda: centre_line(self, copied)
        )

    def _joined_ends(self, name: str) -> set[Side]:
        """The ends of a leaning copy that joints make longer."""
        line = self.centre_line(name)
        found = set()
        for entry in self._growing(name):
            for one in self.members(JOINTS[str(entry.kind)].one(entry.body)):
                if one != name and (met := sloping(self.stood(one), line)) is not None:
                    found.add(met.end)
        return found

    def lean(self, name: str) -> Stance:
        """How a placed assembly leans about where it stands upright. Raises ProjectError."""
        copied = self.nested[name]
        if copied.lean is None:
            return UPRIGHT
        end, ways = lean_of(self, copied)
        box = self.shoulders(name)
        stays = [float(box.middle(axis)) for axis in Axis]
        stays[end.axis.value] = float(box.side(end.opposite))
        return tilt((stays[0], stays[1], stays[2]), end, ways)

    def stood(self, name: str) -> tuple[Box, Stance]:
        """The shoulders of a copy upright, and how it stands in this frame. Raises ProjectError."""
        return self.shoulders(name), self.stance(name)

    def stance(self, name: str) -> Stance:
        """How a copy stands in this frame. Raises ProjectError."""
        if name in self.copies:
            slanted = self.copies[name].lean is not None or self.copies[name].stretch is not None
            return self.centre_line(name).stance if slanted else UPRIGHT
        if name in self.nested:
            return self.lean(name)
        way_in = self.way_in(name)
        if way_in is None:
            raise AlreadySaidError
        holder, inner, piece = way_in
        return self.lean(holder).after(carried_stance(inner.stance(piece), self.transform(holder)))

    def leans(self, name: str) -> bool:
        """Whether a copy stands otherwise than square in this frame. Raises ProjectError."""
        return self.stance(name) != UPRIGHT

    def bounds(self, name: str) -> Box:
        """What bounds the finished copy in this frame. Raises ProjectError."""
        box = self.finished(name) if name not in self.nested else self.shoulders(name)
        return self.stance(name).bounds(box) if self.leans(name) else box

    def runs(self, name: str) -> Axis:
        """The direction in which a copy runs here, upright. Raises ProjectError."""
        way_in = self.way_in(name)
        if way_in is None:
            return self.copied(name).runs
        return self.transform(way_in[0]).axis(way_in[1].runs(way_in[2]))

    # What joints add

    def added(self, name: str) -> Mapping[Side, Length]:
        """How far joints of this frame carry the copy past its shoulders, by side. Raises ProjectError."""
        return self.memo.get(
            ("added", name), f"{name} with its joints", self.copied(name).place, lambda: self._added(name)
        )

    def _added(self, name: str) -> dict[Side, Length]:
        added: dict[Side, Length] = {}
        for entry in self._growing(name):
            kind = JOINTS[str(entry.kind)]
            for meeting in self.meetings_of(entry, only_two=name):
                reach = kind.reach(entry.body, meeting.one, meeting.two, self.bench())
                side = meeting.end
                if not reach:
                    continue
                if added.setdefault(side, reach) != reach:
                    raise fault(
                        "joints-disagree",
                        f"two joints add different lengths to the {side.word} of `{name}`",
                        entry.place,
                        "make their depths equal",
                        self.copied(name).part,
                    )
        return added

    def _growing(self, name: str) -> list[KindEntry]:
        """The joints that may add to a copy."""
        return [
            entry
            for entry in self.description.joints
            if JOINTS[str(entry.kind)].adds
            and any(name in self.named.get(str(two), ()) for two in JOINTS[str(entry.kind)].two(entry.body))
        ]

    def grows(self, name: str) -> bool:
        """Whether any joint may add to the copy; asked first, so that plain pieces never make rings."""
        return bool(self._growing(name))

    def finished(self, name: str) -> Box:
        """The copy's finished box. Raises ProjectError."""
        way_in = self.way_in(name)
        if way_in is not None:
            holder, inner, piece = way_in
            box = self.transform(holder).box(inner.finished(piece))
        else:
            box = self.shoulders(name)
        for side, length in self.added(name).items():
            box = box.grown(side, length)
        return box

    # Which copies meet

    def members(self, names: tuple[str, ...]) -> list[str]:
        """The copies that names stand for, each once."""
        return list(dict.fromkeys(copy for name in names for copy in self.named.get(str(name), ())))

    def meetings_of(
        self, entry: KindEntry, *, only_two: str | None = None, finished: bool = False
    ) -> list[Meeting]:
        """Every pair of copies that a joint brings together, each pair once. Raises ProjectError."""
        kind = JOINTS[str(entry.kind)]
        assert isinstance(entry.body, JointBody)
        clearance = kind.clearance(entry.body, self.bench()) if kind.clearance is not None else None
        meetings = []
        for one, two in self.pairs(entry, kind, only_two):
            if self.stance(one) != self.stance(two) or self._stretches(two):
                meetings += self._sloping(one, two, finished) if kind.slopes else []
                continue
            boxes = self.shoulders(one), self.shoulders(two)
            if clearance is not None:
                found = facing(*boxes, clearance)
            else:
                found = overlapping(*boxes) if kind.overlaps else touching(*boxes)
            if found is not None:
                side, rect = found
                meeting = Meeting(self.piece(one, finished), self.piece(two, finished), side, rect)
                if kind.picks is None or kind.picks(entry.body, meeting):
                    meetings.append(meeting)
        return meetings

    def _stretches(self, name: str) -> bool:
        return name in self.copies and self.copies[name].stretch is not None

    def _sloping(self, one: str, two: str, finished: bool) -> list[Meeting]:
        """Where a leaning piece's middle line ends on a face of another."""
        if two not in self.copies or (self.copies[two].lean is None and not self._stretches(two)):
            return []
        met = sloping(self.stood(one), self.centre_line(two))
        if met is None:
            return []
        return [met.meeting(self.piece(one, finished), self.piece(two, finished))]

    def pairs(self, entry: KindEntry, kind: JointKind, only_two: str | None = None) -> list[tuple[str, str]]:
        """The copies that may meet, in order; two that may take either role come in once."""
        ones = self.members(kind.one(entry.body))
        twos = [only_two] if only_two is not None else self.members(kind.two(entry.body))
        found: dict[tuple[str, str], None] = {}
        # Assemblies joined with their like meet as wholes; what holds one together is said in it.
        wholes = ones == twos
        for one in ones:
            for two in twos:
                if wholes and "." in one and one.partition(".")[0] == two.partition(".")[0]:
                    continue
                if one != two and not (kind.symmetric and (two, one) in found):
                    found[one, two] = None
        return list(found)

    def piece(self, name: str, finished: bool = True) -> Piece:
        """The copy as joints and operations see it. Raises ProjectError."""
        way_in = self.way_in(name)
        if way_in is not None:
            holder, inner, local = way_in
            there = carried_piece(inner.piece(local, finished), self.transform(holder), name)
            return replace(there, finished=self.finished(name)) if finished else there
        copied = self.copied(name)
        shoulders = self.shoulders(name)
        stock = self.stock.get(str(copied.entry.stock))
        if stock is None:
            raise AlreadySaidError
        return Piece(
            name,
            copied.part,
            self.finished(name) if finished else shoulders,
            shoulders,
            copied.runs,
            copied.wide,
            copied.thick,
            stock.kind == "solid",
            hard(stock),
            self.inside(name) if finished else None,
            copied.place,
            stock.species if stock.kind == "solid" else "",
        )

    def inside(self, name: str) -> Side | None:
        """The face of a copy that looks to the middle of the frame. Raises ProjectError."""
        thick = self.copied(name).thick
        if thick not in self._middles:
            boxes = [self.shoulders(copy) for copy in self.copies]
            ends = min(box.low.at(thick) for box in boxes) + max(box.high.at(thick) for box in boxes)
            self._middles[thick] = ends / 2
        middle = self._middles[thick]
        box = self.shoulders(name)
        if box.low.at(thick) < middle < box.high.at(thick):
            return None
        return Side.of(thick, box.middle(thick) < middle)

    def bench(self, own: str | None = None) -> Bench:
        """Values, hardware and findings for operations and joints."""

        def fastener(name: str) -> Fastener | None:
            hardware = self.hardware.get(name)
            if hardware is None:
                return None
            return make_fastener(hardware, self.description.hardware[name], self.values)

        return Bench(
            self.values.owned_by(own),
            self.findings,
            fastener,
            self.description.project.units,
            tuple(self.description.stock),
            self._moisture_change(),
        )

    def _moisture_change(self) -> Fraction:
        """Percent between seasons: what the shop says, else the usual."""
        try:
            said = moisture_change(self.description.shop)
        except ProjectError:  # told when the shop is made
            said = None
        return abs(said) if said is not None else USUAL_CHANGE


def carried_piece(piece: Piece, by: Transform, name: str) -> Piece:
    """Give a piece of an assembly as it stands in the frame around it."""
    return replace(
        piece,
        copy=name,
        finished=by.box(piece.finished),
        shoulders=by.box(piece.shoulders),
        runs=by.axis(piece.runs),
        wide=by.axis(piece.wide),
        thick=by.axis(piece.thick),
        inside=by.side(piece.inside) if piece.inside is not None else None,
    )
