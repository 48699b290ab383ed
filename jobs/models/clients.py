from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.urls import reverse


class ClientQuerySet(models.QuerySet["Client"]):
    def by_name(self) -> ClientQuerySet:
        return self.order_by("name", "pk")

    def matching(self, words: str) -> ClientQuerySet:
        """Clients in whom every word is found: name, phone, email or address."""
        found = self
        for word in words.split():
            found = found.filter(
                Q(name__icontains=word)
                | Q(phone__icontains=word)
                | Q(email__icontains=word)
                | Q(address__icontains=word)
            )
        return found

    def with_open_jobs(self) -> ClientQuerySet:
        """Each with `open_jobs`, the number of them."""
        return self.annotate(
            open_jobs=models.Count("jobs", filter=Q(jobs__state="open"))
        )


class Client(models.Model):
    """One household or firm the shop works for."""

    name = models.CharField(max_length=120)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField("e-mail", blank=True)
    address = models.TextField("postal address", blank=True)
    note = models.TextField(
        blank=True, help_text="What the next person who calls should know."
    )
    version = models.PositiveIntegerField(default=1, editable=False)

    objects = ClientQuerySet.as_manager()

    class Meta:
        ordering = ["name", "pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(name=""), name="client_has_a_name"),
        ]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return reverse("jobs:client", args=[self.pk])
