"""FlatPattern: one piece in the flat and folded, as plain immutable values.

Bench frame: x along the datum edge, y away from it, datum corner lower left,
weather side towards the reader. Roof frame: x across the slope, y up the
slope, z square to the roof. Both in mm.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Literal

from layout.geometry import outline
from layout.geometry.point import Point
from layout.geometry.space import Vec, mirrored

Role = Literal[
    "roof", "wall", "leg", "turn", "hem", "hook", "pocket", "trough", "saddle",
    "lap", "face",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Face:
    """One flat part of a piece.

    corners: (n) indices into the pattern's vertices, counter-clockwise
    wall: front, back, left or right for a face of role "wall", else None
    """

    name: str
    role: Role
    corners: tuple[int, ...]
    wall: str | None = None


@dataclass(frozen=True, slots=True)
class Crease:
    """One straight edge shared by two faces.

    a, b: vertex indices; faces: (2) face indices
    angle: how far it is folded, degrees, -180..180; positive is a valley:
    the weather sides come together, an upstand is +90. 0 stays flat.
    """

    a: int
    b: int
    faces: tuple[int, int]
    angle: float
    what: str


@dataclass(frozen=True, slots=True)
class RoofLine:
    """A line along which metal is turned on the roof, after the pieces meet.

    line: (n) points in the bench frame; angle: degrees; curved: a sweep
    """

    line: tuple[Point, ...]
    angle: float
    what: str
    curved: bool = False

    def moved(self, move: Callable[[Point], Point]) -> RoofLine:
        return replace(self, line=tuple(move(p) for p in self.line))


Path = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Sweep:
    """The swept part of one leg, in the bench frame, for its full-size template.

    turn_lines, cut_lines, fold_lines: open paths, one per edge the leg stands on
    radius: of the turn line, mm; turn: width of the turned edge, mm
    strain: of its free edge, share (0.14 = 14 %)
    smallest_radius: the metal allows at this turn, mm; 0 where not known
    reliefs: cuts from the free edge towards the turn line that let the edge
    open where it would stretch more than the metal does
    """

    turn_lines: tuple[Path, ...]
    cut_lines: tuple[Path, ...]
    fold_lines: tuple[Path, ...]
    radius: float
    turn: float
    strain: float
    smallest_radius: float
    reliefs: tuple[Path, ...] = ()

    def moved(self, move: Callable[[Point], Point]) -> Sweep:
        def all_of(paths: tuple[Path, ...]) -> tuple[Path, ...]:
            return tuple(tuple(move(p) for p in path) for path in paths)

        return replace(
            self,
            turn_lines=all_of(self.turn_lines),
            cut_lines=all_of(self.cut_lines),
            fold_lines=all_of(self.fold_lines),
            reliefs=all_of(self.reliefs),
        )


@dataclass(frozen=True, slots=True)
class JointLine:
    """A line on one face where the piece meets another.

    line: (2) points in the bench frame; leg: width of the seam leg there, mm,
    0 for a plain lap
    """

    name: str
    face: int
    line: tuple[Point, Point]
    leg: float = 0.0

    def moved(self, move: Callable[[Point], Point]) -> JointLine:
        return replace(self, line=(move(self.line[0]), move(self.line[1])))


@dataclass(frozen=True, slots=True)
class FlatPattern:
    """Faces, creases with fold angles, cut lines and the place on the roof."""

    vertices: tuple[Point, ...]
    folded: tuple[Vec, ...]
    faces: tuple[Face, ...]
    creases: tuple[Crease, ...]
    roof_lines: tuple[RoofLine, ...] = ()
    layers: tuple[tuple[int, int, int], ...] = ()
    """(f, g, s): face f lies on the side of face g that g's normal points to
    (s = 1) or on the other (s = -1), folded (FOLD's faceOrders)."""
    sweeps: tuple[Sweep, ...] = ()
    joint_lines: tuple[JointLine, ...] = ()
    outlines: tuple[Path, ...] = field(default=(), compare=False)
    """Cut outlines: the outer one counter-clockwise first, then holes."""

    @property
    def outline(self) -> Path:
        """The outer cut outline, counter-clockwise."""
        return self.outlines[0]

    def polygon(self, face: Face) -> list[Point]:
        """A face's corners in the flat."""
        return [self.vertices[i] for i in face.corners]

    def polygon_in_space(self, face: Face) -> list[Vec]:
        """A face's corners folded, in the roof frame."""
        return [self.folded[i] for i in face.corners]

    def joint_line(self, name: str) -> JointLine:
        """The joint line of that name. Raises KeyError where there is none."""
        for line in self.joint_lines:
            if line.name == name:
                return line
        raise KeyError(name)

    @property
    def reliefs(self) -> tuple[Path, ...]:
        """Cuts into the free edges of its sweeps, open lines."""
        return tuple(cut for sweep in self.sweeps for cut in sweep.reliefs)

    def area(self) -> float:
        """Metal in the piece, square mm."""
        return sum(outline.area(ring) for ring in self.outlines)

    def size(self) -> tuple[float, float]:
        """Width along the datum edge and length away from it, mm."""
        x0, y0, x1, y1 = outline.bounds(self.outline)
        return x1 - x0, y1 - y0


def other_hand(words: str) -> str:
    """The same words with left and right changed over."""
    return words.replace("left", "\0").replace("right", "left").replace("\0", "right")


def mirrored_pattern(pattern: FlatPattern, width: float) -> FlatPattern:
    """The same piece for the other hand: the one mirror operation.

    width: of the penetration, so that x = 0 and x = width change places in
    the roof frame. Fold angles stay: the weather side stays the weather side.
    """
    across = pattern.size()[0]

    def move(p: Point) -> Point:
        return Point(across - p.x, p.y)

    return replace(
        pattern,
        vertices=tuple(move(p) for p in pattern.vertices),
        folded=tuple(mirrored(v, width) for v in pattern.folded),
        faces=tuple(
            replace(
                face,
                corners=face.corners[::-1],
                name=other_hand(face.name),
                wall=face.wall and other_hand(face.wall),
            )
            for face in pattern.faces
        ),
        roof_lines=tuple(roof.moved(move) for roof in pattern.roof_lines),
        sweeps=tuple(sweep.moved(move) for sweep in pattern.sweeps),
        joint_lines=tuple(
            replace(line.moved(move), name=other_hand(line.name))
            for line in pattern.joint_lines
        ),
        outlines=tuple(
            tuple(move(p) for p in reversed(ring)) for ring in pattern.outlines
        ),
    )
