"""Boards made ready in words: milled to thickness, glued up; and to what thickness each part has come."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from plangen.design.model import Design, GlueUp, Part, Stock
from plangen.sequence.plan import Plan
from plangen.sequence.tokens import length_token, part_token, phrase_text
from plangen.sequence.words import number_word, parts_counted
from plangen.takeoff.glues import shop_glue
from plangen.units import Length, Phrase, listed


def stocks_named(design: Design, keys: Iterable[str], *, planed: bool = False) -> str:
    """Name the stocks of some parts as a sentence does: ``pine``, ``4/4 and 8/4 black cherry``.

    What to ask for stands before the title where the project has several of one title; where it is the
    same for two of these and they are ``planed``, how thick they are now.
    """
    every = [design.stock[name] for name in dict.fromkeys(part.stock for part in design.parts)]
    by_title: dict[str, list[Stock]] = {}
    for name in dict.fromkeys(design.part(key).stock for key in keys):
        by_title.setdefault(design.stock[name].title, []).append(design.stock[name])
    said = []
    for title, some in by_title.items():
        called = [one for one in every if one.title == title]
        same = len({one.label for one in called}) < len(called)
        sizes = [length_token(one.thickness) if same and planed else phrase_text(one.label) for one in some]
        said.append(
            f"{listed(list(dict.fromkeys(sizes)))} {title.lower()}" if len(called) > 1 else title.lower()
        )
    return listed(said)


def milled_to(part: Part) -> Length:
    """Give the thickness to which the wood of a part is planed before anything is glued."""
    made = part.glue_up
    if made is None:
        return part.thickness
    if made.kind == "boards":
        # Its own sentences have boards planed that are thinner than their stock, and glued at that.
        return (
            made.thickness if made.say and not made.over_thickness else part.thickness + made.over_thickness
        )
    return made.width if made.kind == "strips" else made.thickness


def planed_of(design: Design, plan: Plan) -> tuple[tuple[str, Length], ...]:
    """Give for each part that a step planes the thickness its wood, or the glued piece, then has."""
    planed = {key: milled_to(design.part(key)) for key in plan.milled}
    planed.update({
        key: design.part(key).thickness for key in plan.panels if _planed_glued(design.part(key))
    })  # fmt: skip
    return tuple(planed.items())


def _planed_glued(part: Part) -> bool:
    """Whether gluing up a part takes it, or its boards, down to its thickness."""
    made = part.glue_up
    if made is None or not made.say:
        return False
    thinner = made.kind == "boards" and made.thickness > part.thickness
    return thinner or bool(made.over_thickness) or made.kind == "strips"


def is_trimmed(part: Part) -> bool:
    """Whether gluing up a part ends with trimming it to its finished length and width."""
    made = part.glue_up
    if made is None or not made.say or not made.over_length:
        return False
    return bool(made.over_width) or made.kind == "layers"  # layers are ripped to width in any case


def mill_sayings(design: Design, keys: Sequence[str]) -> list[str]:
    """Flatten, square, plane to thickness: and say where the wood of a part is left thicker or is thinner."""
    said = ["Joint one face of each board flat and one edge square to it."]
    bought: dict[tuple[str, Phrase], list[Part]] = {}
    for key in keys:
        stock = design.stock[design.part(key).stock]
        bought.setdefault((stock.title, stock.label), []).append(design.part(key))
    for parts in bought.values():
        said += _planed(design, parts)
    return said


def _planed(design: Design, parts: Sequence[Part]) -> list[str]:
    """Say how thick to plane what is bought alike: what is left thicker, then all, then what goes on."""
    wood = stocks_named(design, [parts[0].key])
    full = max(design.stock[part.stock].thickness for part in parts)
    left: dict[Length, list[str]] = {}  # glued over their thickness, planed again then
    thinner: dict[Length, list[str]] = {}
    usual = False
    for part in parts:
        thick = milled_to(part)
        if part.glue_up is not None and part.glue_up.kind == "boards" and part.glue_up.over_thickness:
            left.setdefault(thick, []).append(part.key)
        elif thick < full:
            thinner.setdefault(thick, []).append(part.key)
        else:
            usual = True
    said = [
        f"Plane the {wood} for {parts_counted(design, some)} to {length_token(thick)} thick, no less: "
        "it is planed again when it is glued."
        for thick, some in left.items()
    ]
    if usual:
        rest = "rest of the " if left else ""
        said.append(f"Plane the {rest}{wood} to {length_token(full)} thick.")
    alone = not usual and not left and len(thinner) == 1
    for thick, some in thinner.items():
        if alone:
            said.append(f"Plane the {wood} to {length_token(thick)} thick.")
        elif usual:
            said.append(f"Plane the wood for {parts_counted(design, some)} on to {length_token(thick)}.")
        else:
            said.append(f"Plane the {wood} for {parts_counted(design, some)} to {length_token(thick)} thick.")
    return said


def panel_sayings(design: Design, keys: Sequence[str], made: Sequence[str]) -> list[str]:
    """Say how each part is glued up; those glued up alike share their sentences.

    ``made`` are parts that the step cuts to size: what is trimmed as it is glued up gets its mark here.
    """
    alike: dict[GlueUp | None, list[str]] = {}
    for key in keys:
        alike.setdefault(design.part(key).glue_up, []).append(key)
    said = [_panel(design, glue_up, some) for glue_up, some in alike.items()]
    if trimmed := [key for key in keys if key in made and is_trimmed(design.part(key))]:
        said.append(f"Write its mark on {each_piece(design, trimmed)}.")
    return said


def _panel(design: Design, glue_up: GlueUp | None, keys: Sequence[str]) -> str:
    if glue_up is None:
        return f"Glue up {parts_counted(design, keys)}."
    each = f"For {each_piece(design, keys)}"
    if glue_up.say:
        said = " ".join(phrase_text(sentence) for sentence in glue_up.say)
        return f"{each}, with {shop_glue(design)}: {said[:1].lower()}{said[1:]}"
    if glue_up.kind == "layers":
        size, way = f"layers {length_token(glue_up.thickness)} thick", "face to face"
    else:
        size, way = f"boards {length_token(glue_up.width)} wide", "edge to edge"
    return f"{each}, glue {number_word(glue_up.number)} {size} {way} with {shop_glue(design)}."


def each_piece(design: Design, keys: Sequence[str]) -> str:
    """Name the pieces that all get the same: ``each side and the handle``."""
    return listed([
        f"each {part_token(key)}" if len(design.part(key).copies) > 1 else part_token(key, 1) for key in keys
    ])  # fmt: skip
