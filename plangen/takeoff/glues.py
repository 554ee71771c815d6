"""Which glues a project takes, and how long each stays open."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from plangen.design.model import Consumable, Design, Joint
from plangen.takeoff.plan_words import counted
from plangen.units import Phrase, phrase

USUAL_GLUE: Final = "wood glue"  # where neither the shop nor a joint names one


def shop_glue(design: Design) -> str:
    """Name the glue for panels, layers and plugs: the shop's first, else that of the first glued joint."""
    named = [name for name, _ in design.shop.glues]
    named += [joint.glue for joint in design.joints if joint.glue]
    return named[0] if named else USUAL_GLUE


def glues_of(design: Design, joint: Joint) -> tuple[str, ...]:
    """Name the glues of one joint: its own, and the shop's for plugs over its screws."""
    kinds = [design.hardware[use.item].kind for use in joint.hardware if use.item in design.hardware]
    plugs = (shop_glue(design),) if "plug" in kinds else ()
    return tuple(dict.fromkeys([*([joint.glue] if joint.glue else []), *plugs]))


def glues_used(design: Design) -> tuple[tuple[str, Fraction | None], ...]:
    """Give every glue of the project with its open time in minutes, the shop's first in its own order."""
    open_times = dict(design.shop.glues)
    used = [shop_glue(design)] if any(part.glue_up for part in design.parts) else []
    used += [glue for joint in design.joints for glue in glues_of(design, joint)]
    ordered = [name for name in open_times if name in used]
    return tuple((name, open_times.get(name)) for name in dict.fromkeys([*ordered, *used]))


def finish_words(one: Consumable) -> Phrase:
    """Say a finish as a step needs it: ``Varnish, three coats``."""
    return phrase(f"{one.title}, {counted(one.coats, 'coat')}")


def glue_words(name: str, minutes: Fraction | None) -> Phrase:
    """Say a glue as a step or a list needs it: ``Wood glue, open 10 minutes``."""
    words = f"{name[:1].upper()}{name[1:]}"
    if minutes is not None:
        words += f", open {float(minutes):g} minute{'' if minutes == 1 else 's'}"
    return phrase(words)
