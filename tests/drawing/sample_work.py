"""A bill of hardware and an order of work for the sample design, by hand, so that pictures can be tested."""

from __future__ import annotations

from fractions import Fraction

from plangen.design.model import Design
from plangen.joinery.space import Side
from plangen.sequence.model import HardwareCount, OrderOfWork, Step, StepKind, StepPicture
from plangen.takeoff.model import HardwareLine, TakeOff


def sample_take_off(design: Design) -> TakeOff:
    """Only the hardware bill is filled in: pictures read nothing else."""
    lines = tuple(
        HardwareLine(number, name, item.title, item.size, 4, None, (("rail screws", 4),), None, None)
        for number, (name, item) in enumerate(design.hardware.items(), 1)
    )
    return TakeOff(
        cut_list=(),
        hardware=lines,
        plans=(),
        costs=(),
        total_cost=None,
        unpriced=(),
        part_mass={},
        mass=Fraction(0),
        mass_note="",
        tools=(),
        glue_area=Fraction(0),
        finish_area=Fraction(0),
    )


def _step(
    number: int, kind: StepKind, title: str, picture: StepPicture, hardware: tuple[HardwareCount, ...] = ()
) -> Step:
    return Step(
        number=number,
        kind=kind,
        title=title,
        say="",
        checks=(),
        cautions=(),
        parts=(),
        hardware=hardware,
        tools=(),
        made=(),
        worked=(),
        placed=picture.new,
        measured=(),
        joints=(),
        picture=picture,
        drafted=True,
        place=None,
    )


def sample_order() -> OrderOfWork:
    """Work the sides, then put the case together from the left side on."""
    shelves = ("bottom shelf", "upper shelf")
    return OrderOfWork(
        (
            _step(
                1,
                "work",
                "Cut the dadoes and rabbets",
                StepPicture(
                    "pieces",
                    new=("left side", "right side"),
                    sides=(("left side", Side.RIGHT), ("right side", Side.LEFT)),
                ),
            ),
            _step(2, "cut", "Cut the shelves and the rail", StepPicture("pieces", new=(*shelves, "rail"))),
            _step(
                3,
                "glue",
                "Stand the shelves in the left side",
                StepPicture(
                    "assembly",
                    new=shelves,
                    context=("left side",),
                    offsets=dict.fromkeys(shelves, Side.RIGHT),
                ),
            ),
            _step(
                4,
                "glue",
                "Bring the right side",
                StepPicture(
                    "assembly",
                    new=("right side",),
                    context=("left side", *shelves),
                    offsets={"right side": Side.RIGHT},
                ),
            ),
            _step(
                5,
                "fasten",
                "Screw the rail between the sides",
                StepPicture(
                    "assembly",
                    new=("rail",),
                    context=("left side", "right side", *shelves),
                    offsets={"rail": Side.BACK},
                    hardware=("rail screws",),
                ),
                (HardwareCount("screw", 4), HardwareCount("plug", 4)),
            ),
            _step(
                6,
                "glue",
                "Lay in the back",
                StepPicture(
                    "assembly",
                    new=("back",),
                    context=("left side", "right side", *shelves, "rail"),
                    offsets={"back": Side.BACK},
                ),
            ),
        )
    )


def table_order() -> OrderOfWork:
    """Cut one of each, glue the left end, add the long aprons, close with the right end, put on the top."""
    left = ("left apron", "back left leg", "front left leg")
    right = ("right apron", "back right leg", "front right leg")
    long = ("front apron", "back apron")
    return OrderOfWork(
        (
            _step(
                1,
                "cut",
                "Cut the parts",
                StepPicture("pieces", new=("front left leg", "left apron", "front apron", "top")),
            ),
            _step(
                2,
                "glue",
                "Join the left end",
                StepPicture(
                    "assembly",
                    new=left,
                    offsets={"back left leg": Side.BACK, "front left leg": Side.FRONT},
                ),
            ),
            _step(
                3,
                "glue",
                "Add the long aprons",
                StepPicture(
                    "assembly",
                    new=long,
                    context=left,
                    offsets=dict.fromkeys(long, Side.RIGHT),
                ),
            ),
            _step(
                4,
                "glue",
                "Close with the right end",
                StepPicture(
                    "assembly",
                    new=right,
                    context=(*left, *long),
                    offsets=dict.fromkeys(right, Side.RIGHT),
                ),
            ),
            _step(
                5,
                "fasten",
                "Put on the top",
                StepPicture(
                    "assembly",
                    new=("top",),
                    context=(*left, *long, *right),
                    offsets={"top": Side.TOP},
                ),
            ),
        )
    )
