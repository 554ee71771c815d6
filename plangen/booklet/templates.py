"""The words of the chapters: small Jinja2 templates that can print and choose, and nothing else.

A template comes from a maker or from the net, so it must not be able to reach the program, hang it or
fill the memory. Two walls stand one behind the other. The parsed template may hold only the kinds of
node in ``_ALLOWED``: no calls, no assignments, no arithmetic, no joining of strings, so that every
loop runs over data that the program handed in. And what it handed in is plain: dictionaries, lists,
texts and numbers, looked up by key and never by attribute.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from jinja2 import StrictUndefined, TemplateError, TemplateSyntaxError, nodes
from jinja2.runtime import LoopContext
from jinja2.sandbox import SandboxedEnvironment

from plangen.booklet.model import Edition
from plangen.booklet.words import Words
from plangen.findings import Finding, ProjectError

MOST_TEMPLATE = 60_000  # characters of a template
MOST_OUTPUT = 400_000  # characters of a chapter
MOST_NESTED = 3  # loops inside one another
MOST_TURNS = 200_000  # turns of all loops of a chapter together

_ALLOWED = (
    nodes.Template,
    nodes.Output,
    nodes.TemplateData,
    nodes.Name,
    nodes.Const,
    nodes.Getattr,
    nodes.Getitem,
    nodes.If,
    nodes.For,
    nodes.CondExpr,
    nodes.Compare,
    nodes.Operand,
    nodes.And,
    nodes.Or,
    nodes.Not,
    nodes.Filter,
    nodes.Test,
)
_FILTERS = ("join", "length", "lower", "upper", "capitalize", "first", "last", "default")
# A line that holds only tags leaves nothing behind; its line break moves into the tag, so lines still count.
_LONE_TAGS = re.compile(r"^[ \t]*((?:\{%(?:(?!%\}).)*%\}[ \t]*)*\{%(?:(?!%\}).)*)%\}[ \t]*\n", re.MULTILINE)
_WALK = "walk a list"
_TESTS = ("defined", "undefined", "none", "equalto", "eq", "ne", "in")


class _Turns:
    """Walks the lists of one rendering and counts the turns of all loops together."""

    def __init__(self) -> None:
        self._left = MOST_TURNS

    def walk(self, items: Any) -> Iterator[Any]:
        """Give the items of a list, as long as the turns last."""
        if not isinstance(items, list):
            raise TemplateError("loops over something that is not a list")
        for item in items:
            self._left -= 1
            if self._left < 0:
                raise TemplateError(f"loops more than {MOST_TURNS:,} times")
            yield item


class _Environment(SandboxedEnvironment):
    """Looks a name up as a key and never as an attribute."""

    def getattr(self, obj: Any, attribute: str) -> Any:
        if isinstance(obj, Mapping) and attribute in obj:
            return obj[attribute]
        if isinstance(obj, LoopContext) and attribute in ("index", "first", "last"):
            return getattr(obj, attribute)
        return self.undefined(name=attribute)

    def getitem(self, obj: Any, argument: Any) -> Any:
        if isinstance(obj, Mapping) and isinstance(argument, str) and argument in obj:
            return obj[argument]
        if isinstance(obj, list) and isinstance(argument, int) and -len(obj) <= argument < len(obj):
            return obj[argument]
        return self.undefined(name=str(argument))


@dataclass(frozen=True)
class Chapter:
    """One chapter as it is called for: its template, its title in lists, its words as Markdown."""

    name: str
    title: str
    text: str
    plain: bool = False  # its pages have heads of their own
    unlisted: bool = False  # not in the contents


def render(name: str, text: str, context: Mapping[str, Any], words: Words) -> str:
    """Render one template; whatever is wrong with it is a ``ProjectError`` that names the line."""
    if len(text) > MOST_TEMPLATE:
        raise _fault(name, 1, f"is longer than {MOST_TEMPLATE:,} characters", "split it into chapters")
    environment = _Environment(undefined=StrictUndefined, autoescape=False)
    environment.globals.clear()
    environment.filters = {key: environment.filters[key] for key in _FILTERS}
    environment.filters["spelled"] = words.spelled
    environment.filters["join"] = _joined
    environment.filters[_WALK] = _Turns().walk
    environment.tests = {key: environment.tests[key] for key in _TESTS}
    try:
        tree = environment.parse(_LONE_TAGS.sub(r"\1\n%}", text))
        _check(name, tree, depth=0)
        plain = {key: _plain(value) for key, value in context.items()}
        pieces: list[str] = []
        size = 0
        for piece in environment.from_string(tree).generate(plain):
            size += len(piece)
            if size > MOST_OUTPUT:
                raise _fault(name, 1, f"prints more than {MOST_OUTPUT:,} characters", "loop over less")
            pieces.append(piece)
    except TemplateSyntaxError as fault:
        raise _fault(
            name, fault.lineno, str(fault.message), "see how the supplied templates say it"
        ) from fault
    except TemplateError as fault:
        known = ", ".join(sorted(context))
        raise _fault(name, 1, str(fault.message or fault), f"known here: {known}") from fault
    except (TypeError, ValueError, ArithmeticError, LookupError, RecursionError) as fault:
        raise _fault(
            name, 1, f"cannot be filled in ({fault})", "see how the supplied templates say it"
        ) from fault
    return "".join(pieces)


def chapters(
    templates: Mapping[str, str], edition: Edition, context: Mapping[str, Any], words: Words
) -> tuple[Chapter, ...]:
    """Render the chapters of an edition in order; a chapter that comes out empty is left out."""
    found = []
    for entry in chapter_order(templates):
        if edition not in entry["editions"]:
            continue
        name = str(entry["name"])
        if f"{name}.md" not in templates:
            raise _fault(
                "chapters.toml", 1, f"calls for '{name}.md', which is not among the templates", "add it"
            )
        text = render(f"{name}.md", templates[f"{name}.md"], context, words)
        if text.strip():
            plain, unlisted = bool(entry.get("plain")), bool(entry.get("unlisted"))
            found.append(Chapter(name, str(entry["title"]), text, plain, unlisted))
    return tuple(found)


def chapter_order(templates: Mapping[str, str]) -> list[dict[str, Any]]:
    """Read ``chapters.toml``: name, title and editions of every chapter, in order."""
    try:
        entries = tomllib.loads(templates["chapters.toml"])["chapter"]
    except KeyError as missing:
        raise _fault(
            "chapters.toml", 1, f"lacks {missing}", "copy it from the supplied templates"
        ) from missing
    except tomllib.TOMLDecodeError as fault:
        raise _fault("chapters.toml", 1, f"cannot be read: {fault}", "see the line it names") from fault
    for entry in entries:
        for key in ("name", "title", "editions"):
            if key not in entry:
                raise _fault(
                    "chapters.toml", 1, f"has a chapter without '{key}'", "every [[chapter]] needs it"
                )
    return list(entries)


def _joined(items: Any, between: str = "") -> str:
    if not isinstance(items, list) or len(between) > 40:
        raise TemplateError("joins something that is not a list, or with too long a text between")
    return between.join(str(item) for item in items)


def _check(name: str, node: nodes.Node, depth: int) -> None:
    if not isinstance(node, _ALLOWED):
        kind = type(node).__name__.lower()
        raise _fault(
            name, node.lineno, f"uses '{kind}', which templates may not", "print values, or use if and for"
        )
    if isinstance(node, nodes.Filter) and node.name not in (*_FILTERS, "spelled"):
        raise _fault(
            name, node.lineno, f"uses the unknown filter '{node.name}'", f"known: {', '.join(_FILTERS)}"
        )
    if isinstance(node, nodes.Test) and node.name not in _TESTS:
        raise _fault(name, node.lineno, f"uses the unknown test '{node.name}'", f"known: {', '.join(_TESTS)}")
    if isinstance(node, nodes.For):
        depth += 1
        if node.recursive or depth > MOST_NESTED:
            raise _fault(
                name, node.lineno, f"nests more than {MOST_NESTED} loops", "put fewer loops in one another"
            )
    for child in node.iter_child_nodes():
        _check(name, child, depth)
    if isinstance(node, nodes.For):  # every loop is walked and counted by us
        node.iter = nodes.Filter(node.iter, _WALK, [], [], None, None, lineno=node.lineno)


def _plain(value: Any) -> Any:
    """Copy into plain dictionaries and lists; anything else is a fault of the program."""
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, Mapping):
        return {str(key): _plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    raise AssertionError(f"a template is handed plain data only, not {type(value).__name__}")


def _fault(name: str, line: int, message: str, remedy: str) -> ProjectError:
    return ProjectError([Finding("template-fault", f"{name}:{line} {message}", None, remedy)])
