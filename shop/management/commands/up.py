from __future__ import annotations

import sys
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandParser

from shop import supervise
from shop.opening import open_shop


class Command(BaseCommand):
    help = "Bring the database up to date, then run the site and its worker until ^C."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--bind", default="127.0.0.1:8000", help="address:port")
        parser.add_argument("--reload", action="store_true", help="watch the code")

    def handle(self, *args: Any, **options: Any) -> None:
        call_command("migrate", verbosity=0)
        open_shop()
        self.stdout.write(f"Serving on {options['bind']}. End with Ctrl-C.")
        commands = {
            "web": supervise.web(options["bind"], reload=options["reload"]),
            "worker": supervise.worker(),
        }
        sys.exit(supervise.keep_up(commands, self.stdout.write))
