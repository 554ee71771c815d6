"""From a design to lists: cut list, hardware bill, cutting diagrams, shopping, cost and weight."""
