"""What the finishing step says: which finish goes on what, in how many coats, and what stays bare."""

from __future__ import annotations

from plangen.design.model import Consumable, Design
from plangen.sequence.words import parts_counted
from plangen.takeoff.plan_words import counted

_SANDED = "Sand every face that shows, along the grain, to 180 grit. Break sharp edges lightly."


def finishing_words(design: Design) -> str:
    """Say how the piece is finished: by the project's finishes in their order, else as the label says."""
    laid = [_coats(design, one, _parts_of(design, one)) for one in finishes_used(design)]
    bare = [part.key for part in design.parts if part.finish == ()]
    if len(bare) == len(design.parts):
        return f"{_SANDED} Wipe off the dust; no finish goes on."
    words = f"{_SANDED} Wipe off the dust, then put on "
    if not laid:
        words += "the finish as its label says."
    elif len(laid) == 1:
        words += f"{laid[0]}, as the label says."
    else:
        words += f"{', then '.join(laid)}, each as its label says."
    if bare:
        words += f" Leave {parts_counted(design, bare)} bare."
    return words


def finishes_used(design: Design) -> tuple[Consumable, ...]:
    """Give the finishes that go on anything, in their order."""
    return tuple(one for one in design.finishes if _parts_of(design, one))


def _parts_of(design: Design, one: Consumable) -> list[str]:
    return [part.key for part in design.parts if part.finish is None or one.name in part.finish]


def _coats(design: Design, one: Consumable, keys: list[str]) -> str:
    name = one.title[:1].lower() + one.title[1:]
    words = f"{counted(one.coats, 'coat')} of {name}"
    finished = [part.key for part in design.parts if part.finish != ()]
    return words if keys == finished else f"{words} on {parts_counted(design, keys)}"
