"""The general-purpose library that the cut plan is measured against.

`packingsolver` (MIT) wants Python 3.12 or newer, so the project does not depend on
it; it runs in a process of its own where it is installed. Its straight cuts go
through three stages. It knows no coil: lengths of it are offered as sheets.
"""

from __future__ import annotations

import importlib.util
import multiprocessing
from multiprocessing.connection import Connection

from tests.benchmarks.nesting_instances import Instance

INSTALLED = importlib.util.find_spec("packingsolver") is not None

FINE = 8
"""Whole numbers to a unit: records made here are in eighths of an inch."""

LENGTHS = 8
"""Lengths of coil offered, even parts of the longest."""


def cost(at: Instance, seconds: float) -> float | None:
    """Cost of its plan; None where it has none in the time."""
    ours, theirs = multiprocessing.Pipe()
    worker = multiprocessing.Process(target=_run, args=(at, seconds, theirs))
    worker.start()
    found = ours.recv() if ours.poll(seconds * 3 + 30) else None
    worker.terminate()
    return found


def _run(at: Instance, seconds: float, out: Connection) -> None:
    import packingsolver.rectangleguillotine as guillotine  # type: ignore

    builder = guillotine.InstanceBuilder()
    builder.set_objective(guillotine.Objective.VariableSizedBinPacking)
    builder.set_number_of_stages(3)
    turned = bool(at.record["rotation"])
    most = sum(max(b.width, b.length) for b in at.blanks)
    costs = []
    for stock in at.stocks:
        lengths = [stock.length]
        if stock.form == "coil":
            longest = stock.longest or most
            lengths = [longest * n / LENGTHS for n in range(1, LENGTHS + 1)]
        for length in lengths:
            price = stock.price * stock.width * length
            costs.append(price)
            builder.add_bin_type(
                round(stock.width * FINE),
                round(length * FINE),
                cost=price,
                copies=stock.count or len(at.blanks),
            )
    for piece in at.record["pieces"]:
        builder.add_item_type(
            round(piece["w"] * FINE),
            round(piece["h"] * FINE),
            copies=piece["qty"],
            oriented=not turned,
        )
    options = guillotine.OptimizeParameters()
    options.time_limit = seconds
    options.messages_to_stdout = False
    solution = guillotine.optimize(builder.build(), options).solution
    full = solution.full() if hasattr(solution, "full") else True
    out.send(solution.cost() if full else None)
