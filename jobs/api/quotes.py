"""Quotes for programs. They are drawn up from a layout, so media opens this door."""

from __future__ import annotations

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from jobs import quoting
from jobs.access import quote_for
from jobs.api.answers import CONFLICT, ERRORS, Conflict, id_field, key_field
from jobs.api.money import MoneyRoom, SumField
from jobs.models import Quote, QuoteLine
from jobs.models.quotes import QuoteQuerySet

State = Quote.State


class QuoteLineSerializer(serializers.ModelSerializer[QuoteLine]):
    amount = SumField()

    class Meta:
        model = QuoteLine
        fields = [
            "position",
            "part",
            "mark",
            "family",
            "stage",
            "pieces",
            "words",
            "quantity",
            "unit",
            "unit_price",
            "amount",
            "source",
        ]
        read_only_fields = fields


class QuoteSerializer(serializers.ModelSerializer[Quote]):
    metal = SumField()
    labour = SumField()
    other = SumField(help_text="Travel, consumables and extras.")
    overhead = SumField()
    margin = SumField()
    net = SumField(help_text="The price before tax.")
    tax = SumField()
    total = SumField()

    class Meta:
        model = Quote
        fields = [
            "id",
            "job",
            "number",
            "state",
            "layout_number",
            "currency",
            "prices_on",
            "valid_until",
            "metal",
            "labour",
            "other",
            "overhead",
            "margin",
            "net",
            "tax",
            "total",
            "minutes",
            "made_by",
            "made_at",
            "settled_on",
            "settled_by",
        ]
        read_only_fields = fields


class WholeQuoteSerializer(QuoteSerializer):
    lines = QuoteLineSerializer(many=True, read_only=True)

    class Meta(QuoteSerializer.Meta):
        fields = [*QuoteSerializer.Meta.fields, "lines"]
        read_only_fields = fields


class QuoteFilter(serializers.Serializer[Any]):
    job = id_field(required=False)
    state = serializers.ChoiceField(choices=State.choices, required=False)


class WordSerializer(serializers.Serializer[Any]):
    """The client's word."""

    whose_word = serializers.CharField(
        max_length=120, help_text="Who on the client's side said so."
    )
    on = serializers.DateField(required=False, help_text="Today if not said.")
    reason = serializers.CharField(
        max_length=300, required=False, allow_blank=True, default=""
    )
    key = key_field()


DONE: dict[int, Any] = {200: WholeQuoteSerializer, **ERRORS, **CONFLICT}


@extend_schema(tags=["quotes"])
@extend_schema_view(
    list=extend_schema(
        parameters=[QuoteFilter], responses={200: QuoteSerializer, **ERRORS}
    ),
    retrieve=extend_schema(responses={200: WholeQuoteSerializer, **ERRORS}),
)
class QuoteViewSet(mixins.ListModelMixin, mixins.RetrieveModelMixin, MoneyRoom):
    """Quotes of jobs: looked up with every line, accepted, refused or lapsed."""

    serializer_class: type[serializers.BaseSerializer[Any]] = WholeQuoteSerializer
    acts = dict.fromkeys(("list", "retrieve", "accept", "refuse", "lapse"), "money")

    def get_serializer_class(self) -> type[serializers.BaseSerializer[Any]]:
        return QuoteSerializer if self.action == "list" else WholeQuoteSerializer

    def get_queryset(self) -> QuoteQuerySet:
        if self.action == "list":
            asked = self.asked(QuoteFilter)
            return Quote.objects.filter(**asked).order_by("-made_at", "-pk")
        return Quote.objects.prefetch_related("lines")

    @extend_schema(request=WordSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def accept(self, request: Request, pk: str) -> Response:
        """The client takes it. One quote of a job can be accepted."""
        return self._settled(pk, State.ACCEPTED)

    @extend_schema(request=WordSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def refuse(self, request: Request, pk: str) -> Response:
        """The client does not take it."""
        return self._settled(pk, State.REFUSED)

    @extend_schema(request=None, responses=DONE)
    @action(detail=True, methods=["post"])
    def lapse(self, request: Request, pk: str) -> Response:
        """Its day is past. It also lapses by itself, soon after midnight."""
        quote = quote_for(self.person, int(pk))
        one = Quote.objects.filter(pk=quote.pk)
        quoting.lapse(self.person, timezone.localdate(), one)
        quote.refresh_from_db()
        if quote.state != State.LAPSED:
            raise Conflict(ValueError(_why_it_stands(quote)))
        return self.now(quote)

    def now(self, quote: Quote, status: int = 200) -> Response:
        """The quote as it is by now, with its lines."""
        whole = Quote.objects.prefetch_related("lines").get(pk=quote.pk)
        context = self.get_serializer_context()
        return Response(WholeQuoteSerializer(whole, context=context).data, status)

    def _settled(self, pk: str, state: str) -> Response:
        quote = quote_for(self.person, int(pk))
        asked = self.given(WordSerializer)
        key = self.key(f"quote-{state}", asked)
        on = asked.get("on") or timezone.localdate()
        self.told(
            lambda: quoting.settle(
                quote, self.person, state, asked["whose_word"], on, asked["reason"], key
            )
        )
        return self.now(quote)


def _why_it_stands(quote: Quote) -> str:
    if quote.state != State.OFFERED:
        state = quote.get_state_display()
        return f"Quote {quote.number} is {state}. It can't become lapsed."
    until = quote.valid_until
    day = f"{until:%a} {until.day} {until:%b %Y}"
    return f"Quote {quote.number} holds until {day}. It lapses the day after."
