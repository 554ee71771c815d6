"""Every piece of the project where it really stands: assemblies unfolded, leaning ones with their stance."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from plangen.design.frame import Frame, carried_piece
from plangen.design.leaning import UPRIGHT
from plangen.joinery.piece import Piece
from plangen.joinery.space import Stance
from plangen.joinery.transform import UNMOVED, Transform, carried_stance, composed


@dataclass(frozen=True)
class Level:
    """One frame that a piece stands in, its name there, and how that frame is carried to the project's."""

    frame: Frame
    name: str
    by: Transform


@dataclass(frozen=True)
class Placement:
    """One placed assembly, or the whole project (no path): its frame and how it stands in the project's.

    What is exact is carried ``by`` a turn by quarters into the project's directions; ``stance`` then
    leans it.
    """

    path: tuple[str, ...]  # names of placed assemblies, the outermost first
    kind: tuple[str, ...]  # names of the assemblies that they are
    frame: Frame
    by: Transform
    stance: Stance
    around: tuple[Level, ...] = ()  # the frames around it; the name is its own there

    @property
    def name(self) -> str:
        """What it is called in the project: ``left bank.top drawer``."""
        return ".".join(self.path)

    def called(self, local: str) -> str:
        """What a piece of it is called in the project."""
        return ".".join((*self.path, local))

    def leaning(self, local: str) -> Stance:
        """How one of its pieces stands in the project. Raises ProjectError."""
        own = carried_stance(self.frame.stance(local), self.by) if self.frame.leans(local) else UPRIGHT
        return self.stance.after(own) if self.stance != UPRIGHT else own

    def piece(self, local: str, part: str) -> Piece:
        """One of its pieces, upright in the project's directions. Raises ProjectError."""
        piece = carried_piece(self.frame.piece(local), self.by, self.called(local))
        added = piece.finished
        for level in self.around:
            inner = f"{level.name}.{local}"
            for side, length in level.frame.added(inner).items():
                added = added.grown(level.by.side(side), length)
        return replace(piece, part=part, finished=added)

    def levels(self, local: str) -> Iterator[Level]:
        """The frames in which joints may have been cut into one of its pieces."""
        yield Level(self.frame, local, self.by)
        for level in self.around:
            yield replace(level, name=f"{level.name}.{local}")


def placements(frame: Frame) -> tuple[Placement, ...]:
    """The project, and every placed assembly in it; inner ones after what holds them. Raises ProjectError."""
    return tuple(_placements(Placement((), (), frame, UNMOVED, UPRIGHT)))


def _placements(placed: Placement) -> Iterator[Placement]:
    yield placed
    frame = placed.frame
    for name, copied in frame.nested.items():
        lean = frame.lean(name)
        stance = carried_stance(lean, placed.by) if lean != UPRIGHT else UPRIGHT
        around = tuple(replace(level, name=f"{level.name}.{name}") for level in placed.around)
        yield from _placements(
            Placement(
                (*placed.path, name),
                (*placed.kind, copied.part),
                frame.inner(name),
                composed(placed.by, frame.transform(name)),
                placed.stance.after(stance) if placed.stance != UPRIGHT else stance,
                (Level(frame, name, placed.by), *around),
            )
        )
