"""Every picture of one booklet, drawn on demand in one view."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from plangen.design.model import Design, Position
from plangen.drawing.angles import Angle, angles
from plangen.drawing.camera import camera
from plangen.drawing.exploded import exploded_shot
from plangen.drawing.gauges import Gauge, gauge_exploded, gauge_picture, gauge_runs
from plangen.drawing.hardware_sheet import hardware_rows
from plangen.drawing.hero import cover_position, hero
from plangen.drawing.hidden_lines import View
from plangen.drawing.leaving import with_ways_in
from plangen.drawing.nested import inside
from plangen.drawing.positions import position_picture
from plangen.drawing.scene import Placing
from plangen.drawing.sheet.model import Drawing
from plangen.drawing.shots import Shot
from plangen.drawing.step_pictures import run_scale, runs, scale_groups, step_shot
from plangen.drawing.views import views_of
from plangen.drawing.whole import WholePiece
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

    @cached_property
    def _panels(self) -> dict[int, tuple[Angle, ...]]:
        return {}

    @cached_property
    def shots(self) -> dict[int, Shot]:
        """The last picture made of each step, by its number, with what it was drawn from."""
        return {}

    def hero(self, width: float, height: float) -> Drawing:
        """Draw the finished piece for the cover."""
        return hero(self.whole(cover_position(self.design)), self.view, width, height)

    def views(self, width: float, height: float) -> Drawing:
        """Draw the views with overall sizes."""
        return views_of(self.whole(), self.style, width, height, view=self.view)

    @cached_property
    def _standing(self) -> dict[str, WholePiece]:
        return {}

    def whole(self, position: Position | None = None) -> WholePiece:
        """Give the piece as described, or in a position, with what was seen of it already."""
        name = position.name if position is not None else ""
        if name not in self._standing:
            like = self.whole() if position is not None else None
            self._standing[name] = WholePiece(self.design, self.solids, position, like)
        return self._standing[name]

    @cached_property
    def apart(self) -> dict[str, Shot]:
        """The last exploded view made of the whole, under no name, and of each assembly."""
        return {}

    def exploded(self, width: float, height: float) -> Drawing:
        """Draw the exploded view."""
        args = (self.design, self.solids, self.order, self.take_off, self.view, width, height)
        self.apart[""] = exploded_shot(*args)
        return self.apart[""].drawing

    def assembly(self, key: str, width: float, height: float) -> Drawing:
        """Draw the exploded view of an assembly by itself."""
        whole = inside(self.design, key)
        view = camera(whole)
        self.apart[key] = exploded_shot(whole, self.solids, self.order, self.take_off, view, width, height)
        return self.apart[key].drawing

    def position(self, name: str, width: float, height: float) -> Drawing:
        """Draw the piece as it stands in one of its positions."""
        position = next(one for one in self.design.positions if one.name == name)
        return position_picture(self.whole(position), self.view, width, height)

    def step(self, step: Step, width: float, height: float) -> Drawing:
        """Draw the picture of a step, at the scale and place of its run."""
        step = self._with_ways_in(step)
        shot = step_shot(
            self.design,
            self.solids,
            step,
            self.take_off,
            self.view,
            self._placing(step, width, height),
            width,
            height,
            self._shown_before(step),
            self.panels(step) if step.picture.kind == "assembly" else None,
        )
        self.shots[step.number] = shot
        return shot.drawing

    def pieces(self, step: Step, solids: Solids, width: float, height: float) -> Drawing:
        """Draw the pieces of a step lying apart, with ``solids`` as they are worked by then."""
        shot = step_shot(self.design, solids, step, self.take_off, self.view, None, width, height)
        self.shots[step.number] = shot
        return shot.drawing

    def gauges(self) -> tuple[tuple[str, Gauge], ...]:
        """Measure every exploded view and step picture drawn so far, each by the name of the picture."""
        found: list[tuple[str, Gauge]] = []
        for key, shot in self.apart.items():
            of = inside(self.design, key) if key else self.design
            name = f"exploded view of {of.project.title}"
            found += [(name, gauge) for gauge in gauge_exploded(of, shot)]
        on_runs = gauge_runs(self.shots, runs(self.order.steps))
        for step in self.order.steps:
            if step.number in self.shots:
                shot, before = self.shots[step.number], sorted(self._shown_before(step))
                gauges = gauge_picture(self.design, step, shot, before)
                own = [gauge for number, gauge in on_runs if number == step.number]
                found += [(f"step {step.number}", gauge) for gauge in (*gauges, *own)]
        return tuple(found)

    def panels(self, step: Step) -> tuple[Angle, ...]:
        """Give the views that an assembly step is shown in, with the hardware that is in before it."""
        if step.number not in self._panels:
            before = (other for other in self.order.steps if other.number < step.number)
            done = frozenset(name for other in before for name in (*other.joints, *other.fits))
            checked = self._with_ways_in(step)
            self._panels[step.number] = angles(self.design, self.solids, checked, self.view, done)
        return self._panels[step.number]

    def hardware(self, width: float, height: float) -> tuple[Drawing, ...]:
        """Draw the hardware at full size, row by row; each drawing's own height says what it needs."""
        return hardware_rows(self.take_off, self.design, width, height, self.style)

    @cached_property
    def _checked(self) -> dict[int, Step]:
        return {}

    def _with_ways_in(self, step: Step) -> Step:
        """Give the step with each piece coming from a side that the solids leave open."""
        if step.picture.kind != "assembly":
            return step
        if step.number not in self._checked:
            self._checked[step.number] = with_ways_in(self.design, self.solids, step)
        return self._checked[step.number]

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
            run = next(run for run in runs(self.order.steps) if any(o.number == step.number for o in run))
            panels = {other.number: self.panels(other) for other in run}
            groups = scale_groups(run, panels, width, height)
            alike = next(some for some in groups if any(one.number == step.number for one in some))
            placing = run_scale(self.design, self.solids, alike, self.view, width, height, panels)
            for other in alike:
                self._placings[(other.number, width, height)] = placing
        return self._placings.get(key)
