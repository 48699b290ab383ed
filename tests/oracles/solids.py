"""Solids of a general-purpose kernel (the package cadquery-ocp-novtk, optional)."""

from __future__ import annotations

from math import cos, radians, sin

from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import (
    BRepPrimAPI_MakeCone,
    BRepPrimAPI_MakeCylinder,
    BRepPrimAPI_MakeHalfSpace,
)
from OCP.GeomAbs import GeomAbs_Plane
from OCP.gp import gp_Ax2, gp_Dir, gp_Pln, gp_Pnt
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_FACE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

DEEP = 3.0
"""The solid reaches this many foot radii below the short side, times what the
roof falls across it."""


def lateral_face_area(foot: float, top: float, height: float, tilt: float) -> float:
    """Of the round side of a sleeve over a roof, square mm.

    foot, top: radii, mm; tilt: degrees. The roof passes through the short side's
    foot, at y = foot, z = 0.
    """
    narrowing = (foot - top) / height
    deep = DEEP * (foot + height) * (1 + sin(radians(tilt)) / cos(radians(tilt)))
    axis = gp_Ax2(gp_Pnt(0, 0, -deep), gp_Dir(0, 0, 1))
    if narrowing:
        low = foot + narrowing * deep
        solid = BRepPrimAPI_MakeCone(axis, low, top, deep + height).Shape()
    else:
        solid = BRepPrimAPI_MakeCylinder(axis, foot, deep + height).Shape()
    a = radians(tilt)
    roof = gp_Pln(gp_Pnt(0, foot, 0), gp_Dir(0, -sin(a), cos(a)))
    face = BRepBuilderAPI_MakeFace(roof).Face()
    under = gp_Pnt(0, foot + 10 * sin(a), -10 * cos(a))
    below = BRepPrimAPI_MakeHalfSpace(face, under).Solid()
    cut = BRepAlgoAPI_Cut(solid, below).Shape()
    return sum(_areas(cut))


def _areas(shape: object) -> list[float]:
    """Areas of the faces that are not flat."""
    found = []
    walk = TopExp_Explorer(shape, TopAbs_FACE)
    while walk.More():
        face = TopoDS.Face(walk.Current())
        if BRepAdaptor_Surface(face).GetType() != GeomAbs_Plane:
            figures = GProp_GProps()
            BRepGProp.SurfaceProperties_s(face, figures)
            found.append(figures.Mass())
        walk.Next()
    return found
