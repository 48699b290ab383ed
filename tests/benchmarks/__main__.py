"""python -m tests.benchmarks [whole_set|fold_order|process|paper]: times as ratios."""

from __future__ import annotations

import os
import sys

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")

from tests.benchmarks import fold_order, paper, process, whole_set

PARTS = {
    "whole_set": whole_set,
    "fold_order": fold_order,
    "process": process,
    "paper": paper,
}


def main(wanted: list[str]) -> None:
    for name in wanted or PARTS:
        part = PARTS[name]
        print((part.__doc__ or "").strip())
        for line in part.lines():
            print("  " + line)


main(sys.argv[1:])
