"""Quotes for programs: drawn up from the layout and put on paper here, the rest as
in the jobs room."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.routers import SimpleRouter

from jobs.access import job_for, quote_for
from jobs.api.answers import CONFLICT, ERRORS, Conflict, id_field, key_field
from jobs.api.quotes import QuoteViewSet, WholeQuoteSerializer
from jobs.costing import Asked, Extra
from jobs.models import Job, Quote
from layout.faults import BadRecord
from media import quotes
from media.api import DocumentSerializer
from shop.prices import NoPrice

MOST_EXTRAS = 10


class ExtraSerializer(serializers.Serializer[Any]):
    words = serializers.CharField(max_length=180, help_text="What it is.")
    amount = serializers.DecimalField(
        max_digits=12, decimal_places=4, min_value=0, help_text="What it costs us."
    )


class DrawUpSerializer(serializers.Serializer[Any]):
    """What is added to the layout."""

    job = id_field()
    visits = serializers.IntegerField(
        min_value=0,
        max_value=99,
        default=2,
        help_text="Journeys to the site, the one to measure included.",
    )
    people = serializers.IntegerField(
        min_value=1, max_value=30, default=2, help_text="On a visit."
    )
    setting_up_minutes = serializers.DecimalField(
        max_digits=7,
        decimal_places=1,
        min_value=0,
        required=False,
        allow_null=True,
        help_text="For access, all people together; the standard if not said.",
    )
    extras = serializers.ListField(
        child=ExtraSerializer(), max_length=MOST_EXTRAS, required=False
    )
    prices_on = serializers.DateField(
        required=False, help_text="The day whose prices count; today if not said."
    )
    key = key_field()


class QuotePaperSerializer(serializers.Serializer[Any]):
    paper = serializers.ChoiceField(choices=["letter", "a4"], required=False)
    key = key_field()


class QuotesOfLayoutsViewSet(QuoteViewSet):
    """Quotes of jobs: drawn up, put on paper, accepted, refused or lapsed."""

    acts = {**QuoteViewSet.acts, "create": "money", "paper": "money"}

    @extend_schema(
        request=DrawUpSerializer,
        responses={201: WholeQuoteSerializer, **ERRORS, **CONFLICT},
    )
    def create(self, request: Request) -> Response:
        """Draws up the job's next quote from its layout as it is now."""
        asked = self.given(DrawUpSerializer)
        job = job_for(self.person, asked["job"], "money")
        return self.now(self._drawn_up(job, asked), 201)

    @extend_schema(
        request=QuotePaperSerializer,
        responses={201: DocumentSerializer, **ERRORS, **CONFLICT},
    )
    @action(detail=True, methods=["post"])
    def paper(self, request: Request, pk: str) -> Response:
        """Asks for the quote on numbered paper; from then it is offered."""
        quote = quote_for(self.person, int(pk))
        asked = self.given(QuotePaperSerializer)
        try:
            document = quotes.ask_for_paper(
                quote,
                self.person,
                paper=asked.get("paper", ""),
                key=self.key("quote paper", asked),
            )
        except ValueError as fault:
            raise Conflict(fault) from fault
        return Response(DocumentSerializer(document).data, 201)

    def _drawn_up(self, job: Job, asked: dict[str, Any]) -> Quote:
        added = Asked(
            visits=asked["visits"],
            people=asked["people"],
            setting_up=asked.get("setting_up_minutes"),
            extras=tuple(
                Extra(extra["words"], extra["amount"])
                for extra in asked.get("extras", ())
            ),
        )
        try:
            return quotes.draw_up(
                job,
                self.person,
                added,
                asked.get("prices_on"),
                key=self.key("quote", asked),
            )
        except BadRecord as bad:
            words = [str(fault) for fault in bad.faults]
            raise serializers.ValidationError({"job": words}) from bad
        except NoPrice as missing:
            words = [str(missing)]
            raise serializers.ValidationError({"prices_on": words}) from missing
        except ValueError as fault:
            raise Conflict(fault) from fault


router = SimpleRouter()
router.register("quotes", QuotesOfLayoutsViewSet, basename="api-quotes")

urlpatterns = router.urls
