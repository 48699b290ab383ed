"""What a set of cut sheets says beside the layout: whose job it is, and where to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class About:
    """Words from outside, printed as they are.

    shop, job, client, place: names and address; "" where there is none
    paper_number: the document's own number; day: when it was asked for
    looks: what the client's house demands, one line each
    sides: what the metal's two sides are called, the weather side first
    labels: mark -> what the machine-readable label holds, an address that
    opens the piece's page; a piece not named there gets its mark and title
    """

    shop: str = ""
    job: str = ""
    client: str = ""
    place: str = ""
    paper_number: str = ""
    day: str = ""
    looks: tuple[str, ...] = ()
    sides: str = ""
    labels: Mapping[str, str] = field(default_factory=dict)

    def weather_side(self) -> str:
        """What lies up on the bench: "weather side up", and its name."""
        first = self.sides.split(",")[0].strip()
        return f"Weather side up: {first}" if first else "Weather side up"
