"""From drafts to proven pieces: the only way a piece gets out of the families.

Takes an Assembly, gives Pieces with folds, marks and the figures of their
proof, and Joints. A draft that does not fold to where it should is refused
with the figure that failed, never handed out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf

from layout.families.assembly import Assembly, JointPlan
from layout.families.draft import Draft
from layout.folding import bench, order, proof
from layout.folding.allowance import Bend, Rule
from layout.folding.developed import developed
from layout.folding.facts import ShopFacts
from layout.folding.result import Joint, Piece, Proof, Side
from layout.folding.sheet import Patch
from layout.geometry.space import Plane, Vec
from layout.geometry.tolerance import EPS

ROOF_PLANE = Plane(Vec(0, 0, 0), Vec(0, 0, 1))


def prove(
    made: Assembly, shop: ShopFacts, rule: Rule = "none"
) -> tuple[list[Piece], list[Joint], list[str]]:
    """Proven pieces, their joints, and what was refused, in words.

    rule: how the metal's thickness is allowed for. The proof is of metal
    without thickness; the allowance then moves the lines of the flat.
    """
    drafts = {draft.mark: draft for draft in made.drafts}
    landed = {
        mark: proof.refold(draft.pattern)
        for mark, draft in drafts.items()
        if draft.figures is None
    }
    joints = [
        _joint(plan, made, drafts)
        for plan in made.joints
        if plan.upper[0] in drafts and plan.lower[0] in drafts
    ]
    misses, sheds = _judge(joints, landed)
    pieces, refused = [], []
    for mark, draft in drafts.items():
        figures = draft.figures or Proof(
            proof.closure(draft.pattern, landed[mark]),
            proof.seat(draft.pattern, landed[mark], made.walls, ROOF_PLANE),
            proof.overlap(draft.pattern),
            misses.get(mark, 0.0),
            sheds.get(mark, True) and _falls(made, draft, shop),
        )
        fault = _fault(draft, made, shop, figures)
        if fault:
            refused.append(fault)
        else:
            pieces.append(_piece(draft, made, shop, figures, rule))
    return pieces, joints, refused


def _falls(made: Assembly, draft: Draft, shop: ShopFacts) -> bool:
    """False for a back pan whose trough falls too little."""
    least = shop.number("trough_fall") - EPS
    enough = made.fall == 0 or made.fall >= least
    return enough or draft.label.family != "back_pan"


def _joint(plan: JointPlan, made: Assembly, drafts: Mapping[str, Draft]) -> Joint:
    (upper, upper_line), (lower, lower_line) = plan.upper, plan.lower
    seam = made.roof_seam
    kind = f"{seam.fold} fold" if plan.kind == "seam" and seam else "lap"
    return Joint(
        f"{upper} {upper_line} over {lower} {lower_line}",
        kind,  # type: ignore[arg-type]
        Side(upper, drafts[upper].pattern.joint_line(upper_line)),
        Side(lower, drafts[lower].pattern.joint_line(lower_line)),
        plan.promised,
        plan.flow,
    )


def _judge(
    joints: Sequence[Joint], landed: Mapping[str, Sequence[Patch]]
) -> tuple[dict[str, float], dict[str, bool]]:
    """The worst miss and the covering of every piece's joints, by mark."""
    misses: dict[str, float] = {}
    sheds: dict[str, bool] = {}
    for joint in joints:
        upper = proof.side_in_space(joint.upper, landed[joint.upper.mark])
        lower = proof.side_in_space(joint.lower, landed[joint.lower.mark])
        miss = proof.meeting(joint, upper, lower)
        covers = proof.sheds(joint, upper, lower)
        for mark in (joint.upper.mark, joint.lower.mark):
            misses[mark] = max(misses.get(mark, 0.0), miss)
            sheds[mark] = sheds.get(mark, True) and covers
    return misses, sheds


def _fault(draft: Draft, made: Assembly, shop: ShopFacts, figures: Proof) -> str:
    """Why the proof fails, in words; "" where it holds."""
    title = f"{draft.label.title} ({draft.mark})"
    for name, figure in (
        ("faces don't close when folded", figures.closure),
        ("faces miss the measured planes", figures.seat),
        ("faces overlap in the flat", figures.overlap),
        ("joint lines don't meet", figures.meeting),
    ):
        if figure == inf:
            return f"{title}: a face crosses itself in the flat"
        if figure > proof.LIMIT:
            return f"{title}: {name} by {figure:.3f} mm"
    if not _falls(made, draft, shop):
        return (
            f"{title}: the trough falls {made.fall:.2f}° to level, less than the "
            f"shop's {shop.number('trough_fall'):.2f}°; raise the side upstand, take "
            "more metal above, or build a saddle"
        )
    if not figures.shed:
        return f"{title}: the upper piece does not cover the lower one at a joint"
    return ""


def _piece(
    draft: Draft, made: Assembly, shop: ShopFacts, figures: Proof, rule: Rule
) -> Piece:
    metal = shop.metal
    bend = bend_of(made, shop)
    pattern = developed(draft.pattern, bend, rule, made.faces)
    folds = bench.folds(pattern)
    folded = order.in_order(folds, order.plan(pattern, folds, shop.brake))
    area = pattern.area()
    return Piece(
        draft.mark,
        draft.label.family,
        draft.label.title,
        draft.label.hand,
        draft.quantity,
        pattern,
        metal.name,
        metal.thickness,
        area,
        weight(area, metal.thickness, metal.density),
        folded,
        bench.marks(pattern, folded),
        figures,
        draft.notes,
        made.roof_seam,
    )


def bend_of(made: Assembly, shop: ShopFacts) -> Bend:
    """The bend the flats are made for: the one that was asked for, or the
    brake's, on no smaller a radius than the metal stands."""
    metal = shop.metal
    return made.bend or Bend(
        max(shop.brake.radius, metal.smallest_radius),
        metal.thickness,
        metal.kind,
        shop.number("measured_deduction"),
    )


def weight(area: float, thickness: float, density: float) -> float:
    """kg of a piece: area in square mm, thickness mm, density kg/m3.

    Example: 1 m2 of copper 20 oz, 0.686 mm at 8930 -> 6.126.
    """
    return area * thickness * density * 1e-9
