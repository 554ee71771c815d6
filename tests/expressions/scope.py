"""A scope of a few names, for tests of expressions."""

from __future__ import annotations

from dataclasses import dataclass, field

from plangen.expressions import Quantity, Reference, length_of, number_of
from plangen.findings import Finding, ProjectError
from plangen.units import inches, millimetres

NAMES = {
    "height": length_of(inches(21)),
    "width": length_of(inches(30)),
    "top shelf down": length_of(inches("3/2")),
    "rows": number_of(5),
    "pine.thickness": length_of(inches("3/4")),
    "own.width": length_of(inches("15/4")),
    "top drawer.face.left": length_of(millimetres(7)),
    "slat 1.left": length_of(inches(2)),
}


@dataclass(frozen=True)
class Scope:
    units: str = "inch"
    names: dict[str, Quantity] = field(default_factory=lambda: NAMES)

    def lookup(self, reference: Reference) -> Quantity:
        try:
            return self.names[str(reference)]
        except KeyError:
            raise ProjectError(
                (Finding("unknown-name", f"`{reference}` is not known", reference.place),)
            ) from None
