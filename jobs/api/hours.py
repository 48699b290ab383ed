"""The clock for programs: start, stop, write later, strike out."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, serializers
from rest_framework.decorators import action
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request
from rest_framework.response import Response

from jobs import clock
from jobs.access import job_for, jobs_for, people_for, piece_for, time_for
from jobs.api.answers import CONFLICT, ERRORS, Conflict, id_field, key_field
from jobs.api.money import CurrencyField, MoneyRoom, SumField
from jobs.models import Job, Piece, WorkTime
from jobs.models.times import WorkTimeQuerySet
from shop.access import may
from shop.models import Person

BECAUSE = "Why it is so, where it was asked about: the answer before was a 409."


class WorkTimeSerializer(serializers.ModelSerializer[WorkTime]):
    running = serializers.BooleanField(source="is_running", read_only=True)
    amount = SumField(allow_null=True)
    currency = CurrencyField()

    class Meta:
        model = WorkTime
        fields = [
            "id",
            "job",
            "piece",
            "stage",
            "person",
            "day",
            "began_at",
            "ended_at",
            "running",
            "minutes",
            "by_hand",
            "because",
            "amount",
            "currency",
            "struck_out",
            "struck_because",
            "written_by",
        ]
        read_only_fields = fields

    def to_representation(self, time: WorkTime) -> dict[str, Any]:
        """Money only for those who may see it."""
        shown: dict[str, Any] = super().to_representation(time)
        if not may(self.context["request"].user, "money"):
            del shown["amount"], shown["currency"]
        return shown


class PlaceOfWorkSerializer(serializers.Serializer[Any]):
    job = id_field(required=False, help_text="Not needed beside a piece.")
    piece = id_field(required=False, allow_null=True)
    stage = serializers.ChoiceField(choices=WorkTime.Stage.choices)
    key = key_field()

    def validate(self, asked: dict[str, Any]) -> dict[str, Any]:
        if not asked.get("job") and not asked.get("piece"):
            raise serializers.ValidationError(
                {"job": ["Give the job, or the piece that is worked on."]}
            )
        return asked


class StartSerializer(PlaceOfWorkSerializer):
    stop_first = serializers.BooleanField(
        default=False, help_text="Stop what runs of yours; else a 409 asks."
    )


class StopSerializer(serializers.Serializer[Any]):
    worked = serializers.DecimalField(
        max_digits=8,
        decimal_places=2,
        required=False,
        allow_null=True,
        help_text="The real minutes, where the clock was forgotten.",
    )
    because = serializers.CharField(
        max_length=300, required=False, allow_blank=True, default="", help_text=BECAUSE
    )


class WriteSerializer(PlaceOfWorkSerializer):
    person = id_field(required=False, help_text="You, if not said.")
    day = serializers.DateField()
    minutes = serializers.DecimalField(max_digits=8, decimal_places=2)
    begins = serializers.TimeField(
        required=False, allow_null=True, help_text="By the shop's clock, if known."
    )
    because = serializers.CharField(
        max_length=300, required=False, allow_blank=True, default="", help_text=BECAUSE
    )


class StrikeSerializer(serializers.Serializer[Any]):
    reason = serializers.CharField(max_length=300)


class HoursFilter(serializers.Serializer[Any]):
    job = id_field(required=False)
    piece = id_field(required=False)
    person = id_field(required=False)
    running = serializers.BooleanField(required=False, default=None, allow_null=True)


ADDED: dict[int, Any] = {201: WorkTimeSerializer, **ERRORS, **CONFLICT}
DONE: dict[int, Any] = {200: WorkTimeSerializer, **ERRORS, **CONFLICT}


@extend_schema(tags=["hours"])
@extend_schema_view(
    list=extend_schema(
        parameters=[HoursFilter], responses={200: WorkTimeSerializer, **ERRORS}
    ),
    retrieve=extend_schema(responses={200: WorkTimeSerializer, **ERRORS}),
)
class HoursViewSet(mixins.ListModelMixin, mixins.RetrieveModelMixin, MoneyRoom):
    """Hours of work. What can't be is refused; what is unlikely is asked about."""

    serializer_class = WorkTimeSerializer

    def get_queryset(self) -> WorkTimeQuerySet:
        jobs = jobs_for(self.person).order_by()
        times = WorkTime.objects.filter(job__in=jobs).with_names()
        if self.action != "list":
            return times
        asked = self.asked(HoursFilter)
        running = asked.pop("running")
        times = times.filter(**asked)
        if running is None:
            return times
        going = WorkTime.objects.running().values("pk")
        return times.filter(pk__in=going) if running else times.exclude(pk__in=going)

    @extend_schema(request=WriteSerializer, responses=ADDED)
    def create(self, request: Request) -> Response:
        """Writes hours worked earlier."""
        asked = self.given(WriteSerializer)
        job, piece = self._place(asked)
        person = self._whose(asked.get("person"))
        time = self._taken(
            lambda: clock.write(
                self.person,
                person=person,
                job=job,
                piece=piece,
                stage=asked["stage"],
                day=asked["day"],
                minutes=asked["minutes"],
                begins=asked.get("begins"),
                because=asked["because"],
                key=self.key("hours", asked),
            ),
            "Send the same with `because`: why it is so.",
        )
        return self._now(time, 201)

    @extend_schema(request=StartSerializer, responses=ADDED)
    @action(detail=False, methods=["post"])
    def start(self, request: Request) -> Response:
        """Starts your clock on a piece and a stage, or on a job."""
        asked = self.given(StartSerializer)
        job, piece = self._place(asked)
        time = self._taken(
            lambda: clock.start(
                self.person,
                job=job,
                piece=piece,
                stage=asked["stage"],
                stop_first=asked["stop_first"],
                key=self.key("clock", asked),
            ),
            "Stop that, or send the same with `stop_first`.",
        )
        return self._now(time, 201)

    @extend_schema(request=StopSerializer, responses=DONE)
    @action(detail=False, methods=["post"])
    def stop(self, request: Request) -> Response:
        """Stops your clock. Stopped within half a minute, it is struck out."""
        asked = self.given(StopSerializer)
        time = self._taken(
            lambda: clock.stop(self.person, asked["because"], asked.get("worked")),
            "Send `because`, why it is so, and `worked` if the clock is wrong.",
        )
        if time is None:
            raise Conflict(ValueError("No clock of yours is running."))
        return self._now(time)

    @extend_schema(request=StrikeSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def strike(self, request: Request, pk: str) -> Response:
        """Strikes hours out; they stay, and no longer count."""
        time = time_for(self.person, int(pk))
        reason = self.given(StrikeSerializer)["reason"]
        return self._now(self.told(lambda: clock.strike(time, self.person, reason)))

    def _place(self, asked: dict[str, Any]) -> tuple[Job, Piece | None]:
        pk = asked.get("piece")
        if asked.get("job"):
            job = job_for(self.person, asked["job"])
            return job, self.piece_of(job, pk)
        piece = piece_for(self.person, pk or 0)
        return piece.job, piece

    def _whose(self, pk: int | None) -> Person:
        """Raises PermissionDenied for another's hours where only one's own may be."""
        if pk in (None, self.person.pk):
            return self.person
        person = people_for(self.person).filter(pk=pk).first()
        if person is not None:
            return person
        if not may(self.person, "book"):
            raise PermissionDenied
        raise serializers.ValidationError(
            {"person": [f"Nobody who works here has the id {pk}."]}
        )

    def _taken(self, verb: Callable[[], Any], way_on: str) -> Any:
        """What the verb gives; what it asks is a 409 that says the way on."""
        try:
            return self.told(verb)
        except clock.Asked as asked:
            raise Conflict(ValueError(f"{asked} {way_on}")) from asked

    def _now(self, time: WorkTime, status: int = 200) -> Response:
        time = WorkTime.objects.get(pk=time.pk)
        return Response(self.get_serializer(time).data, status)
