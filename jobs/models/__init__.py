"""What is asked, measured and made: one noun family per file."""

from jobs.models.accounts import Account, FamilyAccount, RemakeAccount
from jobs.models.clients import Client
from jobs.models.costs import Cost
from jobs.models.events import Event
from jobs.models.jobs import Job
from jobs.models.looks import LooksRule
from jobs.models.pieces import Piece
from jobs.models.quotes import Quote, QuoteLine
from jobs.models.sites import Measurement, Site
from jobs.models.times import WorkTime

__all__ = [
    "Account",
    "Client",
    "Cost",
    "Event",
    "FamilyAccount",
    "Job",
    "LooksRule",
    "Measurement",
    "Piece",
    "Quote",
    "QuoteLine",
    "RemakeAccount",
    "Site",
    "WorkTime",
]
