"""The price book for programs: read only, as it counts on a day."""

from __future__ import annotations

from typing import Any

from django.urls import path
from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from shop.answers import ERRORS
from shop.api_access import api_needs
from shop.models import Price, StandardHours
from shop.price_items import Item, items
from shop.prices import PriceBook


class BookFilter(serializers.Serializer[Any]):
    on = serializers.DateField(required=False, help_text="Today if not said.")


class PriceSerializer(serializers.Serializer[Any]):
    """One thing with a price; without an amount where it has none on that day."""

    thing = serializers.CharField(help_text="Its name in an address.")
    words = serializers.CharField()
    kind = serializers.ChoiceField(choices=Price.Kind.choices)
    metal = serializers.CharField(allow_null=True)
    role = serializers.CharField(help_text="Whose hour it is.")
    amount = serializers.DecimalField(13, 4, allow_null=True)
    unit = serializers.ChoiceField(choices=Price.Unit.choices, allow_null=True)
    sheet = serializers.CharField(allow_null=True, help_text="For a price by it.")
    from_day = serializers.DateField(allow_null=True)
    source = serializers.CharField()  # type: ignore[assignment]


class StandardHoursSerializer(serializers.ModelSerializer[StandardHours]):
    class Meta:
        model = StandardHours
        fields = ["family", "stage", "minutes", "from_day", "source"]
        read_only_fields = fields


class BookSerializer(serializers.Serializer[Any]):
    on = serializers.DateField()
    currency = serializers.CharField(help_text="ISO 4217, such as EUR.")
    prices = PriceSerializer(many=True)
    standard_hours = StandardHoursSerializer(many=True)


class PriceBookView(APIView):
    """Prices and standard hours."""

    permission_classes = [api_needs("money")]

    @extend_schema(
        tags=["prices"],
        operation_id="prices_on_a_day",
        parameters=[BookFilter],
        responses={200: BookSerializer, **ERRORS},
    )
    def get(self, request: Request) -> Response:
        """Every price as it counts on a day, and the standard hours."""
        form = BookFilter(data=request.query_params.dict())
        form.is_valid(raise_exception=True)
        book = PriceBook.on(form.validated_data.get("on") or timezone.localdate())
        told = {
            "on": book.day,
            "currency": book.currency,
            "prices": [_row(item, item.price(book)) for item in items()],
            "standard_hours": [row for _, row in sorted(book.hours.items())],
        }
        return Response(BookSerializer(told).data)


def _row(item: Item, price: Price | None) -> dict[str, Any]:
    return {
        "thing": item.slug,
        "words": item.words,
        "kind": item.kind,
        "metal": item.metal.name if item.metal else None,
        "role": item.role,
        "amount": price.amount if price else None,
        "unit": price.unit if price else None,
        "sheet": str(price.stock) if price and price.stock else None,
        "from_day": price.from_day if price else None,
        "source": price.source if price else "",
    }


urlpatterns = [path("prices/", PriceBookView.as_view(), name="api-prices")]
