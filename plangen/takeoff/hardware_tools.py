"""The tools that hardware asks for where nothing else says them: drivers, lead holes, plugs, inserts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from plangen.design.materials import hard
from plangen.design.model import Design, Fit, Hardware, HardwareUse, Joint
from plangen.handbook.screws import lead_hole
from plangen.joinery.hardware import HARDWARE_KINDS
from plangen.units import Length, Phrase, TradeSize, phrase

SCREWDRIVER: Final = phrase("Screwdriver for the screws")
_BORED: Final = ("lead hole", "screw hole", "pocket hole", "hole")


def joint_tools(design: Design, joint: Joint) -> tuple[Phrase, ...]:
    """Give what closing a joint asks for: what its kind says, else what its hardware does.

    Plugs and lead holes that no operation bores are asked for whatever the kind says.
    """
    tools = list(joint.tools)
    for use in joint.hardware:
        item = design.hardware.get(use.item)
        if not joint.tools or (item is not None and item.kind == "plug"):
            tools += use_tools(design, use, _receiving(use))
        elif item is not None and "screw" in item.kind:
            tools += _lead_drill(design, item, use.by, _receiving(use))
    return tuple(dict.fromkeys(tools))


def fit_tools(design: Design, fit: Fit) -> tuple[Phrase, ...]:
    """Give what putting on the hardware of a fit asks for, besides the holes that are drawn."""
    return use_tools(design, fit.hardware, fit.copies)


def _receiving(use: HardwareUse) -> tuple[str, ...]:
    return tuple(dict.fromkeys(copy for copy, _, _ in use.spots))


def use_tools(design: Design, use: HardwareUse, copies: Sequence[str]) -> tuple[Phrase, ...]:
    """Give what one use of hardware asks for; nothing for a thing that is only pushed in or laid on.

    ``copies`` are the pieces that it goes into.
    """
    item = design.hardware.get(use.item)
    if item is None:
        return ()
    kind = HARDWARE_KINDS.get(item.kind)
    if kind is not None:
        return tuple(phrase(words) for words in kind.tools)
    if item.kind == "plug":
        cutter = (phrase("Plug cutter, ", item.diameter),) if item.stock and item.diameter else ()
        return (*cutter, phrase("Flush-cut saw or chisel"))
    if "nail" in item.kind or "glide" in item.kind:
        return (phrase("Hammer"),)
    if "wedge" in item.kind:
        return (phrase("Mallet"),)
    if "screw" in item.kind:
        return (*_lead_drill(design, item, use.by, copies), SCREWDRIVER)
    return ()


def _lead_drill(design: Design, item: Hardware, by: str, copies: Sequence[str]) -> tuple[Phrase, ...]:
    """Give the drill for lead holes marked through the hardware; those that are drawn name their own.

    A screw that goes on into a wall takes what the wall asks for.
    """
    named = f"{item.kind} {item.title} {item.name}".lower()
    gauge = _gauge(item)
    if gauge is None or "wall" in named:
        return ()
    drawn = any(
        operation.joint in (by, by.removesuffix(" screws")) and operation.kind in _BORED
        for part in design.parts
        for operation in part.operations
    )
    if drawn:
        return ()
    part_of = design.part_of
    stocks = dict.fromkeys(part_of[copy].stock for copy in copies if copy in part_of)
    drills = dict.fromkeys(lead_hole(gauge, hard(design.stock[name])) for name in stocks)
    return tuple(phrase("Drill, ", drill, " bit") for drill in drills)


def _gauge(item: Hardware) -> int | Length | None:
    for piece in item.size.pieces:
        if isinstance(piece, TradeSize) and piece.name.startswith("No. "):
            return int(piece.name.removeprefix("No. "))
    return item.diameter
