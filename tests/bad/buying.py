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

_SHEET = "sheet: 48in x 96in, price: 62 USD/sheet}"
_SOLD = """widths: [8in],
        lengths: [8ft], price: 6.50 USD/bdft}"""

RACK = (
    _slip(
        "a board that is not there", "zero-size", (_SOLD, "boards: [{width: 8in, length: 8ft, ⟦have: 0}]}")
    ),
    _slip("a board without width", "zero-size", (_SOLD, "boards: [⟦{width: 0in, length: 8ft}]}")),
    _slip(
        "too few boards on the rack",
        "too-few-boards",
        ("  oak: {", "  oak: ⟦{"),
        (_SOLD, "boards: [{width: 8in, length: 8ft, have: 1}]}"),
        stage="takeoff",
    ),
    _slip(
        "sheets of which one has another currency",
        "mixed-currencies",
        ("  ply: {", "  ply: ⟦{"),
        (_SHEET, "sheets: [{size: 48in x 96in, price: 62 EUR}]}"),
        stage="takeoff",
    ),
    _slip("sheet and sheets", "bad-value", (_SHEET, "⟦" + _SHEET[:-1] + ", sheets: [{size: 24in x 48in}]}")),
    _slip(
        "boards of plywood", "bad-value", (_SHEET, _SHEET[:-1] + ", ⟦boards: [{width: 8in, length: 8ft}]}")
    ),
    _slip("grain of a board", "bad-value", (_OAK, _OAK[:-1] + ", ⟦grain: free}")),
    _slip("grain that runs nowhere", "unknown-word", (_SHEET, _SHEET[:-1] + ", grain: ⟦sideways}")),
    _slip("defects of a sheet", "bad-value", (_SHEET, _SHEET[:-1] + ", ⟦defects: 10%}")),
    _slip("all of it defects", "bad-value", (_OAK, _OAK[:-1] + ", defects: ⟦100%}")),
    _slip(
        "a board that may turn",
        "turned-board",
        ("    stock: oak\n    runs: up", "    stock: oak\n    may turn: yes\n    runs: up"),
        ("left side: {left", "left side: ⟦{left"),
        stage="takeoff",
    ),
    _slip(
        "a sheet that gives its part only turned",
        "part-exceeds-stock",
        (_SHEET, "sheet: 24in x 48in, price: 24 USD/sheet}"),
        ("place: {left: 0, right: width, front: depth", "place: ⟦{left: 0, right: width, front: depth"),
        stage="takeoff",
    ),
)


def _shop(name: str, kind: str, line: str, stage: str = "read") -> Case:
    return _slip(name, kind, ("  waste: 20%\n", f"  waste: 20%\n  {line}\n"), stage=stage)


SHOP = (
    _shop("rough below nothing", "zero-size", "rough: {⟦length: -1in}"),
    _shop("a tape without a step", "zero-size", "rough: {⟦round up to: 0in}"),
    _shop("an allowance of no kind", "unknown-key", "rough: {⟦banana: 1in}"),
    _shop("a bench that takes nothing", "zero-size", "⟦saw bench: 0in x 0in"),
    _shop("a rail without length", "zero-size", "saw bench: 30in x 60in\n  ⟦rail: 0in"),
    _shop("a rail that nothing needs", "rail-alone", "⟦rail: 55in"),
    _shop("a first cut across corners", "unknown-word", "first cut: ⟦diagonal"),
    _shop("money preferred", "unknown-word", "prefer: [⟦money]"),
    _shop("stock preferred twice", "twice", "⟦prefer: [stock, stock]"),
    _slip(
        "ends that take the whole board",
        "nothing-left",
        ("  waste: 20%\n", "  waste: 20%\n  rough: {ends: 60in}\n"),
        ("  oak: {", "  oak: ⟦{"),
        stage="takeoff",
    ),
    _slip(
        "edges that take the whole sheet",
        "nothing-left",
        ("  waste: 20%\n", "  waste: 20%\n  rough: {sheet edges: 30in}\n"),
        ("  ply: {", "  ply: ⟦{"),
        stage="takeoff",
    ),
    _slip(
        "a rail shorter than any cut",
        "rail-too-short",
        ("  waste: 20%\n", "  waste: 20%\n  saw bench: 30in x 60in\n  rail: 5in\n"),
        ("place: {left: 0, right: width, front: depth", "place: ⟦{left: 0, right: width, front: depth"),
        stage="takeoff",
    ),
    _slip(
        "a kerf wider than a part",
        "kerf-exceeds-part",
        ("kerf: 1/8in", "kerf: 10in"),
        ("left side: {left", "left side: ⟦{left"),
        stage="takeoff",
    ),
)


def _blank(name: str, kind: str, line: str, stage: str = "design") -> Case:
    return _slip(name, kind, ("joints:\n", f"blanks:\n  {line}\njoints:\n"), stage=stage)


_RUNS_UP, _RUNS_ACROSS = "    runs: up\n    thick: across\n", "    runs: across\n    thick: up\n"

TOGETHER = (
    _blank("a blank of nobody", "undefined-name", "one: {parts: [shelf, ⟦nobody], how: end to end}"),
    _blank("a blank of two stocks", "blank", "one: {⟦parts: [shelf, back], how: end to end}"),
    _blank("a blank sideways", "unknown-word", "one: {parts: [shelf], how: ⟦sideways}", "read"),
    _blank("a blank that does not share out", "blank", "one: {parts: [shelf], how: end to end, ⟦number: 7}"),
    _blank("a blank with a step in it", "blank", "one: {⟦parts: [side, shelf], how: stacked}"),
    _blank(
        "a part in two blanks",
        "blank",
        "one: {parts: [shelf], how: end to end}\n  two: {parts: [⟦shelf], how: end to end}",
    ),
    _blank(
        "a blank longer than any board",
        "part-exceeds-stock",
        "one: {⟦parts: [side, shelf], how: end to end}",
        "takeoff",
    ),
    _slip(
        "matched and on no single board",
        "not-one-board",
        (_RUNS_UP, f"{_RUNS_UP}    one board: fronts\n"),
        (_RUNS_ACROSS, f"{_RUNS_ACROSS}    one board: fronts\n"),
        ("left side: {left", "left side: ⟦{left"),
        stage="takeoff",
    ),
    _slip(
        "matched and of two stocks",
        "one-board",
        (_RUNS_UP, f"{_RUNS_UP}    one board: fronts\n"),
        ("    finish: none\n", "    finish: none\n    one board: fronts\n"),
        ("place: {left: 0, right: width, front: depth", "place: ⟦{left: 0, right: width, front: depth"),
        stage="takeoff",
    ),
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

BUYING = (*PRICES, *WASTE, *CONSUMABLES, *RACK, *SHOP, *TOGETHER, *SIZES)
