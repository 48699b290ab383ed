"""The Celery app. The broker is only a bell: what is to be done stands in rows."""

from __future__ import annotations

import os
from pathlib import Path

from celery import Celery

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")

app = Celery("seambook")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()


def hang_the_bell() -> None:
    """Make the folders of the file broker; a server needs none."""
    from django.conf import settings

    options = settings.CELERY_BROKER_TRANSPORT_OPTIONS
    for name in ("data_folder_in", "control_folder"):
        if folder := options.get(name):
            Path(folder).mkdir(parents=True, exist_ok=True, mode=0o700)


hang_the_bell()
