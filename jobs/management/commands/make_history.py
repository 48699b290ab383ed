from __future__ import annotations

import time
from random import Random
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from jobs import past
from jobs.models import Event, Job, Piece, WorkTime
from jobs.past_plan import months
from shop.opening import open_shop

MOST_YEARS = 50


class Command(BaseCommand):
    help = "Fill an empty shop with an invented past, to try the books on many years."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--years", type=int, default=20)
        parser.add_argument(
            "--pieces-a-year", type=int, default=15000, help="15000 for a large shop"
        )
        parser.add_argument("--seed", type=int, default=1)

    def handle(self, *args: Any, **options: Any) -> None:
        years, each = options["years"], options["pieces_a_year"]
        if not 1 <= years <= MOST_YEARS:
            raise CommandError(f"--years is {years}. Give 1 to {MOST_YEARS}.")
        if not 15 <= each <= 100_000:
            raise CommandError(f"--pieces-a-year is {each}. Give 15 to 100000.")
        open_shop()
        if Job.objects.exists():
            raise CommandError(
                "This shop has jobs of its own, and an invented past would mix with"
                " them. Set SEAMBOOK_HOME to an empty folder and migrate it first."
            )
        started = time.monotonic()
        chance, until = Random(options["seed"]), timezone.localdate()
        rows = past.begin(until.year - years, until.year)
        pieces = 0
        for planned in months(chance, years, each, until):
            pieces += past.write_month(rows, chance, planned)
            if options["verbosity"] > 1 and planned:
                self.stdout.write(f"{planned[0].booked:%b %Y}: {pieces} pieces")
        took = time.monotonic() - started
        self.stdout.write(
            f"{Job.objects.count()} jobs, {Piece.objects.count()} pieces,"
            f" {Event.objects.count()} events, {WorkTime.objects.count()} hours"
            f" of work, in {took:.0f} s."
        )
