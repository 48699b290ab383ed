"""Proof of fit: folds a flat pattern by its creases alone and looks where it lands.

Takes the flat (vertices, faces, crease angles) and the measured planes, gives
figures in mm. It shares nothing with the way the pattern was made but the
place of the first face.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from math import cos, inf, radians, sin, sqrt

from layout.folding.pattern import FlatPattern
from layout.folding.result import Joint, Side
from layout.folding.sheet import Patch
from layout.geometry import outline
from layout.geometry.point import Point
from layout.geometry.space import Plane, Vec
from layout.geometry.tolerance import EPS

LIMIT = 0.001
"""Largest gap, seat or overlap a proven pattern may show, mm. Our own bound:
a thousandth of the finest mark a tape can show."""


class NotProven(ValueError):
    """A pattern that does not fold to where it should."""


def refold(pattern: FlatPattern) -> list[Patch]:
    """Where each face lands when the flat is folded crease by crease.

    The first face is laid where it belongs; every other face follows over the
    first crease that reaches it. Raises NotProven when a face hangs on none.
    """
    hung: dict[int, list[int]] = {}
    for i, crease in enumerate(pattern.creases):
        for face in crease.faces:
            hung.setdefault(face, []).append(i)
    placed: dict[int, Patch] = {0: _first(pattern)}
    waiting = [0]
    while waiting:
        here = waiting.pop(0)
        for i in hung.get(here, ()):
            crease = pattern.creases[i]
            there = crease.faces[1] if crease.faces[0] == here else crease.faces[0]
            if there not in placed:
                placed[there] = _over(pattern, placed[here], here, i)
                waiting.append(there)
    if len(placed) < len(pattern.faces):
        raise NotProven("a face hangs on no crease")
    return [placed[i] for i in range(len(pattern.faces))]


def _first(pattern: FlatPattern) -> Patch:
    a, b, *_ = pattern.faces[0].corners
    flat_u = pattern.vertices[b].minus(pattern.vertices[a]).unit()
    u = pattern.folded[b].minus(pattern.folded[a]).unit()
    far = max(
        pattern.faces[0].corners,
        key=lambda i: abs(pattern.vertices[i].minus(pattern.vertices[a]).cross(flat_u)),
    )
    arm = pattern.folded[far].minus(pattern.folded[a])
    side = flat_u.cross(pattern.vertices[far].minus(pattern.vertices[a]))
    v = arm.plus(u, -arm.dot(u)).unit().scaled(1 if side > 0 else -1)
    return Patch(pattern.vertices[a], flat_u, pattern.folded[a], u, v)


def _over(pattern: FlatPattern, parent: Patch, face: int, crease_index: int) -> Patch:
    """The patch of the face beyond a crease, turned about it by its angle."""
    crease = pattern.creases[crease_index]
    a, b = pattern.vertices[crease.a], pattern.vertices[crease.b]
    along = b.minus(a).unit()
    u = parent.lift(_in(parent, along))
    left = parent.lift(_in(parent, along.left()))
    side = 1 if _runs(pattern.faces[face].corners, crease.a, crease.b) else -1
    # The parent lies on the left of a-b where side is 1; the child then on
    # the right, turned up out of its plane by the angle.
    out = left.scaled(-side)
    angle = radians(crease.angle)
    towards = out.scaled(cos(angle)).plus(parent.normal(), sin(angle))
    return Patch(a, along, parent.space(_local(parent, a)), u, towards.scaled(-side))


def _in(patch: Patch, direction: Point) -> Point:
    return Point(direction.dot(patch.flat_u), direction.dot(patch.flat_u.left()))


def _local(patch: Patch, place: Point) -> Point:
    return patch.local_from_flat(place)


def _runs(corners: Sequence[int], a: int, b: int) -> bool:
    i = corners.index(a)
    return corners[(i + 1) % len(corners)] == b


def land(patches: Sequence[Patch], face: int, place: Point) -> Vec:
    """Where a place of the flat on one face lands in space."""
    patch = patches[face]
    return patch.space(patch.local_from_flat(place))


def closure(pattern: FlatPattern, patches: Sequence[Patch]) -> float:
    """Largest gap, mm: at any corner between its faces and its stated place,
    and over any crease between where its two faces land and its angle.

    A face lands over one crease only; the others are held against it here.
    """
    lands = [_landing(patch) for patch in patches]
    worst = 0.0
    for face, land in zip(pattern.faces, lands, strict=True):
        for i in face.corners:
            x, y, z = _at(land, pattern.vertices[i])
            u, v, w = pattern.folded[i]
            worst = max(worst, (x - u) ** 2 + (y - v) ** 2 + (z - w) ** 2)
    flat_pairs: set[tuple[int, int]] = set()
    for i, crease in enumerate(pattern.creases):
        one, two = crease.faces
        wanted = lands[one]
        if crease.angle == 0:
            # Unfolded, all creases between two faces say the same.
            if crease.faces in flat_pairs:
                continue
            flat_pairs.add(crease.faces)
        else:
            wanted = _landing(_over(pattern, patches[one], one, i))
        gap = _minus(lands[two], wanted)
        for corner in pattern.faces[two].corners:
            x, y, z = _at(gap, pattern.vertices[corner])
            worst = max(worst, x * x + y * y + z * z)
    return sqrt(worst)


Landing = tuple[float, float, float, float, float, float, float, float, float]
"""Where a face lands, as x, y, z = o + a * flat x + b * flat y: o, a, b."""


def _landing(patch: Patch) -> Landing:
    (fx, fy), (c, s), o, u, v = patch
    a = u.scaled(c).plus(v, -s)
    b = u.scaled(s).plus(v, c)
    o = o.plus(a, -fx).plus(b, -fy)
    return (*o, *a, *b)


def _at(land: Landing, place: Point) -> tuple[float, float, float]:
    ox, oy, oz, ax, ay, az, bx, by, bz = land
    x, y = place
    return ox + ax * x + bx * y, oy + ay * x + by * y, oz + az * x + bz * y


def _minus(one: Landing, two: Landing) -> Landing:
    return tuple(a - b for a, b in zip(one, two, strict=True))  # type: ignore[return-value]


def seat(
    pattern: FlatPattern,
    patches: Sequence[Patch],
    walls: Mapping[str, Plane],
    roof: Plane | None = None,
) -> float:
    """Largest distance, mm, of a roof or wall face from its measured plane."""
    worst = 0.0
    for face, patch in zip(pattern.faces, patches, strict=True):
        plane = roof if face.role == "roof" else walls.get(face.wall or "")
        if plane is None:
            continue
        for i in face.corners:
            place = patch.space(patch.local_from_flat(pattern.vertices[i]))
            worst = max(worst, abs(plane.distance(place)))
    return worst


def overlap(pattern: FlatPattern) -> float:
    """How deep any two faces lie in each other in the flat, mm; infinite where
    a face crosses itself."""
    rings = [pattern.polygon(face) for face in pattern.faces]
    if any(outline.crosses_itself(ring) for ring in rings):
        return inf
    boxes = [outline.bounds(ring) for ring in rings]

    @cache
    def cut_up(i: int) -> list[outline.Triangle]:
        return outline.triangles(rings[i])

    deepest = 0.0
    for i, (ax0, ay0, ax1, ay1) in enumerate(boxes):
        for j in range(i + 1, len(boxes)):
            bx0, by0, bx1, by1 = boxes[j]
            if ax1 <= bx0 or bx1 <= ax0 or ay1 <= by0 or by1 <= ay0:
                continue
            if not outline.are_parted(rings[i], rings[j]):
                try:
                    depth = outline.overlap_depth(cut_up(i), cut_up(j))
                except ValueError:
                    return inf
                deepest = max(deepest, depth)
    return deepest


def meeting(joint: Joint, upper: Sequence[Vec], lower: Sequence[Vec]) -> float:
    """How far the two sides of a joint miss what they promise, mm.

    upper, lower: (2) places, the ends of each side's line, folded.
    A seam: both on one line, end to end. A lap: the upper line lies below
    the lower one along the flow by the promised lap, both in one plane.
    """
    worst = 0.0
    along = lower[1].minus(lower[0]).unit()
    wanted = joint.flow.plus(along, -joint.flow.dot(along)).scaled(joint.promised)
    for place in upper:
        arm = place.minus(lower[0])
        off = arm.plus(along, -arm.dot(along))
        worst = max(worst, off.minus(wanted).length())
    if joint.promised == 0:
        gaps = [min(p.minus(q).length() for q in lower) for p in upper]
        worst = max(worst, *gaps)
    return worst


def sheds(joint: Joint, upper: Sequence[Vec], lower: Sequence[Vec]) -> bool:
    """True when the upper piece covers the lower along the flow of water.

    A lap covers when its upper edge lies below the lower piece's edge. A seam
    covers when the covering leg is on the upper piece.
    """
    if joint.kind == "lap":
        along = lower[1].minus(lower[0]).unit()
        down = joint.flow.plus(along, -joint.flow.dot(along))
        return all(place.minus(lower[0]).dot(down) > EPS for place in upper)
    return joint.upper.leg > joint.lower.leg


def side_in_space(side: Side, patches: Sequence[Patch]) -> tuple[Vec, Vec]:
    """A joint's side, folded."""
    a, b = side.at.line
    return land(patches, side.at.face, a), land(patches, side.at.face, b)
