"""What is written on the label of each piece: which it is, how large, and what it is cut from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from plangen.design.faces import face_side
from plangen.design.model import Design, Part
from plangen.joinery.space import Side
from plangen.takeoff.cut_list import mark_order
from plangen.takeoff.model import TakeOff
from plangen.takeoff.naming import bodies_of, copy_words, says_more, stock_words
from plangen.units import Length, Phrase


@dataclass(frozen=True, slots=True)
class PartLabel:
    """The label of one piece.

    ``place`` says where the piece belongs where its name tells more than its part's; ``assembly`` is what
    it is built into first. ``panels`` are the numbers of the boards or sheets (``kind``) that it comes
    from, none where the cutting plan does not say. ``faces`` is the side of the whole to which the face
    side looks, None for a piece that leans.
    """

    part: str  # key
    mark: str
    title: str
    copy: int  # 1, 2, 3 …
    copies: int
    length: Length  # finished, along the grain
    width: Length
    thickness: Length
    from_work: bool
    stock: Phrase  # what tells it from the other stock
    kind: str
    panels: tuple[int, ...]
    assembly: str
    place: str
    faces: Side | None


def part_labels(design: Design, take_off: TakeOff) -> tuple[PartLabel, ...]:
    """Give a label for every piece, in the order of marks."""
    panels = _panels(design, take_off)
    bodies = bodies_of(design)
    labels = []
    for part in sorted(design.parts, key=lambda part: mark_order(part.mark)):
        stock = design.stock[part.stock]
        per_piece, rest = divmod(len(panels.get(part.key, ())), len(part.copies))
        face = face_side(part)
        for index, copy in enumerate(part.copies):
            numbers = () if rest else panels.get(part.key, ())[index * per_piece : (index + 1) * per_piece]
            body = bodies[copy.name][-1] if bodies[copy.name] else None
            labels.append(
                PartLabel(
                    part=part.key,
                    mark=part.mark,
                    title=part.title,
                    copy=index + 1,
                    copies=len(part.copies),
                    length=part.length,
                    width=part.width,
                    thickness=part.thickness,
                    from_work=bool(part.from_work),
                    stock=stock_words(design, stock.name),
                    kind="sheet" if stock.kind == "plywood" else "board",
                    panels=tuple(dict.fromkeys(numbers)),
                    assembly=copy_words(body.copy.name) if body is not None else "",
                    place=_place(part, copy.name),
                    faces=copy.pose.side(face) if copy.stance is None else None,
                )
            )
    return tuple(labels)


def panel_words(label: PartLabel) -> str:
    """Give what a piece is cut from: ``board 2`` or ``boards 2, 3``; empty where that is not known."""
    if not label.panels:
        return ""
    return f"{label.kind}{'s' if len(label.panels) > 1 else ''} {', '.join(map(str, label.panels))}"


def _place(part: Part, copy: str) -> str:
    return copy_words(copy) if len(part.copies) > 1 and says_more(part, copy) else ""


def _panels(design: Design, take_off: TakeOff) -> Mapping[str, tuple[int, ...]]:
    """Give for each part the panel of each of its pieces, in the order in which they are cut.

    The pieces of a part are equal, so the first to be cut is the first copy; of one that is glued up,
    as many pieces as it has make one copy.
    """
    found: dict[str, list[int]] = {}
    for plan in take_off.plans:
        for diagram in plan.diagrams:
            for piece in diagram.pieces:
                if not piece.spare:
                    found.setdefault(piece.part, []).append(diagram.number)
    for blank in design.blanks:  # its parts come from where it lies, and it lies under the first of them
        numbers = found.get(blank.parts[0], [])
        for key, each in zip(blank.parts, blank.each, strict=True):
            found[key] = [number for number in numbers for _ in range(each)]
    return {part: tuple(numbers) for part, numbers in found.items()}
