"""Hours a shop starts with, until its own are known: plain rows, no Django.

No openly published figure was found for flashing work (trade values 11.11, 11.12), so
all of these are common practice, no source. The books offer better ones from the
shop's own jobs.
"""

from __future__ import annotations

from typing import NamedTuple

CUTTING, BENDING, INSTALLING = "cutting", "bending", "installing"
MEASURING, SETTING_UP, TRAVELLING, OTHER = (
    "measuring", "setting_up", "travelling", "other",
)  # fmt: skip
OF_A_PIECE = (CUTTING, BENDING, INSTALLING)
OF_A_JOB = (MEASURING, SETTING_UP, TRAVELLING, OTHER)

STAGE_WORDS = {
    CUTTING: "marking out and cutting",
    BENDING: "bending",
    INSTALLING: "installing",
    MEASURING: "measuring",
    SETTING_UP: "setting up and clearing",
    TRAVELLING: "travelling",
    OTHER: "other work",
}

SOURCE = "common practice, no source"


class HoursRow(NamedTuple):
    """minutes: of one piece, or of one visit where the family is empty."""

    family: str
    stage: str
    minutes: float


def _piece(
    family: str, cutting: float, bending: float, installing: float
) -> tuple[HoursRow, ...]:
    return (
        HoursRow(family, CUTTING, cutting),
        HoursRow(family, BENDING, bending),
        HoursRow(family, INSTALLING, installing),
    )


HOURS: tuple[HoursRow, ...] = (
    *_piece("apron", 30, 30, 40),
    *_piece("side_pan", 35, 40, 60),
    *_piece("back_pan", 40, 45, 60),
    *_piece("saddle_half", 45, 50, 75),
    *_piece("counterflashing", 25, 25, 45),
    *_piece("cleat", 1, 1, 3),
    *_piece("profile", 15, 20, 25),
    *_piece("valley", 25, 30, 50),
    *_piece("wall", 20, 25, 40),
    *_piece("end_cap", 15, 15, 15),
    *_piece("pipe_collar", 30, 35, 40),
    *_piece("", 30, 30, 45),
    HoursRow("", MEASURING, 60),
    HoursRow("", SETTING_UP, 90),
    HoursRow("", TRAVELLING, 45),
)

WASTE_PERCENT = 15.0
"""Metal lost beside the blanks, where no cut plan says. Common practice, no source."""
