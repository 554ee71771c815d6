"""Every picture of one booklet, drawn on demand in one view."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from plangen.design.model import Design
from plangen.drawing.camera import camera
from plangen.drawing.exploded import exploded
from plangen.drawing.hardware_sheet import hardware_rows
from plangen.drawing.hero import hero
from plangen.drawing.hidden_lines import View
from plangen.drawing.nested import inside
from plangen.drawing.positions import position_picture
from plangen.drawing.scene import Placing
from plangen.drawing.sheet.model import Drawing
from plangen.drawing.step_pictures import run_scale, runs, step_picture
from plangen.drawing.views import whole_views
from plangen.sequence.model import OrderOfWork, Step
from plangen.solids import Solids
from plangen.takeoff.model import TakeOff
from plangen.units import LengthStyle


@dataclass(frozen=True)
class Pictures:
    """Draws the pictures of a booklet; widths and heights are millimetres on the paper."""

    design: Design
    solids: Solids
    take_off: TakeOff
    order: OrderOfWork
    style: LengthStyle

    @cached_property
    def view(self) -> View:
        """The one view that the whole booklet keeps."""
        return camera(self.design)

    @cached_property
    def _placings(self) -> dict[tuple[int, float, float], Placing]:
        return {}

    def hero(self, width: float, height: float) -> Drawing:
        """Draw the finished piece for the cover."""
        return hero(self.design, self.solids, self.view, width, height)

    def views(self, width: float, height: float) -> Drawing:
        """Draw the views with overall sizes."""
        return whole_views(self.design, self.solids, self.style, width, height, view=self.view)

    def exploded(self, width: float, height: float) -> Drawing:
        """Draw the exploded view."""
        return exploded(self.design, self.solids, self.order, self.take_off, self.view, width, height)

    def assembly(self, key: str, width: float, height: float) -> Drawing:
        """Draw the exploded view of an assembly by itself."""
        whole = inside(self.design, key)
        view = camera(whole)
        return exploded(whole, self.solids, self.order, self.take_off, view, width, height)

    def position(self, name: str, width: float, height: float) -> Drawing:
        """Draw the piece as it stands in one of its positions."""
        position = next(one for one in self.design.positions if one.name == name)
        return position_picture(self.design, self.solids, position, self.view, width, height)

    def step(self, step: Step, width: float, height: float) -> Drawing:
        """Draw the picture of a step, at the scale and place of its run."""
        return step_picture(
            self.design,
            self.solids,
            step,
            self.take_off,
            self.view,
            self._placing(step, width, height),
            width,
            height,
            self._shown_before(step),
        )

    def hardware(self, width: float, height: float) -> tuple[Drawing, ...]:
        """Draw the hardware at full size, row by row; each drawing's own height says what it needs."""
        return hardware_rows(self.take_off, self.design, width, height, self.style)

    def _shown_before(self, step: Step) -> frozenset[str]:
        """Give the joints that an earlier assembly step has closed: their detail has been seen."""
        return frozenset(
            name
            for other in self.order.steps
            if other.number < step.number and other.picture.kind == "assembly"
            for name in other.joints
        )

    def _placing(self, step: Step, width: float, height: float) -> Placing | None:
        key = (step.number, width, height)
        if step.picture.kind == "assembly" and key not in self._placings:
            for run in runs(self.order.steps):
                if any(other.number == step.number for other in run):
                    placing = run_scale(self.design, self.solids, run, self.view, width, height)
                    for other in run:
                        self._placings[(other.number, width, height)] = placing
        return self._placings.get(key)
