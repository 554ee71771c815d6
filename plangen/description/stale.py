"""What no longer holds of a stock or of hardware when one of its values is set to another."""

from __future__ import annotations

import re
from collections.abc import Mapping, Set
from typing import Any, Final

from plangen.description.model import Description, StockEntry
from plangen.description.substitution import texts
from plangen.expressions import Expression, Quantity, Reference, Text
from plangen.expressions.quantity import Units
from plangen.findings import Finding, Findings, Place, ProjectError
from plangen.joinery.hardware.ware import HardwareBody
from plangen.units import Length, inches, listed

# Sheets of one label differ by less than this from mill to mill; more is another sheet (common practice, no
# source).
ANOTHER_THICKNESS: Final = inches("1/16")
_KEEPS_PRICE: Final = ("title", "price", "pack", "packs", "stock", "waste", "buy", "density")
_PROSE: Final = (
    "title",
    "line",
    "note",
    "say",
    "step",
    "checks",
    "cautions",
    "tools",
    "licence",
    "words",
    "",
)
_MOST_PLACES: Final = 6


class _Bare:
    """A scope that knows no names: values that are typed as they are."""

    def __init__(self, units: Units) -> None:
        self.units = units

    def lookup(self, reference: Reference) -> Quantity:
        raise ProjectError((Finding("unknown-name", f"`{reference}` is not known here", reference.place),))


def followed(
    name: str, old: Any, new: Any, keys: Mapping[str, Text], units: Units, findings: Findings
) -> Any:
    """Give a row of stock or hardware with what its new values make untrue put right.

    ``keys`` are the fields that were set, each with the setting that did it. A price for something else is
    left out, with the warning ``price-left-out``; a density and a title that tell the old species follow the
    new one. Adds the error ``stale-label`` where the label would tell another thickness.
    """
    where = next(iter(keys.values())).place
    if isinstance(new, HardwareBody):
        return _without_price(name, new, keys, set(keys) - set(_KEEPS_PRICE), where, findings)
    update: dict[str, Any] = {}
    if "species" in keys:
        if "density" not in keys:
            update["density"] = None
        if "title" not in keys and new.title is not None:
            update["title"] = _title(name, old, new)
    _check_label(name, old, new, keys, units, findings)
    new = new.model_copy(update=update) if update else new
    return _without_price(name, new, keys, _other_goods(old, new, keys, units), where, findings)


def _other_goods(old: StockEntry, new: StockEntry, keys: Mapping[str, Text], units: Units) -> Set[str]:
    """Give the keys that make it something that the price is not for."""
    other = {"kind", "species", "rough", "label"} & set(keys)
    per = new.price.per if new.price is not None else None
    if "sheet" in keys and per in (None, "sheet", "piece"):
        other.add("sheet")
    if per in ("piece", "foot", "metre"):
        other |= {"widths"} & set(keys)
    if per == "piece":
        other |= {"lengths"} & set(keys)
    if "thickness" in keys and _apart(old.thickness, new.thickness, units) and new.rough is None:
        other.add("thickness")
    return other


def _without_price(
    name: str, entry: Any, keys: Mapping[str, Text], other: Set[str], place: Place, findings: Findings
) -> Any:
    lists = {} if other <= {"sheet", "widths", "lengths"} else _as_if_new(entry)
    typed = entry.price is not None and "price" not in keys
    of_pack = "pack" in keys and typed
    if not (other or of_pack) or not (typed or lists):
        return entry
    names = sorted(key.replace("_", " ") for key in (other or {"pack"}))
    findings.warning(
        "price-left-out",
        f"what the file says `{name}` costs{_and_rack(entry, lists)} is for what it was before its "
        f"{listed(names)} {'was' if len(names) == 1 else 'were'} set, and is left out",
        next((keys[key].place for key in sorted(other) if key in keys), place),
        f"add the new one: `--set {name}.price=…`",
        ((entry.place_of("price"), "the price in the file"),) if typed else (),
    )
    return entry.model_copy(update={"price": None if typed else entry.price, **lists})


def _as_if_new(entry: Any) -> dict[str, Any]:
    """Give what a row lists singly, packs and boards and sheets, without prices and what is on the rack."""
    found: dict[str, Any] = {}
    if getattr(entry, "packs", None):
        found["packs"] = {}
    for key in ("boards", "sheets"):
        rows = getattr(entry, key, [])
        if any(row.price is not None or row.have is not None for row in rows):
            found[key] = [row.model_copy(update={"price": None}) for row in rows if row.have is None]
    return found


def _and_rack(entry: Any, lists: Mapping[str, Any]) -> str:
    fewer = any(len(lists[key]) < len(getattr(entry, key)) for key in ("boards", "sheets") if key in lists)
    return " and has on the rack" if fewer else ""


def _check_label(
    name: str, old: StockEntry, new: StockEntry, keys: Mapping[str, Text], units: Units, findings: Findings
) -> None:
    if "thickness" not in keys or "label" in keys or new.label is None:
        return
    if _apart(old.thickness, new.thickness, units):
        findings.error(
            "stale-label",
            f"`{name}` is now {new.thickness.text} thick, and it is still sold as {new.label.text}",
            keys["thickness"].place,
            f"say what it is sold as too: `--set {name}.label=…`",
            ((new.place_of("label"), "its label in the file"),),
        )


def _apart(old: Expression, new: Expression, units: Units) -> bool:
    one, two = _length(old, units), _length(new, units)
    return one is not None and two is not None and abs(one - two) > ANOTHER_THICKNESS


def _length(value: Expression, units: Units) -> Length | None:
    try:
        return value.length(_Bare(units))
    except ProjectError:
        return None  # told where it is worked out


def species_of(name: str, entry: StockEntry) -> str:
    """Give the wood a row is: its species, for solid wood else its name."""
    return str(entry.species or (name if entry.kind == "solid" else ""))


def _title(name: str, old: StockEntry, new: StockEntry) -> Text | None:
    """Give the title with the new species in the place of the old; none where it told only part of it.

    A title that says nothing of the species stays.
    """
    title, was = str(old.title), species_of(name, old)
    if not was:
        return new.title
    species = str(new.species)
    again, number = re.subn(rf"\b{re.escape(was)}\b", species, title, flags=re.IGNORECASE)
    if number:
        return Text(again[:1].upper() + again[1:], new.title.place if new.title else Place("", 0, 0))
    told = {word for word in re.findall(r"\w+", title.lower()) if word in was.lower().split()}
    return None if told else new.title


def report_stale_words(
    description: Description, was: str, now: str, place: Place, findings: Findings
) -> None:
    """Warn ``stale-words`` of titles, notes and steps that still name a wood that is no longer used."""
    word = was.lower().split()[-1] if was else ""
    if word and word in now.lower().split():
        word = was.lower()
    still = [species_of(name, entry).lower() for name, entry in description.stock.items()]
    if not word or any(word in species for species in still):
        return
    found = re.compile(rf"\b{re.escape(word)}\b", re.IGNORECASE)
    rest = description.model_copy(update={"stock": {}, "sizes": {}})
    told = [text for key, text in texts(rest) if key in _PROSE and found.search(text)]
    if told:
        findings.warning(
            "stale-words",
            f"it is {now} now, and {len(told)} {'place' if len(told) == 1 else 'places'} in the file still "
            f"{'says' if len(told) == 1 else 'say'} {word}",
            place,
            "word them so that they hold for any wood, or change them for this variant",
            tuple((text.place, "here") for text in told[:_MOST_PLACES]),
        )
