from __future__ import annotations

import datetime

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.urls import reverse

from jobs.models.clients import Client


class JobQuerySet(models.QuerySet["Job"]):
    def open(self) -> JobQuerySet:
        return self.filter(state=Job.State.OPEN)

    def closed(self) -> JobQuerySet:
        return self.exclude(state=Job.State.OPEN)

    def not_called_off(self) -> JobQuerySet:
        return self.exclude(state=Job.State.OFF)

    def newest_first(self) -> JobQuerySet:
        return self.order_by("-number")

    def of_client(self, client: Client | int) -> JobQuerySet:
        return self.filter(client=client)

    def matching(self, words: str) -> JobQuerySet:
        """Jobs in which every word is found: number, title, client or address."""
        found = self
        for word in words.split():
            match = (
                Q(title__icontains=word)
                | Q(client__name__icontains=word)
                | Q(site_address__icontains=word)
            )
            # Longer digits than a number column can hold are words, not numbers.
            if word.isdecimal() and len(word) <= 9:
                match |= Q(number=int(word))
            found = found.filter(match)
        return found

    def visited_or_installed_between(
        self, first: datetime.date, last: datetime.date
    ) -> JobQuerySet:
        """Jobs with a visit or an install day from first to last, both included."""
        return self.filter(
            Q(visit_on__range=(first, last))
            | Q(install_from__lte=last, install_until__gte=first)
        )

    def waiting_for_measures(self) -> JobQuerySet:
        """Open jobs with nothing measured yet, or with a piece still only asked."""
        jobs = Job.objects.order_by()
        measured = jobs.filter(sites__measurements__isnull=False).values("pk")
        asked = jobs.filter(pieces__state="asked", pieces__scrapped=False).values("pk")
        return self.open().filter(~Q(pk__in=measured) | Q(pk__in=asked))

    def to_measure_by(self, day: datetime.date) -> JobQuerySet:
        """Open jobs visited that day, or before it and still waiting for measures."""
        late = self.waiting_for_measures().filter(visit_on__lt=day).order_by()
        return self.open().filter(Q(visit_on=day) | Q(pk__in=late.values("pk")))

    def at_work(self) -> JobQuerySet:
        """Open jobs with a piece between laid out and installed."""
        under_way = Job.objects.order_by().filter(
            pieces__state__in=["laid_out", "cut", "bent"], pieces__scrapped=False
        )
        return self.open().filter(pk__in=under_way.values("pk"))

    def soonest_first(self) -> JobQuerySet:
        """By install day; those without one last."""
        return self.order_by(F("install_from").asc(nulls_last=True), "number")

    def with_pieces(self) -> JobQuerySet:
        return self.prefetch_related("pieces")


class Job(models.Model):
    """One piece of work for a client at one place."""

    class State(models.TextChoices):
        OPEN = "open", "open"
        DONE = "done", "handed over"
        OFF = "off", "called off"

    class Seam(models.TextChoices):
        SINGLE = "single", "standing seam, single fold"
        DOUBLE = "double", "standing seam, double fold"
        BATTEN = "batten", "batten roll"
        FLAT = "flat", "flat lock"
        OTHER = "other", "another kind"

    number = models.PositiveIntegerField(unique=True, editable=False)
    client = models.ForeignKey(Client, models.PROTECT, related_name="jobs")
    title = models.CharField(
        max_length=120, help_text="A few words, for example: chimney, north slope."
    )
    site_address = models.TextField(blank=True)
    leaks = models.TextField("what leaks", blank=True)
    present_metal = models.CharField("metal there now", max_length=60, blank=True)
    present_seam_kind = models.CharField(
        "seam there now", max_length=10, choices=Seam.choices, blank=True
    )
    present_seam_height_mm = models.DecimalField(
        "height of that seam", max_digits=10, decimal_places=4, null=True, blank=True
    )
    present_pan_width_mm = models.DecimalField(
        "width of a pan, seam to seam",
        max_digits=10,
        decimal_places=4,
        null=True,
        blank=True,
    )
    present_colour = models.CharField("colour there now", max_length=60, blank=True)
    access = models.TextField(
        blank=True,
        help_text="How to get on the roof: ladder, scaffold, parking, dogs, keys.",
    )
    wished_from = models.DateField(null=True, blank=True)
    wished_until = models.DateField(null=True, blank=True)
    visit_on = models.DateField("site visit", null=True, blank=True)
    install_from = models.DateField("first install day", null=True, blank=True)
    install_until = models.DateField("last install day", null=True, blank=True)
    state = models.CharField(
        max_length=5, choices=State.choices, default=State.OPEN, editable=False
    )
    created_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        related_name="jobs_booked",
        editable=False,
    )
    created_at = models.DateTimeField(auto_now_add=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    objects = JobQuerySet.as_manager()

    class Meta:
        ordering = ["-number"]
        indexes = [
            models.Index(fields=["state", "-number"], name="jobs_by_state"),
            models.Index(fields=["visit_on"], name="jobs_by_visit"),
            models.Index(fields=["install_from"], name="jobs_by_install"),
        ]
        constraints = [
            models.CheckConstraint(condition=~Q(title=""), name="job_has_a_title"),
            models.CheckConstraint(
                condition=Q(state__in=["open", "done", "off"]),
                name="job_state_is_known",
            ),
            models.CheckConstraint(
                condition=Q(wished_from__isnull=True)
                | Q(wished_until__isnull=True)
                | Q(wished_until__gte=F("wished_from")),
                name="job_wish_ends_after_it_begins",
            ),
            models.CheckConstraint(
                condition=Q(install_from__isnull=True, install_until__isnull=True)
                | Q(install_until__gte=F("install_from")),
                name="job_install_ends_after_it_begins",
            ),
            models.CheckConstraint(
                condition=Q(present_seam_height_mm__isnull=True)
                | Q(present_seam_height_mm__gt=0),
                name="job_present_seam_height_positive",
            ),
            models.CheckConstraint(
                condition=Q(present_pan_width_mm__isnull=True)
                | Q(present_pan_width_mm__gt=0),
                name="job_present_pan_width_positive",
            ),
        ]

    def __str__(self) -> str:
        return f"Job {self.number}"

    def get_absolute_url(self) -> str:
        return reverse("jobs:job", args=[self.pk])

    def is_open(self) -> bool:
        return self.state == self.State.OPEN

    def is_installed_on(self, day: datetime.date) -> bool:
        return (
            self.install_from is not None
            and self.install_until is not None
            and self.install_from <= day <= self.install_until
        )
