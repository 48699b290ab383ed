from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, serializers
from rest_framework.request import Request
from rest_framework.response import Response

from jobs import booking
from jobs.access import client_for, clients_for
from jobs.api.answers import CONFLICT, ERRORS, Conflict, Room, version_field
from jobs.models import Client
from jobs.models.clients import ClientQuerySet


class ClientSerializer(serializers.ModelSerializer[Client]):
    version = version_field()

    class Meta:
        model = Client
        fields = ["id", "name", "phone", "email", "address", "note", "version"]

    def create(self, validated_data: dict[str, Any]) -> Client:
        validated_data.pop("version", None)
        return Client.objects.create(**validated_data)


class ClientFilter(serializers.Serializer[Any]):
    words = serializers.CharField(required=False, max_length=100, allow_blank=True)


@extend_schema(tags=["clients"])
@extend_schema_view(
    list=extend_schema(
        parameters=[ClientFilter], responses={200: ClientSerializer, **ERRORS}
    ),
    retrieve=extend_schema(responses={200: ClientSerializer, **ERRORS}),
    create=extend_schema(responses={201: ClientSerializer, **ERRORS}),
)
class ClientViewSet(
    mixins.ListModelMixin, mixins.CreateModelMixin, mixins.RetrieveModelMixin, Room
):
    """Clients of the shop."""

    serializer_class = ClientSerializer
    acts = {"create": "book", "partial_update": "book"}

    def get_queryset(self) -> ClientQuerySet:
        clients = clients_for(self.person, self.act()).by_name()
        if self.action != "list":
            return clients
        return clients.matching(self.asked(ClientFilter).get("words", ""))

    @extend_schema(
        request=ClientSerializer,
        responses={200: ClientSerializer, **ERRORS, **CONFLICT},
    )
    def partial_update(self, request: Request, pk: str) -> Response:
        client = client_for(self.person, int(pk), "book")
        form = ClientSerializer(client, data=request.data, partial=True)
        form.is_valid(raise_exception=True)
        typed = dict(form.validated_data)
        version = typed.pop("version", client.version)
        try:
            client = booking.change_client(client, self.person, typed, version)
        except booking.ChangedMeanwhile as fault:
            raise Conflict(fault) from fault
        return Response(ClientSerializer(client).data)
