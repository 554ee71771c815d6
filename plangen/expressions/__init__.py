"""The closed grammar of values: lengths, arithmetic with units, references to names."""
