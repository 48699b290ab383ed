"""A draft that fails its proof is refused in words."""

from __future__ import annotations

from math import inf

import pytest

from layout.families.assembly import Assembly
from layout.families.draft import Draft, Label
from layout.families.proven import prove
from layout.folding.pattern import FlatPattern
from layout.folding.result import Proof
from layout.geometry.point import Point
from layout.shop_facts import shop_facts

SQUARE = (Point(0, 0), Point(100, 0), Point(100, 100), Point(0, 100))


@pytest.mark.parametrize(
    ("figures", "told"),
    [
        (Proof(0.2, 0, 0, 0, True), "faces don't close when folded by 0.200 mm"),
        (Proof(0, 0, 0.3, 0, True), "faces overlap in the flat by 0.300 mm"),
        (Proof(0, 0, inf, 0, True), "a face crosses itself in the flat"),
        (Proof(0, 0, 0, 0, False), "the upper piece does not cover the lower one"),
        (Proof(0, 0, 0, 0, True), ""),
    ],
)
def test_why_a_proof_fails_is_said(figures: Proof, told: str) -> None:
    flat = FlatPattern(SQUARE, (), (), (), outlines=(SQUARE,))
    made = Assembly()
    made.drafts.append(Draft(Label("X", "profile", "Strip"), flat, figures=figures))
    pieces, _, refused = prove(made, shop_facts("copper 20 oz"))
    assert len(pieces) == (not told)
    assert [said.startswith(f"Strip (X): {told}") for said in refused] == [True] * bool(
        told
    )
