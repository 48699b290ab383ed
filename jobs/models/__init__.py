"""What is asked, measured and made: one noun family per file."""

from jobs.models.clients import Client
from jobs.models.events import Event
from jobs.models.jobs import Job
from jobs.models.looks import LooksRule
from jobs.models.pieces import Piece
from jobs.models.sites import Measurement, Site

__all__ = [
    "Client",
    "Event",
    "Job",
    "LooksRule",
    "Measurement",
    "Piece",
    "Site",
]
