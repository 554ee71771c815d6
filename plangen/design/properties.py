"""What may be asked of a copy, a stock or a piece of hardware by a name, a dot and a property."""

from __future__ import annotations

from typing import TYPE_CHECKING

from plangen.design.pinning import typed_size
from plangen.design.spreading import first_and_gap, shared_ends
from plangen.design.values import SIDES, AlreadySaidError, fault, length_quantity, meant
from plangen.expressions import Quantity, Reference
from plangen.findings import Place
from plangen.joinery.space import SIDE_WORDS, Axis, Side
from plangen.units import ZERO, Length

if TYPE_CHECKING:
    from plangen.design.frame import Frame


def property_of(frame: Frame, name: str, prop: str, place: Place) -> Quantity:
    """Give a side or size of a copy, or of an assembly. Raises ProjectError."""
    copied = frame.copied(name)
    if prop in SIDES:
        side = SIDE_WORDS[prop]
        if frame.leans(name):
            raise fault(
                "leaning-side",
                f"`{name}` leans, so it has no {prop} that other pieces could be pinned to",
                place,
                "pin to what it is pinned to; its length, width and thickness may be asked for",
                copied.part,
            )
        low, high = frame.axis(name, side.axis)
        return length_quantity(high if side.high else low)
    if prop == "share":
        return _share(frame, name, place)
    if name in frame.nested:
        return _of_assembly(frame, name, prop, place)
    way_in = frame.way_in(name)
    if way_in is not None and not frame.grows(name):
        return property_of(way_in[1], way_in[2], prop, place)
    if prop in ("shoulder length", "shoulder width"):
        low, high = frame.axis(name, copied.runs if prop == "shoulder length" else copied.wide)
        return length_quantity(high - low)
    if prop == "gap":
        if copied.row is None:
            raise fault(
                "unknown-property", f"`{name}` is not spread, so it has no gap", place, "spread it first"
            )
        low, high = frame.axis(name, copied.row.axis)
        return length_quantity(first_and_gap(copied, high - low, frame.values.owned_by(name))[1])
    axis = {"length": copied.runs, "width": copied.wide, "thickness": copied.thick}.get(prop)
    if axis is None:
        raise fault(
            "unknown-property",
            f"`{name}` has no `{prop}`",
            place,
            meant(
                prop, (*SIDES, "length", "width", "thickness"), "it has sides, length, width and thickness"
            ),
        )
    return length_quantity(_finished_size(frame, name, axis))


def _share(frame: Frame, name: str, place: Place) -> Quantity:
    copied = frame.copies.get(name) or frame.nested.get(name)
    if copied is None or copied.row is None or copied.row.spread.gap is None:
        raise fault(
            "unknown-property",
            f"`{name}` stands in no row that shares a room out",
            place,
            "`share` is the size that a spread with a `gap` leaves to a copy",
        )
    low, high = shared_ends(copied, frame.values.owned_by(name))
    return length_quantity(high - low)


def _of_assembly(frame: Frame, name: str, prop: str, place: Place) -> Quantity:
    """What an assembly is given, or a size of its own."""
    inner = frame.inner(name)
    known = (*(key for key, _ in inner.given), *inner.description.sizes)
    if prop == "gap" and frame.nested[name].row is not None:
        copied = frame.nested[name]
        axis = copied.row.axis if copied.row is not None else Axis.ACROSS
        low, high = frame.axis(name, axis)
        return length_quantity(first_and_gap(copied, high - low, frame.values.owned_by(name))[1])
    if prop not in known:
        raise fault(
            "unknown-property",
            f"`{name}` has no `{prop}`",
            place,
            meant(prop, (*SIDES, *known), "an assembly has sides, and the sizes described in it"),
        )
    return inner.values.lookup(Reference((prop,), None, place))


def _finished_size(frame: Frame, name: str, axis: Axis) -> Length:
    copied = frame.copied(name)
    if not frame.grows(name):
        # A size that was typed is known before the copy is placed; pins may use it.
        typed = frame.memo.get(
            ("typed", name, axis),
            f"the {copied.measure(axis)} of {copied.part}",
            copied.entry.place_of(copied.measure(axis)),
            lambda: typed_size(frame, copied, axis),
        )
        if typed is not None and copied.mirrored is None:
            return typed
    low, high = frame.axis(name, axis)
    if not frame.grows(name):
        return high - low
    added = frame.added(name)
    return high - low + added.get(Side.of(axis, False), ZERO) + added.get(Side.of(axis, True), ZERO)


def field_of(frame: Frame, name: str, prop: str, place: Place) -> Quantity | None:
    """Give a field of a stock or of hardware; None when there is no such name. Raises ProjectError."""
    if name in frame.description.stock:
        fields = _stock_fields(frame, name)
    elif name in frame.description.hardware:
        fields = _hardware_fields(frame, name)
    else:
        return None
    if prop not in fields:
        raise fault(
            "unknown-property",
            f"`{name}` has no `{prop}`",
            place,
            f"it has {', '.join(fields)}" if fields else "nothing of it is given as a length",
        )
    return length_quantity(fields[prop])


def _stock_fields(frame: Frame, name: str) -> dict[str, Length]:
    stock = frame.stock.get(name)
    if stock is None:
        raise AlreadySaidError
    fields = {"thickness": stock.thickness, "label": stock.label_thickness}
    if stock.sheet is not None:
        fields |= {"sheet width": stock.sheet[0], "sheet length": stock.sheet[1]}
    return fields


def _hardware_fields(frame: Frame, name: str) -> dict[str, Length]:
    hardware = frame.hardware.get(name)
    if hardware is None:
        raise AlreadySaidError
    fields = {
        key: value
        for key, value in (("length", hardware.length), ("diameter", hardware.diameter))
        if value is not None
    }
    if hardware.ware is not None:
        return fields | dict(hardware.ware.sizes)
    typed = frame.description.hardware[name].lengths(frame.values)
    return fields | {key: value for key, value in typed.items() if key in ("depth", "bore")}
