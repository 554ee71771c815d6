"""The lists of a build as files."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Literal

from plangen.design.model import Design
from plangen.takeoff.comma_files import csv_bytes
from plangen.takeoff.lists import file_tables, project_table
from plangen.takeoff.model import TakeOff
from plangen.takeoff.tables import file_table
from plangen.takeoff.workbook import workbook_bytes
from plangen.units import LengthStyle


def csv_files(design: Design, take_off: TakeOff, style: LengthStyle) -> Mapping[str, bytes]:
    """Give every list as a file of comma-separated values, by its name."""
    return {f"{table.name}.csv": csv_bytes(table) for table in file_tables(design, take_off, style)}


def list_files(
    design: Design,
    take_off: TakeOff,
    style: LengthStyle,
    paper: Literal["letter", "a4"],
    name: str,
    settings: Sequence[str] = (),
) -> Mapping[str, bytes]:
    """Give a file of comma-separated values for every list, and all of them in one workbook.

    The first sheet of the workbook says what it is of, with the ``settings`` of the command line. ``name`` is
    what the workbook is called, as far as it makes a name for a file everywhere.
    """
    project = design.project
    book = workbook_bytes(
        (file_table(project_table(design, settings), style), *file_tables(design, take_off, style)),
        paper,
        title=project.title,
        maker=project.maker,
        revised=project.revised,
    )
    return {**csv_files(design, take_off, style), f"{_file_name(name)}.xlsx": book}


def _file_name(name: str) -> str:
    return re.sub(r"[^\w-]+", "-", name).strip("-") or "lists"
