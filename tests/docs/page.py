"""The page ``docs/reference.md``: every map of the file with its keys, every kind with its example."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping

from plangen.description.model import Description
from plangen.description.reference import SHARED, MapOfKeys, Words, all_models, map_of_keys
from plangen.expressions import Entry, Text, keys_of
from plangen.expressions.syntax import FUNCTIONS
from plangen.handbook.densities import _TRADE_NAMES, HANDBOOK, SPECIES, find_species
from plangen.handbook.movement import coefficients
from plangen.handbook.safety import CAUTIONS
from plangen.joinery.body import JointBody
from plangen.joinery.hardware import HARDWARE_KINDS
from plangen.joinery.hardware.ware import HardwareBody, HardwareEntry, HardwareKind
from plangen.joinery.joints import JOINTS
from plangen.joinery.operations import OPERATIONS
from plangen.joinery.outline import segment_kinds
from tests.docs.examples import DOCS, EXAMPLES, file_name, joint_title, load

PAGE = DOCS / "reference.md"
COMMAND = "python -m tests.docs"

# The chapters in the order of a maker's file, each with the maps that are told in it.
CHAPTERS: dict[str, tuple[str, ...]] = {
    "project, shop, stock, hardware": (
        "project",
        "revision",
        "shop",
        "rough sizes",
        "glue",
        "stock",
        "hardware",
    ),
    "parts": (
        "part",
        "size from the work",
        "glue up",
        "point of an outline",
        "arc of an outline",
        "curve of an outline",
        "circle of an outline",
    ),
    "blanks": ("blank",),
    "finish": ("finish",),
    "place": ("place", "spread", "lean", "stretcher"),
    "assemblies": ("assembly", "place of an assembly"),
    "fit": ("fit", "row of a fit", "grid"),
    "steps": ("step",),
}
# Further examples of a chapter, after its own.
MORE: dict[str, tuple[str, ...]] = {"place": ("spread", "lean", "stretch")}


def words() -> Words:
    """Read the table of words."""
    return tomllib.loads((DOCS / "words.toml").read_text(encoding="utf-8"))


def kind_names(table: Mapping[str, object], entry_of: Callable[[str], type[Entry]]) -> list[tuple[str, ...]]:
    """Give the kinds of a table, those that read the same keys together, in the table's order."""
    together: dict[type[Entry], list[str]] = {}
    for name in table:
        together.setdefault(entry_of(name), []).append(name)
    return [tuple(names) for names in together.values()]


def kinds_of_operation() -> list[tuple[str, ...]]:
    return kind_names(OPERATIONS, lambda name: OPERATIONS[name].entry)


def kinds_of_joint() -> list[tuple[str, ...]]:
    kinds = {joint_title(name): kind.entry for name, kind in JOINTS.items()}
    return kind_names(kinds, lambda name: kinds[name])


def kinds_of_hardware() -> list[tuple[str, ...]]:
    return kind_names(HARDWARE_KINDS, lambda name: HARDWARE_KINDS[name].entry)


def usual_sizes(kind: HardwareKind) -> dict[str, str]:
    """Give what the sizes of a kind of hardware are worth where they are not typed, in inches and in mm."""
    nothing = kind.entry.model_construct(kind=Text(kind.name))
    inch, metric = (kind.defaults(nothing, {}, metric) for metric in (False, True))
    return {
        key: value if metric[key] == value else f"{value}` or `{metric[key]}" for key, value in inch.items()
    }


def hardware_maps() -> list[MapOfKeys]:
    """Give the kinds of hardware that have keys of their own, without the keys of all hardware."""
    table = _with_shared("every hardware")
    found = []
    for names in kinds_of_hardware():
        kind = HARDWARE_KINDS[names[0]]
        heading, without = f"hardware: {names[0]}", set(keys_of(HardwareBody))
        if issubclass(kind.entry, HardwareEntry):  # of the keys of a plain thing those that it has a use for
            without |= set(keys_of(HardwareEntry)) - set(table.get(heading, {}))
        needs, usual = (kind.needs, usual_sizes(kind)) if all_alike(names) else ((), {})
        found.append(map_of_keys(heading, kind.entry, table, frozenset(without), needs=needs, usual=usual))
    return found


def all_alike(names: tuple[str, ...]) -> bool:
    """Whether kinds that read the same keys need the same ones, and give the others the same worth."""
    first, *rest = (HARDWARE_KINDS[name] for name in names)
    return all((one.needs, usual_sizes(one)) == (first.needs, usual_sizes(first)) for one in rest)


def _with_shared(*headings: str) -> Words:
    """Give the words with those of some headings among the shared ones."""
    table = words()
    shared = dict(table[SHARED])
    for heading in headings:
        shared |= table[heading]
    return {**table, SHARED: shared}


def every_map() -> list[MapOfKeys]:
    """Give every map of the file, in reading order."""
    table, cuts, joints = words(), _with_shared("every cut"), _with_shared("every kind of joint")
    outline = _with_shared("every outline")
    outlines = {segment.__name__ for segment in segment_kinds().values()}
    common = frozenset(keys_of(JointBody))
    return [
        map_of_keys("the file", Description, table),
        *(
            map_of_keys(heading, model, outline if model.__name__ in outlines else table)
            for heading, model in all_models().items()
        ),
        map_of_keys("every joint", JointBody, table),
        *(map_of_keys(names[0], OPERATIONS[names[0]].entry, cuts) for names in kinds_of_operation()),
        *(map_of_keys(joint_title(name), one.entry, joints, common) for name, one in JOINTS.items()),
    ]


def woods() -> list[str]:
    """Tell the woods that the handbook knows, by the words that a maker types."""
    lines = [
        "### The woods that the handbook knows",
        "",
        "Type any of these as `species`. The handbook gives each its density and, where the last column says",
        "so, how much it moves; for another wood type its `density`. Plywood takes the name of its face",
        "wood, or `mdf`, `particleboard` or `hardboard`. Densities are at 12 percent of moisture, from the",
        f"{HANDBOOK}, European woods from EN 350; `memory` marks what we set down from memory.",
        "",
        "| wood | also called | kg/m3 | from | movement known |",
        "|---|---|---|---|---|",
    ]
    for one in SPECIES.values():
        wood = wood_name(one.name)
        also = ", ".join(sorted(name for name, of in _TRADE_NAMES.items() if of == one.name and name != wood))
        source = one.source.removeprefix(f"{HANDBOOK}, ") + (", memory" if one.status == "memory" else "")
        moves = "yes" if coefficients(one.name) is not None else "no"
        lines.append(f"| {wood} | {also} | {round(one.density)} | {source} | {moves} |")
    return [*lines, ""]


def wood_name(name: str) -> str:
    """Spell the handbook's ``Pine, eastern white`` as a maker types it: ``eastern white pine``."""
    noun, _, kind = name.lower().partition(", ")
    spelled = name.lower() if not kind else kind if kind.endswith(noun) else f"{kind} {noun}"
    assert find_species(spelled) is not None, spelled
    return spelled


def page() -> str:
    """Write the page."""
    maps = {one.heading: one for one in every_map()}
    operations, joints = kinds_of_operation(), kinds_of_joint()
    told: set[str] = set()

    def chapter(name: str) -> list[str]:
        lines = [f"## {name}", ""]
        for heading in CHAPTERS[name]:
            if heading in maps:
                told.add(heading)
                lines += _map(maps[heading], "###")
        for shown in (file_name(name), *MORE.get(name, ())):
            lines += [*([f"#### Example: {shown}", ""] if shown in MORE.get(name, ()) else [])]
            lines += [*words_of(shown), *_example(shown)]
        return lines

    lines = [
        "# Every key",
        "",
        f"Written by `{COMMAND}` from what the program reads; do not edit it by hand. The rules, the",
        "common mistakes and the words of values stand in [the description of a project](language.md). Every",
        "example is a whole project that builds without a warning; its file is in `docs/examples/`. A key in",
        "**bold** is needed.",
        "",
        "Each example begins so:",
        "",
        "```yaml",
        *load("dado").head.rstrip().splitlines(),
        "```",
        "",
        "Kinds of `cut`: " + ", ".join(_link(name) for names in operations for name in names) + ".",
        "",
        "Kinds of joint: " + ", ".join(_link(name) for names in joints for name in names) + ".",
        "",
        "## the file",
        "",
        *_table(maps["the file"]),
        "A value may call " + ", ".join(f"`{name}`" for name in FUNCTIONS) + "; see",
        "[Values](language.md#values).",
        "",
    ]
    lines += chapter("project, shop, stock, hardware")
    lines += woods()
    lines += ["## kinds of hardware", "", *words_of("kinds of hardware")]
    for names, one in zip(kinds_of_hardware(), hardware_maps(), strict=True):
        lines += [f"### {', '.join(names)}", ""]
        if one.model is HardwareEntry:
            lines += ["It has the keys of [a plain thing](#hardware).", ""]
            continue
        lines += [one.said, ""] if one.said else []
        lines += [*_table(one), *_usual_screw(HARDWARE_KINDS[names[0]])]
        if not all_alike(names):
            for name in names:
                lines += [_needs(HARDWARE_KINDS[name])] if name == HARDWARE_KINDS[name].name else []
            lines.append("")
    lines += _map(maps["screws"], "###")
    told.add("screws")
    for name in ("finish", "parts", "place"):
        lines += chapter(name)
    lines += ["## cut", "", "Each item under `cut` is one kind with its keys.", ""]
    lines += _kinds(operations, maps, told)
    lines += [
        "## joints",
        "",
        "Each item under `joints` is one kind with its keys, and with any of these:",
        "",
    ]
    lines += _table(maps["every joint"])
    lines += _kinds(joints, maps, told)
    lines += chapter("assemblies")
    for name in ("groups", "positions"):
        lines += [f"## {name}", "", *words_of(name), *_example(name)]
    lines += chapter("blanks")
    lines += chapter("fit")
    lines += chapter("steps")
    lines += [
        "The cautions that a step may name: " + ", ".join(f"`{key}`" for key in sorted(CAUTIONS)) + ".",
        "",
    ]
    known = {name for names in (*operations, *joints) for name in names} | {"the file", "every joint"}
    rest = [one for heading, one in maps.items() if heading not in told | known]
    if rest:
        lines += ["## Smaller maps", ""]
        for one in rest:
            lines += _map(one, "###")
    return "\n".join(lines).rstrip() + "\n"


def _kinds(kinds: list[tuple[str, ...]], maps: Mapping[str, MapOfKeys], told: set[str]) -> list[str]:
    lines: list[str] = []
    for names in kinds:
        lines += [f"### {', '.join(names)}", ""]
        one = maps[names[0]]
        lines += [one.said, ""] if one.said else []
        lines += _table(one)
        keys = {key for row in one.rows for key in row.keys}
        for inner in all_models():
            if inner in maps and inner not in told and _holds(one, inner):
                told.add(inner)
                lines += [f"Keys of `{inner}`:" if inner in keys else f"A {inner}:", "", *_table(maps[inner])]
        for name in names:
            lines += _example(file_name(name))
    return lines


def _holds(one: MapOfKeys, heading: str) -> bool:
    return any(row.type.endswith((f"map: {heading}", f"maps: {heading}")) for row in one.rows)


def words_of(name: str) -> list[str]:
    """Give the prose that stands before an example or under a heading, with an empty line after it."""
    prose = words()["prose"].get(name, "").strip()
    return [prose, ""] if prose else []


def _needs(kind: HardwareKind) -> str:
    """Say what one of several kinds in a table needs, and what its other sizes are worth."""
    needed = " and ".join(f"`{key}`" for key in kind.needs)
    worth = "".join(f"; its `{key}` is `{value}` unless said" for key, value in usual_sizes(kind).items())
    return f"* `{kind.name}`: needs {needed}{worth}."


def _usual_screw(kind: HardwareKind) -> list[str]:
    """Say which screw a number alone stands for."""
    screw = kind.screw
    if screw is None:
        return []
    return [
        f"With a number alone for `screws` they are No. {screw.gauge_inch}, {screw.length_inch} long; in mm "
        f"{screw.gauge_mm}, {screw.length_mm} long.",
        "",
    ]


def _map(one: MapOfKeys, level: str) -> list[str]:
    return [f"{level} {one.heading}", "", *([one.said, ""] if one.said else []), *_table(one)]


def _table(one: MapOfKeys) -> list[str]:
    lines = ["| key | is | means |", "|---|---|---|"]
    for row in one.rows:
        keys = ", ".join(f"**`{key}`**" if row.needed else f"`{key}`" for key in row.keys)
        usual = f"; `{row.usual}` unless said" if row.usual else ""
        cells = (keys, row.type, f"{row.meaning}{usual}".replace("``", "`"))
        assert not any("|" in cell or "\n" in cell for cell in cells), cells
        lines.append(f"| {' | '.join(cells)} |")
    return [*lines, ""]


def _example(name: str) -> list[str]:
    if not (EXAMPLES / f"{name}.yaml").exists():
        return []  # a test says so
    example = load(name)
    return ["```yaml", *example.shown.rstrip().splitlines(), "```", f"![{name}](pictures/{name}.svg)", ""]


def _link(name: str) -> str:
    names = next(names for names in (*kinds_of_operation(), *kinds_of_joint()) if name in names)
    anchor = ", ".join(names).replace(",", "").replace(" ", "-")
    return f"[{name}](#{anchor})"
