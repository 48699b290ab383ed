"""What the parts of the API that tell or take money have in common."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Any, TypeVar

from django.utils.functional import SimpleLazyObject
from rest_framework import serializers

from jobs.api.answers import Conflict, Room
from jobs.models import Job, Piece
from jobs.refused import Refused
from shop.keys import key_of
from shop.models import ShopProfile
from shop.money import rounded

Done = TypeVar("Done")


def shop_currency() -> str:
    return ShopProfile.current().currency


class SumField(serializers.DecimalField):
    """A sum as a decimal string, to the smallest unit of the shop's currency.

    The currency stands beside it in the answer; it is read from the context.
    """

    def __init__(self, **given: Any) -> None:
        given = {"read_only": True, **given}
        super().__init__(max_digits=14, decimal_places=4, **given)

    def to_representation(self, value: Decimal) -> str:
        return f"{rounded(value, self.context['currency']):f}"


class CurrencyField(serializers.CharField):
    """The shop's currency, for a row that bears none itself."""

    def __init__(self, **given: Any) -> None:
        super().__init__(
            source="*", read_only=True, help_text="ISO 4217, such as EUR.", **given
        )

    def to_representation(self, value: Any) -> str:
        return str(self.context["currency"])


class MoneyRoom(Room):
    """A part of the API with sums in its answers."""

    def get_serializer_context(self) -> dict[str, Any]:
        # Read only where a sum is written: the API is described without a database.
        currency = SimpleLazyObject(shop_currency)
        return {**super().get_serializer_context(), "currency": currency}

    def key(self, act: str, asked: dict[str, Any]) -> str | None:
        key = key_of(self.person, act, asked.get("key"))
        return f"api:{key}" if key else None

    def told(self, verb: Callable[[], Done]) -> Done:
        """What the verb gives; its refusal as a 400 by field, or as a 409."""
        try:
            return verb()
        except Refused as refused:
            if refused.field:
                words = {refused.field: [str(refused)]}
                raise serializers.ValidationError(words) from refused
            raise Conflict(refused) from refused

    def piece_of(self, job: Job, pk: int | None) -> Piece | None:
        """A piece of the job; one of another job, or of none, is a 400."""
        if pk is None:
            return None
        piece = job.pieces.filter(pk=pk).first()
        if piece is None:
            raise serializers.ValidationError(
                {"piece": [f"{job} has no piece with the id {pk}."]}
            )
        piece.job = job
        return piece
