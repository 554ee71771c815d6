"""The solid of every part, and what is wrong with it: cuts that miss, pieces that fall off, collisions."""

from plangen.solids.build import build_solids, part_solid, transform
from plangen.solids.check import check_solids
from plangen.solids.interference import check_interference, check_positions, find_interference
from plangen.solids.model import Interference, Mesh, PartSolid, Solids, Surface

__all__ = [
    "Interference",
    "Mesh",
    "PartSolid",
    "Solids",
    "Surface",
    "build_solids",
    "check_interference",
    "check_positions",
    "check_solids",
    "find_interference",
    "part_solid",
    "transform",
]
