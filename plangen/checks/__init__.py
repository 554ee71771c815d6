"""Checks of the finished design: each a module of its own and a line in the table."""

from plangen.checks.run import CHECKS, run_checks

__all__ = ["CHECKS", "run_checks"]
