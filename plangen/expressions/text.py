"""Text that remembers where in the maker's file it stands."""

from __future__ import annotations

from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from plangen.findings import Finding, Place, ProjectError

NO_PLACE = Place("", 0, 0)


class Text(str):
    """A scalar of the maker's file: the text as typed, and the place of its first character.

    ``place.length`` equals ``len(text)`` exactly when the text stands on one line as it is read, so
    that a column inside it can be pointed at. Text made by the tool (a default) has no place.
    """

    __slots__ = ("place",)
    place: Place

    def __new__(cls, value: str, place: Place = NO_PLACE) -> Text:
        """Make a text at a place."""
        text = super().__new__(cls, value)
        text.place = place
        return text

    def at(self, start: int, length: int = 1) -> Place:
        """Give the place of some characters of the text; the whole text where that cannot be told."""
        place = self.place
        if place.length != len(self) or not place.line:
            return place
        return Place(place.file, place.line, place.column + start, max(1, length))

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Let a model take any scalar as it stands."""
        from plangen.expressions.fields import as_text

        return core_schema.no_info_plain_validator_function(as_text)

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return {"type": ["string", "number"]}

    def __reduce__(self) -> tuple[type[Text], tuple[str, Place]]:
        return Text, (str(self), self.place)


def place_of(text: str) -> Place:
    """Give the place of a text, or no place for a plain string."""
    return text.place if isinstance(text, Text) else NO_PLACE


class ExpressionError(ProjectError):
    """A value of the file cannot be read or worked out; carries one finding."""

    def __init__(self, finding: Finding) -> None:
        super().__init__((finding,))
        self.finding = finding
