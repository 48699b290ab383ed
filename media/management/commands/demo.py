from __future__ import annotations

import sys
import time
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser

from jobs import demo as demo_job
from jobs.models import Job
from layout import measures, taking
from layout.faults import BadRecord
from media.documents import NothingToDraw, ask_for_cut_sheets
from media.models import Document
from shop import demo_goods, supervise
from shop.demo import NotTheDemo, open_demo_shop
from shop.models import Person

# How the demo's chimney is built: what the layout page asks the crew for.
CHOSEN = {
    "metal": "copper 20 oz",
    "build.back": "saddle",
    "build.counterflashing": "stepped",
    "build.sweep_radius": "3",
    "build.leg_at_wall_top": "1/2",
}
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
        demo_goods.fill(owner)
        job = demo_job.load()
        document = asked_for(job, owner, f"http://127.0.0.1:{options['port']}")
        lines = settings.SEAMBOOK_HOME / "demo-worker.log"
        worker = supervise.start(supervise.worker(), lines)
        try:
            wait_for(document)
        except CommandError as fault:
            raise CommandError(f"{fault} The worker's lines: {lines}") from fault
        finally:
            supervise.end({"worker": worker})
        document.refresh_from_db()
        self.stdout.write(f"Cut sheets of job {job.number}: {document.file.path}")
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


def asked_for(job: Job, owner: Person, address: str) -> Document:
    """The demo job with its choices made and laid out, and its cut sheets asked for."""
    site = job.sites.get()
    unit = taking.unit_of(site)
    chosen = {
        name: (words, measures.read(measures.BY_NAME[name], words, unit))
        for name, words in CHOSEN.items()
    }
    taking.take_sheet(site, chosen, owner, with_="", key="demo")
    try:
        return ask_for_cut_sheets(job, owner, address=address)
    except (BadRecord, NothingToDraw) as fault:
        raise CommandError(f"The demo job was not laid out. {fault}") from fault


def wait_for(document: Document) -> None:
    """Until a worker has made the paper; a failure is told and ends the demo."""
    late = time.monotonic() + PATIENCE
    while time.monotonic() < late:
        document = Document.objects.select_related("errand").get(pk=document.pk)
        if document.is_made():
            return
        if not document.is_waiting():
            raise CommandError(f"The cut sheets were not made. {document.why()}")
        time.sleep(0.2)
    raise CommandError(f"The cut sheets were not made in {PATIENCE} s.")
