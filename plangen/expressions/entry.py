"""The base of every model of the maker's file: frozen, closed, and aware of its place in the file."""

from __future__ import annotations

import types
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any, Literal, Self, Union, get_args, get_origin

from pydantic import (
    BaseModel,
    ConfigDict,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    ModelWrapValidatorHandler,
    PrivateAttr,
    ValidationError,
    model_validator,
)
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, ErrorDetails, PydanticCustomError, core_schema

from plangen.expressions.text import NO_PLACE, Text, place_of
from plangen.findings import Finding, Place, ProjectError


class PlacedMap(dict[str, Any]):
    """A map of the file: its keys are Text, and it knows where it begins."""

    def __init__(self, items: Mapping[str, Any] | None = None, place: Place = NO_PLACE) -> None:
        super().__init__(items or {})
        self.place = place

    def key(self, name: str) -> Text | None:
        """Give a key as it stands in the file."""
        return next((key for key in self if key == name and isinstance(key, Text)), None)


class PlacedList(list[Any]):
    """A list of the file; it knows where it begins."""

    def __init__(self, items: list[Any] | None = None, place: Place = NO_PLACE) -> None:
        super().__init__(items or [])
        self.place = place


def key_of(field_name: str) -> str:
    """Give the maker's key of a field: ``from_work`` is ``from work``, ``from_`` is ``from``."""
    return field_name.rstrip("_").replace("_", " ")


class Entry(BaseModel):
    """A map of the maker's file with known keys."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        alias_generator=key_of,
        populate_by_name=True,
        arbitrary_types_allowed=True,
    )

    _place: Place = PrivateAttr(default=NO_PLACE)
    _places: dict[str, Place] = PrivateAttr(default_factory=dict)

    @model_validator(mode="wrap")
    @classmethod
    def _keep_places(cls, data: Any, handler: ModelWrapValidatorHandler[Self]) -> Self:
        if not isinstance(data, (Mapping, BaseModel)):
            raise trouble(
                "bad-value",
                "a map of keys and values is wanted here",
                place_of_value(data),
                f"the keys are {listed(keys_of(cls))}",
            )
        entry = handler(data)
        if isinstance(data, PlacedMap):
            entry._place = data.place
            entry._places = {str(key): place_of(key) for key in data}
        return entry

    @property
    def place(self) -> Place:
        """Where the map begins in the file."""
        return self._place

    def place_of(self, field_name: str) -> Place:
        """Give the place of a key; of the whole map where the key is not written."""
        return self._places.get(key_of(field_name), self._place)

    def has(self, field_name: str) -> bool:
        """Whether the maker wrote the key."""
        return field_name in self.model_fields_set

    def __eq__(self, other: object) -> bool:
        """Entries are equal when they say the same, wherever they stand."""
        return type(self) is type(other) and self.__dict__ == getattr(other, "__dict__", None)

    __hash__ = None  # type: ignore[assignment]


@dataclass(frozen=True)
class KindEntry:
    """A map of one kind to its values: ``dado: {in: side, for: shelf}``."""

    kind: Text
    body: Entry

    @property
    def place(self) -> Place:
        """Where the kind is named."""
        return self.kind.place


KindTable = Callable[[], Mapping[str, type[Entry]]]


def one_of_kinds(table: KindTable, what: str) -> Any:
    """Give metadata for ``Annotated[KindEntry, …]`` that reads one map of one kind against a table.

    ``table`` is called when a file is read, so that kinds may be listed later; ``what`` is the word
    for it in messages (``joint``). A body model with a classmethod ``from_text`` also takes a plain
    scalar. The JSON Schema is one alternative for each kind.
    """
    return _OneOfKinds(table, what)


class _OneOfKinds:
    def __init__(self, table: KindTable, what: str) -> None:
        self.table, self.what, self.kind = table, what, what.replace(" ", "-")

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        choices = []
        for kind, model in self.table().items():
            body: JsonSchemaValue = handler(model.__pydantic_core_schema__)
            if hasattr(model, "from_text"):
                body = {"anyOf": [body, {"type": ["string", "number"]}]}
            choices.append(
                {
                    "type": "object",
                    "properties": {kind: body},
                    "required": [kind],
                    "additionalProperties": False,
                }
            )
        return {"title": self.what, "oneOf": choices}

    def _read(self, value: Any) -> KindEntry:
        if isinstance(value, KindEntry):
            return value
        table = self.table()
        if not isinstance(value, Mapping):
            raise trouble(
                f"bad-{self.kind}",
                f"a {self.what} is a map of its kind to its values",
                place_of_value(value),
                f"for example `{next(iter(table), 'kind')}: {{…}}`",
            )
        if len(value) != 1:
            extra = list(value)[1] if len(value) > 1 else None
            place = place_of_value(value) if extra is None else place_of(extra)
            raise trouble(
                f"bad-{self.kind}",
                f"one {self.what} has one kind, and here are {len(value)} keys",
                place,
                "put the values in braces after the kind, or indent them under it",
            )
        ((kind, body),) = value.items()
        kind = kind if isinstance(kind, Text) else Text(str(kind))
        model = table.get(kind)
        if model is None:
            raise trouble(
                f"unknown-{self.kind}",
                f"`{kind}` is not a kind of {self.what}",
                kind.place,
                nearest(kind, table, f"the kinds of {self.what} are"),
            )
        try:
            if isinstance(body, str) and hasattr(model, "from_text"):
                text = body if isinstance(body, Text) else Text(body)
                return KindEntry(kind, model.from_text(text))
            return KindEntry(kind, model.model_validate(body))
        except ValidationError as error:
            raise troubles(findings_of(error, body, kind.place, model)) from None
        except ProjectError as error:
            raise troubles(error.findings) from None


def by_shape(value: Any) -> str:
    """Tell a map, a list and a text apart, for a union of them: the tag is ``map``, ``list`` or ``text``."""
    if isinstance(value, Mapping | BaseModel):
        return "map"
    return "list" if isinstance(value, list | tuple) else "text"


def trouble(kind: str, message: str, place: Place | None, remedy: str = "") -> PydanticCustomError:
    """Make the error that a field's validator raises, carrying one finding."""
    return troubles((Finding(kind, message, place if place and place.line else None, remedy),))


def troubles(findings: tuple[Finding, ...]) -> PydanticCustomError:
    """Make the error that a validator raises, carrying findings."""
    message = "; ".join(finding.message for finding in findings)
    return PydanticCustomError("finding", "{message}", {"message": message, "findings": findings})


def place_of_value(value: Any) -> Place:
    """Give the place of any value of the file."""
    found = getattr(value, "place", NO_PLACE)
    return found if isinstance(found, Place) else NO_PLACE


def keys_of(model: type[BaseModel]) -> list[str]:
    """Give the maker's keys of a model, in order."""
    return [field.alias or key_of(name) for name, field in model.model_fields.items()]


def listed(words: list[str]) -> str:
    """Join words as a list that is not too long to read."""
    shown = ", ".join(f"`{word}`" for word in words[:14])
    return shown + (" …" if len(words) > 14 else "")


def nearest(word: str, known: Mapping[str, Any] | list[str], otherwise: str) -> str:
    """Say which known word was meant, or list them."""
    words = list(known)
    lowered = {candidate.lower(): candidate for candidate in reversed(words)}
    near = get_close_matches(word.lower(), lowered, 1, 0.7)
    if near:
        return f"did you mean `{lowered[near[0]]}`?"
    # Or the one whose words hold what was written: `ends` for `from ends`.
    holding = [one for one in lowered if _words(word) <= _words(one) or _words(one) <= _words(word)]
    if len(holding) == 1:
        return f"did you mean `{lowered[holding[0]]}`?"
    return (
        f"{otherwise} {listed(words)}" if words else f"there are none of them in this file: {otherwise} none"
    )


def _words(name: str) -> set[str]:
    return {word.rstrip("s") for word in name.lower().split()} or {name}


def findings_of(
    error: ValidationError,
    data: Any,
    place: Place,
    model: type[BaseModel],
    path: tuple[str, ...] = (),
) -> tuple[Finding, ...]:
    """Turn what pydantic found into findings at the places of the values in ``data``.

    ``data`` is a map for ``model``; ``path`` leads to the value that was validated, where that was not
    the whole. ``place`` stands in where a value has no place of its own.
    """
    details = error.errors(include_url=False)
    found = [
        finding
        for detail in details
        for finding in _finding(detail, (*path, *detail["loc"]), data, place, model)
    ]
    # A misspelt key is reported once, not again as a missing one; a value that fits no form it could
    # have is reported for the first of them.
    meant = {finding.remedy for finding in found if finding.kind == "unknown-key"}
    kept: list[Finding] = []
    for finding in found:
        again = any(other.place == finding.place for other in kept) and finding.kind == "bad-value"
        key = finding.message.split(" is ")[0]
        spelt = finding.kind == "missing-key" and f"did you mean {key}?" in meant
        if not (again or spelt):
            kept.append(finding)
    return tuple(kept)


def _finding(
    detail: ErrorDetails, loc: tuple[int | str, ...], data: Any, place: Place, model: type[BaseModel]
) -> Iterator[Finding]:
    here = _walk(loc, data, place, model)
    key = loc[-1] if loc else ""
    if detail["type"] == "finding":
        carried: tuple[Finding, ...] = detail["ctx"]["findings"]
        for finding in carried:
            yield (
                finding
                if finding.place
                else Finding(
                    finding.kind, finding.message, here.place, finding.remedy, finding.severity, finding.also
                )
            )
        return
    match detail["type"]:
        case "extra_forbidden":
            known = keys_of(here.model) if here.model else []
            yield Finding(
                "unknown-key",
                f"`{key}` is not a key here",
                here.key_place,
                nearest(str(key), known, "the keys are"),
            )
        case "missing":
            yield Finding(
                "missing-key", f"`{key}` is missing", place_or(here.key_place, here.place), f"add `{key}:`"
            )
        case "literal_error":
            words = _words_of(here.annotation)
            shown = here.value if isinstance(here.value, str) else "this"
            remedy = (
                nearest(str(shown), words, "write one of") if words else f"write {detail['ctx']['expected']}"
            )
            yield Finding("unknown-word", f"`{shown}` is not a word for `{here.named}`", here.place, remedy)
        case "list_type":
            yield Finding(
                "bad-value",
                f"`{here.named}` takes a list",
                here.place,
                "write it as `[one, two]`, or as lines that begin with `- `",
            )
        case "dict_type" | "model_type" | "model_attributes_type":
            yield Finding(
                "bad-value",
                f"`{here.named}` takes a map of keys and values",
                here.place,
                "write `key: value` lines under it, or `{key: value}`",
            )
        case _:
            yield Finding(
                "bad-value", f"`{here.named}`: {detail['msg'][:1].lower()}{detail['msg'][1:]}", here.place, ""
            )


@dataclass
class _Spot:
    """Where pydantic's path has come to: the value, its key, and what the models expect there."""

    place: Place
    key_place: Place
    value: Any
    named: str
    annotation: Any
    model: type[BaseModel] | None  # of the value, or of the map that lacks or does not know the key


def _walk(loc: tuple[int | str, ...], data: Any, place: Place, model: type[BaseModel]) -> _Spot:
    """Follow pydantic's path through the placed data; tags of unions in the path are passed over."""
    spot = _Spot(place_or(place_of_value(data), place), place, data, "the file", model, model)
    for step in loc:
        value = spot.value
        if isinstance(value, Mapping) and step in value:
            key = next(key for key in value if key == step)
            spot.model = _model_in(spot.annotation)
            spot.annotation = _within(spot.annotation, str(step))
            spot.value, spot.named = value[step], str(step)
            spot.key_place = place_or(place_of(key), spot.place)
            spot.place = place_or(place_of_value(spot.value), spot.key_place)
        elif isinstance(value, list) and isinstance(step, int) and step < len(value):
            spot.annotation, spot.value = _item(spot.annotation), value[step]
            spot.place = spot.key_place = place_or(place_of_value(spot.value), spot.place)
    return spot


def place_or(one: Place, two: Place) -> Place:
    """Give the first of two places that is one."""
    return one if one.line else two


def _arms(annotation: Any) -> Iterator[Any]:
    """Every alternative of an annotation, without what pydantic hangs on it."""
    if hasattr(annotation, "__metadata__"):
        annotation = annotation.__origin__
    if get_origin(annotation) in (Union, types.UnionType):
        for arm in get_args(annotation):
            yield from _arms(arm)
    else:
        yield annotation


def _model_in(annotation: Any) -> type[BaseModel] | None:
    return next((a for a in _arms(annotation) if isinstance(a, type) and issubclass(a, BaseModel)), None)


def _within(annotation: Any, key: str) -> Any:
    for arm in _arms(annotation):
        if isinstance(arm, type) and issubclass(arm, BaseModel):
            for name, field in arm.model_fields.items():
                if key in (field.alias, name):
                    return field.annotation
        if get_origin(arm) is dict:
            return get_args(arm)[1]
    return None


def _item(annotation: Any) -> Any:
    return next((get_args(arm)[0] for arm in _arms(annotation) if get_origin(arm) in (list, tuple)), None)


def _words_of(annotation: Any) -> list[str]:
    return [word for arm in _arms(annotation) if get_origin(arm) is Literal for word in get_args(arm)]
