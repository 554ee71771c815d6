"""A room."""
