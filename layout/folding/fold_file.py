"""FOLD files: the open format for crease patterns, version 1.2.

Takes a proven piece, gives the file as a plain dict: the flat as crease
pattern, the folded form in the roof frame as one file frame.
"""

from __future__ import annotations

from typing import Any

from layout.folding.pattern import FlatPattern
from layout.folding.result import Piece
from layout.geometry.tolerance import EPS

PLACES = 12
"""Decimals of millimetres and degrees: whoever folds the file again over a
metre of metal still lands within a millionth of a micron. Our own bound."""


def fold_file(piece: Piece) -> dict[str, Any]:
    """The FOLD file of one piece. Lengths in mm, angles in degrees."""
    pattern = piece.pattern
    edges = _edges(pattern)
    return {
        "file_spec": 1.2,
        "file_creator": "Seambook",
        "file_title": piece.title,
        "file_classes": ["singleModel"],
        "frame_title": "flat, weather side up",
        "frame_classes": ["creasePattern"],
        "frame_attributes": ["2D"],
        "frame_unit": "mm",
        "vertices_coords": [[_r(p.x), _r(p.y)] for p in pattern.vertices],
        "edges_vertices": [[a, b] for a, b, _, _ in edges],
        "edges_assignment": [assignment for _, _, assignment, _ in edges],
        "edges_foldAngle": [angle for _, _, _, angle in edges],
        "faces_vertices": [list(face.corners) for face in pattern.faces],
        "faces_seambook:role": [face.role for face in pattern.faces],
        "faces_seambook:wall": [
            face.wall if face.role == "wall" else None for face in pattern.faces
        ],
        "faces_seambook:name": [face.name for face in pattern.faces],
        "seambook:mark": piece.mark,
        "seambook:family": piece.family,
        "seambook:hand": piece.hand,
        "file_frames": [
            {
                "frame_title": "folded, in the roof frame",
                "frame_classes": ["foldedForm"],
                "frame_attributes": ["3D"],
                "frame_unit": "mm",
                "frame_parent": 0,
                "frame_inherit": True,
                "vertices_coords": [
                    [_r(v.x), _r(v.y), _r(v.z)] for v in pattern.folded
                ],
                "faceOrders": [list(layer) for layer in pattern.layers],
            }
        ],
    }


def _edges(pattern: FlatPattern) -> list[tuple[int, int, str, float]]:
    """Creases, then cuts: vertex, vertex, assignment, fold angle."""
    edges: list[tuple[int, int, str, float]] = []
    seen: set[frozenset[int]] = set()
    for crease in pattern.creases:
        kind = "F" if abs(crease.angle) < EPS else "V" if crease.angle > 0 else "M"
        angle = 0.0 if kind == "F" else _r(crease.angle)
        edges.append((crease.a, crease.b, kind, angle))
        seen.add(frozenset((crease.a, crease.b)))
    for face in pattern.faces:
        ring = face.corners
        for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
            if frozenset((a, b)) not in seen:
                seen.add(frozenset((a, b)))
                edges.append((a, b, "B", 0.0))
    return edges


def _r(number: float) -> float:
    """Rounded, without a negative nought, so that equal input is equal bytes."""
    return round(number, PLACES) + 0.0
