"""Checks from outside: what plangen gives is measured by other means than its own."""
