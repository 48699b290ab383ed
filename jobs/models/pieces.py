from __future__ import annotations

from django.db import models
from django.db.models import F, Q
from django.urls import reverse

from jobs.models.jobs import Job


class PieceQuerySet(models.QuerySet["Piece"]):
    def living(self) -> PieceQuerySet:
        """Pieces that still count: scrapped ones left out."""
        return self.filter(scrapped=False)

    def at(self, state: str) -> PieceQuerySet:
        return self.filter(state=state)

    def in_order(self) -> PieceQuerySet:
        return self.order_by("job", "mark", "making")

    def counted_by_stage(self, jobs: list[int]) -> dict[int, list[tuple[str, int]]]:
        """Job id -> (stage, how many marks), along the line, held ones last."""
        counts = (
            self.living()
            .filter(job__in=jobs)
            .order_by()
            .values_list("job", "state", "held")
            .annotate(number=models.Count("pk"))
        )
        found: dict[int, dict[str, int]] = {}
        for job, state, held, number in counts:
            stages = found.setdefault(job, {})
            stage = "held" if held else state
            stages[stage] = stages.get(stage, 0) + number
        line = [*Piece.State.values, "held"]
        return {
            job: [(stage, stages[stage]) for stage in line if stage in stages]
            for job, stages in found.items()
        }


class Piece(models.Model):
    """One piece of metal to be made for a job, or several just alike."""

    class State(models.TextChoices):
        ASKED = "asked", "asked"
        MEASURED = "measured", "measured"
        LAID_OUT = "laid_out", "laid out"
        CUT = "cut", "cut"
        BENT = "bent", "bent"
        INSTALLED = "installed", "installed"

    # The only moves along the line; back is the same table read backwards.
    NEXT = {
        State.ASKED: State.MEASURED,
        State.MEASURED: State.LAID_OUT,
        State.LAID_OUT: State.CUT,
        State.CUT: State.BENT,
        State.BENT: State.INSTALLED,
    }
    BEFORE = {after: before for before, after in NEXT.items()}

    class Hand(models.TextChoices):
        LEFT = "left", "left"
        RIGHT = "right", "right"

    class Spoiled(models.TextChoices):
        MEASURED_WRONG = "measured_wrong", "measured wrong"
        CUT_WRONG = "cut_wrong", "cut wrong"
        BENT_WRONG = "bent_wrong", "bent wrong"
        SITE_CHANGED = "site_changed", "site changed"
        METAL_FLAWED = "metal_flawed", "metal flawed"

    job = models.ForeignKey(Job, models.PROTECT, related_name="pieces")
    mark = models.CharField(max_length=20)
    making = models.PositiveSmallIntegerField(
        default=1,
        editable=False,
        help_text="1 for the first one made under this mark, 2 for its remake.",
    )
    family = models.SlugField(
        max_length=40, help_text="What kind of piece, for example side_pan."
    )
    hand = models.CharField(max_length=5, choices=Hand.choices, blank=True)
    quantity = models.PositiveSmallIntegerField(default=1)
    metal = models.CharField(max_length=60, blank=True)
    state = models.CharField(
        max_length=10, choices=State.choices, default=State.ASKED, editable=False
    )
    held = models.BooleanField(default=False, editable=False)
    held_because = models.TextField(blank=True, editable=False)
    scrapped = models.BooleanField(default=False, editable=False)
    scrapped_because = models.CharField(
        max_length=20, choices=Spoiled.choices, blank=True, editable=False
    )
    remake_of = models.OneToOneField(
        "self",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="remade_as",
        editable=False,
    )
    version = models.PositiveIntegerField(default=1, editable=False)

    objects = PieceQuerySet.as_manager()

    class Meta:
        ordering = ["job", "mark", "making"]
        indexes = [
            models.Index(fields=["state", "job"], name="pieces_by_state"),
        ]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "mark", "making"], name="piece_mark_and_making_once"
            ),
            models.UniqueConstraint(
                fields=["job", "mark"],
                condition=Q(scrapped=False),
                name="piece_one_living_per_mark",
            ),
            models.CheckConstraint(condition=~Q(mark=""), name="piece_has_a_mark"),
            models.CheckConstraint(
                condition=Q(quantity__gt=0), name="piece_quantity_positive"
            ),
            models.CheckConstraint(
                condition=Q(
                    state__in=[
                        "asked",
                        "measured",
                        "laid_out",
                        "cut",
                        "bent",
                        "installed",
                    ]
                ),
                name="piece_state_is_known",
            ),
            models.CheckConstraint(
                condition=Q(held=False, held_because="")
                | (Q(held=True) & ~Q(held_because="")),
                name="piece_held_with_a_reason",
            ),
            models.CheckConstraint(
                condition=Q(scrapped=False, scrapped_because="")
                | (Q(scrapped=True) & ~Q(scrapped_because="")),
                name="piece_scrapped_with_a_reason",
            ),
            models.CheckConstraint(
                condition=~Q(scrapped=True, held=True),
                name="piece_not_held_and_scrapped",
            ),
            models.CheckConstraint(
                condition=Q(remake_of__isnull=True) | ~Q(remake_of=F("id")),
                name="piece_not_a_remake_of_itself",
            ),
        ]

    def __str__(self) -> str:
        return self.mark if self.making == 1 else f"{self.mark} making {self.making}"

    def get_absolute_url(self) -> str:
        return reverse("jobs:piece", args=[self.pk])

    def family_words(self) -> str:
        return self.family.replace("_", " ").replace("-", " ")

    def next_state(self) -> str | None:
        """The stage after this one, or None at the end, held or scrapped."""
        if self.held or self.scrapped:
            return None
        return self.NEXT.get(self.State(self.state))

    def stage(self) -> str:
        """What the page shows: held and scrapped win over the line."""
        if self.scrapped:
            return "scrapped"
        return "held" if self.held else self.state

    def stage_words(self) -> str:
        return self.stage().replace("_", " ")
