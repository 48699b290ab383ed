from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand

from shop.opening import open_shop


class Command(BaseCommand):
    help = "Add the metals, standards, brakes and stock that a shop starts with."

    def handle(self, *args: Any, **options: Any) -> None:
        added = open_shop()
        self.stdout.write(f"{added} rows added." if added else "Nothing was missing.")
