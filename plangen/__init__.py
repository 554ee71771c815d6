"""Turn one description of a piece of furniture into a plan booklet that a stranger can build from."""
