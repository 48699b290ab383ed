from __future__ import annotations

from collections.abc import Callable
from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from jobs import asking, progress
from jobs.access import job_for, piece_for, pieces_for
from jobs.api.answers import (
    CONFLICT,
    ERRORS,
    Conflict,
    Room,
    id_field,
    key_field,
    version_field,
)
from jobs.models import Piece
from jobs.models.pieces import PieceQuerySet


class PieceSerializer(serializers.ModelSerializer[Piece]):
    class Meta:
        model = Piece
        fields = [
            "id",
            "job",
            "mark",
            "making",
            "family",
            "hand",
            "quantity",
            "metal",
            "state",
            "held",
            "held_because",
            "scrapped",
            "scrapped_because",
            "remake_of",
            "version",
        ]
        read_only_fields = fields


class AskSerializer(serializers.Serializer[Any]):
    job = id_field()
    mark = serializers.RegexField(r"^[A-Za-z0-9_.-]+$", max_length=20)
    family = serializers.RegexField(r"^[a-z][a-z0-9_]*$", max_length=40)
    hand = serializers.ChoiceField(
        choices=["", *Piece.Hand.values], required=False, default=""
    )
    quantity = serializers.IntegerField(
        min_value=1, max_value=9999, required=False, default=1
    )
    metal = serializers.CharField(max_length=60, required=False, default="")


class AdvanceSerializer(serializers.Serializer[Any]):
    to = serializers.ChoiceField(choices=Piece.State.choices)
    version = version_field()
    key = key_field()


class SeveralSerializer(serializers.Serializer[Any]):
    """Pieces of one job: all move, or none."""

    class Seen(serializers.Serializer[Any]):
        id = id_field()
        version = version_field()

    job = id_field()
    to = serializers.ChoiceField(choices=Piece.State.choices)
    pieces = serializers.ListField(child=Seen(), allow_empty=False, max_length=500)
    key = key_field()


class ReasonSerializer(serializers.Serializer[Any]):
    reason = serializers.CharField(max_length=300)
    version = version_field()
    key = key_field()


class ReleaseSerializer(ReasonSerializer):
    reason = serializers.CharField(max_length=300, required=False, default="")


class ScrapSerializer(serializers.Serializer[Any]):
    reason = serializers.ChoiceField(choices=Piece.Spoiled.choices)
    note = serializers.CharField(max_length=300, required=False, default="")
    version = version_field()
    key = key_field()


class PieceFilter(serializers.Serializer[Any]):
    job = id_field(required=False)
    state = serializers.ChoiceField(choices=Piece.State.choices, required=False)


DONE = {200: PieceSerializer, **ERRORS, **CONFLICT}


@extend_schema(tags=["pieces"])
@extend_schema_view(
    list=extend_schema(
        parameters=[PieceFilter], responses={200: PieceSerializer, **ERRORS}
    ),
    retrieve=extend_schema(responses={200: PieceSerializer, **ERRORS}),
)
class PieceViewSet(mixins.ListModelMixin, mixins.RetrieveModelMixin, Room):
    """Pieces of metal, and their way from asked to installed."""

    serializer_class = PieceSerializer
    acts = {"create": "lay_out"}

    def get_queryset(self) -> PieceQuerySet:
        pieces = pieces_for(self.person, self.act()).in_order()
        return (
            pieces.filter(**self.asked(PieceFilter))
            if self.action == "list"
            else pieces
        )

    @extend_schema(
        request=AskSerializer, responses={201: PieceSerializer, **ERRORS, **CONFLICT}
    )
    def create(self, request: Request) -> Response:
        asked = self.given(AskSerializer)
        job = job_for(self.person, asked.pop("job"), "lay_out")
        try:
            piece = asking.ask_for(job, self.person, **asked)
        except ValueError as fault:
            raise Conflict(fault) from fault
        return Response(PieceSerializer(piece).data, status=201)

    @extend_schema(request=AdvanceSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def advance(self, request: Request, pk: str) -> Response:
        def verb(piece: Piece, by: Any, to: str, **seen: Any) -> Piece:
            return progress.advance([piece], to, by, **seen)[0]

        return self._moved(pk, AdvanceSerializer, verb, "to")

    @extend_schema(
        request=SeveralSerializer,
        responses={200: PieceSerializer(many=True), **ERRORS, **CONFLICT},
        operation_id="pieces_advance_several",
        filters=False,
    )
    @action(detail=False, methods=["post"], url_path="advance", pagination_class=None)
    def advance_several(self, request: Request) -> Response:
        asked = self.given(SeveralSerializer)
        job = job_for(self.person, asked["job"])
        seen = {it["id"]: it.get("version") for it in asked["pieces"]}
        pieces = list(job.pieces.filter(pk__in=seen))
        if len(pieces) < len(seen):
            missing = sorted(set(seen) - {piece.pk for piece in pieces})
            raise serializers.ValidationError(
                {"pieces": [f"{job} has no piece with the id {missing[0]}."]}
            )
        try:
            moved = progress.advance(
                pieces,
                asked["to"],
                self.person,
                version={pk: number for pk, number in seen.items() if number},
                key=self._key(f"several-{asked['to']}", asked),
            )
        except progress.Refused as fault:
            raise Conflict(fault) from fault
        return Response(PieceSerializer(moved, many=True).data)

    @extend_schema(request=ReasonSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def undo(self, request: Request, pk: str) -> Response:
        return self._moved(pk, ReasonSerializer, progress.undo)

    @extend_schema(request=ReasonSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def hold(self, request: Request, pk: str) -> Response:
        return self._moved(pk, ReasonSerializer, progress.hold)

    @extend_schema(request=ReleaseSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def release(self, request: Request, pk: str) -> Response:
        return self._moved(pk, ReleaseSerializer, progress.release)

    @extend_schema(request=ScrapSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def scrap(self, request: Request, pk: str) -> Response:
        return self._moved(pk, ScrapSerializer, progress.scrap)

    def _moved(
        self,
        pk: str,
        shape: type[serializers.Serializer[Any]],
        verb: Callable[..., Piece],
        how: str = "reason",
    ) -> Response:
        piece = piece_for(self.person, int(pk))
        asked = self.given(shape)
        more = {"note": asked["note"]} if "note" in asked else {}
        try:
            piece = verb(
                piece,
                self.person,
                asked[how],
                version=asked.get("version"),
                key=self._key(str(self.action), asked),
                **more,
            )
        except progress.Refused as fault:
            raise Conflict(fault) from fault
        return Response(PieceSerializer(piece).data)

    def _key(self, act: str, asked: dict[str, Any]) -> str | None:
        key = asked.get("key")
        return f"api:{self.person.pk}:{act}:{key}" if key else None
