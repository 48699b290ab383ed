"""set.json (seambook.set/1): a laid set as plain JSON values."""

from __future__ import annotations

from typing import Any

from layout.folding.pattern import FlatPattern
from layout.folding.result import Finding, Fold, Joint, LaidSet, Mark, Piece, Side
from layout.geometry.point import Point

FORMAT = "seambook.set/1"
PLACES = 6


def set_file(laid: LaidSet) -> dict[str, Any]:
    """The whole set. Lengths in mm, angles in degrees, areas in square mm."""
    return {
        "format": FORMAT,
        "units": "mm",
        "site": laid.site,
        "pieces": [_piece(piece) for piece in laid.pieces],
        "joints": [_joint(joint) for joint in laid.joints],
        "checks": [check(finding) for finding in laid.findings],
        "refused": list(laid.refused),
        "allowance": laid.allowance,
    }


def _piece(piece: Piece) -> dict[str, Any]:
    width, length = piece.pattern.size()
    return {
        "mark": piece.mark,
        "family": piece.family,
        "title": piece.title,
        "hand": piece.hand,
        "quantity": piece.quantity,
        "blank": {"width": _r(width), "length": _r(length)},
        "outline": [_p(p) for p in piece.pattern.outline],
        "area": _r(piece.area),
        "weight_kg": _r(piece.weight),
        "thickness": piece.thickness,
        "metal": piece.metal,
        "folds": [_fold(fold) for fold in piece.folds],
        "roof_folds": _roof_folds(piece.pattern),
        "marks": [_mark(mark) for mark in piece.marks],
        "proof": {
            "closure": _r(piece.proof.closure),
            "seat": _r(piece.proof.seat),
            "overlap": _r(piece.proof.overlap),
            "meeting": _r(piece.proof.meeting),
            "shed": piece.proof.shed,
        },
        "sweeps": [
            {
                "radius": _r(sweep.radius),
                "turn": _r(sweep.turn),
                "strain": _r(sweep.strain),
                "smallest_radius": _r(sweep.smallest_radius),
                "reliefs": [[_p(p) for p in cut] for cut in sweep.reliefs],
            }
            for sweep in piece.pattern.sweeps
        ],
        "notes": list(piece.notes),
    }


def _fold(fold: Fold) -> dict[str, Any]:
    return {
        "order": fold.order,
        "line": [_p(p) for p in fold.line],
        "angle": _r(fold.angle),
        "direction": fold.direction,
        "where": fold.where,
        "what": fold.what,
        "turned_over": fold.over,
        "why": fold.why,
        "frees": fold.frees,
    }


def _roof_folds(pattern: FlatPattern) -> list[dict[str, Any]]:
    """Turns closed on the roof by hand, after the pieces meet."""
    return [
        {
            "line": [_p(p) for p in roof.line],
            "angle": _r(roof.angle),
            "where": "hand",
            "what": roof.what,
            "curved": roof.curved,
        }
        for roof in pattern.roof_lines
    ]


def _mark(mark: Mark) -> dict[str, Any]:
    return {
        "edge": mark.edge,
        "distance": _r(mark.distance),
        "of": mark.of,
        "at": _p(mark.at),
    }


def _joint(joint: Joint) -> dict[str, Any]:
    return {
        "name": joint.name,
        "kind": joint.kind,
        "upper": _side(joint.upper),
        "lower": _side(joint.lower),
        "lap": _r(joint.promised),
    }


def _side(side: Side) -> dict[str, Any]:
    return {
        "mark": side.mark,
        "line": [_p(p) for p in side.at.line],
        "leg": _r(side.leg),
    }


def check(finding: Finding) -> dict[str, Any]:
    """One finding, whole."""
    return {
        "level": finding.level,
        "kind": finding.kind,
        "rule": finding.rule,
        "message": finding.message,
        "remedy": finding.remedy,
        "piece": finding.where,
        "source": finding.source,
    }


def _p(p: Point) -> list[float]:
    return [_r(p.x), _r(p.y)]


def _r(number: float) -> float:
    return round(number, PLACES) + 0.0
