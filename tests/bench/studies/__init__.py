"""One module for each study; each holds a ``STUDY``."""
