"""The frame: where every copy stands, what joints add to it, and what its sides and sizes are called on to say."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches

from plangen.description.model import Description, FromWorkEntry
from plangen.design.materials import hard, make_fastener
from plangen.design.model import Hardware, Stock
from plangen.design.placing import Copied
from plangen.design.values import SIDES, AlreadySaid, Memo, Values, length_quantity
from plangen.expressions import Centring, Expression, KindEntry, Quantity, Reference, parse_expression
from plangen.findings import Finding, Findings, Place, ProjectError
from plangen.joinery.body import JointBody, Meeting
from plangen.joinery.joints import JOINTS
from plangen.joinery.piece import Bench, Fastener, Piece
from plangen.joinery.space import AXIS_WORDS, SIDE_WORDS, Axis, Box, Point, Side
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
        self.named: dict[str, tuple[str, ...]] = {}
        for copied in copies.values():
            self.named[copied.part] = (*self.named.get(copied.part, ()), copied.name)
        for name in copies:
            self.named.setdefault(name, (name,))
        self.values = Values(
            description.project.units,
            description,
            self.memo,
            self.named,
            self.property_of,
            self.field_of,
        )

    # Where a copy stands

    def axis(self, name: str, axis: Axis) -> Ends:
        """The low and high shoulder of a copy along an axis. Raises ProjectError."""
        place = self.copies[name].place
        return self.memo.get(
            ("axis", name, axis), f"{name} ({axis.word})", place, lambda: self._solve(name, axis)
        )

    def shoulders(self, name: str) -> Box:
        """The copy's box without what joints add. Raises ProjectError."""
        ends = [self.axis(name, axis) for axis in Axis]
        return Box(Point(*(end[0] for end in ends)), Point(*(end[1] for end in ends)))

    def _solve(self, name: str, axis: Axis) -> Ends:
        copied = self.copies[name]
        low, high = self._ends(name, axis)
        if low >= high:
            low_word, high_word = Side.of(axis, False).word, Side.of(axis, True).word
            size = "no size" if low == high else "a negative size"
            place = copied.place_of.get(high_word) or copied.place_of.get(low_word) or copied.place
            raise ProjectError(
                [
                    Finding(
                        "zero-size",
                        f"`{name}` has {size} {axis.word}: its {low_word} is not below its {high_word}"
                        if axis is Axis.UP
                        else f"`{name}` has {size} {axis.word}: its {low_word} is not before its {high_word}",
                        place,
                        "check the pins, and the sizes that they use",
                        part=copied.part,
                    )
                ]
            )
        return low, high

    def _ends(self, name: str, axis: Axis) -> Ends:
        copied = self.copies[name]
        scope = self.values.owned_by(name)
        low_side, high_side = Side.of(axis, False), Side.of(axis, True)
        if copied.mirrored is not None and not copied.pinned(axis):
            return self._mirrored(copied, axis)
        low = copied.pins.get(low_side)
        high = copied.pins.get(high_side)
        size = self._size(copied, axis)
        if copied.row is not None and AXIS_WORDS[copied.row.spread.going] is axis:
            return self._in_row(copied, axis, size, scope)
        centring = copied.centred.get(axis)
        facts = [fact for fact in (low, high, size, centring) if fact is not None]
        if len(facts) != 2:
            self._miscounted(copied, axis, low, high, size, centring)
        if centring is not None:
            if size is None:
                self._miscounted(copied, axis, low, high, size, centring)
            assert size is not None
            middle = self._middle(centring, axis, scope)
            return middle - size / 2, middle + size / 2
        if low is not None and high is not None:
            return low.length(scope), high.length(scope)
        assert size is not None
        if low is not None:
            start = low.length(scope)
            return start, start + size
        assert high is not None
        end = high.length(scope)
        return end - size, end

    def _size(self, copied: Copied, axis: Axis) -> Length | None:
        """The size typed for this direction; the stock's thickness where it is the thick one."""
        runs, wide, thick = copied.turn
        entry = copied.entry
        typed = {runs: entry.length, wide: entry.width, thick: entry.thickness}[axis]
        if isinstance(typed, FromWorkEntry):
            return None
        if typed is not None:
            key = {runs: "length", wide: "width", thick: "thickness"}[axis]
            size = typed.length(self.values.owned_by(copied.name))
            if size.mm <= 0:
                raise ProjectError(
                    [
                        Finding(
                            "zero-size",
                            f"the {key} of `{copied.part}` is not above zero",
                            entry.place_of(key),
                            "give a length above zero",
                            part=copied.part,
                        )
                    ]
                )
            return size
        if axis is thick:
            stock = self.stock.get(str(entry.stock))
            if stock is None:
                raise AlreadySaid
            return (
                stock.thickness * (entry.glue_up.layers or 1)
                if entry.glue_up is not None
                else stock.thickness
            )
        return None

    def _miscounted(
        self,
        copied: Copied,
        axis: Axis,
        low: Expression | None,
        high: Expression | None,
        size: Length | None,
        centring: Centring | None,
    ) -> None:
        runs, wide, thick = copied.turn
        measure = {runs: "length", wide: "width", thick: "thickness"}[axis]
        low_word, high_word = Side.of(axis, False).word, Side.of(axis, True).word
        said = [
            word
            for word, fact in ((low_word, low), (high_word, high), (measure, size), (axis.word, centring))
            if fact is not None
        ]
        if len(said) > 2 or (centring is not None and size is None and len(said) == 2):
            given = ", ".join(f"`{word}`" for word in said)
            places = [copied.place_of[word] for word in said if word in copied.place_of]
            raise ProjectError(
                [
                    Finding(
                        "over-pinned",
                        f"`{copied.name}` has {len(said)} facts {axis.word} ({given}), and two settle it",
                        places[-1] if places else copied.place,
                        f"take one of {given} out",
                        part=copied.part,
                    )
                ]
            )
        missing = f"`{said[0]}` alone" if said else "nothing"
        wanted = [
            word
            for word in (low_word, high_word, *([measure] if axis is not thick else []))
            if word not in said
        ]
        raise ProjectError(
            [
                Finding(
                    "under-pinned",
                    f"`{copied.name}` is not settled {axis.word}: {missing} is given, and it takes two facts",
                    copied.place,
                    "add " + " or ".join(f"`{word}`" for word in wanted),
                    part=copied.part,
                )
            ]
        )

    def _mirrored(self, copied: Copied, axis: Axis) -> Ends:
        mirrored = copied.mirrored
        assert mirrored is not None
        low, high = self.axis(mirrored.of, axis)
        if axis is not mirrored.axis:
            return low, high
        if mirrored.at is None:
            raise ProjectError(
                [
                    Finding(
                        "mirror-plane",
                        f"where the mirror of `{copied.name}` stands is not said",
                        mirrored.place,
                        f"add `plane: {axis.word} at …`, for example `{axis.word} at width / 2`",
                        part=copied.part,
                    )
                ]
            )
        twice = mirrored.at.length(self.values.owned_by(copied.name)) * 2
        return twice - high, twice - low

    def _middle(self, centring: Centring, axis: Axis, scope: Values) -> Length:
        if isinstance(centring.first, Expression):
            return centring.first.length(scope)
        ends = self._named_ends(centring.first, axis)
        if centring.second is None:
            return (ends[0] + ends[1]) / 2
        other = self._named_ends(centring.second, axis)
        if other[0] < ends[0]:
            ends, other = other, ends
        return (ends[1] + other[0]) / 2

    def _named_ends(self, reference: Reference, axis: Axis) -> Ends:
        name = reference.names[0]
        copies = self.named.get(name, ())
        if not copies:
            near = get_close_matches(name, list(self.named), 1)
            raise ProjectError(
                [
                    Finding(
                        "undefined-name",
                        f"there is no part or copy called `{name}`",
                        reference.place,
                        f"did you mean `{near[0]}`?" if near else "name one that is placed",
                    )
                ]
            )
        found = {self.axis(copy, axis) for copy in copies}
        if len(found) > 1:
            raise ProjectError(
                [
                    Finding(
                        "copies-differ-here",
                        f"`{name}` has copies at different places {axis.word}",
                        reference.place,
                        "say which: " + ", ".join(f"`{copy}`" for copy in copies[:8]),
                    )
                ]
            )
        return found.pop()

    def _in_row(self, copied: Copied, axis: Axis, size: Length | None, scope: Values) -> Ends:
        row = copied.row
        assert row is not None
        spread = row.spread
        if size is None:
            self._miscounted(copied, axis, None, None, None, None)
        assert size is not None
        if spread.pitch is not None:
            if spread.first is None:
                raise ProjectError(
                    [
                        Finding(
                            "missing-key",
                            "a spread with a pitch needs its `first` place",
                            spread.place,
                            f"add `first:` — the {Side.of(axis, False).word} of the first copy",
                            part=copied.part,
                        )
                    ]
                )
            start = spread.first.length(scope) + spread.pitch.length(scope) * row.index
            return start, start + size
        start, gap = self._gap(copied, size, scope)
        low = start + (size + gap) * row.index
        return low, low + size

    def _gap(self, copied: Copied, size: Length, scope: Values) -> tuple[Length, Length]:
        """Where the first copy of a row begins, and the gap between neighbours."""
        row = copied.row
        assert row is not None
        spread = row.spread
        if spread.from_ is None or spread.to is None:
            raise ProjectError(
                [
                    Finding(
                        "missing-key",
                        "a spread needs `from` and `to`, or `first` and `pitch`",
                        spread.place,
                        "say between which two places the copies stand",
                        part=copied.part,
                    )
                ]
            )
        low, high = spread.from_.length(scope), spread.to.length(scope)
        free = high - low - size * row.number
        ends = str(spread.ends or "gap")
        if ends == "gap":
            gap = free / (row.number + 1)
            first = gap
        elif ends == "half gap":
            gap = free / row.number
            first = gap / 2
        else:
            inset = (
                ZERO
                if ends == "flush"
                else parse_expression(spread.ends).length(scope)
                if spread.ends is not None
                else ZERO
            )
            if row.number < 2:
                raise ProjectError(
                    [
                        Finding(
                            "spread",
                            "one copy has no neighbour to keep a gap from",
                            spread.place,
                            "use `centred`, or `ends: gap`",
                            part=copied.part,
                        )
                    ]
                )
            gap = (free - inset * 2) / (row.number - 1)
            first = inset
        if gap.mm < 0:
            raise ProjectError(
                [
                    Finding(
                        "spread",
                        f"{row.number} copies of `{copied.part}` do not fit between the two places",
                        spread.place,
                        "use fewer, or make them narrower",
                        part=copied.part,
                    )
                ]
            )
        return low + first, gap

    # What joints add

    def added(self, name: str) -> Mapping[Side, Length]:
        """How far joints carry the copy past its shoulders, by side. Raises ProjectError."""
        return self.memo.get(
            ("added", name), f"{name} with its joints", self.copies[name].place, lambda: self._added(name)
        )

    def _added(self, name: str) -> dict[Side, Length]:
        added: dict[Side, Length] = {}
        for entry in self.description.joints:
            kind = JOINTS[str(entry.kind)]
            if kind.overlaps or kind.fastens or not self._is_in(name, kind.two(entry.body)):
                continue
            for meeting in self.meetings_of(entry, only_two=name):
                reach = kind.reach(entry.body, meeting.one, meeting.two, self.bench())
                side = meeting.side.opposite
                if not reach:
                    continue
                if side in added and added[side] != reach:
                    raise ProjectError(
                        [
                            Finding(
                                "joints-disagree",
                                f"two joints add different lengths to the {side.word} of `{name}`",
                                entry.place,
                                "make their depths equal",
                                part=self.copies[name].part,
                            )
                        ]
                    )
                added[side] = reach
        return added

    def finished(self, name: str) -> Box:
        """The copy's finished box. Raises ProjectError."""
        box = self.shoulders(name)
        for side, length in self.added(name).items():
            box = box.grown(side, length)
        return box

    def _is_in(self, copy: str, names: tuple[str, ...]) -> bool:
        return any(copy in self.named.get(str(name), ()) for name in names)

    def members(self, names: tuple[str, ...]) -> list[str]:
        """The copies that names stand for, each once."""
        return list(dict.fromkeys(copy for name in names for copy in self.named.get(str(name), ())))

    def meetings_of(
        self, entry: KindEntry, *, only_two: str | None = None, finished: bool = False
    ) -> list[Meeting]:
        """Every pair of copies that a joint brings together. Raises ProjectError."""
        kind = JOINTS[str(entry.kind)]
        assert isinstance(entry.body, JointBody)
        ones = self.members(kind.one(entry.body))
        twos = [only_two] if only_two is not None else self.members(kind.two(entry.body))
        meetings = []
        for one in ones:
            for two in twos:
                if one == two:
                    continue
                found = (overlapping if kind.overlaps else touching)(self.shoulders(one), self.shoulders(two))
                if found is not None:
                    side, rect = found
                    meetings.append(Meeting(self.piece(one, finished), self.piece(two, finished), side, rect))
        return meetings

    def piece(self, name: str, finished: bool = True) -> Piece:
        """The copy as joints and operations see it. Raises ProjectError."""
        copied = self.copies[name]
        shoulders = self.shoulders(name)
        stock = self.stock[str(copied.entry.stock)]
        runs, wide, thick = copied.turn
        return Piece(
            name,
            copied.part,
            self.finished(name) if finished else shoulders,
            shoulders,
            runs,
            wide,
            thick,
            stock.kind == "solid",
            hard(stock),
            self.inside(name) if finished else None,
            copied.place,
        )

    def inside(self, name: str) -> Side | None:
        """The face of a copy that looks to the middle of the frame. Raises ProjectError."""
        thick = self.copies[name].turn[2]
        boxes = [self.shoulders(copy) for copy in self.copies]
        middle = (min(box.low.at(thick) for box in boxes) + max(box.high.at(thick) for box in boxes)) / 2
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

    # What names stand for

    def property_of(self, name: str, prop: str, place: Place) -> Quantity:
        """A side or size of a copy. Raises ProjectError."""
        copied = self.copies[name]
        runs, wide, thick = copied.turn
        if prop in SIDES:
            side = SIDE_WORDS[prop]
            low, high = self.axis(name, side.axis)
            return length_quantity(high if side.high else low)
        if prop in ("shoulder length", "shoulder width"):
            low, high = self.axis(name, runs if prop == "shoulder length" else wide)
            return length_quantity(high - low)
        if prop == "gap":
            if copied.row is None:
                raise ProjectError(
                    [
                        Finding(
                            "unknown-property",
                            f"`{name}` is not spread, so it has no gap",
                            place,
                            "spread it first",
                        )
                    ]
                )
            size = self._size(copied, AXIS_WORDS[copied.row.spread.going])
            assert size is not None
            return length_quantity(self._gap(copied, size, self.values.owned_by(name))[1])
        axis = {"length": runs, "width": wide, "thickness": thick}.get(prop)
        if axis is None:
            near = get_close_matches(prop, (*SIDES, "length", "width", "thickness"), 1)
            raise ProjectError(
                [
                    Finding(
                        "unknown-property",
                        f"`{name}` has no `{prop}`",
                        place,
                        f"did you mean `{near[0]}`?" if near else "it has sides, length, width and thickness",
                    )
                ]
            )
        return length_quantity(self._finished_size(name, axis))

    def _finished_size(self, name: str, axis: Axis) -> Length:
        low, high = self.axis(name, axis)
        if not self._grows(name):
            return high - low
        added = self.added(name)
        return high - low + added.get(Side.of(axis, False), ZERO) + added.get(Side.of(axis, True), ZERO)

    def _grows(self, name: str) -> bool:
        """Whether any joint may add to the copy; asked first, so that plain pieces never make rings."""
        return any(
            not (JOINTS[str(entry.kind)].overlaps or JOINTS[str(entry.kind)].fastens)
            and self._is_in(name, JOINTS[str(entry.kind)].two(entry.body))
            for entry in self.description.joints
        )

    def field_of(self, name: str, prop: str, place: Place) -> Quantity | None:
        """A field of a stock or a piece of hardware; None when there is no such name. Raises ProjectError."""
        if name in self.description.stock:
            stock = self.stock.get(name)
            if stock is None:
                raise AlreadySaid
            fields = {"thickness": stock.thickness, "label": stock.label_thickness}
            if stock.sheet is not None:
                fields |= {"sheet width": stock.sheet[0], "sheet length": stock.sheet[1]}
        elif name in self.description.hardware:
            hardware = self.hardware.get(name)
            if hardware is None:
                raise AlreadySaid
            entry = self.description.hardware[name]
            fields = {
                key: value
                for key, value in (("length", hardware.length), ("diameter", hardware.diameter))
                if value is not None
            }
            for key, expression in (("depth", entry.depth), ("bore", entry.bore)):
                if expression is not None:
                    fields[key] = expression.length(self.values)
        else:
            return None
        if prop not in fields:
            raise ProjectError(
                [
                    Finding(
                        "unknown-property", f"`{name}` has no `{prop}`", place, f"it has {', '.join(fields)}"
                    )
                ]
            )
        return length_quantity(fields[prop])


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
