"""The record of one build, and the comparison of two."""

from plangen.record.compare import compare
from plangen.record.make import make_record, record_bytes
from plangen.record.model import Comparison
from plangen.record.pages import page_texts
from plangen.record.read import read_record
from plangen.record.words import changes_markdown, report_text

__all__ = [
    "Comparison",
    "changes_markdown",
    "compare",
    "make_record",
    "page_texts",
    "read_record",
    "record_bytes",
    "report_text",
]
