"""Stock and hardware: the maker's rows with the handbook's values filled in."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from typing import Literal

from plangen.description.model import ShopEntry, StockEntry
from plangen.design.model import Hardware, Money, Stock
from plangen.design.offers import make_offers
from plangen.design.packs import check_packs, packs_of, piece_price
from plangen.expressions import LengthListText, PriceText, Scope, Text, parse_expression
from plangen.findings import Findings, ProjectError
from plangen.handbook import densities, lumber, screws
from plangen.joinery.hardware import HARDWARE_KINDS
from plangen.joinery.hardware.making import make_ware
from plangen.joinery.hardware.ware import BroughtScrew, HardwareBody, HardwareEntry, HardwareKind, by
from plangen.joinery.piece import Fastener
from plangen.units import Length, Phrase, TradeSize, inches, millimetres, phrase

Units = Literal["inch", "mm"]


def make_stock(name: str, entry: StockEntry, scope: Scope, findings: Findings) -> Stock | None:
    """Give a material; what is wrong goes to the findings."""
    try:
        thickness = entry.thickness.length(scope)
        density = entry.density.number(scope) if entry.density is not None else None
        widths, random_widths = _lengths(entry.widths, scope)
        lengths, _ = _lengths(entry.lengths, scope)
        sheet = None
        if entry.sheet is not None:
            sides = [side.length(scope) for side in (entry.sheet.width, entry.sheet.length)]
            sheet = (sides[0], sides[1])
        label, nominal = _label(entry, thickness, scope)
        offers = make_offers(name, entry, nominal, scope, findings)
    except ProjectError as error:
        findings.extend(error.findings)
        return None
    except ValueError as error:
        findings.error(
            "bad-rough",
            str(error),
            entry.place_of("rough"),
            "write quarters of an inch, such as `4/4` or `8/4`, or a length such as `27mm`",
        )
        return None
    if thickness.mm <= 0:
        findings.error(
            "zero-size",
            f"`{name}` has no thickness",
            entry.place_of("thickness"),
            "give what a caliper reads",
        )
        return None
    if nominal.mm <= 0:
        findings.error(
            "zero-size",
            f"`{name}` is sold with no thickness",
            entry.place_of("rough" if entry.rough is not None else "label"),
            "write what it is sold as, such as `4/4` or `27mm`",
        )
        return None
    if sheet is None and entry.kind == "plywood":
        usual = min(offers, key=lambda offer: offer.have is not None, default=None)
        sheet = None if usual is None else (usual.width, usual.length)
    if entry.kind == "plywood" and sheet is None and not entry.sheets:
        findings.error(
            "missing-key",
            f"`{name}` is a sheet and its size is not given",
            entry.place,
            "add `sheet: 48in x 96in`",
        )
        return None
    species = entry.species or (name if entry.kind == "solid" else "")
    density, source = _density(entry, species or name, density, findings)
    price, price_per = _stock_price(entry, nominal, sheet)
    title = entry.title or (_first_upper(species) if entry.kind == "solid" else _first_upper(species or name))
    return Stock(
        name=name,
        kind=entry.kind,
        title=str(title),
        species=str(species),
        label=label,
        label_thickness=nominal,
        thickness=thickness,
        widths=widths,
        lengths=lengths,
        random_widths=random_widths,
        sheet=sheet,
        price=price,
        price_per=price_per,
        density=density,
        density_source=source,
        place=entry.place,
        waste=entry.waste.share if entry.waste is not None else None,
        buy=entry.buy or "by plan",
        offers=offers,
        defects=entry.defects.share if entry.defects is not None else Fraction(0),
        turns=_turns(entry, species or name),
    )


def _turns(entry: StockEntry, species: str) -> bool:
    """Whether pieces may lie either way: as typed; else those of plain boards, which show no grain."""
    if entry.kind == "solid":
        return False
    if entry.grain is not None:
        return entry.grain == "free"
    return species.lower() in ("mdf", "hardboard", "particleboard")


def with_waste(stock: Stock, entry: StockEntry, shop: ShopEntry, findings: Findings) -> Stock:
    """Give a stock with the shop's waste where it says none of its own.

    Adds the error ``missing-key`` where it is bought by a rule that nothing gives.
    """
    if stock.waste is None and shop.waste is not None:
        return replace(stock, waste=shop.waste.share)
    if stock.waste is None and stock.buy == "by waste rule":
        findings.error(
            "missing-key",
            f"`{stock.name}` is bought by the waste rule, and nothing says how much is wasted",
            entry.place_of("buy"),
            "add `waste: 30%` here or under `shop`: the share of what is bought that is lost",
        )
    return stock


def _label(entry: StockEntry, thickness: Length, scope: Scope) -> tuple[Phrase, Length]:
    if entry.rough is not None:
        if not re.fullmatch(r"\d+/4", str(entry.rough).strip()):
            rough = parse_expression(entry.rough).length(scope)  # where boards are sold by their millimetres
            return phrase(rough), rough
        rough = lumber.rough_thickness(str(entry.rough))
        return phrase(TradeSize(str(entry.rough), rough)), rough
    if entry.label is not None:
        label = entry.label.length(scope)
        return phrase(label), label
    return phrase(thickness), thickness


def _lengths(entry: LengthListText | None, scope: Scope) -> tuple[tuple[Length, ...], bool]:
    if entry is None:
        return (), False
    return tuple(item.length(scope) for item in entry.items), entry.is_range


def _density(
    entry: StockEntry, species: str, typed: Fraction | None, findings: Findings
) -> tuple[Fraction | None, str]:
    if typed is not None:
        return typed, "the maker's figure"
    if entry.kind == "plywood":
        return densities.panel_density(species)
    found = densities.find_species(species)
    if found is None:
        near = densities.nearest_species(species)
        findings.warning(
            "unknown-species",
            f"the handbook has no wood called `{species}`, so its weight is left out",
            entry.place_of("species"),
            (f"did you mean `{near}`? " if near else "") + "or give `density` in kg/m3",
        )
        return None, ""
    return found.density, found.source


def hard(stock: Stock) -> bool:
    """Whether lead holes are bored for hardwood; plywood counts as soft."""
    species = densities.find_species(stock.species) if stock.kind == "solid" else None
    return species is not None and species.hard


StockPricePer = Literal["board foot", "piece", "metre", "foot", "sheet", "cubic metre"]
_SQUARES = {"square metre": Fraction(1_000_000), "square foot": inches(12).mm ** 2}  # mm2


def _stock_price(
    entry: StockEntry, nominal: Length, sheet: tuple[Length, Length] | None
) -> tuple[Money | None, StockPricePer | None]:
    """Give a price and what it buys; one by the surface becomes that of a sheet, or of what a board holds."""
    price = entry.price
    if price is None:
        return None, None
    usual: StockPricePer = "sheet" if entry.kind == "plywood" else "board foot"
    if price.per != "square metre" and price.per != "square foot":
        return _money(price), price.per or usual
    if sheet is not None:
        return Money(price.amount * sheet[0].mm * sheet[1].mm / _SQUARES[price.per], price.currency), "sheet"
    if price.per == "square foot":
        # Board feet count what is thinner than an inch as an inch thick.
        return Money(price.amount / max(nominal.inches, Fraction(1)), price.currency), "board foot"
    return Money(price.amount * 1000 / nominal.mm, price.currency), "cubic metre"


def _money(price: PriceText | None) -> Money | None:
    return Money(price.amount, price.currency) if price is not None else None


def make_hardware(
    name: str, entry: HardwareBody, scope: Scope, units: Units, findings: Findings
) -> Hardware | None:
    """Give a thing bought by the piece."""
    if entry.price is not None and entry.price.per not in (None, "piece"):
        findings.error(
            "price-unit",
            f"`{name}` is bought by the piece, and its price is for a {entry.price.per}",
            entry.place_of("price"),
            f"give the price of one piece, such as `{float(entry.price.amount):g} {entry.price.currency}`, "
            "or that of a pack and its `pack: …`",
        )
    if entry.pack is not None and entry.pack < 1:
        findings.error(
            "zero-size",
            f"`{name}` is sold in packs of {entry.pack}",
            entry.place_of("pack"),
            "say how many are in a pack, or leave `pack` out where they are sold singly",
        )
        return None
    check_packs(name, entry, findings)
    try:
        if not isinstance(entry, HardwareEntry):
            return _of_kind(name, HARDWARE_KINDS[str(entry.kind)], entry, scope, findings)
        item = _plain(name, filled(entry, units), scope, findings)
        kind = HARDWARE_KINDS.get(str(entry.kind))
        if item is None or kind is None:
            return item
        made = make_ware(name, kind, entry, scope, findings)
        return None if made is None else replace(item, size=made[1], ware=made[0])
    except ProjectError as error:
        findings.extend(error.findings)
        return None


def filled(entry: HardwareEntry, units: Units) -> HardwareEntry:
    """Give a row of brought screws with the usual size of its kind where none is typed."""
    if not isinstance(entry, BroughtScrew):
        return entry
    usual = HARDWARE_KINDS[str(entry.usual)].screw
    if usual is None:
        return entry
    gauge, length = (
        (usual.gauge_inch, usual.length_inch) if units == "inch" else (usual.gauge_mm, usual.length_mm)
    )
    changes: dict[str, object] = {}
    if entry.gauge is None and entry.diameter is None:
        changes["gauge"] = Text(gauge)
    if entry.length is None:
        changes["length"] = parse_expression(length)
    return entry.model_copy(update=changes)


def _of_kind(
    name: str, kind: HardwareKind, entry: HardwareBody, scope: Scope, findings: Findings
) -> Hardware | None:
    made = make_ware(name, kind, entry, scope, findings)
    if made is None:
        return None
    ware, size = made
    return Hardware(
        name=name,
        kind=kind.name,
        title=str(entry.title or kind.title),
        size=size,
        length=ware.sizes.get("length"),
        diameter=ware.sizes.get("diameter"),
        head="",
        price=piece_price(entry),
        pack=entry.pack,
        packs=packs_of(entry),
        stock=str(entry.stock) if entry.stock else None,
        place=entry.place,
        ware=ware,
    )


def _plain(name: str, entry: HardwareEntry, scope: Scope, findings: Findings) -> Hardware | None:
    """Raises ProjectError."""
    length = entry.length.length(scope) if entry.length is not None else None
    diameter = entry.diameter.length(scope) if entry.diameter is not None else None
    head_diameter = None
    try:
        gauge = screw_gauge(entry)
        if gauge is not None:
            shank, head_over = screws.screw_diameter(gauge), screws.head_diameter(gauge)
            if "screw" in entry.kind:
                diameter, head_diameter = diameter or shank, head_over
    except ValueError as error:
        findings.error(
            "bad-gauge",
            str(error),
            entry.place_of("gauge"),
            "write a screw number such as `8`, or a metric size such as `4mm`",
        )
        return None
    width = entry.width.length(scope) if entry.width is not None else None
    thickness = entry.thickness.length(scope) if entry.thickness is not None else None
    for key, value in (
        ("length", length), ("diameter", diameter), ("width", width), ("thickness", thickness),
    ):  # fmt: skip
        if value is not None and value.mm <= 0:
            findings.error(
                "zero-size", f"`{name}` has no {key}", entry.place_of(key), "give a length above zero"
            )
            return None
    title = entry.title or _first_upper(entry.kind) + (f", {entry.head} head" if entry.head else "")
    return Hardware(
        name=name,
        kind=str(entry.kind),
        title=str(title),
        size=_size(gauge, diameter, length)
        if width is None and thickness is None
        else by(*(size for size in (thickness, width, length) if size is not None)),
        length=length,
        diameter=diameter,
        head=str(entry.head or ""),
        price=piece_price(entry),
        pack=entry.pack,
        packs=packs_of(entry),
        stock=str(entry.stock) if entry.stock else None,
        place=entry.place,
        head_diameter=head_diameter,
    )


def _size(gauge: int | Length | None, diameter: Length | None, length: Length | None) -> Phrase:
    if isinstance(gauge, int):
        words = phrase(TradeSize(f"No. {gauge}", screws.screw_diameter(gauge)))
    elif diameter is not None:
        words = phrase(diameter) if length is not None else phrase(diameter, " across")
    else:
        words = phrase()
    if length is None:
        return words
    return words + phrase(" × ", length) if words else phrase(length, " long")


def screw_gauge(entry: HardwareEntry) -> int | Length | None:
    """A screw's number, or its metric diameter; raises ValueError for anything else."""
    if entry.gauge is None:
        return None
    text = str(entry.gauge).strip().removeprefix("No.").removeprefix("#").strip()
    if re.fullmatch(r"\d{1,2}", text):
        return int(text)
    if match := re.fullmatch(r"(\d{1,2}(?:\.\d{1,2})?)\s*mm", text):
        return millimetres(match.group(1))
    raise ValueError(f"`{entry.gauge}` is no screw size")


def make_fastener(hardware: Hardware, entry: HardwareBody, scope: Scope) -> Fastener:
    """Give what joints need of it. Raises ProjectError."""
    gauge = screw_gauge(filled(entry, scope.units)) if isinstance(entry, HardwareEntry) else None
    sizes = hardware.ware.sizes if hardware.ware is not None else entry.lengths(scope)
    return Fastener(
        hardware.name,
        hardware.kind,
        hardware.title,
        gauge if isinstance(gauge, int) else None,
        hardware.diameter,
        hardware.length,
        hardware.head,
        sizes.get("bore"),
        sizes.get("depth"),
        hardware.ware,
        sizes.get("width"),
        sizes.get("thickness"),
    )


def default_kerf(units: Units) -> Length:
    """A full-kerf blade: 1/8 in, or 3.2 mm (common practice, no source)."""
    return inches("1/8") if units == "inch" else millimetres("3.2")


def _first_upper(text: str) -> str:
    return text[:1].upper() + text[1:]
