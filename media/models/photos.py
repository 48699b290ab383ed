from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils import timezone

from jobs.models import Cost, Job
from layout import measures
from media import naming


class PhotoQuerySet(models.QuerySet["Photo"]):
    def with_names(self) -> PhotoQuerySet:
        return self.select_related("uploaded_by").order_by("-uploaded_at", "-pk")

    def of_the_work(self) -> PhotoQuerySet:
        """Receipts left out: those are money."""
        return self.filter(cost__isnull=True)

    def beside(self, measure: str) -> PhotoQuerySet:
        """Photos taken of one measure of the sheet."""
        return self.filter(measure=measure)


class Photo(models.Model):
    """One photo of a job, upright and without its private marks."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="photos")
    measure = models.CharField(
        max_length=60,
        blank=True,
        help_text="Path in the site record, such as penetration.front, or nothing.",
    )
    cost = models.ForeignKey(
        Cost,
        models.PROTECT,
        null=True,
        blank=True,
        related_name="receipts",
        help_text="The cost it is the receipt of.",
    )
    caption = models.CharField(max_length=200, blank=True)
    uploaded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="photos"
    )
    uploaded_at = models.DateTimeField(default=timezone.now)
    taken_at = models.DateTimeField(
        null=True, blank=True, help_text="By the camera's own clock."
    )
    file = models.FileField(upload_to=naming.photo_place, max_length=200)
    small = models.FileField(upload_to=naming.photo_place, max_length=200)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    digest = models.CharField(max_length=64, help_text="SHA-256 of what was sent.")
    key = models.CharField(
        max_length=120,
        null=True,
        blank=True,
        unique=True,
        help_text="Set by whoever sends it, so that sending it twice keeps one.",
    )

    objects = PhotoQuerySet.as_manager()

    class Meta:
        ordering = ["-uploaded_at", "-pk"]
        indexes = [models.Index(fields=["job", "measure"], name="photos_by_measure")]
        constraints = [
            models.CheckConstraint(
                condition=Q(width__gt=0, height__gt=0), name="photo_has_a_size"
            ),
            models.CheckConstraint(
                condition=Q(key__isnull=True) | ~Q(key=""), name="photo_key_not_blank"
            ),
        ]

    def __str__(self) -> str:
        return self.caption or f"Photo {self.pk}"

    def get_absolute_url(self) -> str:
        return reverse("media:photo", args=[self.pk])

    def words(self) -> str:
        """What a reader who can't see it is told."""
        if self.caption:
            return self.caption
        if self.measure:
            return f"Photo of {self.measure_words()}"
        return f"Photo by {self.uploaded_by}"

    def measure_words(self) -> str:
        """What the sheet calls the measure it was taken of."""
        known = measures.BY_NAME.get(self.measure)
        return known.title_alone if known else self.measure.replace(".", " ")
