"""The command line: the only place that touches files, the clock and the terminal."""
