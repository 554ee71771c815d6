"""Slips in what is bought: prices, packs, waste, consumables, and parts that no board or sheet gives."""

from __future__ import annotations

from tests.bad.marked import Case, marked_case

SHELF = """\
plangen: 1
project: {title: Tool Shelf, units: inch, prices of: 2026-11-02}
shop:
  kerf: 1/8in
  waste: 20%
  spare: 1
  glue:
    wood glue: {open time: 10, covers: 250 sqft/gal, bottle: 16 fl oz, price: 7.50 USD}
sizes:
  width: 30in
  height: 22in
  depth: 7in
stock:
  oak: {kind: solid, species: red oak, rough: 4/4, thickness: 3/4in, widths: [8in],
        lengths: [8ft], price: 6.50 USD/bdft}
  ply: {kind: plywood, species: birch plywood, thickness: 1/2in, sheet: 48in x 96in, price: 62 USD/sheet}
hardware:
  screw: {kind: wood screw, gauge: 8, length: 1-1/2in, head: flat, packs: {25: 4.80 USD, 100: 9.50 USD}}
finish:
  oil: {coats: 2, covers: 400 sqft/gal, can: 1 pt, price: 14 USD}
parts:
  side:
    stock: oak
    runs: up
    thick: across
    place:
      left side: {left: 0, front: 0, back: depth, bottom: 0, top: height}
      right side: {mirror of: left side, plane: across at width / 2}
  shelf:
    stock: oak
    runs: across
    thick: up
    place:
      low shelf: {left: left side.right, right: right side.left, front: 0, back: depth, bottom: 2in}
      high shelf: {same as: low shelf, top: height - 4in}
  back:
    stock: ply
    runs: up
    thick: deep
    finish: none
    place: {left: 0, right: width, front: depth, bottom: 0, top: height}
joints:
  - dado: {name: housings, in: side, for: shelf, depth: 1/4in, glue: wood glue, contacts: 4}
  - screwed: {name: back screws, through: back, into: side, with: screw, per joint: 4, contacts: 2}
  - screwed: {name: shelf screws, through: back, into: shelf, with: screw, per joint: 3, contacts: 2}
"""
_OAK = "lengths: [8ft], price: 6.50 USD/bdft}"


def _slip(
    name: str, kind: str, *changes: tuple[str, str], stage: str = "read", severity: str = "error"
) -> Case:
    text = SHELF
    for old, new in changes:
        assert text.count(old) == 1, f"{name}: {old!r} stands {text.count(old)} times"
        text = text.replace(old, new)
    return marked_case(f"buying: {name}", kind, text, stage, severity)


PRICES = (
    _slip("a price below nothing", "bad-value", ("price: 6.50 USD", "price: ⟦-6.50 USD")),
    _slip("a price with an exponent", "bad-value", ("price: 6.50 USD", "price: ⟦1e400 USD")),
    _slip("a price without its currency", "bad-value", ("price: 6.50 USD/bdft", "price: ⟦6.50")),
    _slip(
        "a board priced by the sheet",
        "price-unit",
        ("  oak: {", "  oak: ⟦{"),
        ("6.50 USD/bdft", "6.50 USD/sheet"),
        stage="takeoff",
    ),
    _slip(
        "a sheet in another currency",
        "mixed-currencies",
        ("  ply: {kind", "  ply: ⟦{kind"),
        ("62 USD/sheet", "62 EUR/sheet"),
        stage="takeoff",
    ),
    _slip(
        "glue in another currency",
        "mixed-currencies",
        ("    wood glue: {", "    wood glue: ⟦{"),
        ("price: 7.50 USD", "price: 7.50 CAD"),
        stage="takeoff",
    ),
    _slip(
        "a pack in another currency",
        "mixed-currencies",
        ("  screw: {", "  screw: ⟦{"),
        ("25: 4.80 USD", "25: 4.80 GBP"),
        stage="takeoff",
    ),
    _slip("glue priced by the sheet", "price-unit", ("price: 7.50 USD}", "⟦price: 7.50 USD/sheet}")),
    _slip("finish with a price and no can", "missing-key", ("can: 1 pt, price: 14 USD", "⟦price: 14 USD")),
    _slip("packs of none", "zero-size", ("packs: {25: 4.80 USD, 100", "⟦packs: {0: 4.80 USD, 100")),
    _slip("a pack that costs no number", "bad-value", ("25: 4.80 USD", "25: ⟦cheap")),
)

WASTE = (
    _slip("all is waste", "bad-value", ("waste: 20%", "waste: ⟦100%")),
    _slip("more than all is waste", "bad-value", ("waste: 20%", "waste: ⟦130%")),
    _slip("waste below nothing", "bad-value", ("waste: 20%", "waste: ⟦-5%")),
    _slip("waste as a number", "bad-value", ("waste: 20%", "waste: ⟦0.2")),
    _slip("half a spare", "bad-value", ("spare: 1", "spare: ⟦0.5")),
    _slip("a spare less", "bad-value", ("spare: 1", "spare: ⟦-1")),
    _slip("a mountain of spares", "bad-value", ("spare: 1", "spare: ⟦1000000000")),
    _slip("bought by a rule of its own", "unknown-word", (_OAK, _OAK[:-1] + ", buy: ⟦by eye}")),
)

CONSUMABLES = (
    _slip("glue that covers nothing", "bad-value", ("covers: 250 sqft/gal", "covers: ⟦0 sqft/gal")),
    _slip("glue that covers weight", "bad-value", ("covers: 250 sqft/gal", "covers: ⟦5 lb/gal")),
    _slip(
        "a bottle by weight",
        "coverage-unit",
        ("covers: 250 sqft/gal, bottle: 16 fl oz", "⟦covers: 250 sqft/gal, bottle: 16 oz"),
    ),
    _slip("an empty bottle", "bad-value", ("bottle: 16 fl oz", "bottle: ⟦0 fl oz")),
    _slip("a bottle without a unit", "bad-value", ("bottle: 16 fl oz", "bottle: ⟦16")),
    _slip("no coat", "bad-value", ("  oil: {coats: 2", "  oil: {⟦coats: 0")),
    _slip("half a coat", "bad-value", ("coats: 2", "coats: ⟦2.5")),
    _slip("a part with a finish that is not there", "undefined-name", ("finish: none", "finish: ⟦lacquer")),
)

SIZES = (
    _slip(
        "wider than any board",
        "part-exceeds-stock",
        ("depth: 7in", "depth: 9in"),
        ("left side: {left", "left side: ⟦{left"),
        stage="takeoff",
    ),
    _slip(
        "longer than any board",
        "part-exceeds-stock",
        ("height: 22in", "height: 97in"),
        ("left side: {left", "left side: ⟦{left"),
        stage="takeoff",
    ),
    _slip(
        "wider than any sheet",
        "part-exceeds-stock",
        ("width: 30in", "width: 50in"),
        (
            "    place: {left: 0, right: width, front: depth",
            "    place: ⟦{left: 0, right: width, front: depth",
        ),
        stage="takeoff",
    ),
)

BUYING = (*PRICES, *WASTE, *CONSUMABLES, *SIZES)
