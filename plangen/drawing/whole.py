"""The whole piece in one position: what every drawing of it shares, at whatever size it is drawn."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from plangen.design.model import Design, Part, Position
from plangen.drawing.fittings import in_place
from plangen.drawing.hidden_lines import Body, Edge, View, project
from plangen.drawing.nested import moved_by, standing
from plangen.drawing.openings import Opening, clear_openings
from plangen.drawing.scene import Actor, Sight, copy_actor
from plangen.joinery.cuts import RoundCut
from plangen.joinery.operation import Operation
from plangen.joinery.space import Stance
from plangen.solids import Solids, part_solid, transform

_SMALLEST_HOLE = 2.0  # mm on the paper: hidden edges of smaller holes are left out


@dataclass(frozen=True)
class WholePiece:
    """The piece as described, or as it stands in a ``position``; what is seen of it is worked out once."""

    described: Design
    solids: Solids
    position: Position | None = None

    @cached_property
    def design(self) -> Design:
        """The design as it stands."""
        return self.described if self.position is None else standing(self.described, self.position)

    @cached_property
    def moved(self) -> Mapping[str, Stance]:
        """The way from where each copy that moved is described to where it stands."""
        return {} if self.position is None else moved_by(self.described, self.position)

    @cached_property
    def actors(self) -> tuple[Actor, ...]:
        """Every copy, and the hardware that is seen on the finished piece."""
        return (
            *(copy_actor(self.design, self.solids, copy, "plain") for copy in self.design.copies.values()),
            *in_place(self.design, self.moved),
        )

    @cached_property
    def openings(self) -> tuple[Opening, ...]:
        """The clear heights between level pieces, lowest first."""
        return clear_openings(self.design)

    @cached_property
    def _sights(self) -> dict[View, Sight]:
        return {}

    def sight(self, view: View) -> Sight:
        """Look at the piece from a direction."""
        if view not in self._sights:
            self._sights[view] = Sight(self.actors, view)
        return self._sights[view]

    @cached_property
    def _hidden(self) -> dict[tuple[View, tuple[float, ...]], tuple[Edge, ...]]:
        return {}

    @cached_property
    def _bores(self) -> tuple[float, ...]:
        """The diameters in mm of all round holes, least first."""
        cuts = (cut for part in self.design.parts for operation in part.operations for cut in operation.cuts)
        return tuple(sorted({float(cut.diameter) for cut in cuts if isinstance(cut, RoundCut)}))

    def hidden_edges(self, view: View, scale: float) -> tuple[Edge, ...]:
        """Give the edges of pieces that are hidden, without those of holes too small to print at a scale."""
        key = (view, tuple(bore for bore in self._bores if _small(bore, scale)))
        if key not in self._hidden:
            plain = without_small_holes(self.design, self.solids, scale)
            self._hidden[key] = project(plain, view, hidden=True).hidden if plain else ()
        return self._hidden[key]


def without_small_holes(design: Design, solids: Solids, scale: float) -> tuple[Body, ...]:
    """Give the pieces without the holes that print under 2 mm: their hidden edges would only be clutter.

    Only a part that has such holes is built again.
    """
    found: list[Body] = []
    for part in design.parts:
        shown = _worth_showing(part, scale)
        plain = shown == part.operations
        mesh = (solids.parts[part.key] if plain else part_solid(replace(part, operations=shown))).mesh
        found += [Body(mesh, *transform(copy), copy.name) for copy in part.copies]
    return tuple(found)


def _worth_showing(part: Part, scale: float) -> tuple[Operation, ...]:
    return tuple(
        replace(operation, cuts=tuple(cut for cut in operation.cuts if not _too_small(cut, scale)))
        for operation in part.operations
    )


def _too_small(cut: object, scale: float) -> bool:
    return isinstance(cut, RoundCut) and _small(float(cut.diameter), scale)


def _small(bore: float, scale: float) -> bool:
    return bore * scale < _SMALLEST_HOLE
