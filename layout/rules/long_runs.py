"""Long runs: lengths and laps, expansion joints, movement; metal along a wall."""

from __future__ import annotations

from collections.abc import Iterator

from layout.families.long_run import LongRun
from layout.families.wall import AlongWall
from layout.folding.movement import INTERVAL, movement
from layout.folding.result import Finding
from layout.rules.case import Case
from layout.rules.cover import ONTO_ROOF, UPSTANDS


def _marks(case: Case) -> str:
    return ", ".join(p.mark for p in case.pieces if p.family != "end_cap")


def divided(case: Case) -> Iterator[Finding]:
    """A run longer than the brake or the stock: its lengths and laps."""
    made = case.assembly
    if not isinstance(made, LongRun) or len(made.lengths) < 2:
        return
    yield Finding(
        "note",
        "practice",
        "run in lengths",
        f"the run of {case.show(made.run)} is made in {len(made.lengths)} lengths, "
        f"each over the one before it by {case.show(made.overlap)}",
        "Begin at the near end; where the run is level, begin so that laps lie away "
        "from the wind that brings the rain.",
        _marks(case),
        case.shop.sources["slope_lap"],
    )


def joints(case: Case) -> Iterator[Finding]:
    """Where the run must be free to move, and how far it moves."""
    made, kind = case.assembly, case.shop.metal.kind
    if not isinstance(made, LongRun) or len(made.lengths) < 2:
        return
    places = [part.start for part in made.lengths if part.joint == "expansion"]
    if places:
        yield Finding(
            "note",
            "practice",
            "expansion joints",
            "the run needs room to move at "
            + ", ".join(case.show(place) for place in places)
            + f" from its near end: no stretch over {case.show(INTERVAL[kind].value)}",
            "Keep these laps loose: no solder, no fastener through both lengths.",
            _marks(case),
            INTERVAL[kind].source,
        )
    stops = [0.0, *places, made.run]
    longest = max(b - a for a, b in zip(stops, stops[1:], strict=False))
    yield _movement(case, longest)


def _movement(case: Case, stretch: float) -> Finding:
    """How far a stretch moves; across the rolling direction where that differs."""
    metal, swing = case.shop.metal, case.shop.number("temperature_swing")
    if not metal.expansion:
        return Finding(
            "note",
            "shop",
            "movement",
            f"how far {metal.name} moves with its warmth is not known",
            "Enter its expansion under Shop, Metals.",
            _marks(case),
            metal.expansion_source or "the shop's own metals",
        )
    moves = case.show(movement(stretch, metal.expansion, swing))
    if metal.expansion_across not in (0.0, metal.expansion):
        across = case.show(movement(stretch, metal.expansion_across, swing))
        moves += f" ({across} where it is cut across the rolling direction)"
    return Finding(
        "note",
        "practice",
        "movement",
        f"a stretch of {case.show(stretch)} grows and shrinks by {moves} over "
        f"{swing:.0f} °C",
        "Hold it with cleats, and leave that much room at its free end.",
        _marks(case),
        metal.expansion_source,
    )


def along_wall(case: Case) -> Iterator[Finding]:
    """Upstand by the source the shop holds to, and metal on to the roof."""
    made = case.assembly
    if not isinstance(made, AlongWall):
        return
    binding = case.shop.word("upstand_rule")
    height = made.wall.upstand
    for rule in UPSTANDS:
        if rule.name == binding and height < rule.least - 1e-6:
            yield Finding(
                "warning",
                "practice",
                "upstand height",
                f"the upstand of {case.show(height)} is "
                f"{case.show(rule.least - height)} lower than the least the shop "
                f"holds to, {case.show(rule.least)}",
                "Raise it, or choose another source as the shop's rule.",
                _marks(case),
                rule.source,
            )
    if made.wall.onto_roof < ONTO_ROOF - 1e-6:
        yield Finding(
            "warning",
            "practice",
            "metal onto the roof",
            f"the base is {case.show(made.wall.onto_roof)} wide; at least "
            f"{case.show(ONTO_ROOF)} of metal should lie on the roof",
            "Take more metal on to the roof.",
            _marks(case),
            "Copper in Architecture Design Handbook, section 9.8: 4 in",
        )
