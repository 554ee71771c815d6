"""From a description to a design: sizes solved, blanks, operations, joints and placements."""
