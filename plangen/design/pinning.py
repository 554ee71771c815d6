"""One copy along one direction: two facts settle where it begins and ends."""

from __future__ import annotations

from typing import TYPE_CHECKING, NoReturn

from plangen.description.model import FromWorkEntry
from plangen.design.placing import Copied
from plangen.design.spreading import row_start, shared_ends
from plangen.design.values import AlreadySaidError, Values, fault, in_words, meant
from plangen.expressions import Centring, Expression, Reference
from plangen.findings import ProjectError
from plangen.joinery.space import Axis, Side
from plangen.units import Length

if TYPE_CHECKING:
    from plangen.design.frame import Ends, Frame


def solve_ends(frame: Frame, copied: Copied, axis: Axis) -> Ends:
    """Give the low and high shoulder of a copy along an axis, low below high. Raises ProjectError."""
    low, high = _ends(frame, copied, axis)
    if low < high:
        return low, high
    low_word, high_word = Side.of(axis, False).word, Side.of(axis, True).word
    size = "no size" if low == high else "a negative size"
    before = "below" if axis is Axis.UP else "before"
    raise fault(
        "zero-size",
        f"`{copied.name}` has {size} {axis.word}: its {low_word} is not {before} its {high_word}",
        copied.place_of.get(high_word) or copied.place_of.get(low_word) or copied.place,
        "check the pins, and the sizes that they use",
        copied.part,
    )


def _ends(frame: Frame, copied: Copied, axis: Axis) -> Ends:
    if copied.mirrored is not None and not copied.pinned(axis):
        return _mirrored(frame, copied, axis)
    scope = frame.values.owned_by(copied.name)
    low, high = (copied.pins.get(Side.of(axis, end)) for end in (False, True))
    centring = copied.centred.get(axis)
    shared = copied.row is not None and copied.row.axis is axis and copied.row.spread.gap is not None
    if shared and copied.nested is None:
        return shared_ends(copied, scope)
    size = typed_size(frame, copied, axis)
    if copied.row is not None and copied.row.axis is axis:
        if low is not None or high is not None or centring is not None:
            _miscounted(copied, axis, low, high, size, centring)
        if shared and size is not None:
            return _fills(frame, copied, axis, size, shared_ends(copied, scope))
        if size is None:
            _miscounted(copied, axis, None, None, None, None)
        start = row_start(copied, size, scope)
        return start, start + size
    if sum(fact is not None for fact in (low, high, size, centring)) != 2:
        _miscounted(copied, axis, low, high, size, centring)
    if low is not None and high is not None:
        return low.length(scope), high.length(scope)
    if size is None:
        _miscounted(copied, axis, low, high, size, centring)
    if centring is not None:
        middle = _middle(frame, centring, axis, scope)
        return middle - size / 2, middle + size / 2
    if low is not None:
        start = low.length(scope)
        return start, start + size
    assert high is not None
    end = high.length(scope)
    return end - size, end


def typed_size(frame: Frame, copied: Copied, axis: Axis) -> Length | None:
    """The size typed for this direction; the stock's thickness where it is the thick one.

    An assembly has the size that its pieces give it.
    """
    if copied.nested is not None:
        return frame.nested_size(copied.name, axis)
    key = copied.measure(axis)
    typed = getattr(copied.entry, key)
    if isinstance(typed, FromWorkEntry):
        return None
    if typed is not None:
        size: Length = typed.length(frame.values.owned_by(copied.name))
        if size.mm <= 0:
            raise fault(
                "zero-size",
                f"the {key} of `{copied.part}` is not above zero",
                copied.entry.place_of(key),
                "give a length above zero",
                copied.part,
            )
        return size
    if axis is not copied.thick:
        return None
    stock = frame.stock.get(str(copied.entry.stock))
    if stock is None:
        raise AlreadySaidError
    layers = copied.entry.glue_up.layers if copied.entry.glue_up is not None else None
    return stock.thickness * (layers or 1)


def _fills(frame: Frame, copied: Copied, axis: Axis, size: Length, ends: Ends) -> Ends:
    """Check that an assembly has the size that its row leaves it."""
    if size == ends[1] - ends[0]:
        return ends
    units = frame.description.project.units
    raise fault(
        "row-size",
        f"`{copied.name}` is {in_words(size, units)} {axis.word}, "
        f"and its row leaves it {in_words(ends[1] - ends[0], units)}",
        copied.place,
        "give it the size of the row: `given: {its size: own.share}`",
        copied.part,
    )


def _miscounted(
    copied: Copied,
    axis: Axis,
    low: Expression | None,
    high: Expression | None,
    size: Length | None,
    centring: Centring | None,
) -> NoReturn:
    """Say which facts are too many, or which are missing."""
    measure = copied.measure(axis)
    low_word, high_word = Side.of(axis, False).word, Side.of(axis, True).word
    facts = ((low_word, low), (high_word, high), (measure, size), (axis.word, centring))
    said = [word for word, fact in facts if fact is not None]
    in_row = copied.row is not None and copied.row.axis is axis
    at_odds = centring is not None and size is None and len(said) == 2
    if len(said) > 2 or at_odds or (in_row and said):
        said += ["spread"] if in_row else []
        if copied.nested is not None and "size" in said:
            given = ", ".join(f"`{word}`" for word in said if word != "size")
            raise fault(
                "over-pinned",
                f"`{copied.name}` has a size {axis.word} of its own, and {given} say another",
                copied.place,
                "give one of them; the assembly's pieces settle its size",
                copied.part,
            )
        given = ", ".join(f"`{word}`" for word in said)
        places = [copied.place_of[word] for word in said if word in copied.place_of]
        settle = f"`{axis.word}` goes with a size" if at_odds else "two settle it"
        raise fault(
            "over-pinned",
            f"`{copied.name}` has {len(said)} facts {axis.word} ({given}), and {settle}",
            places[-1] if places else copied.place,
            f"take one of {given} out",
            copied.part,
        )
    if copied.nested is not None:
        raise fault(
            "under-pinned",
            f"where `{copied.name}` stands {axis.word} is not said",
            copied.place,
            f"add `{low_word}`, `{high_word}` or `{axis.word}`; its size is known",
            copied.part,
        )
    missing = f"`{said[0]}` alone" if said else "nothing"
    sides = () if in_row else (low_word, high_word)
    sizes = () if axis is copied.thick else (measure,)
    wanted = [word for word in (*sides, *sizes) if word not in said]
    raise fault(
        "under-pinned",
        f"`{copied.name}` is not settled {axis.word}: {missing} is given, and it takes two facts",
        copied.place,
        "add " + " or ".join(f"`{word}`" for word in wanted),
        copied.part,
    )


def _mirrored(frame: Frame, copied: Copied, axis: Axis) -> Ends:
    mirrored = copied.mirrored
    assert mirrored is not None
    low, high = frame.levels(mirrored.of, axis)
    size = typed_size(frame, copied, axis)
    if size is not None and size != high - low:
        raise fault(
            "mirror-size",
            f"`{copied.name}` mirrors `{mirrored.of}`, and its own {copied.measure(axis)} is another",
            mirrored.place,
            "mirror a copy of equal size, or pin this one on its own",
            copied.part,
        )
    if axis is not mirrored.axis:
        return low, high
    if mirrored.at is None:
        raise fault(
            "mirror-plane",
            f"where the mirror of `{copied.name}` stands is not said",
            mirrored.place,
            f"add `plane: {axis.word} at …`, for example `{axis.word} at width / 2`",
            copied.part,
        )
    twice = mirrored.at.length(frame.values.owned_by(copied.name)) * 2
    return twice - high, twice - low


def _middle(frame: Frame, centring: Centring, axis: Axis, scope: Values) -> Length:
    if isinstance(centring.first, Expression):
        return centring.first.length(scope)
    ends = _named_ends(frame, centring.first, axis)
    if centring.second is None:
        return (ends[0] + ends[1]) / 2
    other = _named_ends(frame, centring.second, axis)
    if other[0] < ends[0]:
        ends, other = other, ends
    return (ends[1] + other[0]) / 2


def _named_ends(frame: Frame, reference: Reference, axis: Axis) -> Ends:
    copies = frame.named.get(str(reference), ())
    if not copies:
        raise _unknown(frame, reference)
    if str(reference) in frame.nested:
        return frame.axis(str(reference), axis)
    found = [frame.axis(copy, axis) for copy in copies]
    if any(ends != found[0] for ends in found[1:]):
        raise fault(
            "copies-differ-here",
            f"`{reference}` has copies at different places {axis.word}",
            reference.place,
            "say which: " + ", ".join(f"`{copy}`" for copy in copies[:8]),
        )
    return found[0]


def _unknown(frame: Frame, reference: Reference) -> ProjectError:
    return fault(
        "undefined-name",
        f"there is no part or copy called `{reference}`",
        reference.place,
        meant(str(reference), frame.named, "name one that is placed"),
    )
