"""The part labels as a file of their own, to be printed on sheets of labels."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from io import BytesIO

from plangen.design.model import Project
from plangen.drawing.sheet.model import Drawing
from plangen.drawing.writers.pdf import POINTS_PER_MM, paint
from plangen.drawing.writers.pdf_fonts import font_name, register_fonts


def label_pdf(pages: Sequence[Drawing], project: Project) -> bytes:
    """Write sheets of labels, a page for each, in millimetres as drawn.

    Print them at actual size. The same pages make the same bytes.
    """
    register_fonts()
    from reportlab.pdfgen.canvas import Canvas

    out = BytesIO()
    canvas = Canvas(out, invariant=1, initialFontName=font_name(), initialFontSize=10, lang="en")
    canvas.setTitle(f"{project.title}, {project.code}: part labels")
    canvas.setAuthor(project.maker)
    canvas.setCreator("plangen")
    canvas.setProducer("plangen")
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    day = project.revised or date(2000, 1, 1)
    canvas._doc._timeStamp.YMDhms = (day.year, day.month, day.day, 0, 0, 0)
    for page in pages:
        canvas.setPageSize((page.width * POINTS_PER_MM, page.height * POINTS_PER_MM))
        paint(page, canvas, 0, 0)
        canvas.showPage()
    canvas.save()
    return out.getvalue()
