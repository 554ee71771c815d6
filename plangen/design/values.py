"""What names mean: sizes, sides of copies, fields of stock and hardware, each worked out when asked for.

Asking may lead to more asking; a ring of names is an error that prints its whole path.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from typing import Literal, TypeVar

from plangen.description.model import Description
from plangen.expressions import Expression, Quantity, Reference
from plangen.findings import Finding, Findings, Place, ProjectError
from plangen.units import Length

T = TypeVar("T")
SIDES = ("left", "right", "front", "back", "bottom", "top")
RULED = (1, 2, 4, 8, 16, 32, 64)  # the parts of an inch on a rule
PROPERTIES = (*SIDES, "length", "width", "thickness", "shoulder length", "shoulder width", "gap", "share")


class AlreadySaidError(ProjectError):
    """Something this value needs is at fault, and that has been reported."""

    def __init__(self) -> None:
        super().__init__(())


def fault(
    kind: str,
    message: str,
    place: Place | None,
    remedy: str,
    part: str | None = None,
    also: tuple[tuple[Place, str], ...] = (),
) -> ProjectError:
    """Make the error that one finding is."""
    return ProjectError([Finding(kind, message, place, remedy, part=part, also=also)])


def meant(word: str, known: Iterable[str], otherwise: str, form: str = "{}") -> str:
    """Say which known word was meant, or what to do instead; ``form`` shows where the word goes."""
    near = get_close_matches(word, list(known), 1)
    return f"did you mean `{form.format(near[0])}`?" if near else otherwise


def in_words(length: Length, units: Literal["inch", "mm"]) -> str:
    """Write a length into a message: inches as they are typed where a rule shows them exactly."""
    if units == "mm":
        return f"{float(length):.5g} mm"
    whole, part = divmod(abs(length.inches), 1)
    if part.denominator in RULED:
        sign = "-" if length.inches < 0 else ""
        return f"{sign}{f'{whole}-{part}' if whole and part else whole or part} in"
    return f"{float(length.inches):.4g} in"


def length_quantity(length: Length) -> Quantity:
    """Give a length as a quantity of the expression language."""
    return Quantity(length.mm, "length")


@dataclass
class Memo:
    """Values by key, each worked out once; knows what is being worked out at the moment."""

    findings: Findings
    done: dict[object, object] = field(default_factory=dict)
    failed: set[object] = field(default_factory=set)
    path: list[tuple[object, str, Place | None]] = field(default_factory=list)

    def get(self, key: object, label: str, place: Place | None, work: Callable[[], T]) -> T:
        """Give the value of a key. Raises ProjectError when it, or what it needs, is at fault."""
        if key in self.done:
            return self.done[key]  # type: ignore[return-value]
        if key in self.failed:
            raise AlreadySaidError
        if any(key == other for other, _, _ in self.path):
            raise ProjectError([self._ring(key, label, place)])
        self.path.append((key, label, place))
        try:
            value = work()
        except ProjectError as error:
            self.failed.add(key)
            self.findings.extend(error.findings)
            raise AlreadySaidError from None
        finally:
            self.path.pop()
        self.done[key] = value
        return value

    def _ring(self, key: object, label: str, place: Place | None) -> Finding:
        start = next(index for index, (other, _, _) in enumerate(self.path) if other == key)
        ring = self.path[start:]
        words = " → ".join([text for _, text, _ in ring] + [label])
        return Finding(
            "cycle",
            f"these depend on each other in a ring: {words}",
            ring[0][2] or place,
            "give one of them without using the others",
            also=tuple((at, f"`{text}` is worked out here") for _, text, at in ring[1:] if at is not None),
        )


@dataclass(frozen=True)
class Values:
    """The names of the project, for one place in the file: ``own`` is the copy that stands there."""

    units: Literal["inch", "mm"]
    description: Description
    memo: Memo
    copies_of: Mapping[str, tuple[str, ...]]  # part -> copies; a copy's own name -> itself
    single: Collection[str]  # names of one piece or one placed assembly
    property_of: Callable[[str, str, Place], Quantity]  # copy, property
    field_of: Callable[[str, str, Place], Quantity | None]  # stock or hardware, field
    given: Mapping[str, Quantity] = field(default_factory=dict)  # to this assembly
    outer: Values | None = None  # what is around this assembly
    own: str | None = None

    def owned_by(self, copy: str | None) -> Values:
        """The same names, seen from a copy."""
        return replace(self, own=copy)

    def lookup(self, reference: Reference) -> Quantity:
        """Give the value of a reference. Raises ProjectError."""
        if reference.names == ("own",):
            return self._of_own(reference)
        if reference.prop is None:
            return self._size(reference.names[0], reference)
        name = ".".join(reference.names)
        if name in self.single:
            return self.property_of(name, reference.prop, reference.place)
        if name in self.copies_of:
            return self._of_copies(name, reference)
        found = self.field_of(name, reference.prop, reference.place)
        if found is not None:
            return found
        raise self._undefined(name, reference)

    def worth(self, expression: Expression) -> Quantity:
        """Work out a value; a plain number is a length in the project's units. Raises ProjectError."""
        value = expression.value(self)
        if value.kind == "number" and expression.is_plain:
            return length_quantity(expression.length(self))
        return value

    def knows(self, name: str) -> bool:
        """Whether a name is a size here, or in what is around this assembly."""
        if name in self.given or name in self.description.sizes:
            return True
        return self.outer is not None and self.outer.knows(name)

    def _size(self, name: str, reference: Reference) -> Quantity:
        if name in self.given:
            return self.given[name]
        if name not in self.description.sizes and self.outer is not None and self.outer.knows(name):
            return self.outer.owned_by(None).lookup(reference)
        if name in self.description.sizes:
            expression = self.description.sizes[name]
            return self.memo.get(("size", name), name, expression.place, lambda: self._evaluate_size(name))
        if name in self.copies_of or name in self.description.stock or name in self.description.hardware:
            measure = "thickness" if name in self.description.stock else "length"
            raise fault(
                "undefined-name",
                f"`{name}` is not a size; a bare name is always a size",
                reference.place,
                f"say which of its measures, such as `{name}.{measure}`",
            )
        raise self._undefined(name, reference)

    def _evaluate_size(self, name: str) -> Quantity:
        return self.owned_by(None).worth(self.description.sizes[name])

    def _of_own(self, reference: Reference) -> Quantity:
        if self.own is None or reference.prop is None:
            raise fault(
                "own-outside",
                "`own` means the part that the line belongs to, and there is none here",
                reference.place,
                "name the part",
            )
        return self.property_of(self.own, reference.prop, reference.place)

    def _of_copies(self, name: str, reference: Reference) -> Quantity:
        assert reference.prop is not None
        if reference.prop not in PROPERTIES:
            raise fault(
                "unknown-property",
                f"`{name}` has no `{reference.prop}`",
                reference.place,
                meant(reference.prop, PROPERTIES, f"it has {', '.join(PROPERTIES)}", name + ".{}"),
            )
        copies = self.copies_of[name]
        values = [self.property_of(copy, reference.prop, reference.place) for copy in copies]
        if any(value != values[0] for value in values[1:]):
            raise fault(
                "copies-differ-here",
                f"`{name}` has {len(copies)} copies with different `{reference.prop}`",
                reference.place,
                "say which: " + ", ".join(f"`{copy}`" for copy in copies[:8]),
            )
        return values[0]

    def _undefined(self, name: str, reference: Reference) -> ProjectError:
        known = [
            *self.description.sizes,
            *self.given,
            *self.copies_of,
            *self.description.stock,
            *self.description.hardware,
        ]
        return fault(
            "undefined-name",
            f"`{name}` is not defined",
            reference.place,
            meant(name, known, "define it under `sizes`"),
        )
