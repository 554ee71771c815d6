"""The whole piece in one position: what every drawing of it shares, at whatever size it is drawn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from plangen.design.model import Design, Part, Position
from plangen.drawing.fittings import in_place
from plangen.drawing.hidden_lines import Body, Edge, View, project
from plangen.drawing.nested import moved_by, standing
from plangen.drawing.openings import Opening, clear_openings
from plangen.drawing.scene import Actor, Sight, copy_actor
from plangen.joinery.cuts import Cut, RoundCut
from plangen.joinery.space import Stance
from plangen.solids import Solids, part_solid, transform
from plangen.solids.model import Mesh

_SMALLEST_HOLE = 2.0  # mm on the paper: hidden edges of smaller holes are left out


@dataclass(frozen=True)
class WholePiece:
    """The piece as described, or as it stands in a ``position``; what is seen of it is worked out once."""

    described: Design
    solids: Solids
    position: Position | None = None
    like: WholePiece | None = None  # the same piece in another position, which has the same parts

    @cached_property
    def _plain(self) -> Plain:
        return self.like._plain if self.like is not None else Plain(self.solids)

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
            *in_place(self.described, self.moved),
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

    def hidden_edges(self, view: View, scale: float) -> tuple[Edge, ...]:
        """Give the edges of pieces that are hidden, without those of holes too small to print at a scale."""
        bores = {bore for part in self.design.parts for bore in _bores(part) if _small(bore, scale)}
        key = (view, tuple(sorted(bores)))
        if key not in self._hidden:
            plain = self._plain.bodies(self.design, scale)
            self._hidden[key] = project(plain, view, hidden=True).hidden if plain else ()
        return self._hidden[key]


class Plain:
    """Pieces without the holes that print under 2 mm: their hidden edges would only be clutter.

    Only a part that has such holes is built again, once for all scales at which they are the same holes.
    """

    def __init__(self, solids: Solids) -> None:
        self._solids = solids
        self._made: dict[tuple[str, tuple[float, ...]], Mesh] = {}

    def bodies(self, design: Design, scale: float) -> tuple[Body, ...]:
        """Give the pieces of a design in their places, as they are drawn at a scale."""
        return tuple(
            Body(self._mesh(part, scale), *transform(copy), copy.name)
            for part in design.parts
            for copy in part.copies
        )

    def _mesh(self, part: Part, scale: float) -> Mesh:
        left_out = tuple(sorted({bore for bore in _bores(part) if _small(bore, scale)}))
        if not left_out:
            return self._solids.parts[part.key].mesh
        if (part.key, left_out) not in self._made:
            shown = tuple(
                replace(operation, cuts=tuple(cut for cut in operation.cuts if _bore(cut) not in left_out))
                for operation in part.operations
            )
            self._made[part.key, left_out] = part_solid(replace(part, operations=shown)).mesh
        return self._made[part.key, left_out]


def _bores(part: Part) -> Iterator[float]:
    """Give the diameters of a part's round holes in mm."""
    bores = (_bore(cut) for operation in part.operations for cut in operation.cuts)
    return (bore for bore in bores if bore is not None)


def _bore(cut: Cut) -> float | None:
    return float(cut.diameter) if isinstance(cut, RoundCut) else None


def _small(bore: float, scale: float) -> bool:
    return bore * scale < _SMALLEST_HOLE
