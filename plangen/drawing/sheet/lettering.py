"""Lettering: how wide a text is, true fractions, and the booklet's typeface with the signs it lacks.

The typeface is Source Sans (SIL Open Font Licence). Its fractions hide behind an OpenType feature that
few readers of a PDF give back as text. So the numerator and denominator glyphs get code points of their
own here, and a writer says what each stands for: ``3 13/16`` prints as a fraction and is found, copied
and read aloud as ``3 13/16``.

All glyph measures are in font units of 1/1000 em, as the font file gives them.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from io import BytesIO
from itertools import groupby
from pathlib import Path
from types import MappingProxyType
from typing import Any, Literal, TypeAlias

import font_source_sans_pro
from fontTools.misc.transform import Transform
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

from plangen.drawing.sheet.model import Weight

NO_BREAK_SPACE = "\u00a0"
LEAST_SIZE = 3.92  # mm, the type size whose figures are 2.5 mm high; nothing on a drawing is smaller

_FILES = {
    Weight.REGULAR: "SourceSansPro-Regular.ttf",
    Weight.SEMIBOLD: "SourceSansPro-Semibold.ttf",
    Weight.BOLD: "SourceSansPro-Bold.ttf",
}
_DIGITS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")

# Code points of the private use area. Text size, then the larger set for drawings.
_NUMERATOR, _DENOMINATOR, _GAP, _BAR = 0xE100, 0xE110, 0xE11E, 0xE11F
_LARGE = 0x20  # what the larger set adds

# Fraction figures are 0.41 em high, too small at arm's length; these proportions bring them to 0.49 em
# and keep the bar clear of the figures (found by eye on proofs at reading distance).
_LARGE_SCALE, _LARGE_DROP, _LARGE_BAR_SCALE, _LARGE_BAR_AIR = 1.19, -55, 1.12, 35
_TEXT_GAP, _LARGE_GAP = 110, 90

_BEFORE = r"(?<![^\s\u00a0(⌀□−±×≈])"
_FRACTION = re.compile(
    _BEFORE + r"(?P<sign>R?)(?:(?P<whole>\d+)(?P<gap>[\u00a0 ]))?(?P<top>\d{1,3})/(?P<bottom>\d{1,3})"
    r"(?![\w/:]|[.,]\d)"
)


def _read_back() -> dict[int, str]:
    """Tell what every private code point stands for."""
    meaning: dict[int, str] = {}
    for step in (0, _LARGE):
        for digit in range(10):
            meaning[_NUMERATOR + step + digit] = str(digit)
            meaning[_DENOMINATOR + step + digit] = str(digit)
        meaning[_GAP + step] = " "
        meaning[_BAR + step] = "/"
    return meaning


READ_BACK: Mapping[int, str] = MappingProxyType(_read_back())


def set_fractions(text: str, *, large: bool = True) -> str:
    """Give the text with each proper fraction in fraction glyphs.

    ``3 13/16`` and ``3/4`` are set when they stand at the start, after a space, a no-break space, an
    opening parenthesis, a sign (⌀ □ − ± × ≈) or the R of a radius. Dates, ratios such as 1:4, parts of
    words and lumber names such as 4/4 (not a proper fraction) stay as typed. A no-break space between
    whole number and fraction closes up; an ordinary space stays.

    ``large`` takes the figures made for drawings; the booklet's running text asks for the others.
    """
    step = _LARGE if large else 0

    def typeset(found: re.Match[str]) -> str:
        top, bottom = found["top"], found["bottom"]
        if not 0 < int(top) < int(bottom):
            return found[0]
        whole = ""
        if found["whole"]:
            whole = found["whole"] + (chr(_GAP + step) if found["gap"] == NO_BREAK_SPACE else found["gap"])
        return (
            found["sign"]
            + whole
            + "".join(chr(_NUMERATOR + step + int(digit)) for digit in top)
            + chr(_BAR + step)
            + "".join(chr(_DENOMINATOR + step + int(digit)) for digit in bottom)
        )

    return _FRACTION.sub(typeset, text)


@lru_cache(maxsize=20_000)
def has_fraction(text: str) -> bool:
    """Whether a text has a fraction that is set as one."""
    return set_fractions(text) != text


def plain_text(text: str) -> str:
    """Give back what a reader of the file sees: the reverse of ``set_fractions``."""
    return text.translate(dict(READ_BACK))


@dataclass(frozen=True, slots=True)
class FractionShape:
    """How a set fraction stands, for a writer that makes it of ordinary figures; shares of the type size.

    ``figure`` is the type size of its figures, ``rise`` and ``drop`` the baselines of the upper and the lower
    ones; the bar is centred ``bar_up`` above the baseline and is ``bar_wide`` by ``bar_high``.
    """

    figure: float
    rise: float
    drop: float
    bar_up: float
    bar_wide: float
    bar_high: float


@cache
def fraction_shape(weight: Weight = Weight.REGULAR) -> FractionShape:
    """Give the shape of the fractions of drawings, measured on the glyphs themselves."""
    glyphs, names = _font(weight)["glyf"], _font(weight).getBestCmap()
    one = glyphs["one"]
    top, bottom, bar = (glyphs[names[point + _LARGE]] for point in (_NUMERATOR + 1, _DENOMINATOR + 1, _BAR))
    return FractionShape(
        figure=(top.yMax - top.yMin) / (one.yMax - one.yMin),
        rise=top.yMin / 1000,
        drop=bottom.yMin / 1000,
        bar_up=(bar.yMax + bar.yMin) / 2000,
        bar_wide=(bar.xMax - bar.xMin) / 1000,
        bar_high=(bar.yMax - bar.yMin) / 1000,
    )


def slash_box(weight: Weight = Weight.REGULAR) -> tuple[float, float, float, float]:
    """Give the box of an ordinary slash (low x, low y, high x, high y), in shares of the type size."""
    slash = _font(weight)["glyf"]["slash"]
    return (slash.xMin / 1000, slash.yMin / 1000, slash.xMax / 1000, slash.yMax / 1000)


RunKind: TypeAlias = Literal["plain", "gap", "top", "bar", "bottom"]


def set_runs(text: str) -> tuple[tuple[RunKind, str, str], ...]:
    """Cut a text into runs: what each is, how it reads, and the private signs it is measured by.

    The third is the run as ``set_fractions`` gives it: its width is ``text_width`` of that.
    """
    runs = groupby(set_fractions(text), key=_run_kind)
    return tuple((kind, plain_text(run), run) for kind, signs in runs for run in ["".join(signs)])


def _run_kind(sign: str) -> RunKind:
    point = ord(sign) & ~_LARGE
    if ord(sign) not in READ_BACK:
        return "plain"
    if point in (_GAP, _BAR):
        return "gap" if point == _GAP else "bar"
    return "top" if point < _DENOMINATOR else "bottom"


def text_width(text: str, size: float, weight: Weight = Weight.REGULAR, *, large: bool = True) -> float:
    """Width in the unit of ``size`` (millimetres on a sheet) of the text, fractions set.

    No kerning, as the writers use none. A sign that the typeface lacks counts as an empty box;
    ``missing_glyphs`` finds those.
    """
    return _advance(text, weight, large) * size / 1000


@lru_cache(maxsize=20_000)
def _advance(text: str, weight: Weight, large: bool) -> int:
    widths = _widths(weight)
    box = widths.get(0x2610, 600)
    return sum(widths.get(ord(sign), box) for sign in set_fractions(text, large=large))


def figure_height(size: float) -> float:
    """Height of a figure, in the unit of ``size``."""
    return size * int(_font(Weight.REGULAR)["glyf"]["one"].yMax) / 1000


def cap_height(size: float) -> float:
    """Height of a capital letter, in the unit of ``size``."""
    return size * int(_font(Weight.REGULAR)["OS/2"].sCapHeight) / 1000


def descent(size: float) -> float:
    """How far p and g reach below the baseline, in the unit of ``size``."""
    return -size * int(_font(Weight.REGULAR)["glyf"]["p"].yMin) / 1000


def size_for_figures(height: float) -> float:
    """Give the type size whose figures are ``height`` high."""
    return height / figure_height(1.0)


def missing_glyphs(text: str) -> str:
    """Give the signs of the text, sorted and each once, that some weight of the typeface cannot print."""
    known = [_widths(weight) for weight in Weight]
    return "".join(
        sign
        for sign in sorted(set(text))
        if sign not in "\n\t" and any(ord(sign) not in table for table in known)
    )


def glyph_outlines(
    text: str, weight: Weight = Weight.REGULAR, *, large: bool = True
) -> tuple[tuple[str, float], ...]:
    """Each sign of the text (fractions set) as its glyph's name and its advance in 1/1000 em."""
    font = _font(weight)
    names = font.getBestCmap()
    return tuple(
        (names.get(ord(sign), ".notdef"), float(font["hmtx"][names.get(ord(sign), ".notdef")][0]))
        for sign in set_fractions(text, large=large)
    )


def draw_glyph(name: str, pen: Any, weight: Weight = Weight.REGULAR) -> None:
    """Draw a glyph named by ``glyph_outlines`` on a fontTools pen, in 1/1000 em."""
    _font(weight).getGlyphSet()[name].draw(pen)


def font_bytes(weight: Weight) -> bytes:
    """Give the font file of a weight with the added glyphs; the same bytes every time."""
    return _made(weight)[1]


def font_file_name(weight: Weight) -> str:
    """Give the file name of the weight that ``font_bytes`` grew from."""
    return _FILES[weight]


@cache
def _widths(weight: Weight) -> dict[int, int]:
    font = _font(weight)
    metrics = font["hmtx"].metrics
    return {point: metrics[name][0] for point, name in font.getBestCmap().items()}


def _font(weight: Weight) -> Any:
    return _made(weight)[0]


@cache
def _made(weight: Weight) -> tuple[Any, bytes]:
    path = Path(font_source_sans_pro.__file__).parent / "files" / _FILES[weight]
    font = TTFont(BytesIO(path.read_bytes()), recalcTimestamp=False)
    for table in ("GSUB", "GPOS", "GDEF", "BASE", "DSIG"):  # nothing here shapes text
        if table in font:
            del font[table]
    added = _Added(font)
    for digit, name in enumerate(_DIGITS):
        for first, form in ((_NUMERATOR, "numr"), (_DENOMINATOR, "dnom")):
            glyph = f"{name}.{form}"
            added.alias(first + digit, glyph)
            added.scaled(first + _LARGE + digit, glyph, _LARGE_SCALE, _LARGE_DROP, 0)
    added.alias(_BAR, "fraction")
    added.scaled(_BAR + _LARGE, "fraction", _LARGE_BAR_SCALE, 0, _LARGE_BAR_AIR)
    added.drawn(_GAP, _TEXT_GAP, lambda pen: None)
    added.drawn(_GAP + _LARGE, _LARGE_GAP, lambda pen: None)
    added.alias(ord("⌀"), "Oslash")
    stroke = {Weight.REGULAR: 56, Weight.SEMIBOLD: 70, Weight.BOLD: 84}[weight]
    for box in "□☐":  # the typeface's own box has a shadow
        added.drawn(ord(box), 740, lambda pen: _square(pen, stroke))
    added.drawn(ord("★"), 640, lambda pen: _star(pen, 330.0))
    added.finish()
    data = BytesIO()
    font.save(data)
    return font, data.getvalue()


def _star(pen: Any, radius: float) -> None:
    """Draw a five-pointed star as high as a capital; the inner radius is that of a pentagram."""
    inner = radius * math.sin(math.radians(18)) / math.sin(math.radians(54))
    for index in range(10):
        reach = inner if index % 2 else radius
        turn = math.radians(90 - 36 * index)
        point = (round(320 + reach * math.cos(turn)), round(315 + reach * math.sin(turn)))
        if index:
            pen.lineTo(point)
        else:
            pen.moveTo(point)
    pen.closePath()


def _square(pen: Any, stroke: int) -> None:
    """Draw an empty square as high as a capital."""
    for low, high in (((50, 0), (710, 660)), ((50 + stroke, stroke), (710 - stroke, 660 - stroke))):
        corners = [low, (low[0], high[1]), high, (high[0], low[1])]
        if low[1]:
            corners.reverse()  # the other way round: a hole
        pen.moveTo(corners[0])
        for corner in corners[1:]:
            pen.lineTo(corner)
        pen.closePath()


class _Added:
    """Adds glyphs and code points to a font that is being made."""

    def __init__(self, font: Any) -> None:
        self._font = font
        self._points: dict[int, str] = {}

    def alias(self, point: int, glyph: str) -> None:
        """Let a code point show a glyph that the font has."""
        self._points[point] = glyph

    def scaled(self, point: int, glyph: str, scale: float, drop: int, air: int) -> None:
        """Add a copy of a glyph, scaled about the baseline, dropped, with more air at both sides."""
        outline = DecomposingRecordingPen(self._font.getGlyphSet())
        self._font.getGlyphSet()[glyph].draw(outline)
        width = round(self._font["hmtx"][glyph][0] * scale) + 2 * air
        move = Transform(scale, 0, 0, scale, air, drop)
        self.drawn(point, width, lambda pen: outline.replay(TransformPen(pen, move)))

    def drawn(self, point: int, width: int, draw: Callable[[Any], None]) -> None:
        """Add a glyph drawn by a function on a pen."""
        name = f"u{point:04X}"
        pen = TTGlyphPen(None)
        draw(pen)
        glyph = pen.glyph()
        table = self._font["glyf"]
        glyph.recalcBounds(table)
        table[name] = glyph
        self._font["hmtx"][name] = (width, getattr(glyph, "xMin", 0))
        self._points[point] = name

    def finish(self) -> None:
        """Write the code points into every Unicode table of the font."""
        for table in self._font["cmap"].tables:
            if table.isUnicode():
                table.cmap.update(self._points)
