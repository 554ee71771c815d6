"""From a design to lists: cut list, hardware bill, cutting diagrams, shopping, cost and weight."""

from plangen.takeoff.lists import ListTable, csv_files, cutting_order, list_tables
from plangen.takeoff.take_off import take_off

__all__ = ["ListTable", "csv_files", "cutting_order", "list_tables", "take_off"]
