from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.db.models import QuerySet
from django.utils import timezone
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from jobs import looks
from jobs.access import jobs_for, rule_for
from jobs.api.answers import CONFLICT, ERRORS, Conflict, Room, id_field
from jobs.models import LooksRule


class LooksSerializer(serializers.ModelSerializer[LooksRule]):
    class Meta:
        model = LooksRule
        fields = [
            "id",
            "job",
            "kind",
            "words",
            "number_mm",
            "who_asked",
            "standing",
            "settled_by",
            "settled_on",
        ]
        read_only_fields = ["standing", "settled_by", "settled_on"]
        extra_kwargs = {"number_mm": {"min_value": Decimal("0.0001")}}

    def validate(self, typed: dict[str, Any]) -> dict[str, Any]:
        has_length = typed.get("number_mm") is not None
        if has_length != (typed["kind"] in LooksRule.WITH_LENGTH):
            words = "has no length to check" if has_length else "wants a length in mm"
            raise serializers.ValidationError(
                {"number_mm": [f"A rule of the kind {typed['kind']} {words}."]}
            )
        return typed


class SettleSerializer(serializers.Serializer[Any]):
    standing = serializers.ChoiceField(choices=["agreed", "waived"])
    settled_by = serializers.CharField(max_length=120)
    settled_on = serializers.DateField(required=False)


class LooksFilter(serializers.Serializer[Any]):
    job = id_field(required=False)


@extend_schema(tags=["looks"])
@extend_schema_view(
    list=extend_schema(
        parameters=[LooksFilter], responses={200: LooksSerializer, **ERRORS}
    ),
    retrieve=extend_schema(responses={200: LooksSerializer, **ERRORS}),
)
class LooksViewSet(mixins.ListModelMixin, mixins.RetrieveModelMixin, Room):
    """Rules of looks: asked, then agreed or waived by the client's word."""

    serializer_class = LooksSerializer
    acts = {"create": "book", "settle": "book"}

    def get_queryset(self) -> QuerySet[LooksRule]:
        rules = LooksRule.objects.filter(job__in=jobs_for(self.person).order_by())
        if self.action == "list" and (job := self.asked(LooksFilter).get("job")):
            rules = rules.filter(job=job)
        return rules.order_by("pk")

    @extend_schema(responses={201: LooksSerializer, **ERRORS})
    def create(self, request: Request) -> Response:
        rule = looks.ask(by=self.person, **self.given(LooksSerializer))
        return Response(LooksSerializer(rule).data, status=201)

    @extend_schema(
        request=SettleSerializer,
        responses={200: LooksSerializer, **ERRORS, **CONFLICT},
    )
    @action(detail=True, methods=["post"])
    def settle(self, request: Request, pk: str) -> Response:
        rule = rule_for(self.person, int(pk))
        word = self.given(SettleSerializer)
        day = word.get("settled_on") or timezone.localdate()
        try:
            rule = looks.settle(
                rule, self.person, word["standing"], word["settled_by"], day
            )
        except ValueError as fault:
            raise Conflict(fault) from fault
        return Response(LooksSerializer(rule).data)
