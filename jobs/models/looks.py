from __future__ import annotations

from django.db import models
from django.db.models import Q

from jobs.models.jobs import Job


class LooksRuleQuerySet(models.QuerySet["LooksRule"]):
    def binding(self) -> LooksRuleQuerySet:
        """Rules to hold to: asked or agreed, not waived."""
        return self.exclude(standing=LooksRule.Standing.WAIVED)

    def unsettled(self) -> LooksRuleQuerySet:
        return self.filter(standing=LooksRule.Standing.ASKED)


class LooksRule(models.Model):
    """One demand of the client's eye, in words and, where it can be, in a number."""

    class Kind(models.TextChoices):
        SEAM_HEIGHT = "seam_height", "seam height to match"
        SEAM_SPACING = "seam_spacing", "seam spacing to match"
        METAL = "metal", "metal"
        FINISH = "finish", "finish or colour"
        NO_FASTENERS = "no_fasteners", "no visible fasteners"
        NO_SEALANT = "no_sealant", "no visible sealant"
        HIGHEST_UPSTAND = "highest_upstand", "highest visible upstand"
        COUNTERFLASHING = "counterflashing", "counterflashing stepped or raked"
        LINES_THROUGH = "lines_through", "lines to carry through"
        LEAVE_AS_IS = "leave_as_is", "leave the original design as it is"
        OTHER = "other", "something else"

    class Standing(models.TextChoices):
        ASKED = "asked", "asked"
        AGREED = "agreed", "agreed"
        WAIVED = "waived", "waived"

    # Kinds that can be checked against a length.
    WITH_LENGTH = (Kind.SEAM_HEIGHT, Kind.SEAM_SPACING, Kind.HIGHEST_UPSTAND)

    job = models.ForeignKey(Job, models.PROTECT, related_name="looks_rules")
    kind = models.CharField(max_length=20, choices=Kind.choices)
    words = models.TextField(help_text="The demand as the client would say it.")
    number_mm = models.DecimalField(
        "length", max_digits=10, decimal_places=4, null=True, blank=True
    )
    who_asked = models.CharField(max_length=120)
    standing = models.CharField(
        max_length=6, choices=Standing.choices, default=Standing.ASKED, editable=False
    )
    settled_by = models.CharField(
        max_length=120,
        blank=True,
        editable=False,
        help_text="Whose word it is: the person on the client's side who settled it.",
    )
    settled_on = models.DateField(null=True, blank=True, editable=False)

    objects = LooksRuleQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(words=""), name="looks_rule_has_words"),
            models.CheckConstraint(
                condition=~Q(who_asked=""), name="looks_rule_says_who_asked"
            ),
            models.CheckConstraint(
                condition=Q(number_mm__isnull=True) | Q(number_mm__gt=0),
                name="looks_rule_length_positive",
            ),
            models.CheckConstraint(
                condition=Q(standing="asked", settled_by="", settled_on__isnull=True)
                | (
                    Q(standing__in=["agreed", "waived"], settled_on__isnull=False)
                    & ~Q(settled_by="")
                ),
                name="looks_rule_settled_by_someone_on_a_day",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {self.words}"
