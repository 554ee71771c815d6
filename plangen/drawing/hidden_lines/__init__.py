"""Hidden-line removal: bodies and a view in, the lines and the faces that are seen out.

Knows no furniture. All sizes are millimetres at full size.
"""

from plangen.drawing.hidden_lines.faces import FacesInSight, faces_in_sight, visible_faces
from plangen.drawing.hidden_lines.model import Body, Edge, EdgeKind, Projection, VisibleFace
from plangen.drawing.hidden_lines.project import project, projected_box
from plangen.drawing.hidden_lines.view import View, isometric, orthographic, pictorial

__all__ = [
    "Body",
    "Edge",
    "EdgeKind",
    "FacesInSight",
    "Projection",
    "View",
    "VisibleFace",
    "faces_in_sight",
    "isometric",
    "orthographic",
    "pictorial",
    "project",
    "projected_box",
    "visible_faces",
]
