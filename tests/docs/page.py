"""The page ``docs/reference.md``: every map of the file with its keys, every kind with its example."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping

from plangen.description.model import Description
from plangen.description.reference import SHARED, MapOfKeys, Words, all_models, map_of_keys
from plangen.expressions import Entry, keys_of
from plangen.expressions.syntax import FUNCTIONS
from plangen.joinery.body import JointBody
from plangen.joinery.hardware import HARDWARE_KINDS
from plangen.joinery.hardware.ware import HardwareBody
from plangen.joinery.joints import JOINTS
from plangen.joinery.operations import OPERATIONS
from tests.docs.examples import DOCS, EXAMPLES, file_name, joint_title, load

PAGE = DOCS / "reference.md"
COMMAND = "python -m tests.docs"

# The chapters in the order of a maker's file, each with the maps that are told in it.
CHAPTERS: dict[str, tuple[str, ...]] = {
    "project, shop, stock, hardware": ("project", "revision", "shop", "glue", "stock", "hardware"),
    "parts": (
        "part",
        "size from the work",
        "glue up",
        "point of an outline",
        "arc of an outline",
        "curve of an outline",
        "circle of an outline",
    ),
    "place": ("place", "spread", "lean", "stretcher"),
    "assemblies": ("assembly", "place of an assembly"),
    "fit": ("fit", "row of a fit"),
    "steps": ("step",),
}


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


def hardware_maps() -> list[MapOfKeys]:
    """Give the kinds of hardware that have keys of their own, without the keys of all hardware."""
    table = words()
    table = {**table, SHARED: {**table[SHARED], **table["every hardware"]}}
    common = frozenset(keys_of(HardwareBody))
    return [
        map_of_keys(f"hardware: {names[0]}", HARDWARE_KINDS[names[0]].entry, table, common)
        for names in kinds_of_hardware()
    ]


def every_map() -> list[MapOfKeys]:
    """Give every map of the file, in reading order."""
    table = words()
    common = frozenset(keys_of(JointBody))
    return [
        map_of_keys("the file", Description, table),
        *(map_of_keys(heading, model, table) for heading, model in all_models().items()),
        map_of_keys("every joint", JointBody, table),
        *(map_of_keys(names[0], OPERATIONS[names[0]].entry, table) for names in kinds_of_operation()),
        *(map_of_keys(joint_title(name), one.entry, table, common) for name, one in JOINTS.items()),
    ]


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
        lines += _example(file_name(name))
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
    lines += [
        "## kinds of hardware",
        "",
        "A kind of any name has the keys above; these have keys of their own.",
        "",
    ]
    for names, one in zip(kinds_of_hardware(), hardware_maps(), strict=True):
        lines += [f"### {', '.join(names)}", "", *([one.said, ""] if one.said else []), *_table(one)]
    for name in ("parts", "place"):
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
    for name in ("assemblies", "fit", "steps"):
        lines += chapter(name)
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
        for inner in all_models():
            if inner in maps and inner not in told and _holds(one, inner):
                told.add(inner)
                lines += [f"A {inner}:", "", *_table(maps[inner])]
        for name in names:
            lines += _example(file_name(name))
    return lines


def _holds(one: MapOfKeys, heading: str) -> bool:
    return any(
        row.type.endswith((f"map: {heading}", f"maps: {heading}", f"each {heading}")) for row in one.rows
    )


def _map(one: MapOfKeys, level: str) -> list[str]:
    return [f"{level} {one.heading}", "", *([one.said, ""] if one.said else []), *_table(one)]


def _table(one: MapOfKeys) -> list[str]:
    lines = ["| key | is | means |", "|---|---|---|"]
    for row in one.rows:
        keys = ", ".join(f"**`{key}`**" if row.needed else f"`{key}`" for key in row.keys)
        usual = f"; `{row.usual}` unless said" if row.usual else ""
        lines.append(f"| {keys} | {row.type} | {row.meaning}{usual} |".replace("``", "`"))
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
