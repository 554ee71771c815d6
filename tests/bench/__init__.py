"""Slow studies, each with a figure and a target: ``python -m tests.bench NAME [--quick]``."""
