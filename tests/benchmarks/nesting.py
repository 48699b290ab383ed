"""How far the cut plan is from the best known, beside plans by hand.

    SEAMBOOK_BENCHMARKS=folder python -m tests.benchmarks.nesting --seconds 10

One thread; the seconds are of processor time, so a busy machine spoils nothing.
Every plan is put to the independent check. Where the general-purpose library
`packingsolver` is installed (Python 3.12 or newer) it runs beside.
"""

from __future__ import annotations

import argparse
import random
import sys
import time
from dataclasses import dataclass, field

from layout.nesting.check import faults
from layout.nesting.hand import hand_plans, named_plans
from layout.nesting.order import order
from layout.nesting.place import place
from layout.nesting.search import cost_of
from tests.benchmarks import nesting_yardstick as yardstick
from tests.benchmarks.nesting_instances import (
    GROUPS,
    NO_REST,
    Instance,
    folder,
    instances,
)

HAND = ("hand", "hand 2", "levels")


@dataclass
class Measured:
    """One instance: cost by way of planning, None where there is no plan."""

    at: Instance
    cost: dict[str, float | None]
    wrong: list[str] = field(default_factory=list)

    def over(self, way: str) -> float | None:
        cost = self.cost.get(way)
        return None if cost is None else 100 * (cost / self.at.known - 1)


def measure(at: Instance, seconds: float, seed: int) -> Measured:
    end = time.process_time() + seconds
    plan = place(
        at.blanks,
        at.stocks,
        NO_REST,
        seed=seed,
        rounds=None,
        carry_on=lambda: time.process_time() < end,
    )
    cost: dict[str, float | None] = {"ours": plan.cost}
    task = order(at.blanks, at.stocks, NO_REST, pairs=False).task
    for way, sheets in named_plans(task).items():
        cost[way] = cost_of(sheets) if sheets else None
    by_hand = [cost_of(sheets) for sheets in hand_plans(task)]
    cost["any hand"] = min(by_hand, default=None)
    if yardstick.INSTALLED:
        cost["yardstick"] = yardstick.cost(at, seconds)
    wrong = faults(plan, at.blanks, at.stocks, NO_REST)
    if by_hand and plan.cost > min(by_hand) * (1 + 1e-9):
        wrong.append("dearer than a plan by hand")
    return Measured(at, cost, wrong)


def row(name: str, seconds: float, found: list[Measured]) -> str:
    """One line of the table: mean and worst gap, total, beside hand."""
    gaps = [m.over("ours") or 0.0 for m in found]
    ours = sum(m.cost["ours"] or 0.0 for m in found)
    known = sum(m.at.known for m in found)
    mean, worst = sum(gaps) / len(gaps), max(gaps)
    line = f"| {name} ({len(found)}) | {seconds:g} | {mean:.2f} / {worst:.1f} |"
    line += f" {100 * (ours / known - 1):.2f} |"
    for way in (*HAND, *(["yardstick"] if yardstick.INSTALLED else [])):
        over = [gap for m in found if (gap := m.over(way)) is not None]
        some = f" ({len(over)})" if len(over) < len(found) else ""
        line += f" {sum(over) / len(over):.1f}{some} |" if over else " - |"
    for ways in (("hand", "hand 2"), ("any hand",)):
        saved = []
        for m in found:
            hand = [c for way in ways if (c := m.cost[way])]
            if hand:
                saved.append(100 * (1 - (m.cost["ours"] or 0.0) / min(hand)))
        line += f" {sum(saved) / len(saved):.1f} |" if saved else " - |"
    return line + f" {sum(bool(m.wrong) for m in found)} |"


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=2.0)
    parser.add_argument("--sample", type=int, default=0, help="of each group; 0 = all")
    parser.add_argument("--group", choices=[*GROUPS], action="append")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--each", action="store_true", help="a line an instance")
    asked = parser.parse_args()
    where = folder()
    if where is None:
        print("Skipped: SEAMBOOK_BENCHMARKS names no folder with instances.")
        return 0
    extra = " yardstick |" if yardstick.INSTALLED else ""
    print(
        "Percent over the best known. Total: of all costs. Saved: on the better of"
        " hand and hand 2; on the best of all plans by hand that run inside. Wrong:"
        " plans that fail the check or are dearer than one by hand.\n"
        "| group | s | ours, mean / worst | total | hand | hand 2 | levels |"
        f"{extra} saved | on any | wrong |"
    )
    wrong = False
    for group in asked.group or GROUPS:
        chosen = instances(group, where)
        if asked.sample and len(chosen) > asked.sample:
            chosen = random.Random(asked.seed).sample(chosen, asked.sample)
        found = []
        for at in chosen:
            one = measure(at, asked.seconds, asked.seed)
            found.append(one)
            if asked.each or one.wrong:
                gap = one.over("ours")
                print(f"{at.name}: {gap:.2f} % {'; '.join(one.wrong)}", flush=True)
            wrong = wrong or bool(one.wrong)
        if found:
            print(row(group, asked.seconds, found), flush=True)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
