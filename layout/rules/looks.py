"""The client's demands of the looks, judged on what is laid out."""

from __future__ import annotations

from collections.abc import Iterator

from layout.folding.result import Finding
from layout.rules.case import Case, LooksRule

MATCH = 1.6
"""Seams look alike within a sixteenth of an inch, mm: what a tape shows.
Common practice, no source."""


def kept(case: Case) -> Iterator[Finding]:
    """One finding for each rule that is broken."""
    for rule in case.looks:
        broken = _broken(case, rule)
        if broken:
            message, remedy = broken
            word = "agreed" if rule.agreed else "asked for"
            yield Finding(
                "warning",
                "client",
                "looks rule broken",
                f'"{rule.words}" ({word}, {rule.who_asked}): {message}',
                remedy,
                "",
                f"the client's demand, {rule.who_asked}",
            )


def _broken(case: Case, rule: LooksRule) -> tuple[str, str] | None:
    judges = {
        "seam_height": _seam_height,
        "seam_spacing": _seam_spacing,
        "highest_upstand": _highest,
        "metal": _metal,
        "counterflashing": _counterflashing,
    }
    judge = judges.get(rule.kind)
    return judge(case, rule) if judge else None


def _seam_height(case: Case, rule: LooksRule) -> tuple[str, str] | None:
    have = case.site.seam.height
    if rule.number is None or abs(have - rule.number) <= MATCH:
        return None
    return (
        f"the seam is laid out {case.show(have)} high, {case.show(rule.number)} is "
        "to be matched",
        "Lay out with the seam that is there, or ask the client.",
    )


def _seam_spacing(case: Case, rule: LooksRule) -> tuple[str, str] | None:
    widest = max(case.site.left_pan, case.site.right_pan)
    if rule.number is None or widest <= rule.number + MATCH:
        return None
    return (
        f"a side pan is {case.show(widest)} wide, seams stand "
        f"{case.show(rule.number)} apart",
        "Seam at the roof's own seam, or ask the client.",
    )


def _highest(case: Case, rule: LooksRule) -> tuple[str, str] | None:
    site = case.site
    tallest = max(
        site.upstand_front,
        site.upstand_side,
        site.upstand_back,
        site.reglet if site.counterflashing != "none" else 0.0,
    )
    if rule.number is None or tallest <= rule.number + MATCH:
        return None
    return (
        f"metal shows {case.show(tallest)} up the wall, {case.show(rule.number)} is "
        "the most",
        "Lower the upstand or the groove as far as the trade's rules allow.",
    )


def _metal(case: Case, rule: LooksRule) -> tuple[str, str] | None:
    words = rule.words.casefold()
    named = [kind for kind in KINDS if kind in words]
    if not named or case.shop.metal.kind in named:
        return None
    return (
        f"{case.shop.metal.name} is laid out",
        f"Use {' or '.join(named)}, or ask the client.",
    )


KINDS = ("copper", "zinc", "stainless", "aluminium", "lead", "steel")


def _counterflashing(case: Case, rule: LooksRule) -> tuple[str, str] | None:
    words, built = rule.words.casefold(), case.site.counterflashing
    wants = {
        "stepped": "step" in words,
        "level and raked": "rake" in words,
    }
    if not any(wants.values()) or built == "none" or wants.get(built):
        return None
    return (f"the counterflashing is laid out {built}", "Choose the other kind.")


def seam_matches(case: Case) -> Iterator[Finding]:
    """The seam legs must match the existing roof's, or they can't be seamed to it.

    Looks at the roof's seam as it was booked: a rule of kind "present_seam".
    """
    seam = case.site.seam
    for rule in case.looks:
        if rule.kind != "present_seam":
            continue
        faults = []
        if rule.words in ("single", "double") and rule.words != seam.fold:
            faults.append(f"a {rule.words} fold was booked, {seam.fold} is laid out")
        if rule.number is not None and abs(seam.height - rule.number) > MATCH:
            faults.append(
                f"a height of {case.show(rule.number)} was booked, "
                f"{case.show(seam.height)} is laid out"
            )
        if faults:
            yield Finding(
                "warning",
                "shop",
                "seam does not match the roof's",
                f"the roof's seam: {'; '.join(faults)}; the legs would not match",
                "Measure the roof's seam again; fold what is there.",
                "",
                "the job as it was booked",
            )
