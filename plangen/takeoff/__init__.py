"""From a design to lists: cut list, hardware bill, cutting diagrams, shopping, cost and weight."""

from plangen.takeoff.take_off import take_off

__all__ = ["take_off"]
