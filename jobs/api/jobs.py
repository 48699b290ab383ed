from __future__ import annotations

from decimal import Decimal
from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from jobs import booking
from jobs.access import job_for, jobs_for
from jobs.api.accounts import AccountSerializer, account_of
from jobs.api.answers import CONFLICT, ERRORS, Conflict, Room, id_field, version_field
from jobs.models import Job
from jobs.models.jobs import JobQuerySet
from shop.models import ShopProfile

SMALLEST = Decimal("0.0001")


class JobSerializer(serializers.ModelSerializer[Job]):
    version = version_field()

    class Meta:
        model = Job
        fields = ["id", "number", "state", *booking.TYPED, "created_at", "version"]
        read_only_fields = ["number", "state", "created_at"]
        extra_kwargs = {
            "present_seam_height_mm": {"min_value": SMALLEST},
            "present_pan_width_mm": {"min_value": SMALLEST},
        }

    def validate(self, typed: dict[str, Any]) -> dict[str, Any]:
        def day(field: str) -> Any:
            return typed.get(field, getattr(self.instance, field, None))

        if typed.get("install_from") and not day("install_until"):
            typed["install_until"] = typed["install_from"]
        if day("install_until") and not day("install_from"):
            raise serializers.ValidationError(
                {"install_from": ["Give the first install day too."]}
            )
        for first, last in (
            ("wished_from", "wished_until"),
            ("install_from", "install_until"),
        ):
            if day(first) and day(last) and day(last) < day(first):
                raise serializers.ValidationError(
                    {last: [f"{day(last)} is before {day(first)}. Change one of them."]}
                )
        return typed


class JobFilter(serializers.Serializer[Any]):
    words = serializers.CharField(required=False, max_length=100, allow_blank=True)
    state = serializers.ChoiceField(choices=Job.State.choices, required=False)
    client = id_field(required=False)
    waiting_for_measures = serializers.BooleanField(
        required=False, default=None, allow_null=True
    )


class CloseSerializer(serializers.Serializer[Any]):
    state = serializers.ChoiceField(choices=[Job.State.DONE, Job.State.OFF])
    reason = serializers.CharField(max_length=300, required=False, default="")

    def validate(self, typed: dict[str, Any]) -> dict[str, Any]:
        if typed["state"] == Job.State.OFF and not typed["reason"].strip():
            raise serializers.ValidationError(
                {"reason": ["Say in a few words why the job is called off."]}
            )
        return typed


class OpenSerializer(serializers.Serializer[Any]):
    reason = serializers.CharField(max_length=300)


@extend_schema(tags=["jobs"])
@extend_schema_view(
    list=extend_schema(
        parameters=[JobFilter], responses={200: JobSerializer, **ERRORS}
    ),
    retrieve=extend_schema(responses={200: JobSerializer, **ERRORS}),
)
class JobViewSet(mixins.ListModelMixin, mixins.RetrieveModelMixin, Room):
    """Jobs: book, look up, change, close and open again."""

    serializer_class = JobSerializer
    acts = {
        "create": "book",
        "partial_update": "book",
        "close": "book",
        "open_again": "book",
        "account": "money",
    }

    def get_queryset(self) -> JobQuerySet:
        jobs = jobs_for(self.person, self.act()).newest_first()
        if self.action != "list":
            return jobs
        asked = self.asked(JobFilter)
        jobs = jobs.matching(asked.get("words", ""))
        if "state" in asked:
            jobs = jobs.filter(state=asked["state"])
        if "client" in asked:
            jobs = jobs.of_client(asked["client"])
        return jobs.waiting_for_measures() if asked["waiting_for_measures"] else jobs

    @extend_schema(responses={201: JobSerializer, **ERRORS})
    def create(self, request: Request) -> Response:
        typed = self.given(JobSerializer)
        typed.pop("version", None)
        units = ShopProfile.current().units
        job = booking.book(self.person, units=units, **typed)
        return Response(JobSerializer(job).data, status=201)

    @extend_schema(responses={200: JobSerializer, **ERRORS, **CONFLICT})
    def partial_update(self, request: Request, pk: str) -> Response:
        job = job_for(self.person, int(pk), "book")
        form = JobSerializer(job, data=request.data, partial=True)
        form.is_valid(raise_exception=True)
        typed = dict(form.validated_data)
        version = typed.pop("version", job.version)
        try:
            job = booking.change(job, self.person, typed, version)
        except booking.ChangedMeanwhile as fault:
            raise Conflict(fault) from fault
        return Response(JobSerializer(job).data)

    @extend_schema(
        request=CloseSerializer, responses={200: JobSerializer, **ERRORS, **CONFLICT}
    )
    @action(detail=True, methods=["post"])
    def close(self, request: Request, pk: str) -> Response:
        job = job_for(self.person, int(pk), "book")
        typed = self.given(CloseSerializer)
        try:
            job = booking.close(job, self.person, typed["state"], typed["reason"])
        except ValueError as fault:
            raise Conflict(fault) from fault
        return Response(JobSerializer(job).data)

    @extend_schema(
        request=OpenSerializer, responses={200: JobSerializer, **ERRORS, **CONFLICT}
    )
    @action(detail=True, methods=["post"], url_path="open")
    def open_again(self, request: Request, pk: str) -> Response:
        job = job_for(self.person, int(pk), "book")
        typed = self.given(OpenSerializer)
        try:
            job = booking.open_again(job, self.person, typed["reason"])
        except ValueError as fault:
            raise Conflict(fault) from fault
        return Response(JobSerializer(job).data)

    @extend_schema(responses={200: AccountSerializer, **ERRORS})
    @action(detail=True)
    def account(self, request: Request, pk: str) -> Response:
        """Quoted against real: the whole, by family and stage, and what was remade."""
        return Response(account_of(job_for(self.person, int(pk), "money")))
