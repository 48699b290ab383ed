"""Is a plan right? Judged from the plan alone, sharing nothing with the search.

Takes a Plan and what was asked, gives one sentence for each fault; none if it can
be cut. Written from the promises: every blank once, on the metal, turned only
where allowed, no more stock than there is, and cuts that really part them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from layout.geometry.line import Segment  # noqa: F401
from layout.geometry.tolerance import EPS
from layout.nesting.blank import Blank
from layout.nesting.plan import CutStock, Placement, Plan
from layout.nesting.stock import Stock
