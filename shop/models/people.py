from __future__ import annotations

from typing import Any

from django.contrib.auth.models import AbstractUser, UserManager
from django.db import models
from django.db.models import Q


class PersonManager(UserManager["Person"]):
    def create_superuser(self, username: str, *args: Any, **extra: Any) -> Person:
        extra.setdefault("role", Person.Role.OWNER)
        return super().create_superuser(username, *args, **extra)


class Person(AbstractUser):
    """One member of the shop, who signs in by name."""

    class Role(models.TextChoices):
        OFFICE = "office", "Office"
        CREW = "crew", "Crew"
        OWNER = "owner", "Owner"

    role = models.CharField(
        max_length=10,
        choices=Role.choices,
        default=Role.CREW,
        help_text="What this person may do. Money is the office's and the owner's.",
    )

    objects = PersonManager()  # type: ignore[misc]

    class Meta:
        verbose_name_plural = "people"
        ordering = ["first_name", "last_name", "username"]
        constraints = [
            models.CheckConstraint(
                condition=Q(role__in=["office", "crew", "owner"]),
                name="person_has_role",
            )
        ]

    def __str__(self) -> str:
        return self.get_full_name() or self.username
