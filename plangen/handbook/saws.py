"""What a saw takes away, and how much over a piece is cut rough."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

from plangen.units import inches

# Common practice, no source.
KERFS: Final = MappingProxyType({
    "table saw": inches("1/8"),
    "table saw, thin blade": inches("3/32"),
    "bandsaw": inches("1/16"),
})  # fmt: skip

# I. S. Griffith, Advanced Projects in Woodwork (1912-1916), instructions for a bill of material.
ROUGH_LENGTH_OVER: Final = inches("1/2")
ROUGH_WIDTH_OVER: Final = inches("1/4")
