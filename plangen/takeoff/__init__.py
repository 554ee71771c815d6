"""From a design to lists: cut list, hardware bill, cutting diagrams, shopping, cost and weight."""

from plangen.takeoff.list_files import csv_files, list_files
from plangen.takeoff.lists import file_tables, list_tables
from plangen.takeoff.take_off import take_off

__all__ = ["csv_files", "file_tables", "list_files", "list_tables", "take_off"]
