from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from jobs import booking, measuring
from jobs.access import job_for, jobs_for, measurement_for, site_for
from jobs.api.answers import CONFLICT, ERRORS, Conflict, Room, id_field, key_field
from jobs.models import Measurement, Site
from jobs.models.sites import LONGEST
from shop.units import Unit, read_angle, read_length, read_pitch


class SiteSerializer(serializers.ModelSerializer[Site]):
    class Meta:
        model = Site
        fields = ["id", "job", *booking.TYPED_OF_SITE, "left_out_because"]
        read_only_fields = ["job", "left_out_because"]


class PlaceSerializer(serializers.ModelSerializer[Site]):
    """Another place of a job, of any kind."""

    job = id_field()

    class Meta:
        model = Site
        fields = ["job", *booking.TYPED_OF_SITE]
        extra_kwargs = {"kind": {"required": True}, "units": {"required": True}}


class MeasurementSerializer(serializers.ModelSerializer[Measurement]):
    counts = serializers.SerializerMethodField(
        help_text="In words: whether this one counts, and why."
    )

    class Meta:
        model = Measurement
        fields = [
            "id",
            "site",
            "name",
            "as_typed",
            "units",
            "value_mm",
            "value_deg",
            "value_text",
            "taken_by",
            "taken_at",
            "taken_with",
            "note",
            "counts",
        ]

    def get_counts(self, measurement: Measurement) -> str:
        return measuring.why_counts(measurement)


class TakeSerializer(serializers.Serializer[Any]):
    """A measure as the tape, the level or the eye gave it."""

    site = id_field()
    name = serializers.RegexField(
        r"^[a-z][a-z0-9_]*(\.[a-z][a-z0-9_]*)*$",
        max_length=60,
        help_text="Path in the site record, such as penetration.front.",
    )
    as_typed = serializers.CharField(max_length=LONGEST)
    reads = serializers.ChoiceField(choices=["length", "pitch", "angle", "word"])
    taken_with = serializers.CharField(max_length=60, required=False, default="tape")
    note = serializers.CharField(max_length=1000, required=False, default="")
    key = key_field()


class LeaveOutSerializer(serializers.Serializer[Any]):
    reason = serializers.CharField(max_length=300)


class ChooseSerializer(serializers.Serializer[Any]):
    reason = serializers.CharField(max_length=300)


class SiteFilter(serializers.Serializer[Any]):
    job = id_field(required=False)


class MeasurementFilter(serializers.Serializer[Any]):
    site = id_field(required=False)
    name = serializers.CharField(max_length=60, required=False)


@extend_schema(tags=["sites"])
@extend_schema_view(
    list=extend_schema(
        parameters=[SiteFilter], responses={200: SiteSerializer, **ERRORS}
    ),
    retrieve=extend_schema(responses={200: SiteSerializer, **ERRORS}),
)
class SiteViewSet(mixins.ListModelMixin, mixins.RetrieveModelMixin, Room):
    """Places on a roof that are measured."""

    serializer_class = SiteSerializer
    acts = {
        "create": "measure",
        "partial_update": "measure",
        "leave_out": "measure",
        "take_in": "measure",
    }

    def get_queryset(self) -> QuerySet[Site]:
        sites = Site.objects.filter(job__in=jobs_for(self.person).order_by())
        if self.action == "list" and (job := self.asked(SiteFilter).get("job")):
            sites = sites.filter(job=job)
        return sites.order_by("pk")

    @extend_schema(
        request=PlaceSerializer, responses={201: SiteSerializer, **ERRORS, **CONFLICT}
    )
    def create(self, request: Request) -> Response:
        given = dict(self.given(PlaceSerializer))
        job = job_for(self.person, given.pop("job"), "measure")
        try:
            site = booking.add_site(job, self.person, **given)
        except ValueError as fault:
            raise Conflict(fault) from fault
        return Response(SiteSerializer(site).data, status=201)

    @extend_schema(responses={200: SiteSerializer, **ERRORS})
    def partial_update(self, request: Request, pk: str) -> Response:
        site = site_for(self.person, int(pk))
        form = SiteSerializer(site, data=request.data, partial=True)
        form.is_valid(raise_exception=True)
        site = booking.note_site(site, self.person, dict(form.validated_data))
        return Response(SiteSerializer(site).data)

    @extend_schema(
        request=LeaveOutSerializer,
        responses={200: SiteSerializer, **ERRORS, **CONFLICT},
    )
    @action(detail=True, methods=["post"])
    def leave_out(self, request: Request, pk: str) -> Response:
        """The place is no longer laid out. It keeps its number and its measures."""
        site = site_for(self.person, int(pk))
        try:
            reason = self.given(LeaveOutSerializer)["reason"]
            site = booking.leave_out(site, self.person, reason)
        except ValueError as fault:
            raise Conflict(fault) from fault
        return Response(SiteSerializer(site).data)

    @extend_schema(request=None, responses={200: SiteSerializer, **ERRORS, **CONFLICT})
    @action(detail=True, methods=["post"])
    def take_in(self, request: Request, pk: str) -> Response:
        """A place that was left out is laid out again."""
        site = site_for(self.person, int(pk))
        try:
            site = booking.take_in(site, self.person)
        except ValueError as fault:
            raise Conflict(fault) from fault
        return Response(SiteSerializer(site).data)


@extend_schema(tags=["measurements"])
@extend_schema_view(
    list=extend_schema(
        parameters=[MeasurementFilter],
        responses={200: MeasurementSerializer, **ERRORS},
    ),
    retrieve=extend_schema(responses={200: MeasurementSerializer, **ERRORS}),
)
class MeasurementViewSet(mixins.ListModelMixin, mixins.RetrieveModelMixin, Room):
    """Measures taken on site. They are only added; the newest counts unless chosen."""

    serializer_class = MeasurementSerializer
    acts = {"create": "measure", "choose": "measure"}

    def get_queryset(self) -> QuerySet[Measurement]:
        rows = Measurement.objects.filter(
            site__job__in=jobs_for(self.person).order_by()
        ).prefetch_related("site__measurements")
        if self.action == "list":
            asked = self.asked(MeasurementFilter)
            rows = rows.filter(**asked)
        return rows.order_by("site", "name", "-taken_at", "-pk")

    @extend_schema(
        request=TakeSerializer, responses={201: MeasurementSerializer, **ERRORS}
    )
    def create(self, request: Request) -> Response:
        taken = self.given(TakeSerializer)
        site = site_for(self.person, taken["site"])
        key = taken.get("key")
        try:
            row = measuring.take(
                site,
                taken["name"],
                taken["as_typed"],
                self.person,
                with_=taken["taken_with"],
                note=taken["note"],
                key=f"{self.person.pk}:{key}" if key else None,
                **_read(taken["as_typed"], taken["reads"], site.units),
            )
        except ValueError as fault:
            raise serializers.ValidationError({"as_typed": [str(fault)]}) from fault
        return Response(MeasurementSerializer(row).data, status=201)

    @extend_schema(
        request=ChooseSerializer,
        responses={200: MeasurementSerializer, **ERRORS, **CONFLICT},
    )
    @action(detail=True, methods=["post"])
    def choose(self, request: Request, pk: str) -> Response:
        row = measurement_for(self.person, int(pk))
        try:
            row = measuring.choose(
                row, self.person, self.given(ChooseSerializer)["reason"]
            )
        except ValueError as fault:
            raise Conflict(fault) from fault
        return Response(MeasurementSerializer(row).data)


def _read(as_typed: str, reads: str, units: str) -> dict[str, Any]:
    """The value in words, as `take` wants it. Raises ValueError with what is wrong."""
    if reads == "word":
        return {"text": as_typed}
    if reads == "pitch":
        return {"deg": read_pitch(as_typed)}
    if reads == "angle":
        angle = read_angle(as_typed)
        if angle > 360:
            raise ValueError(f"{as_typed} is more than a full turn. Check it.")
        return {"deg": angle}
    unit: Unit = "mm" if units == "mm" else "in"
    return {"mm": read_length(as_typed, unit)}
