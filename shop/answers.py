"""What every part of the API has in common: numbers in the path, refusals, errors."""

from __future__ import annotations

from typing import Any

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, inline_serializer
from rest_framework import serializers, status
from rest_framework.exceptions import APIException
from rest_framework.request import Request
from rest_framework.viewsets import GenericViewSet

from shop.access import person_who_may
from shop.models import Person

BIGGEST = 2**63 - 1
BIGGEST_VERSION = 2**31 - 1

_DETAIL = inline_serializer("Detail", {"detail": serializers.CharField()})
ERRORS: dict[int, Any] = {
    400: OpenApiTypes.OBJECT,
    401: _DETAIL,
    403: _DETAIL,
    404: _DETAIL,
}
CONFLICT: dict[int, Any] = {409: _DETAIL}


class Conflict(APIException):
    """The thing asked for does not fit what is so now. Nothing was changed."""

    status_code = status.HTTP_409_CONFLICT
    default_code = "conflict"

    def __init__(self, fault: Exception) -> None:
        super().__init__(str(fault))


class Room(GenericViewSet):
    """A part of the API that knows who asks and which act the asking needs.

    acts: action -> act of shop.access; an action not named there needs only to see.
    """

    acts: dict[str, str] = {}
    lookup_value_regex = "[0-9]{1,18}"

    def initial(self, request: Request, *args: Any, **kwargs: Any) -> None:
        super().initial(request, *args, **kwargs)
        self.person: Person = person_who_may(request.user, self.act())

    def act(self) -> str:
        return self.acts.get(self.action or "", "advance")

    def asked(self, shape: type[serializers.Serializer]) -> dict[str, Any]:
        """The filters in the address, checked. A faulty one is a 400."""
        form = shape(data=self.request.query_params.dict())
        form.is_valid(raise_exception=True)
        return dict(form.validated_data)

    def given(self, shape: type[serializers.Serializer], **more: Any) -> dict[str, Any]:
        """The body, checked. A faulty one is a 400 with each field's fault."""
        form = shape(data=self.request.data, context=self.get_serializer_context())
        form.is_valid(raise_exception=True)
        return {**form.validated_data, **more}


def number_filter(name: str, words: str) -> OpenApiParameter:
    return OpenApiParameter(name, OpenApiTypes.INT64, description=words)


def id_field(**given: Any) -> serializers.IntegerField:
    return serializers.IntegerField(min_value=1, max_value=BIGGEST, **given)


def version_field() -> serializers.IntegerField:
    return serializers.IntegerField(
        min_value=1,
        max_value=BIGGEST_VERSION,
        required=False,
        help_text="What was seen. If it is no longer so, the answer is 409.",
    )


def key_field() -> serializers.CharField:
    return serializers.CharField(
        max_length=64,
        required=False,
        help_text="Your own key for this act. Sending it twice acts once.",
    )
