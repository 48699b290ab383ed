from __future__ import annotations

import datetime
from decimal import Decimal

from django.db import models

from jobs.models.jobs import Job
from jobs.models.pieces import Piece
from jobs.models.quotes import Quote, sum_field


class AccountQuerySet(models.QuerySet["Account"]):
    def of_state(self, state: str) -> AccountQuerySet:
        return self.filter(state=state)

    def between(
        self, since: datetime.date | None, until: datetime.date
    ) -> AccountQuerySet:
        """Closed from since to until, both included; since None: from the first."""
        found = self.filter(closed_on__lte=until)
        return found if since is None else found.filter(closed_on__gte=since)


class Account(models.Model):
    """What a closed job was quoted at and what it took. Reckoned from its quote, hours
    and costs; reckoned again when one of those comes late."""

    job = models.OneToOneField(Job, models.CASCADE, related_name="account")
    state = models.CharField(max_length=5, help_text="How the job ended.")
    closed_on = models.DateField()
    quote = models.ForeignKey(Quote, models.PROTECT, null=True, related_name="+")
    currency = models.CharField(max_length=3)
    quoted_metal = sum_field(default=Decimal(0))
    quoted_labour = sum_field(default=Decimal(0))
    quoted_other = sum_field(default=Decimal(0))
    quoted_net = sum_field(default=Decimal(0), help_text="The price before tax.")
    quoted_minutes = models.DecimalField(max_digits=9, decimal_places=1, default=0)
    metal = sum_field(default=Decimal(0))
    labour = sum_field(default=Decimal(0))
    other = sum_field(default=Decimal(0))
    minutes = models.DecimalField(max_digits=10, decimal_places=2, default=0)
    unpriced_minutes = models.DecimalField(
        max_digits=10,
        decimal_places=2,
        default=0,
        help_text="Of hours that had no price; not in labour.",
    )
    pieces = models.PositiveIntegerField(default=0)
    remakes = models.PositiveIntegerField(default=0)

    objects = AccountQuerySet.as_manager()

    class Meta:
        ordering = ["-closed_on", "-job"]
        indexes = [models.Index(fields=["state", "closed_on"], name="accounts_by_day")]

    def __str__(self) -> str:
        return f"Account of {self.job}"

    def quoted(self) -> Decimal:
        return self.quoted_metal + self.quoted_labour + self.quoted_other

    def real(self) -> Decimal:
        return self.metal + self.labour + self.other

    def kept(self) -> Decimal:
        """What is left of the price for overhead and gain."""
        return self.quoted_net - self.real()


class FamilyAccount(models.Model):
    """One piece family of a closed job at one stage; its metal where stage is empty."""

    account = models.ForeignKey(Account, models.CASCADE, related_name="families")
    closed_on = models.DateField()
    family = models.SlugField(max_length=40, blank=True, db_index=False)
    stage = models.CharField(max_length=12, blank=True)
    pieces = models.PositiveIntegerField(default=0)
    quoted_minutes = models.DecimalField(max_digits=9, decimal_places=1, default=0)
    minutes = models.DecimalField(max_digits=10, decimal_places=2, default=0)
    quoted = sum_field(default=Decimal(0))
    real = sum_field(default=Decimal(0))

    class Meta:
        ordering = ["account", "family", "stage"]
        indexes = [
            models.Index(fields=["closed_on", "stage"], name="family_accounts_by_day"),
            # All the books ask about hours: the rows themselves are not read.
            models.Index(
                fields=[
                    "family",
                    "stage",
                    "closed_on",
                    "pieces",
                    "minutes",
                    "account",
                ],
                name="family_accounts_hours",
            ),
        ]
        constraints = [
            models.UniqueConstraint(
                fields=["account", "family", "stage"], name="family_account_once"
            )
        ]

    def __str__(self) -> str:
        return f"{self.family} {self.stage}".strip()


class RemakeAccount(models.Model):
    """One scrapped piece of a closed job and what it cost until then."""

    account = models.ForeignKey(Account, models.CASCADE, related_name="remade")
    piece = models.OneToOneField(Piece, models.CASCADE, related_name="+")
    closed_on = models.DateField()
    reason = models.CharField(max_length=20, choices=Piece.Spoiled.choices)
    family = models.SlugField(max_length=40)
    minutes = models.DecimalField(max_digits=10, decimal_places=2, default=0)
    labour = sum_field(default=Decimal(0))
    metal = sum_field(default=Decimal(0))

    class Meta:
        ordering = ["account", "piece"]
        indexes = [models.Index(fields=["closed_on"], name="remakes_by_day")]

    def __str__(self) -> str:
        return f"{self.piece}: {self.get_reason_display()}"

    def price(self) -> Decimal:
        return self.labour + self.metal
