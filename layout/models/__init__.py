"""Layouts of jobs, and the cut plans made from them: one noun family per file."""

from layout.models.layouts import (
    LaidPiece,
    LaidPieceQuerySet,
    Layout,
    LayoutQuerySet,
)
from layout.models.plans import (
    CutPlan,
    CutPlanQuerySet,
    KeptOffcut,
    PlanEvent,
    PlannedBlank,
    PlanStock,
    ShownCut,
)

__all__ = [
    "CutPlan",
    "CutPlanQuerySet",
    "KeptOffcut",
    "LaidPiece",
    "LaidPieceQuerySet",
    "Layout",
    "LayoutQuerySet",
    "PlanEvent",
    "PlanStock",
    "PlannedBlank",
    "ShownCut",
]
