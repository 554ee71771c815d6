"""The rows under ``hardware`` as they are read: each by its kind, and the screws that they bring."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Annotated, Any, TypeAlias

from pydantic import AfterValidator, GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationError
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from plangen.expressions import NameKey, Text
from plangen.expressions.entry import findings_of, place_of_value, trouble, troubles
from plangen.findings import ProjectError
from plangen.joinery.hardware import HARDWARE_KINDS
from plangen.joinery.hardware.making import screw_row
from plangen.joinery.hardware.ware import BroughtScrew, HardwareBody, HardwareEntry, Screwed


class _ByKind:
    """Reads a row by the model of its kind; a kind that is in no table is a plain thing."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        rows = []
        for name, kind in HARDWARE_KINDS.items():
            row = dict(handler.resolve_ref_schema(handler(kind.entry.__pydantic_core_schema__)))
            row["properties"] = {**row["properties"], "kind": {"const": name}}
            row["title"] = kind.title
            rows.append(row)
        plain = handler(HardwareEntry.__pydantic_core_schema__)
        return {"title": "hardware", "anyOf": [*rows, plain]}

    def _read(self, value: Any) -> HardwareBody:
        if isinstance(value, HardwareBody):
            return value
        if not isinstance(value, Mapping):
            raise trouble(
                "bad-value",
                "a map of keys and values is wanted here",
                place_of_value(value),
                "for example `{kind: wood screw, gauge: 8, length: 1-1/2in}`",
            )
        named = str(value.get("kind", ""))
        kind = HARDWARE_KINDS.get(named) or HARDWARE_KINDS.get(named[:1].lower() + named[1:])
        model = kind.entry if kind is not None else HardwareEntry
        try:
            return model.model_validate(value)
        except ValidationError as error:
            raise troubles(findings_of(error, value, place_of_value(value), model)) from None
        except ProjectError as error:
            raise troubles(error.findings) from None


if TYPE_CHECKING:
    HardwareRow: TypeAlias = HardwareBody
else:  # what a reader of the model sees is the plain row; each kind has a model of its own
    HardwareRow = Annotated[HardwareEntry, _ByKind()]


def _with_screws(rows: dict[str, HardwareBody]) -> dict[str, HardwareBody]:
    """Add a row for the screws that a row brings, right after it, unless the maker listed one himself."""
    found: dict[str, HardwareBody] = {}
    for name, row in rows.items():
        found[name] = row
        screws = row.screws if isinstance(row, Screwed) else None
        if screws is None or screw_row(name) in rows:
            continue
        row_title = Text(f"Wood screw, for the {name}")
        typed = {key: getattr(screws, key) for key in ("gauge", "length", "head", "price", "pack", "packs")}
        brought = BroughtScrew.model_construct(
            **{name: field.default for name, field in BroughtScrew.model_fields.items()}
            | {key: value for key, value in typed.items() if value is not None}
            | {"usual": row.kind, "title": row_title}
        )
        brought._place = row.place_of("screws")
        brought._places = {}
        found[screw_row(name)] = brought
    return found


HardwareRows = Annotated[dict[NameKey, HardwareRow], AfterValidator(_with_screws)]
