"""Costs of a job for programs: looked up, written by hand, taken back."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from jobs import spending
from jobs.access import cost_for, job_for
from jobs.api.answers import CONFLICT, ERRORS, id_field, key_field
from jobs.api.money import CurrencyField, MoneyRoom, SumField
from jobs.models import Cost
from jobs.models.costs import CostQuerySet


class CostSerializer(serializers.ModelSerializer[Cost]):
    amount = SumField(help_text="Before tax; below nought where it takes another back.")
    currency = CurrencyField()
    is_taken_back = serializers.SerializerMethodField()

    class Meta:
        model = Cost
        fields = [
            "id",
            "job",
            "piece",
            "part",
            "words",
            "amount",
            "currency",
            "on_day",
            "from_rack",
            "takes_back",
            "is_taken_back",
            "reason",
            "by",
            "at",
        ]
        read_only_fields = fields

    def get_is_taken_back(self, cost: Cost) -> bool:
        return hasattr(cost, "taken_back")


class SpendSerializer(serializers.Serializer[Any]):
    """A cost written by hand. A photo of its receipt is sent to the photos."""

    job = id_field()
    part = serializers.ChoiceField(choices=Cost.Part.choices)
    words = serializers.CharField(max_length=200, help_text="What it was.")
    amount = serializers.DecimalField(
        max_digits=13, decimal_places=4, help_text="Before tax, in the shop's currency."
    )
    on_day = serializers.DateField()
    piece = id_field(required=False, allow_null=True)
    key = key_field()


class TakeBackSerializer(serializers.Serializer[Any]):
    reason = serializers.CharField(max_length=300)
    key = key_field()


class CostFilter(serializers.Serializer[Any]):
    job = id_field(required=False)
    part = serializers.ChoiceField(choices=Cost.Part.choices, required=False)


@extend_schema(tags=["costs"])
@extend_schema_view(
    list=extend_schema(
        parameters=[CostFilter], responses={200: CostSerializer, **ERRORS}
    ),
    retrieve=extend_schema(responses={200: CostSerializer, **ERRORS}),
)
class CostViewSet(mixins.ListModelMixin, mixins.RetrieveModelMixin, MoneyRoom):
    """Costs beside the hours. They are only added; a wrong one is taken back."""

    serializer_class = CostSerializer
    acts = dict.fromkeys(("list", "retrieve", "create", "take_back"), "money")

    def get_queryset(self) -> CostQuerySet:
        costs = Cost.objects.with_names()
        return (
            costs.filter(**self.asked(CostFilter)) if self.action == "list" else costs
        )

    @extend_schema(
        request=SpendSerializer, responses={201: CostSerializer, **ERRORS, **CONFLICT}
    )
    def create(self, request: Request) -> Response:
        asked = self.given(SpendSerializer)
        key = self.key("cost", asked)
        asked.pop("key", None)
        job = job_for(self.person, asked.pop("job"), "money")
        piece = self.piece_of(job, asked.pop("piece", None))
        cost = self.told(
            lambda: spending.write(job, self.person, piece=piece, key=key, **asked)
        )
        return self._now(cost)

    @extend_schema(
        request=TakeBackSerializer,
        responses={201: CostSerializer, **ERRORS, **CONFLICT},
    )
    @action(detail=True, methods=["post"])
    def take_back(self, request: Request, pk: str) -> Response:
        """Gives the cost below nought that takes it back."""
        cost = cost_for(self.person, int(pk))
        asked = self.given(TakeBackSerializer)
        key = self.key("take-back", asked)
        return self._now(
            self.told(
                lambda: spending.take_back(cost, self.person, asked["reason"], key)
            )
        )

    def _now(self, cost: Cost) -> Response:
        cost = Cost.objects.with_names().get(pk=cost.pk)
        return Response(self.get_serializer(cost).data, 201)
