"""Against a general-purpose solver: scipy's HiGHS."""

from __future__ import annotations

from random import Random

import numpy
import pytest
from scipy.optimize import linprog

from layout.nesting.covering import Covering
from layout.nesting.model import Kind
from layout.nesting.strips import best_strips


@pytest.mark.parametrize("seed", range(12))
def test_covering_costs_what_a_known_solver_says(seed: int) -> None:
    rng = Random(seed)
    rows, count = rng.randint(2, 9), rng.randint(10, 40)
    wanted = [rng.randint(1, 60) for _ in range(rows)]
    patterns = [
        ([rng.choice([0, 0, 1, 2, 3]) for _ in range(rows)], rng.uniform(5, 15))
        for _ in range(count)
    ]
    alone = [([int(r == n) for r in range(rows)], 12.0) for n in range(rows)]
    cap = rng.randint(1, 20)
    uses = [n % 3 == 0 for n in range(count)]
    caps = [cap] if seed % 2 else []
    covering = Covering(wanted, caps, [(1, 12.0)] * rows)
    for _ in range(500):
        prices = covering.prices()
        gains = []
        for name, (holds, cost) in enumerate(patterns):
            column = [float(n) for n in holds] + [float(uses[name])] * len(caps)
            gains.append(sum(map(float.__mul__, prices, column)) - cost)
        best = max(range(count), key=gains.__getitem__)
        if gains[best] < 1e-7:
            break
        holds, cost = patterns[best]
        column = [float(n) for n in holds] + [float(uses[best])] * len(caps)
        assert covering.enter(rows + best, cost, column)
    both = [*alone, *patterns]
    known = linprog(
        [cost for _, cost in both],
        A_ub=[
            *(-numpy.array([holds for holds, _ in both]).T),
            *([[0] * rows + [int(u) for u in uses]] if caps else []),
        ],
        b_ub=[*(-w for w in wanted), *caps],
    )
    costs = [cost for _, cost in both]
    ours = sum(costs[name] * amount for name, amount in covering.used())
    assert ours == pytest.approx(known.fun, rel=1e-4)


def test_strips_find_the_best_two_stage_pattern() -> None:
    # By hand, 10 x 10: A 5 x 4 at 20, B 10 x 2 at 19. Two strips of two A and one
    # of B are worth 99; five of B only 95.
    kinds = [Kind(5, 4, False, 20), Kind(10, 2, False, 20)]
    worth, spots = best_strips(10, 10, kinds, [20.0, 19.0], [9, 9], along=False)
    assert worth == pytest.approx(99)
    assert len(spots) == 5
