"""The frame: where every copy stands, what joints add to it, and which copies meet."""

from __future__ import annotations

from collections.abc import Mapping

from plangen.description.model import Description
from plangen.design.materials import hard, make_fastener
from plangen.design.model import Hardware, Stock
from plangen.design.pinning import solve_ends
from plangen.design.placing import Copied
from plangen.design.properties import field_of, property_of
from plangen.design.values import AlreadySaidError, Memo, Values, fault
from plangen.expressions import KindEntry
from plangen.findings import Findings
from plangen.joinery.body import JointBody, JointKind, Meeting
from plangen.joinery.joints import JOINTS
from plangen.joinery.piece import Bench, Fastener, Piece
from plangen.joinery.space import Axis, Box, Point, Side
from plangen.units import ZERO, Length

Ends = tuple[Length, Length]


class Frame:
    """Solves copies on demand; every answer is worked out once and every fault reported once."""

    def __init__(
        self,
        description: Description,
        copies: Mapping[str, Copied],
        stock: Mapping[str, Stock],
        hardware: Mapping[str, Hardware],
        findings: Findings,
        memo: Memo,
    ) -> None:
        self.description = description
        self.copies = copies
        self.stock = stock
        self.hardware = hardware
        self.findings = findings
        self.memo = memo
        self._shoulders: dict[str, Box] = {}
        self._middles: dict[Axis, Length] = {}
        self.named: dict[str, tuple[str, ...]] = {}
        for copied in copies.values():
            self.named[copied.part] = (*self.named.get(copied.part, ()), copied.name)
        for name in copies:
            self.named.setdefault(name, (name,))
        self.values = Values(
            description.project.units,
            description,
            memo,
            self.named,
            lambda name, prop, place: property_of(self, name, prop, place),
            lambda name, prop, place: field_of(self, name, prop, place),
        )

    def copied(self, name: str) -> Copied:
        """The copy before anything is solved. Raises ProjectError for one that could not be laid out."""
        if name not in self.copies:
            raise AlreadySaidError
        return self.copies[name]

    # Where a copy stands

    def axis(self, name: str, axis: Axis) -> Ends:
        """The low and high shoulder of a copy along an axis. Raises ProjectError."""
        copied = self.copied(name)
        label = f"{name} ({axis.word})"
        return self.memo.get(
            ("axis", name, axis), label, copied.place, lambda: solve_ends(self, copied, axis)
        )

    def shoulders(self, name: str) -> Box:
        """The copy's box without what joints add. Raises ProjectError."""
        box = self._shoulders.get(name)
        if box is None:
            ends = [self.axis(name, axis) for axis in Axis]
            box = Box(Point(*(end[0] for end in ends)), Point(*(end[1] for end in ends)))
            self._shoulders[name] = box
        return box

    # What joints add

    def added(self, name: str) -> Mapping[Side, Length]:
        """How far joints carry the copy past its shoulders, by side. Raises ProjectError."""
        return self.memo.get(
            ("added", name), f"{name} with its joints", self.copied(name).place, lambda: self._added(name)
        )

    def _added(self, name: str) -> dict[Side, Length]:
        added: dict[Side, Length] = {}
        for entry in self._growing(name):
            kind = JOINTS[str(entry.kind)]
            for meeting in self.meetings_of(entry, only_two=name):
                reach = kind.reach(entry.body, meeting.one, meeting.two, self.bench())
                side = meeting.side.opposite
                if not reach:
                    continue
                if added.setdefault(side, reach) != reach:
                    raise fault(
                        "joints-disagree",
                        f"two joints add different lengths to the {side.word} of `{name}`",
                        entry.place,
                        "make their depths equal",
                        self.copies[name].part,
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
        meet = overlapping if kind.overlaps else touching
        meetings = []
        for one, two in self.pairs(entry, kind, only_two):
            found = meet(self.shoulders(one), self.shoulders(two))
            if found is not None:
                side, rect = found
                meetings.append(Meeting(self.piece(one, finished), self.piece(two, finished), side, rect))
        return meetings

    def pairs(self, entry: KindEntry, kind: JointKind, only_two: str | None = None) -> list[tuple[str, str]]:
        """The copies that may meet, in order; two that may take either role come in once."""
        ones = self.members(kind.one(entry.body))
        twos = [only_two] if only_two is not None else self.members(kind.two(entry.body))
        found: dict[tuple[str, str], None] = {}
        for one in ones:
            for two in twos:
                if one != two and not (kind.symmetric and (two, one) in found):
                    found[one, two] = None
        return list(found)

    def piece(self, name: str, finished: bool = True) -> Piece:
        """The copy as joints and operations see it. Raises ProjectError."""
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

        return Bench(self.values.owned_by(own), self.findings, fastener, self.description.project.units)


def touching(one: Box, two: Box) -> tuple[Side, Box] | None:
    """The side of the first box that the second touches, and the touching area; None when they are apart."""
    common = one.overlap(two)
    flat = [axis for axis in Axis if not common.size(axis)]
    if len(flat) != 1 or any(common.size(axis) < ZERO for axis in Axis):
        return None
    return Side.of(flat[0], one.high.at(flat[0]) == two.low.at(flat[0])), common


def overlapping(one: Box, two: Box) -> tuple[Side, Box] | None:
    """The common box of two that overlap, with a side for form's sake."""
    common = one.overlap(two)
    return None if common.empty else (Side.FRONT, common)
