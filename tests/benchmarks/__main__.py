"""python -m tests.benchmarks [whole_set|fold_order|process|paper|pages]: times as
ratios; of pages, on the database of SEAMBOOK_HOME, as milliseconds."""

from __future__ import annotations

import os
import sys
from importlib import import_module

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")

PARTS = ("whole_set", "fold_order", "process", "paper", "pages")


def main(wanted: list[str]) -> None:
    for name in wanted or PARTS:
        # Each by itself: only the pages need the framework set up.
        part = import_module(f"tests.benchmarks.{name}")
        print((part.__doc__ or "").strip())
        for line in part.lines():
            print("  " + line)


main(sys.argv[1:])
