"""From bytes to a tree of placed maps, lists and texts, refusing what YAML would change silently.

Nothing here recurses and nothing is expanded, so no file can make it slow or deep.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)

from plangen.expressions import PlacedList, PlacedMap, Text
from plangen.findings import Findings, Place
from plangen.handbook.letters import can_be_printed, why_not

LARGEST_FILE = 1_000_000  # bytes; a long project is under 20,000
DEEPEST = 40
MOST_NODES = 25_000
MOST_TOLD = 5  # of one kind of fault that may stand in every line


def read_tree(data: bytes, file: str, findings: Findings) -> PlacedMap | None:
    """Read the top map of a file; None when nothing more can be said of it than the findings do."""
    text = _decoded(data, file, findings)
    if text is None or not _characters_fit(text, file, findings):
        return None
    # A tab between words is told above; read as a space it moves no column.
    return _Composer(file, findings).read(text.replace("\t", " "))


def _decoded(data: bytes, file: str, findings: Findings) -> str | None:
    if len(data) > LARGEST_FILE:
        findings.error(
            "file-too-large",
            f"the file has more than {LARGEST_FILE:,} bytes",
            Place(file, 1, 1),
            "a long description has 20,000",
        )
        return None
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        findings.error("not-utf-8", "the file is saved as UTF-16", Place(file, 1, 1), "save it as UTF-8")
        return None
    body = data.removeprefix(b"\xef\xbb\xbf")
    try:
        text = body.decode("utf-8")
    except UnicodeDecodeError as error:
        before = body[: error.start].decode("utf-8").replace("\r\n", "\n").replace("\r", "\n")
        place = Place(file, before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1)
        findings.error(
            "not-utf-8",
            f"byte {body[error.start]:#04x} here is not UTF-8 text",
            place,
            "save the file as UTF-8",
        )
        return None
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if not text.strip():
        findings.error(
            "empty-file",
            "the file is empty",
            Place(file, 1, 1),
            "begin it with `plangen: 1`, or make a starter with `plangen new FOLDER`",
        )
        return None
    return text


def _characters_fit(text: str, file: str, findings: Findings) -> bool:
    """Tell tabs and unprintable characters; False where the rest cannot be read for them."""
    readable, told = True, 0
    for number, line in enumerate(text.split("\n"), 1):
        indent = line[: len(line) - len(line.lstrip())]
        if "\t" in line:
            told += 1
            readable = readable and "\t" not in indent
            if told <= MOST_TOLD:
                findings.error(
                    "tab",
                    "a tab stands here",
                    Place(file, number, line.index("\t") + 1),
                    "indent with two spaces for each step" if "\t" in indent else "type a space",
                )
        for column, character in enumerate(line, 1):
            if _forbidden(character):
                readable = False
                told += 1
                if told <= MOST_TOLD:
                    findings.error(
                        "bad-character",
                        f"U+{ord(character):04X} cannot stand in a description",
                        Place(file, number, column),
                        "take it out",
                    )
    return readable


def _forbidden(character: str) -> bool:
    code = ord(character)
    return (code < 0x20 and character != "\t") or 0x7F <= code <= 0x9F or code in (0x2028, 0x2029, 0xFEFF)


@dataclass
class _Open:
    """A map or list that is being read; ``key`` is the key whose value comes next."""

    node: PlacedMap | PlacedList
    flow: bool
    key: Text | None = None
    skip: bool = False  # the value of a key that was refused


class _Composer:
    def __init__(self, file: str, findings: Findings) -> None:
        self.file = file
        self.findings = findings
        self.open: list[_Open] = []
        self.top: Any = None
        self.count = 0
        self.signs = 0  # anchors, aliases and tags that were told
        self.unprinted = 0  # texts with a character that cannot be printed

    def read(self, text: str) -> PlacedMap | None:
        try:
            for event in self._events(text):
                if not self._take(event):
                    return None
        except MarkedYAMLError as error:
            self._syntax_error(error, text)
            return None
        except YAMLError as error:
            self.findings.error("bad-yaml", f"the file cannot be read: {error}", Place(self.file, 1, 1))
            return None
        if self.top is None:
            self.findings.error(
                "empty-file",
                "the file says nothing",
                Place(self.file, 1, 1),
                "begin it with `plangen: 1`, or make a starter with `plangen new FOLDER`",
            )
            return None
        if not isinstance(self.top, PlacedMap):
            self.findings.error(
                "bad-value",
                "the file must be a map of keys and values",
                Place(self.file, 1, 1),
                "begin it with `plangen: 1`",
            )
            return None
        return self.top

    @staticmethod
    def _events(text: str) -> Iterator[Any]:
        yaml = YAML(typ="safe", pure=True)
        yield from yaml.parse(text)

    def _take(self, event: Any) -> bool:
        """Take one event; False to stop reading."""
        match event:
            case DocumentStartEvent():
                return self._document(event)
            case AliasEvent():
                self._refuse_sign(
                    "alias",
                    f"`*{event.anchor}` means an alias in YAML, which is not used here",
                    self._mark(event),
                    "write the value out; put text that begins with * in quotes",
                )
                return self._add(Text("*", self._mark(event)), event)
            case MappingStartEvent() | SequenceStartEvent():
                self._refuse_marks(event)
                return self._begin(event)
            case MappingEndEvent() | SequenceEndEvent():
                done = self.open.pop()
                return self._add(done.node, event)
            case ScalarEvent():
                self._refuse_marks(event)
                return self._add(self._text(event), event)
        return True

    def _document(self, event: Any) -> bool:
        if event.version or event.tags:
            self.findings.error(
                "directive", "a line that begins with % is not used here", self._mark(event), "take it out"
            )
        if self.top is not None:
            self.findings.error(
                "second-document",
                "a second document begins here",
                self._mark(event),
                "one file holds one project: take out the line `---`",
            )
            return False
        return True

    def _refuse_marks(self, event: Any) -> None:
        if event.anchor is not None:
            self._refuse_sign(
                "alias",
                f"`&{event.anchor}` means an anchor in YAML, which is not used here",
                self._mark(event),
                "put text that begins with & in quotes",
            )
        if event.tag is not None:
            self._refuse_sign(
                "tag",
                "`!` means a tag in YAML, which is not used here",
                self._mark(event),
                "put text that begins with ! in quotes",
            )

    def _refuse_sign(self, kind: str, message: str, place: Place, remedy: str) -> None:
        self.signs += 1
        if self.signs <= MOST_TOLD:
            self.findings.error(kind, message, place, remedy)

    def _begin(self, event: Any) -> bool:
        place = self._mark(event)
        if len(self.open) >= DEEPEST:
            self.findings.error(
                "too-deep",
                f"the file goes more than {DEEPEST} levels deep",
                place,
                "close the brackets that were opened",
            )
            return False
        parent = self.open[-1] if self.open else None
        if parent and isinstance(parent.node, PlacedMap) and parent.key is None:
            self.findings.error(
                "bad-key", "a key must be plain words", place, "put text that begins with [ or { in quotes"
            )
            return False
        node = PlacedMap(place=place) if isinstance(event, MappingStartEvent) else PlacedList(place=place)
        self.open.append(_Open(node, bool(event.flow_style)))
        return True

    def _add(self, value: Any, event: Any) -> bool:
        self.count += 1
        if self.count > MOST_NODES:
            self.findings.error(
                "too-many-values",
                f"the file has more than {MOST_NODES:,} values",
                self._mark(event),
                "a project has a few hundred",
            )
            return False
        if not self.open:
            self.top = value
            return True
        inside = self.open[-1]
        if isinstance(inside.node, PlacedList):
            if isinstance(value, Text) and self._is_nothing(value, event):
                self.findings.error("missing-value", "the item says nothing", value.place, "give it a value")
                return True
            inside.node.append(value)
        elif inside.key is None:
            self._key(inside, value)
        else:
            self._value(inside, value, event)
        return True

    def _key(self, inside: _Open, key: Text) -> None:
        assert isinstance(inside.node, PlacedMap)
        inside.key, inside.skip = key, False
        if key == "<<":
            self.findings.error(
                "alias",
                "`<<` means a merge in YAML, which is not used here",
                key.place,
                "write the keys out; a part may say `like: other part`",
            )
            inside.skip = True
        elif (first := inside.node.key(key)) is not None:
            self.findings.error(
                "duplicate-key",
                f"`{key}` is given twice",
                key.place,
                "keep one of the two",
                ((first.place, "given first here"),),
            )
            inside.skip = True

    def _value(self, inside: _Open, value: Any, event: Any) -> None:
        assert isinstance(inside.node, PlacedMap)
        key, inside.key = inside.key, None
        assert key is not None
        if isinstance(value, Text) and self._is_nothing(value, event):
            self._no_value(inside, key)
            value = Text("", key.place)
        if not inside.skip:
            inside.node[key] = value

    def _no_value(self, inside: _Open, key: Text) -> None:
        assert isinstance(inside.node, PlacedMap)
        before = next(reversed(inside.node), None)
        cut = inside.node[before] if before is not None else None
        if inside.flow and isinstance(cut, Text) and cut.count("(") > cut.count(")") and ")" in key:
            self.findings.error(
                "cut-at-comma",
                f"YAML ends `{cut}` at the comma",
                cut.place,
                f'put the value in quotes, "{cut}, {key}", or on a line of its own',
            )
            assert before is not None
            inside.node[before] = Text("", cut.place)
            inside.skip = True
            return
        name, colon, rest = key.partition(":")
        if colon and rest:
            remedy = f"put a space after the colon: `{name}: {rest.strip()}`"
        elif inside.flow:
            remedy = "give it one; a comma inside { } ends a value: put a value that has a comma in quotes"
        else:
            remedy = "give it one, or take the key out"
        self.findings.error("missing-value", f"`{key.rstrip(':')}` has no value", key.place, remedy)

    @staticmethod
    def _is_nothing(value: Text, event: Any) -> bool:
        return not value and getattr(event, "style", None) is None and isinstance(event, ScalarEvent)

    def _text(self, event: Any) -> Text:
        text = self._placed(event)
        composed = unicodedata.normalize("NFC", text)  # a letter and its accent, typed apart, are one
        self._refuse_what_cannot_print(text, composed)
        return Text(composed, text.place)

    def _placed(self, event: Any) -> Text:
        """The text as it was typed, and where."""
        start, end = event.start_mark, event.end_mark
        value, quoted = event.value, event.style in ("'", '"')
        if event.style in ("|", ">"):
            return Text(value.rstrip("\n"), self._mark(event))
        if start.line != end.line:
            return Text(value, self._mark(event))
        raw = end.column - start.column
        if quoted and raw - 2 == len(value):
            return Text(value, Place(self.file, start.line + 1, start.column + 2, max(1, len(value))))
        return Text(value, Place(self.file, start.line + 1, start.column + 1, max(1, raw)))

    def _refuse_what_cannot_print(self, text: Text, composed: str) -> None:
        """Tell of the first character of a text that the booklet could only print as a box, or not at all."""
        odd = next((one for one in composed if one != "\n" and not can_be_printed(one)), None)
        if odd is None:
            return
        self.unprinted += 1
        if self.unprinted <= MOST_TOLD:
            message, remedy = why_not(odd)
            at = text.at(text.index(odd)) if odd in text else text.place
            self.findings.error("unprintable", message, at, remedy)

    def _mark(self, event: Any) -> Place:
        return Place(self.file, event.start_mark.line + 1, event.start_mark.column + 1)

    def _syntax_error(self, error: MarkedYAMLError, text: str) -> None:
        mark = error.problem_mark or error.context_mark
        place = Place(self.file, mark.line + 1, mark.column + 1) if mark else Place(self.file, 1, 1)
        problem = error.problem or ""
        lines = text.split("\n")
        line = lines[place.line - 1] if place.line <= len(lines) else ""
        message, remedy = _plain_words(problem, line, place.column)
        also: tuple[tuple[Place, str], ...] = ()
        if error.context_mark and error.context_mark.line + 1 != place.line:
            context = Place(self.file, error.context_mark.line + 1, error.context_mark.column + 1)
            also = ((context, "what was being read begins here"),)
        self.findings.error("bad-yaml", message, place, remedy, also)


def _plain_words(problem: str, line: str, column: int) -> tuple[str, str]:
    """Say in a maker's words what the YAML reader stumbled on, and what is most often meant."""
    character = line[column - 1 : column]
    if "mapping values are not allowed" in problem or character == ":":
        return (
            "a second `: ` stands in one value",
            "put text that has a colon in quotes; or the line above is indented wrongly",
        )
    if "end of stream" in problem or "unexpected end" in problem:
        return "a quote or a bracket is opened and never closed", "close it"
    if "cannot start any token" in problem:
        return f"a value cannot begin with `{character}`", "put the text in quotes"
    if "could not find expected ':'" in problem or "expected ':'" in problem:
        return "a key is not followed by a colon and a space", "write `key: value`"
    if "expected ',' or" in problem or "expected the node content" in problem:
        return (
            "the brackets do not fit together here",
            "inside { } and [ ] part the items with commas, and put text with brackets or commas in quotes",
        )
    if "block" in problem or "indent" in problem or "expected <document start>" in problem:
        return (
            "the indentation does not fit what stands above",
            "indent keys of one map alike, two spaces a step",
        )
    return f"the file cannot be read here: {problem}", "check the line; put text with signs in it in quotes"
