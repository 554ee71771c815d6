"""A row of hardware worked out: what is typed, the usual sizes for the rest, and what comes of them."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.expressions import Scope, parse_expression
from plangen.expressions.quantity import Quantity, Units
from plangen.expressions.syntax import Reference
from plangen.findings import Findings
from plangen.joinery.hardware.ware import HardwareBody, HardwareKind, Screws, Sizes, Ware
from plangen.units import Phrase, phrase


@dataclass(frozen=True, slots=True)
class _Own:
    """The sizes of the row itself, for its usual sizes."""

    units: Units
    sizes: Sizes

    def lookup(self, reference: Reference) -> Quantity:
        return Quantity(self.sizes[reference.names[0]].mm, "length")


def screw_row(name: str) -> str:
    """The name of the row of the screws that a row brings."""
    return f"{name} screw"


def make_ware(
    name: str, kind: HardwareKind, entry: HardwareBody, scope: Scope, findings: Findings
) -> tuple[Ware, Phrase] | None:
    """Give a piece of hardware and the words for its size; None where a finding says what is wrong.

    Raises ProjectError for a value that can not be worked out.
    """
    sizes = entry.lengths(scope)
    brought = getattr(entry, "screws", None)
    for key in ("pitch", "inset"):
        expression = getattr(brought, key, None)
        if expression is not None:
            sizes[key] = expression.length(scope)
    missing = [key for key in kind.needs if key not in sizes]
    if missing:
        findings.error(
            "missing-key",
            f"the {kind.name} `{name}` does not say its {' and its '.join(missing)}",
            entry.place,
            "measure it on the piece that you have, and add " + ", ".join(f"`{key}: …`" for key in missing),
        )
        return None
    for key, value in sizes.items():
        if value.mm <= 0:
            findings.error(
                "zero-size",
                f"`{name}` has no {key}",
                entry.place_of(key.replace(" ", "_")),
                "give a length above zero",
            )
            return None
    for key, words in kind.defaults(entry, sizes, scope.units == "mm").items():
        if key not in sizes:
            sizes[key] = parse_expression(words).length(_Own(scope.units, sizes))
    wrong = kind.wrong(entry, sizes)
    if wrong is not None:
        key, message, remedy = wrong
        findings.error("hardware-size", f"`{name}`: {message}", entry.place_of(key.replace(" ", "_")), remedy)
        return None
    screws = None
    if brought is not None:
        if not 1 <= brought.number <= 100:
            findings.error(
                "fasteners",
                f"`{name}` takes between 1 and 100 screws",
                entry.place_of("screws"),
                "check `screws`",
            )
            return None
        screws = Screws(
            screw_row(name),
            brought.number,
            kind.places(entry, sizes),
            kind.more(entry, sizes),
            bool(brought.included),
        )
    load = getattr(entry, "load", None)
    ware = Ware(
        kind=kind.name,
        sizes=sizes,
        cuts=kind.cuts(entry, sizes),
        screws=screws,
        shape=kind.forms(entry, sizes),
        height=kind.height(entry, sizes),
        load=load.number(scope) if load is not None else None,
        cautions=kind.cautions,
        say=phrase(kind.says) if kind.says else Phrase(),
        place=entry.place,
    )
    return ware, kind.size(entry, sizes)
