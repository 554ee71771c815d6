"""Turn one description of a piece of furniture into a plan booklet that a stranger can build from."""

__version__ = "0.1.0"
