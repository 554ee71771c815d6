"""SVG elements of the library, made without its checks: those know no ``data-`` and no ``aria-`` names."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from xml.etree.ElementTree import Element

from svgwrite.base import BaseElement


class _Element(BaseElement):  # type: ignore[misc]
    """An element that may hold words before what stands inside it."""

    def __init__(self, name: str, attributes: Mapping[str, str], words: str) -> None:
        super().__init__(debug=False)
        self.elementname = name
        self.attribs.update(attributes)
        self.words = words

    def get_xml(self) -> Element:
        xml: Element = super().get_xml()
        xml.text = self.words or None
        return xml


def element(name: str, attributes: Mapping[str, str], words: str = "") -> Any:
    """Give an element; what is added to it follows its words."""
    return _Element(name, attributes, words)
