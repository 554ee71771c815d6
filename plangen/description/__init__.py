"""The maker's file: read, checked and typed, with the place of every value."""

from plangen.description.model import Description
from plangen.description.reader import read_description
from plangen.description.schema import json_schema
from plangen.description.settings import SETTINGS_FILE, apply_settings

__all__ = ["SETTINGS_FILE", "Description", "apply_settings", "json_schema", "read_description"]
