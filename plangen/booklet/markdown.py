"""Markdown to flowables.

Besides what Markdown has, a fenced block whose first line starts with one of our words asks for
something the booklet makes: ```` ```table cut-list pine ````, ```` ```picture hero ````, ```` ```caution
router ````. What stands inside the fence goes with it, as a caption or as the words under a table.
A list item that begins with ``[ ]`` gets a box to tick.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any
from urllib.parse import unquote

from markdown_it import MarkdownIt
from markdown_it.token import Token
from reportlab.platypus import HRFlowable, Paragraph

from plangen.booklet.sentences import TickItem
from plangen.booklet.setting import Setting
from plangen.booklet.style import HAIR_RULE, MM
from plangen.booklet.tables import Cell, Column, LineTable, Row
from plangen.findings import Finding, ProjectError

Directive = Callable[[Setting, list[str], str], list[Any]]
_SAFE_SCHEMES = ("http://", "https://", "mailto:")
_SENTENCE_END = re.compile(r"(?<=[.!?])[ \n]+(?=[A-Z<\[*])")


def _parser() -> MarkdownIt:
    return MarkdownIt("commonmark", {"html": False}).enable("table")


def inline(setting: Setting, text: str) -> str:
    """Give one line of Markdown as paragraph markup."""
    tokens = _parser().parseInline(text)
    return _inline(setting, tokens[0].children or [])


def plain_words(text: str) -> str:
    """Give one line of Markdown without its marks, for bookmarks."""
    tokens = _parser().parseInline(text)[0].children or []
    return "".join(
        " " if token.type in ("softbreak", "hardbreak") else token.content
        for token in tokens
        if token.type in ("text", "code_inline", "softbreak", "hardbreak")
    )


def flowables(setting: Setting, text: str, directives: dict[str, Directive]) -> list[Any]:
    """Set a Markdown text; unknown directives are findings."""
    return _Typesetter(setting, directives).set(_parser().parse(text))


def sentences(text: str) -> list[str]:
    """Cut the Markdown of a step into what is to be numbered: its list items, or its sentences.

    A paragraph is cut at sentence ends, but not after ``No.`` and such, which a capital never follows here.
    """
    found: list[str] = []
    depth = 0
    for token in _parser().parse(text):
        if token.type in ("bullet_list_open", "ordered_list_open"):
            depth += 1
        elif token.type in ("bullet_list_close", "ordered_list_close"):
            depth -= 1
        elif token.type == "inline":
            if depth:
                found.append(token.content)
            else:
                found.extend(part.strip() for part in _SENTENCE_END.split(token.content) if part.strip())
    return found


def _inline(setting: Setting, tokens: list[Token]) -> str:
    pieces: list[str] = []
    closing: list[str] = []
    for token in tokens:
        if token.type in ("text", "code_inline"):
            pieces.append(setting.xml(token.content))
        elif token.type == "softbreak":
            pieces.append(" ")
        elif token.type == "hardbreak":
            pieces.append("<br/>")
        elif token.type in ("strong_open", "em_open"):
            pieces.append("<b>")
        elif token.type in ("strong_close", "em_close"):
            pieces.append("</b>")
        elif token.type == "link_open":
            target = unquote(str(token.attrGet("href") or ""))
            if target in setting.places:
                pieces.append(f'<a href="#{setting.xml(target)}">')
                closing.append("</a>")
            elif target.startswith(_SAFE_SCHEMES):
                pieces.append(f'<a href="{setting.xml(target)}">')
                closing.append("</a>")
            else:
                closing.append("")
        elif token.type == "link_close":
            pieces.append(closing.pop() if closing else "")
        elif token.content:
            pieces.append(setting.xml(token.content))
    return "".join(pieces)


class _Typesetter:
    """Walks the tokens of one text."""

    def __init__(self, setting: Setting, directives: dict[str, Directive]) -> None:
        self._setting, self._directives = setting, directives

    def set(self, tokens: list[Token]) -> list[Any]:
        """Give the flowables of a run of tokens."""
        story: list[Any] = []
        index = 0
        look = self._setting.look
        while index < len(tokens):
            token = tokens[index]
            if token.type == "heading_open":
                style = look.section if token.tag in ("h1", "h2") else look.block
                story.append(Paragraph(_inline(self._setting, tokens[index + 1].children or []), style))
                index += 3
            elif token.type == "paragraph_open":
                story.append(Paragraph(_inline(self._setting, tokens[index + 1].children or []), look.body))
                index += 3
            elif token.type in ("bullet_list_open", "ordered_list_open"):
                end = _close(tokens, index)
                story.extend(self._list(tokens[index + 1 : end], token))
                index = end + 1
            elif token.type == "table_open":
                end = _close(tokens, index)
                story.append(self._table(tokens[index + 1 : end]))
                index = end + 1
            elif token.type == "blockquote_open":
                end = _close(tokens, index)
                story.extend(self.set(tokens[index + 1 : end]))
                index = end + 1
            elif token.type == "fence":
                story.extend(self._fence(token))
                index += 1
            elif token.type == "hr":
                story.append(
                    HRFlowable("100%", HAIR_RULE, spaceBefore=3 * MM, spaceAfter=3 * MM, color="#000000")
                )
                index += 1
            elif token.type == "code_block":
                story.append(Paragraph(self._setting.xml(token.content), look.body))
                index += 1
            else:
                index += 1
        return story

    def _list(self, tokens: list[Token], opening: Token) -> list[Any]:
        story: list[Any] = []
        number = int(opening.attrGet("start") or 1)
        index = 0
        while index < len(tokens):
            if tokens[index].type != "list_item_open":
                index += 1
                continue
            end = _close(tokens, index)
            inner = [token for token in tokens[index + 1 : end] if token.type == "inline"]
            for place, token in enumerate(inner):
                text = _inline(self._setting, token.children or [])
                if text.startswith("[ ] "):
                    story.append(TickItem(self._setting, text.removeprefix("[ ] ")))
                    continue
                bullet = None
                if place == 0:
                    bullet = str(number) if opening.type == "ordered_list_open" else "•"
                story.append(Paragraph(text, self._setting.look.item, bulletText=bullet))
            number += 1
            index = end + 1
        return story

    def _table(self, tokens: list[Token]) -> LineTable:
        rows: list[list[str]] = []
        aligned: list[bool] = []
        for token in tokens:
            if token.type == "tr_open":
                rows.append([])
            elif token.type == "th_open":
                aligned.append("right" in str(token.attrGet("style") or ""))
            elif token.type == "inline":
                rows[-1].append(_inline(self._setting, token.children or []))
        columns = [
            Column(re.sub(r"<[^>]*>", "", head), "words", right=right)
            for head, right in zip(rows[0], aligned, strict=True)
        ]
        return LineTable(self._setting, columns, [Row(tuple(Cell(text) for text in row)) for row in rows[1:]])

    def _fence(self, token: Token) -> list[Any]:
        words = token.info.split()
        if not words or words[0] not in self._directives:
            known = ", ".join(sorted(self._directives))
            raise ProjectError(
                [
                    Finding(
                        "unknown-directive",
                        f"a template asks for '{token.info.strip()}', which the booklet cannot make",
                        None,
                        f"it can make: {known}",
                    )
                ]
            )
        return self._directives[words[0]](self._setting, words[1:], token.content.strip())


def _close(tokens: list[Token], index: int) -> int:
    """Index of the token that closes the one at ``index``."""
    level = tokens[index].level
    for at in range(index + 1, len(tokens)):
        if tokens[at].level == level and tokens[at].nesting == -1:
            return at
    return len(tokens) - 1
