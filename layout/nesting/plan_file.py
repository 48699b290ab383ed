"""The cut plan as `cut-plan.json` writes it (format `seambook.plan/1`).

Takes a Plan, gives plain values. All lengths in mm, areas in square mm.
"""

from __future__ import annotations

from typing import Any

from layout.nesting.plan import Cut, CutStock, Offcut, Placement, Plan


def plan_file(plan: Plan) -> dict[str, Any]:
    """Stock used with its placements and cuts in order, offcuts kept, metal
    used, yield, and the bound the yield is measured against.

    metal_used: area of stock used up; an offcut kept on the rack is not
    yield: area of outlines over metal used; bound.yield: what it could be at the
    most with straight cuts; bound.cost: no plan costs less
    """
    return {
        "format": "seambook.plan/1",
        "units": "mm",
        "stock": [_stock(stock) for stock in plan.stocks],
        "placements": [
            _placement(stock, put) for stock in plan.stocks for put in stock.placements
        ],
        "cuts": [_cut(stock, cut) for stock in plan.stocks for cut in stock.cuts],
        "offcuts": [
            _offcut(stock, offcut) for stock in plan.stocks for offcut in stock.offcuts
        ],
        "metal_used": _mm(plan.used),
        "blanks": _mm(plan.blanks),
        "yield": round(plan.share, 6),
        "cost": round(plan.cost, 6),
        "bound": {
            "cost": round(plan.bound, 6),
            "metal_used": _mm(plan.least),
            "yield": round(plan.best_share, 6),
        },
    }


def _stock(stock: CutStock) -> dict[str, Any]:
    return {
        "id": stock.number,
        "name": stock.name,
        "form": stock.form,
        "width": _mm(stock.width),
        "length": _mm(stock.length),
        "cost": round(stock.cost, 6),
    }


def _placement(stock: CutStock, put: Placement) -> dict[str, Any]:
    return {
        "stock": stock.number,
        "mark": put.blank.mark,
        "copy": put.blank.copy,
        "x": _mm(put.x),
        "y": _mm(put.y),
        "width": _mm(put.width),
        "length": _mm(put.length),
        "turned": put.turned,
        "turn": put.turn,
    }


def _cut(stock: CutStock, cut: Cut) -> dict[str, Any]:
    return {
        "stock": stock.number,
        "order": cut.order,
        "tool": cut.tool,
        "line": [[_mm(it) for it in cut.start], [_mm(it) for it in cut.end]],
        "part": [_mm(it) for it in cut.part],
    }


def _offcut(stock: CutStock, offcut: Offcut) -> dict[str, Any]:
    return {
        "stock": stock.number,
        "x": _mm(offcut.x),
        "y": _mm(offcut.y),
        "width": _mm(offcut.width),
        "length": _mm(offcut.length),
    }


def _mm(size: float) -> float:
    """A millionth of a mm is the core's tolerance; what lies below is noise."""
    return round(size, 6) + 0.0
