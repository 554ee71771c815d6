"""Prove on the finished views that all that is planned is printed, every dimension at its own two ends."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from plangen.drawing.part_sheets.dual import parts
from plangen.drawing.part_sheets.marked import note_key
from plangen.drawing.part_sheets.placing import View
from plangen.drawing.part_sheets.plan import PartPlan
from plangen.drawing.part_sheets.printed import PrintedDimension
from plangen.drawing.sheet.model import Fill, Mark, Meaning, Stroke, Text, Xy
from plangen.findings import Findings
from plangen.findings.model import ProjectError

NEAR = 0.02  # mm on the paper


def missing(plan: PartPlan, views: Sequence[View]) -> tuple[str, ...]:
    """Give what the plan says and the views do not: figures and notes that are lacking or point elsewhere.

    The texts of the views are counted against those of the plan. Every dimension has to have an arrow (or
    the ring that running dimensions start from) at either end of one of the stretches it stands for.
    """
    figures = Counter(text for view in views for text in _texts(view.marks))
    wanted = Counter(text for item in plan.dimensions for text in parts(item.text) if text)
    lacking = [f"{text} is not printed" for text in sorted((wanted - figures).keys())]
    said = {mark.group for view in views for mark in view.marks if isinstance(mark, Text)}
    lacking += [f"{note.text} is not printed" for note in plan.notes if note_key(plan, note) not in said]
    astray = [f"{item.text} is not at its place" for view in views for item in _astray(view)]
    return (*lacking, *astray)


def refuse(plan: PartPlan, lacks: Iterable[str]) -> None:
    """Raise ProjectError with the finding ``undimensioned-feature`` for each of the lacks."""
    findings = Findings()
    for lack in lacks:
        findings.error(
            "undimensioned-feature",
            f"The sheet of {plan.part.title} cannot be drawn: {lack}",
            plan.part.place,
            part=plan.part.key,
        )
    if findings.has_errors:
        raise ProjectError(findings)


def _texts(marks: Iterable[Mark]) -> Iterable[str]:
    return (mark.text for mark in marks if isinstance(mark, Text) and mark.role in ("dimension", "metric"))


def _astray(view: View) -> list[PrintedDimension]:
    tips = tuple(_tips(view.marks))
    return [item for item in view.printed if not _stands(view, item, tips)]


def _stands(view: View, item: PrintedDimension, tips: Sequence[Xy]) -> bool:
    index = 0 if view.picture.sight.is_across(item.axis) else 1
    stretches = [(item.pairs[0][0], item.pairs[-1][1])] if item.kind == "row" else list(item.pairs)
    if item.kind == "overall":  # where it runs from another datum it is measured from the far end
        stretches.append((stretches[0][1], stretches[0][0]))
    return any(
        all(
            any(abs(tip[index] - view.picture.place(item.axis, end)) < NEAR for tip in tips)
            for end in stretch
        )
        for stretch in stretches
    )


def _tips(marks: Iterable[Mark]) -> Iterable[Xy]:
    """Give the tips of the arrowheads and the middles of the rings."""
    for mark in marks:
        if isinstance(mark, Fill):
            yield mark.loops[0][0]
        elif isinstance(mark, Stroke) and mark.closed and mark.meaning is Meaning.DIMENSION:
            xs, ys = [x for x, _ in mark.points], [y for _, y in mark.points]
            yield (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
