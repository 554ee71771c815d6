"""The booklet's typeface for the PDF library: registered once, embedded as a subset, read back right."""

from __future__ import annotations

from io import BytesIO

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics, ttfonts

from plangen.drawing.sheet.lettering import READ_BACK, font_bytes
from plangen.drawing.sheet.model import Weight

_NAMES = {
    Weight.REGULAR: "PlanSans-Regular",
    Weight.SEMIBOLD: "PlanSans-Semibold",
    Weight.BOLD: "PlanSans-Bold",
}
_MARK = "_reads_fractions_back"


def font_name(weight: Weight = Weight.REGULAR) -> str:
    """Give the name by which the PDF library knows a weight."""
    return _NAMES[weight]


def register_fonts() -> None:
    """Make the typeface known to the PDF library and set its ways for the same bytes every time.

    Safe to call again. Call it before ``reportlab.platypus`` is first imported: that package reads its
    default font at import, and a default left alone would put an unembedded font into every file.
    """
    rl_config.invariant = 1  # no clock and no random number in the file
    rl_config.useA85 = 0  # binary streams: smaller and written in half the time
    rl_config.pageCompression = 1
    rl_config.canvas_basefontname = _NAMES[Weight.REGULAR]
    _read_fractions_back()
    known = set(pdfmetrics.getRegisteredFontNames())
    if _NAMES[Weight.REGULAR] in known:
        return
    for weight, name in _NAMES.items():
        font = ttfonts.TTFont(name, BytesIO(font_bytes(weight)))
        pdfmetrics.registerFont(font)
    # <b> in running text is the semibold; the bold is for signal words only.
    regular, semibold = _NAMES[Weight.REGULAR], _NAMES[Weight.SEMIBOLD]
    pdfmetrics.registerFontFamily(regular, normal=regular, bold=semibold, italic=regular, boldItalic=semibold)
    pdfmetrics.registerFontFamily(
        semibold, normal=semibold, bold=semibold, italic=semibold, boldItalic=semibold
    )


def _read_fractions_back() -> None:
    """Let the file's character maps say what the private code points stand for."""
    plain = ttfonts.makeToUnicodeCMap
    if getattr(plain, _MARK, False):
        return
    meaning = {point: ord(sign) for point, sign in READ_BACK.items()}

    def mapped(name: str, subset: list[int]) -> str:
        text: str = plain(name, [meaning.get(point, point) for point in subset])
        return text

    setattr(mapped, _MARK, True)
    ttfonts.makeToUnicodeCMap = mapped
