"""What is wrong, as data: kind, severity, place in the file, numbers, and what to do about it."""

from plangen.findings.model import Finding, Findings, Place, ProjectError, Severity
from plangen.findings.render import as_json, render

__all__ = ["Finding", "Findings", "Place", "ProjectError", "Severity", "as_json", "render"]
