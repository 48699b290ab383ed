"""What no plan can cost less than.

Takes a task, gives cost: the area of the blanks bought where metal is cheapest.
"""

from __future__ import annotations

from math import ceil, inf

from layout.nesting.model import NO_LIMIT, Task


def least_area(task: Task) -> int:
    """Area the blanks take up at the least, square steps: their rectangles, or
    their outlines where they may be set head to tail."""
    paired = {kind for pair in task.pairs for kind in pair[:2]}
    total = 0
    for number, (kind, wanted) in enumerate(zip(task.kinds, task.wanted, strict=True)):
        total += wanted * (kind.area if number in paired else kind.w * kind.h)
    return total


def least_cost(task: Task) -> float:
    """Cost that no plan can go below.

    The blanks' area is bought from the cheapest stock first, as much of it as
    there is; of equal sheets without limit, whole sheets.
    """
    area = least_area(task)
    whole = len(task.offers) == 1 and task.offers[0].h and not any(task.worth)
    if whole:
        offer = task.offers[0]
        return ceil(area / (offer.w * offer.h)) * offer.cost
    rates = []
    for offer in task.offers:
        if offer.there > 0:
            size = offer.w * offer.h if offer.h else offer.w
            there = size * offer.there if offer.there < NO_LIMIT else inf
            rates.append((offer.cost / size, there))
    spent = 0.0
    rest: float = area
    for rate, there in sorted(rates):
        part = min(rest, there)
        spent += part * rate
        rest -= part
    return spent
