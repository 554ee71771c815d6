"""Slips in what pieces are put together from: assemblies, rows, leaning pieces, positions, hardware."""

from __future__ import annotations

from collections.abc import Iterator

from plangen.joinery.hardware import HARDWARE_KINDS
from tests.bad.marked import MARK, Case, marked_case
from tests.joinery.test_hardware import ROWS

CHEST = """\
plangen: 1
project: {title: Chest, units: inch}
shop: {glue: {wood glue: {open time: 10}}}
stock:
  pine: {kind: solid, species: white pine, rough: 4/4, thickness: 3/4in, widths: [12in], lengths: [8ft]}
hardware:
  runner: {kind: drawer slide, length: 10in, thickness: 1/2in, screws: 6}
  caster: {kind: stem caster, height: 3in, stem: 5/16in, stem length: 1in}
  knob: {kind: knob, diameter: 1in, bore: 3/16in}
parts:
  side:
    stock: pine
    runs: up
    thick: across
    place:
      left side: {left: 0, front: 0, back: 12in, bottom: 0, top: 20in}
      right side: {mirror of: left side, plane: across at 9in}
    fit:
      - caster: {face: bottom, at: ends, from ends: 2in}
  base:
    stock: pine
    runs: across
    thick: up
    place: {left: left side.right, right: right side.left, front: 0, back: 12in, bottom: 2in}
  top:
    stock: pine
    runs: across
    thick: up
    glue up: {boards: 2}
    place: {left: left side.right, right: right side.left, front: 0, back: 12in, top: 20in}
  lath:
    stock: pine
    runs: deep
    thick: across
    width: 1in
    place:
      {front: 0, back: 12in, bottom: base.top,
       spread: {number: 4, going: across, from: left side.right, to: right side.left, ends: gap}}
assemblies:
  drawer:
    given: {tall: 3in}
    parts:
      drawer side:
        stock: pine
        runs: deep
        thick: across
        width: tall
        place:
          left drawer side: {left: 0, front: 0, back: 10in, bottom: 0}
          right drawer side: {right: 15-1/2in, front: 0, back: 10in, bottom: 0}
      end:
        stock: pine
        runs: across
        thick: deep
        width: tall
        place:
          near end: {left: left drawer side.right, right: right drawer side.left, front: 0, bottom: 0}
          far end: {same as: near end, back: 10in}
    joints:
      - dado: {name: corners, in: drawer side, for: end, depth: 1/4in, contacts: 4}
    place:
      low drawer: {across: centred at 9in, front: 0, bottom: 4in}
      high drawer: {across: centred at 9in, front: 0, bottom: 9in, given: {tall: 4in}}
fit:
  - knob: {part: top, face: top, at: middle}
groups:
  case: [side, base]
joints:
  - dado: {name: housings, in: side, for: [base, top], depth: 1/4in, contacts: 4}
  - slides: {name: runners, out: drawer.drawer side, in: side, with: runner}
  - rests: {between: [lath, case]}
positions:
  shut: {}
  out: {low drawer.runners: 8in}
steps:
  - draft
"""

STOOL = """\
plangen: 1
project: {title: Stool, units: inch}
stock:
  ash: {kind: solid, species: white ash, rough: 8/4, thickness: 1-3/4in, widths: [8in], lengths: [8ft]}
parts:
  seat:
    stock: ash
    runs: across
    thick: up
    glue up: {boards: 2}
    place: {left: 0, right: 15in, front: 0, back: 11in, top: 18in}
  leg:
    stock: ash
    runs: up
    thick: across
    thickness: 1-1/2in
    width: 1-1/2in
    place:
      near leg:
        {across: centred at 3in, deep: centred at 3in, bottom: 0, top: seat.bottom,
         lean: {bottom: {left: 8deg, front: 6deg}}}
      far leg: {mirror of: near leg, plane: deep at 5-1/2in}
  rung:
    stock: ash
    runs: deep
    thick: up
    thickness: 1in
    width: 1in
    place: {stretch: {from: near leg, to: far leg, up: 6in}}
joints:
  - round tenon: {in: seat, for: leg, diameter: 1in, length: 1in, contacts: 2}
  - round tenon: {in: leg, for: rung, diameter: 5/8in, length: 3/4in, contacts: 2}
steps:
  - draft
"""


def _in(
    base: str, name: str, kind: str, *changes: str, stage: str = "design", severity: str = "error"
) -> Case:
    for old, new in zip(changes[::2], changes[1::2], strict=True):
        assert base.count(old) == 1, f"{name}: {old!r} stands {base.count(old)} times"
        base = base.replace(old, new)
    assert base.count(MARK) == 1, name
    return marked_case(name, kind, base, stage, severity)


_LOW = "low drawer: {across: centred at 9in, front: 0, bottom: 4in}"
_SPREAD = "spread: {number: 4, going: across, from: left side.right, to: right side.left, ends: gap}"
_HIGH = "high drawer: {across: centred at 9in, front: 0, bottom: 9in, given: {tall: 4in}}"
_GIVEN = "    given: {tall: 3in}\n"
_FOOT = "  foot: {kind: leveler, thread: 5/16-18, bore: 3/8in, depth: 1in, least: 1-1/2in, most: 2in}\n"
_CASTER = "- caster: {face: bottom, at: ends, from ends: 2in}"

_SOUND_ROW = "knob: {kind: knob, diameter: 1in, bore: 3/16in}"


def _ware(kind: str, row: str) -> Iterator[Case]:
    """A row with a size of nothing, and one without a size that nobody can guess."""
    keys = [item.split(": ", 1) for item in row.split(", ")]
    sizes = [key for key, value in keys if value[0].isdigit() and value.endswith(("in", "mm", "ft"))]
    flat = ", ".join(f"{MARK}{key}: 0in" if key == sizes[0] else f"{key}: {value}" for key, value in keys)
    yield _in(CHEST, f"{kind} of no {sizes[0]}", "zero-size", _SOUND_ROW, f"knob: {{kind: {kind}, {flat}}}")
    needed = [key for key in HARDWARE_KINDS[kind].needs if key in dict(keys)]
    if needed:
        short = ", ".join(f"{key}: {value}" for key, value in keys if key != needed[-1])
        row = f"knob: {MARK}{{kind: {kind}{', ' if short else ''}{short}}}"
        yield _in(CHEST, f"{kind} without its {needed[-1]}", "missing-key", _SOUND_ROW, row)


WARES = tuple(case for kind, row in ROWS.items() for case in _ware(kind, row))

CONSTRUCTS = (
    # assemblies
    _in(
        CHEST,
        "an assembly inside itself",
        "assembly-in-itself",
        _GIVEN,
        _GIVEN + "    assemblies:\n      inner: {like: ⟦drawer, place: {left: 0, front: 0, bottom: 0}}\n",
    ),
    _in(CHEST, "given an unknown name", "undefined-name", "given: {tall: 4in}", "given: {⟦tal: 4in}"),
    _in(
        CHEST,
        "given values in a ring",
        "cycle",
        _HIGH,
        _HIGH.replace("4in", "high drawer.tall").replace("{across", "⟦{across"),
    ),
    _in(
        CHEST,
        "an assembly that sees what is around it",
        "undefined-name",
        "right: 15-1/2in",
        "right: ⟦base.width",
    ),
    _in(CHEST, "held by no part", "hold-by", _GIVEN, _GIVEN + "    hold by: ⟦nearest end\n"),
    _in(
        CHEST,
        "two facts for a direction of an assembly",
        "over-pinned",
        _LOW,
        _LOW.replace("{", "⟦{back: 10in, "),
    ),
    _in(
        CHEST,
        "no fact for a direction of an assembly",
        "under-pinned",
        _LOW,
        "low drawer: ⟦{across: centred at 9in, front: 0}",
    ),
    _in(
        CHEST,
        "an assembly with no place",
        "missing-key",
        f"    place:\n      {_LOW}\n      {_HIGH}\n",
        "",
        "  drawer:\n",
        "  ⟦drawer:\n",
    ),
    _in(CHEST, "a dot in a name", "bad-name", "  base:\n", "  base⟦.one:\n"),
    # groups
    _in(CHEST, "a group of nothing", "undefined-name", "case: [side, base]", "case: [side, ⟦bass]"),
    _in(CHEST, "a group in itself", "cycle", "case: [side, base]", "case: [side, ⟦case]"),
    # positions
    _in(
        CHEST,
        "a position of no joint",
        "undefined-name",
        "out: {low drawer.runners: 8in}",
        "out: {⟦lid: 8in}",
    ),
    _in(CHEST, "a drawer out too far", "moves-too-far", "runners: 8in", "runners: ⟦12in"),
    _in(CHEST, "an angle for a drawer", "wrong-kind", "runners: 8in", "runners: ⟦90deg"),
    _in(
        CHEST, "a joint that stays where it is", "undefined-name", "low drawer.runners: 8in", "⟦housings: 8in"
    ),
    # slides
    _in(
        CHEST,
        "a drawer wider than its opening less the slides",
        "nothing-meets",
        "right: 15-1/2in",
        "right: 16in",
        "- slides",
        "- ⟦slides",
    ),
    _in(
        CHEST,
        "a drawer off the middle, with a slide on one of a pair of sides",
        "copies-differ",
        _LOW,
        "low drawer: {left: left side.right + 1/2in, front: 0, bottom: 4in}",
        "right: 15-1/2in",
        "right: 15in",
        "right side: {mirror",
        "right side: ⟦{mirror",
        "  out: {low drawer.runners: 8in}\n",
        "",
        f"      {_HIGH}\n",
        "",
    ),
    # spreads
    _in(
        CHEST,
        "pitch and ends",
        "spread",
        _SPREAD,
        _SPREAD.replace("ends: gap", "ends: gap, pitch: 2in").replace("{number", "⟦{number"),
    ),
    _in(
        CHEST,
        "shares that are fewer than copies",
        "spread",
        _SPREAD,
        _SPREAD.replace("ends: gap", "gap: 1in, ⟦shares: [1, 2, 3]"),
    ),
    _in(
        CHEST,
        "names that are fewer than copies",
        "spread",
        _SPREAD,
        _SPREAD.replace("ends: gap", "ends: gap, ⟦names: [a lath, b lath]"),
    ),
    _in(CHEST, "no copy in a row", "spread", "number: 4, going", "⟦number: 0, going"),
    _in(CHEST, "a row of millions", "bad-value", "number: 4, going", "number: ⟦4000000, going"),
    _in(
        CHEST,
        "a row that leaves no gap",
        "spread",
        "spread: {number: 4, going",
        "spread: ⟦{number: 40, going",
    ),
    _in(CHEST, "a row that does not say how many", "missing-key", "spread: {number: 4, ", "spread: ⟦{"),
    # leaning
    _in(STOOL, "a piece that leans over", "lean", "left: 8deg", "left: ⟦95deg"),
    _in(STOOL, "an angle beyond measure", "lean", "left: 8deg", "left: ⟦1000000000deg"),
    _in(STOOL, "lean along its own length", "lean", "left: 8deg", "⟦top: 8deg"),
    _in(STOOL, "lean both ways at once", "lean", "left: 8deg", "left: 8deg, ⟦right: 8deg"),
    _in(STOOL, "a lean that is a length", "wrong-kind", "left: 8deg", "left: ⟦8in"),
    _in(STOOL, "from a leg that is not there", "undefined-name", "from: near leg", "from: ⟦near log"),
    _in(STOOL, "from a leg to itself", "stretch", "stretch: {from: near leg", "stretch: ⟦{from: far leg"),
    _in(STOOL, "a rung above its legs", "stretch", "up: 6in", "⟦up: 60in"),
    _in(
        STOOL,
        "a rung at no height",
        "stretch",
        ", up: 6in}",
        "}",
        "place: {stretch: {",
        "place: {stretch: ⟦{",
    ),
    _in(
        STOOL,
        "a leaning joint of another kind",
        "nothing-meets",
        "- round tenon: {in: seat, for: leg, diameter: 1in, length: 1in, contacts: 2}",
        "- ⟦dado: {in: seat, for: leg, depth: 1/4in}",
    ),
    # glue up
    _in(CHEST, "a glue-up of no board", "glue-up", "glue up: {boards: 2}", "glue up: {⟦boards: 0}"),
    _in(CHEST, "boards and layers", "glue-up", "glue up: {boards: 2}", "glue up: {boards: 2, ⟦layers: 2}"),
    _in(CHEST, "a glue-up in words", "glue-up", "glue up: {boards: 2}", "glue up: {⟦boards: two}"),
    _in(
        CHEST,
        "more sections than boards",
        "glue-up",
        "glue up: {boards: 2}",
        "glue up: {boards: 2, ⟦sections: 3}",
    ),
    _in(CHEST, "strips with no size", "glue-up", "glue up: {boards: 2}", "glue up: {⟦strips: 8}"),
    # prices
    _in(
        CHEST,
        "a price for what nobody sells",
        "bad-value",
        "lengths: [8ft]}",
        "lengths: [8ft], price: ⟦40 EUR/km2}",
    ),
    _in(
        CHEST,
        "hardware by the metre",
        "price-unit",
        "knob: {kind: knob,",
        "knob: {kind: knob, ⟦price: 2 EUR/m,",
    ),
    # hardware on a part
    _in(
        CHEST,
        "feet of two heights",
        "rocks",
        "  knob: {kind",
        _FOOT + "  knob: {kind",
        _CASTER,
        _CASTER.replace("at: ends, from ends: 2in", "from front: 2in, over: centre")
        + "\n      - foot: ⟦{face: bottom, from back: 2in, over: centre}",
        stage="later",
    ),
    _in(CHEST, "a foot that is not there", "undefined-name", _CASTER, _CASTER.replace("caster:", "⟦castor:")),
    _in(
        CHEST,
        "a stem thicker than the side",
        "hole-too-wide",
        "stem: 5/16in",
        "stem: 1in",
        _CASTER,
        _CASTER.replace("caster: {", "caster: ⟦{"),
    ),
    _in(
        CHEST,
        "a fit in an assembly that is not there",
        "undefined-name",
        "  - knob: {part: top, face: top, at: middle}\n",
        "  - knob: {part: ⟦drawers.end, face: front, at: middle}\n",
    ),
    _in(
        CHEST,
        "a fit on one of two alike",
        "undefined-name",
        "  - knob: {part: top, face: top, at: middle}\n",
        "  - knob: {part: ⟦drawer.near and, face: front, at: middle}\n",
    ),
)
