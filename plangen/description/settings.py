"""Settings from the command line: another value for a size or a field, another stock for parts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from pydantic import TypeAdapter, ValidationError

from plangen.description.model import Description
from plangen.description.stale import followed, report_stale_words, species_of
from plangen.description.substitution import substituted
from plangen.expressions import (
    Entry,
    Expression,
    PlacedMap,
    Text,
    findings_of,
    key_of,
    keys_of,
    nearest,
    parse_expression,
)
from plangen.expressions import piece as piece_of
from plangen.findings import Finding, Findings, Place, ProjectError, Severity

SETTINGS_FILE = "--set"  # findings about the third setting point at line 3 of this


def apply_settings(
    description: Description, settings: Sequence[str], findings: Findings | None = None
) -> Description:
    """Give the description with each ``NAME=VALUE`` put in.

    A name is a size (``width``); a stock, hardware or the shop and its field (``ply.thickness``); a part and
    its stock (``shelf.stock``); or a stock, and the value another that takes its place everywhere
    (``ply=birch``). What a new value makes untrue is put right or reported (see ``stale``); warnings go to
    ``findings``. Raises ProjectError with all that is wrong.
    """
    settings_made = _Settings(description, findings if findings is not None else Findings())
    for line, setting in enumerate(settings, 1):
        text = Text(setting, Place(SETTINGS_FILE, line, 1, max(1, len(setting))))
        try:
            settings_made.put_in(text)
        except ProjectError as error:
            settings_made.wrong.extend(error.findings)
    return settings_made.finished()


class _Settings:
    """Settings being put into a description one after the other."""

    def __init__(self, description: Description, findings: Findings) -> None:
        self.wrong: list[Finding] = []
        self._first, self._now, self._findings = description, description, findings
        self._fields: dict[
            tuple[str, str], dict[str, Text]
        ] = {}  # table and row: keys set, each by which setting
        self._woods: dict[
            str, tuple[str, str, Text]
        ] = {}  # rows replaced: the wood it was and is, the setting

    def put_in(self, setting: Text) -> None:
        """Put one setting in. Raises ProjectError."""
        cut = setting.find("=")
        if cut <= 0:
            raise _error("bad-setting", f"`{setting}` is not a setting", setting.place, "write NAME=VALUE")
        name, value = piece_of(setting, 0, cut), _unquoted(piece_of(setting, cut + 1, len(setting)))
        if "." not in name:
            if name in self._now.stock:
                self._substitute(name, value)
            else:
                self._now = _with_size(self._now, name, value)
            return
        dot = name.rindex(".")
        owner, key = piece_of(name, 0, dot), piece_of(name, dot + 1, len(name))
        for table_name in ("stock", "hardware"):
            table: Mapping[str, Entry] = getattr(self._now, table_name)
            if owner in table:
                entry = _with_field(table[owner], key, value)
                self._put(table_name, owner, entry)
                self._fields.setdefault((table_name, str(owner)), {})[_field_name(entry, key)] = key
                return
        if owner == "shop":
            shop = _with_field(self._now.shop, key, value)
            self._now = self._now.model_copy(update={"shop": shop})
            return
        with_stock = _with_part_stock(self._now, self._now, owner, key, value)
        if with_stock is None:
            known = [*self._now.stock, *self._now.hardware, *self._now.parts, "shop"]
            raise _error(
                "unknown-name",
                f"there is no stock, hardware or part `{owner}`",
                owner.place,
                nearest(owner, known, "there are"),
            )
        self._now = with_stock

    def _put(self, table_name: str, owner: str, entry: Entry) -> None:
        table = _replaced(getattr(self._now, table_name), owner, entry)
        self._now = self._now.model_copy(update={table_name: table})

    def _substitute(self, name: Text, value: Text) -> None:
        new = Text(value.strip(), value.place)
        _check_stock(self._now, new, without=name)
        woods = [species_of(one, self._now.stock[one]) for one in (name, new)]
        self._woods[str(name)] = (woods[0], woods[1], name)
        self._now = substituted(self._now, str(name), str(new))

    def finished(self) -> Description:
        """Put right what the new values make untrue, and give the description. Raises ProjectError."""
        told = Findings()
        for (table_name, owner), keys in self._fields.items():
            row = getattr(self._now, table_name).get(owner)
            if row is None:  # replaced by another stock after all
                continue
            old = getattr(self._first, table_name)[owner]
            self._put(table_name, owner, followed(owner, old, row, keys, self._now.project.units, told))
            if table_name == "stock" and "species" in keys:
                woods = species_of(owner, old), species_of(owner, self._now.stock[owner])
                self._woods[owner] = (*woods, keys["species"])
        for was, now, setting in self._woods.values():
            if was.lower() != now.lower():
                report_stale_words(self._now, was, now, setting.place, told)
        for finding in told:
            if finding.severity is Severity.ERROR:
                self.wrong.append(finding)
            else:
                self._findings.add(finding)
        if self.wrong:
            raise ProjectError(self.wrong)
        return self._now


def _unquoted(value: Text) -> Text:
    """Give a value without the quotes round the whole of it, which not every shell takes off."""
    if len(value) > 1 and value[0] == value[-1] and value[0] in "\"'":
        return piece_of(value, 1, len(value) - 1)
    return value


def _check_stock(description: Description, name: Text, without: str = "") -> None:
    """Raises ProjectError where there is no such stock; ``without`` is one that it may not be."""
    known = [one for one in description.stock if one != without]
    if name not in known:
        raise _error(
            "unknown-name",
            f"there is no other stock `{name}`" if without else f"there is no stock `{name}`",
            name.place,
            nearest(name, known, "the stocks are") if known else "add a row for it under `stock`",
        )


def _with_part_stock(whole: Description, holder: Any, owner: Text, key: Text, value: Text) -> Any:
    """Give a description or an assembly with another stock for a part; None where it has no such part.

    A part of an assembly is named by the way to it: ``drawer.face``. Raises ProjectError.
    """
    first, *deeper = owner.split(".", 1)
    if deeper:
        inner = holder.assemblies.get(first)
        if inner is None:
            return None
        made = _with_part_stock(whole, inner, piece_of(owner, len(first) + 1, len(owner)), key, value)
        if made is None:
            return None
        return holder.model_copy(update={"assemblies": _replaced(holder.assemblies, first, made)})
    if owner not in holder.parts:
        return None
    if key != "stock":
        raise _error(
            "unknown-key",
            f"`{key}` of a part cannot be set",
            key.place,
            f"set its stock, `{owner}.stock=NAME`, or a size that its measures stand on",
        )
    name = Text(value.strip(), value.place)
    _check_stock(whole, name)
    part = holder.parts[owner].model_copy(update={"stock": name})
    return holder.model_copy(update={"parts": _replaced(holder.parts, owner, part)})


def _with_size(description: Description, name: Text, value: Text) -> Description:
    if name not in description.sizes:
        known = [*description.sizes, *description.stock]
        raise _error(
            "unknown-name",
            f"there is no size or stock `{name}`",
            name.place,
            nearest(name, known, "there are"),
        )
    expression: Expression = parse_expression(value)
    return description.model_copy(update={"sizes": _replaced(description.sizes, name, expression)})


def _with_field(entry: Entry, key: Text, value: Text) -> Entry:
    names = {field.alias or key_of(name): name for name, field in type(entry).model_fields.items()}
    if key not in names:
        raise _error(
            "unknown-key",
            f"`{key}` is not a key there",
            key.place,
            nearest(key, keys_of(type(entry)), "the keys are"),
        )
    field = type(entry).model_fields[names[key]]
    try:
        checked: Any = TypeAdapter(field.rebuild_annotation()).validate_python(_one_or_list(value))
    except ValidationError as error:
        given = PlacedMap({key: value}, key.place)
        raise ProjectError(findings_of(error, given, value.place, type(entry), (key,))) from None
    return entry.model_copy(update={names[key]: checked})


def _one_or_list(value: Text) -> Text | list[Text]:
    """Give a value as it is typed: ``[5in, 6in]`` is a list, as in the file."""
    start, end = value.find("["), value.rfind("]")
    if start < 0 or value[:start].strip() or value[end + 1 :].strip() or end < start:
        return value
    found = []
    start += 1
    for part in value[start:end].split(","):
        found.append(piece_of(value, start, start + len(part)))
        start += len(part) + 1
    return found


def _field_name(entry: Entry, key: str) -> str:
    return next(
        name for name, field in type(entry).model_fields.items() if key in (field.alias, key_of(name))
    )


def _replaced(table: Mapping[str, Any], name: str, value: Any) -> dict[str, Any]:
    # Keys keep their places: the new value goes under the old key.
    return {key: value if key == name else old for key, old in table.items()}


def _error(kind: str, message: str, place: Place, remedy: str) -> ProjectError:
    return ProjectError((Finding(kind, message, place, remedy),))
