from __future__ import annotations

import sys
import time
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser

from jobs import demo as demo_job
from jobs.models import Job
from layout.laying import lay_out_job
from layout.models import Layout
from shop import supervise
from shop.demo import NotTheDemo, open_demo_shop
from shop.models import Errand, Person

PATIENCE = 120  # seconds for the cut sheets


class Command(BaseCommand):
    help = "Run the main job on a demo shop, through the real queue, then serve it."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--no-serve", action="store_true", help="end after the cut sheets"
        )
        parser.add_argument("--port", type=int, default=8000)

    def handle(self, *args: Any, **options: Any) -> None:
        call_command("migrate", verbosity=0)
        try:
            owner, password = open_demo_shop()
        except NotTheDemo as fault:
            raise CommandError(str(fault)) from fault
        job = demo_job.load()
        errand = ask_for_papers(laid_out(job, owner), owner)
        worker = supervise.start(supervise.worker())
        try:
            carried(errand)
        finally:
            supervise.end({"worker": worker})
        self.stdout.write(f"Cut sheets of job {job.number}: {papers_of(errand)}")
        if not options["no_serve"]:
            self.serve(options["port"], owner, password)

    def serve(self, port: int, owner: Person, password: str) -> None:
        bind = f"127.0.0.1:{port}"
        self.stdout.write(
            f"Serving on http://{bind}/ until Ctrl-C.\n"
            f"Sign in as {owner.username} (owner), wren (office) or rowan (crew)"
            f" with the password {password}"
        )
        commands = {"web": supervise.web(bind), "worker": supervise.worker()}
        sys.exit(supervise.keep_up(commands, self.stdout.write))


def laid_out(job: Job, owner: Person) -> Layout:
    layout = lay_out_job(job, owner)
    if not layout.is_done():
        raise CommandError(f"The demo job was not laid out. {layout.reason}")
    return layout


def ask_for_papers(layout: Layout, owner: Person) -> Errand:
    """Ask for the cut sheets."""
    raise CommandError("The demo can't ask for its papers yet.")  # FOUNDER wires


def papers_of(errand: Errand) -> str:
    """Where the PDF lies."""
    raise CommandError("The demo can't find its papers yet.")  # FOUNDER wires


def carried(errand: Errand) -> None:
    """Wait until a worker has done the errand; a failure is told and ends the demo."""
    late = time.monotonic() + PATIENCE
    while time.monotonic() < late:
        errand.refresh_from_db()
        if errand.state == Errand.State.DONE:
            return
        if errand.state == Errand.State.FAILED:
            raise CommandError(f"The cut sheets were not made. {errand.reason}")
        time.sleep(0.2)
    raise CommandError(f"The cut sheets were not made in {PATIENCE} s.")
