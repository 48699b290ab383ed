"""One laid-out site before the rules: all they may look at."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from layout.families.assembly import Assembly
from layout.families.chimney import Around
from layout.families.site import Site
from layout.folding.facts import ShopFacts
from layout.folding.result import Joint, Piece


@dataclass(frozen=True, slots=True)
class LooksRule:
    """One demand of the client that can be checked.

    kind: seam_height, seam_spacing, metal, highest_upstand, counterflashing,
    or any other kind, which is only repeated; number: mm or None
    agreed: the client's word stands
    """

    kind: str
    words: str
    number: float | None
    who_asked: str
    agreed: bool


@dataclass(frozen=True, slots=True)
class Case:
    """show: a length in mm in the user's own unit, with the unit's name.

    roof_metal: kind of metal of the roof that is there, "" where not known
    """

    assembly: Assembly
    pieces: Sequence[Piece]
    joints: Sequence[Joint]
    shop: ShopFacts
    looks: Sequence[LooksRule]
    show: Callable[[float], str]
    roof_metal: str = ""

    @property
    def around(self) -> Around:
        """The assembly, for rules that only look at chimneys and curbs.

        Raises TypeError for another kind of site.
        """
        if not isinstance(self.assembly, Around):
            raise TypeError("this rule looks at chimneys and curbs only")
        return self.assembly

    @property
    def site(self) -> Site:
        return self.around.site
