from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils import timezone

from jobs.models import Job, Quote
from layout.models import CutPlan, Layout
from media import naming
from shop.models import Errand


class DocumentQuerySet(models.QuerySet["Document"]):
    def newest_first(self) -> DocumentQuerySet:
        return self.select_related("asked_by", "errand", "layout").order_by("-number")

    def of_job(self, job: Job | int) -> DocumentQuerySet:
        """The job's own, and those of every cut plan it is part of."""
        plans = CutPlan.objects.filter(jobs=job)
        return self.filter(Q(job=job) | Q(plan__in=plans))

    def waiting(self) -> DocumentQuerySet:
        return self.filter(state=Document.State.WAITING)

    def living(self) -> DocumentQuerySet:
        """Made, or still to come."""
        return self.filter(
            Q(state=Document.State.MADE)
            | Q(state=Document.State.WAITING) & ~Q(errand__state=Errand.State.FAILED)
        )


class Document(models.Model):
    """One numbered paper of the shop. Once made it is never changed."""

    class Kind(models.TextChoices):
        CUT_SHEETS = "cut_sheets", "cut sheets"
        QUOTE = "quote", "quote"
        HAND_OVER = "hand_over", "hand-over"
        CUT_PLAN = "cut_plan", "cut plan"

    class State(models.TextChoices):
        WAITING = "waiting", "waiting"
        MADE = "made", "made"
        REFUSED = "refused", "refused"
        FAILED = "failed", "failed"

    job = models.ForeignKey(Job, models.PROTECT, related_name="documents")
    number = models.PositiveIntegerField(unique=True, help_text="Runs on in the shop.")
    kind = models.CharField(max_length=20, choices=Kind.choices)
    title = models.CharField(max_length=160)
    layout = models.ForeignKey(
        Layout, models.PROTECT, null=True, blank=True, related_name="documents"
    )
    quote = models.ForeignKey(
        Quote, models.PROTECT, null=True, blank=True, related_name="documents"
    )
    plan = models.ForeignKey(
        CutPlan, models.PROTECT, null=True, blank=True, related_name="documents"
    )
    paper = models.CharField(max_length=6)
    about = models.JSONField(
        default=dict,
        blank=True,
        help_text="The words it says beside the layout, as they were when asked for.",
    )
    state = models.CharField(max_length=8, choices=State.choices, default=State.WAITING)
    reason = models.TextField(blank=True, help_text="Why it was not made.")
    errand = models.OneToOneField(
        Errand, models.PROTECT, null=True, blank=True, related_name="document"
    )
    asked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="documents_asked"
    )
    asked_at = models.DateTimeField(default=timezone.now)
    made_at = models.DateTimeField(null=True, blank=True)
    file = models.FileField(
        upload_to=naming.folder_of_papers, max_length=200, blank=True
    )
    digest = models.CharField(
        max_length=64, blank=True, help_text="SHA-256 of the file."
    )
    size = models.PositiveIntegerField(null=True, blank=True, help_text="Bytes.")
    key = models.CharField(max_length=120, null=True, blank=True, unique=True)

    objects = DocumentQuerySet.as_manager()

    class Meta:
        ordering = ["-number"]
        indexes = [models.Index(fields=["job", "-number"], name="documents_by_job")]
        constraints = [
            models.CheckConstraint(
                condition=Q(
                    ~Q(file=""), ~Q(digest=""), state="made", made_at__isnull=False
                )
                | Q(~Q(state="made"), file="", digest="", made_at__isnull=True),
                name="document_made_has_its_file",
            ),
            models.CheckConstraint(
                condition=Q(state__in=["waiting", "made"], reason="")
                | (Q(state__in=["refused", "failed"]) & ~Q(reason="")),
                name="document_not_made_says_why",
            ),
            models.CheckConstraint(
                condition=Q(key__isnull=True) | ~Q(key=""),
                name="document_key_not_blank",
            ),
        ]

    def __str__(self) -> str:
        return f"Paper {self.number}"

    def get_absolute_url(self) -> str:
        return reverse("media:document", args=[self.pk])

    def paper_words(self) -> str:
        return {"letter": "Letter", "a4": "A4"}.get(self.paper, self.paper)

    def standing(self) -> str:
        """Its state; failed too where its errand was given up."""
        gave_up = (
            self.state == self.State.WAITING
            and self.errand is not None
            and self.errand.state == Errand.State.FAILED
        )
        return self.State.FAILED if gave_up else self.state

    def standing_words(self) -> str:
        return self.State(self.standing()).label

    def why(self) -> str:
        """Why it was not made, for a person."""
        if self.reason or self.errand is None:
            return self.reason
        return self.errand.reason

    def is_waiting(self) -> bool:
        return self.standing() == self.State.WAITING

    def is_made(self) -> bool:
        return self.state == self.State.MADE
