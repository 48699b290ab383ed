"""Layouts for programs: a site record in, set.json and files out; layouts of a job."""

from __future__ import annotations

import base64
import json
from typing import Any, NamedTuple

from django.urls import path
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import (
    OpenApiExample,
    OpenApiParameter,
    extend_schema,
    extend_schema_view,
    inline_serializer,
)
from rest_framework import mixins, serializers, status
from rest_framework.exceptions import APIException, NotFound, ParseError
from rest_framework.parsers import JSONParser
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.routers import SimpleRouter
from rest_framework.views import APIView

from jobs.access import job_for, person_who_may
from jobs.api.answers import CONFLICT, ERRORS, Conflict, Room, id_field
from jobs.progress import Refused
from layout import folder, run, site_record, stored
from layout.faults import BadRecord, CannotBuild, Fault
from layout.folding.allowance import RULES, Rule
from layout.folding.result import LaidSet
from layout.laying import lay_out_job
from layout.models import LaidPiece, Layout, LayoutQuerySet
from layout.reading import facts_of_the_shop
from layout.recording import Closed
from layout.set_file import set_file
from shop.api_access import api_needs

LARGEST = 100_000
"""Bytes of a site record; a whole one has about a thousand."""
DEEPEST = 20
"""Levels of a record; a whole one has four."""

KINDS = sorted(it.stem for it in site_record.SCHEMAS.glob("*.json"))

EXAMPLE = {
    "format": "seambook.site/1",
    "units": "in",
    "penetration": {
        "kind": "chimney",
        "front": "32 3/4",
        "back": "32 3/4",
        "left": "26 3/4",
        "right": "26 3/4",
        "diagonal": None,
    },
    "roof": {
        "pitch": "9:12",
        "left_pan": "11 1/4",
        "right_pan": "10 1/8",
        "below": "10",
        "above": "26",
        "seam": {"fold": "double", "height": "1", "turn": "3/8"},
    },
    "walls": {
        "upstand_front": "6",
        "upstand_side": "6",
        "upstand_back": "8",
        "material": "brick",
        "course": "2 2/3",
        "reglet": "8",
    },
    "metal": "copper 20 oz",
    "build": {
        "back": "saddle",
        "counterflashing": "stepped",
        "sweep_radius": "3",
        "leg_at_wall_top": "1/2",
    },
}


class TooLarge(APIException):
    status_code = status.HTTP_413_REQUEST_ENTITY_TOO_LARGE
    default_code = "too_large"

    def __init__(self) -> None:
        super().__init__(
            f"The record is over {LARGEST} bytes. Give one site, a few kB."
        )


class RecordParser(JSONParser):
    """JSON of a record's size and depth. What can't be JSON is a 400, never a 500."""

    def parse(
        self, stream: Any, media_type: str | None = None, parser_context: Any = None
    ) -> Any:
        raw = stream.read(LARGEST + 1)
        if len(raw) > LARGEST:
            raise TooLarge
        try:
            words = raw.decode("utf-8-sig")
            parsed = json.loads(words, parse_constant=_no_number)
            json.dumps(parsed, ensure_ascii=False).encode("utf-8")
        except (ValueError, RecursionError) as fault:
            why = str(fault).split("\n")[0][:120]
            raise ParseError(f"The record is no JSON we can read: {why}") from fault
        if _depth(parsed) > DEEPEST:
            raise ParseError(f"The record is nested over {DEEPEST} levels deep.")
        return parsed


def _no_number(words: str) -> None:
    raise ValueError(f"{words} is not a number")


def _depth(value: Any) -> int:
    deepest, level = 0, [value]
    while level:
        deepest += 1
        level = [
            inner
            for outer in level
            if isinstance(outer, dict | list)
            for inner in (outer.values() if isinstance(outer, dict) else outer)
        ]
    return deepest


class FaultSerializer(serializers.Serializer[Any]):
    field = serializers.CharField(help_text="Dotted path in the record.")
    given = serializers.CharField()
    expected = serializers.CharField()


_FAULTS = inline_serializer(
    "Faults",
    {
        "detail": serializers.CharField(required=False),
        "faults": FaultSerializer(many=True, required=False),
    },
)
_REASONS = inline_serializer(
    "Reasons", {"reasons": serializers.ListField(child=serializers.CharField())}
)
_LAID = inline_serializer(
    "LaidSet",
    {
        "set": serializers.JSONField(help_text="set.json, seambook.set/1."),
        "files": serializers.DictField(
            child=serializers.CharField(),
            help_text="Name -> content. Text as it is; a PDF in base64.",
        ),
    },
)


class LayoutSerializer(serializers.ModelSerializer[Layout]):
    reasons = serializers.ListField(child=serializers.CharField(), read_only=True)

    class Meta:
        model = Layout
        fields = [
            "id",
            "job",
            "number",
            "state",
            "digest",
            "asked_by",
            "made_at",
            "reasons",
            "findings",
        ]
        read_only_fields = fields


class LaidPieceSerializer(serializers.ModelSerializer[LaidPiece]):
    class Meta:
        model = LaidPiece
        fields = ["id", "mark", "pieces", "kept", "differs"]
        read_only_fields = fields


class WholeLayoutSerializer(LayoutSerializer):
    laid_pieces = LaidPieceSerializer(many=True, read_only=True)
    set = serializers.SerializerMethodField(
        help_text="set.json as it was laid out; null where it was refused whole."
    )

    class Meta(LayoutSerializer.Meta):
        fields = [*LayoutSerializer.Meta.fields, "record", "laid_pieces", "set"]
        read_only_fields = fields

    def get_set(self, layout: Layout) -> dict[str, Any] | None:
        return set_file(stored.laid_set(layout)) if layout.frame else None


class JobFilter(serializers.Serializer[Any]):
    job = id_field(required=False)


class Asked(NamedTuple):
    """What the address asks for beside the record."""

    sheets: list[str]
    partial: bool
    allowance: Rule | None


@extend_schema(tags=["layouts"])
@extend_schema_view(
    list=extend_schema(
        parameters=[JobFilter], responses={200: LayoutSerializer, **ERRORS}
    ),
    retrieve=extend_schema(responses={200: WholeLayoutSerializer, **ERRORS}),
)
class LayoutViewSet(mixins.ListModelMixin, mixins.RetrieveModelMixin, Room):
    """Layouts that were kept, and the laying out of a record that is not."""

    acts = {"create": "lay_out"}
    parser_classes = [RecordParser]

    def get_queryset(self) -> LayoutQuerySet:
        if self.action != "list":
            return Layout.objects.prefetch_related("laid_pieces__pieces")
        found = Layout.objects.order_by("-made_at", "-pk").defer("frame", "record")
        return found.filter(**self.asked(JobFilter))

    def get_serializer_class(self) -> type[LayoutSerializer]:
        return LayoutSerializer if self.action == "list" else WholeLayoutSerializer

    @extend_schema(
        request={"application/json": OpenApiTypes.OBJECT},
        examples=[OpenApiExample("A chimney", EXAMPLE, request_only=True)],
        parameters=[
            OpenApiParameter(
                "sheets",
                OpenApiTypes.STR,
                description="Any of fold,svg,dxf,pdf with commas; fold if not said.",
            ),
            OpenApiParameter(
                "partial",
                OpenApiTypes.STR,
                enum=["yes", "no"],
                description="Give the pieces that can be built where some can't.",
            ),
            OpenApiParameter(
                "allowance",
                OpenApiTypes.STR,
                enum=list(RULES),
                description="How thickness is allowed for; as the shop does if not"
                " said.",
            ),
        ],
        responses={
            200: _LAID,
            400: _FAULTS,
            401: ERRORS[401],
            403: ERRORS[403],
            413: ERRORS[401],
            422: _REASONS,
        },
    )
    def create(self, request: Request) -> Response:
        """Lays out one site record. Nothing is kept.

        The record's shape is at /api/v1/schemas/. The answer to one that can't be
        read is 400 with a fault a field; to one that can't be built, 422 with the
        reasons.
        """
        try:
            asked = _asked(request)
            laid = run.lay_out(
                request.data, facts_of_the_shop, allowance=asked.allowance
            )
            if laid.refused and not asked.partial:
                raise CannotBuild(list(laid.refused))
            return Response({"set": set_file(laid), "files": _files(laid, asked)})
        except BadRecord as bad:
            return _faulty(bad)
        except CannotBuild as cannot:
            return _unbuildable(cannot)


def _asked(request: Request) -> Asked:
    """Raises BadRecord where the address asks for what is not there."""
    said = request.query_params.dict()
    faults = []
    sheets = [it.strip() for it in said.pop("sheets", "fold").split(",") if it.strip()]
    for sheet in sheets:
        if sheet not in folder.SHEETS:
            known = ", ".join(folder.SHEETS)
            faults.append(
                Fault("sheets", f'was "{sheet[:40]}"', f"give any of {known}")
            )
    partial = said.pop("partial", "no")
    if partial not in ("yes", "no"):
        faults.append(Fault("partial", f'was "{partial[:40]}"', "give yes or no"))
    allowance = said.pop("allowance", None)
    if allowance is not None and allowance not in RULES:
        known = ", ".join(RULES)
        faults.append(
            Fault("allowance", f'was "{allowance[:40]}"', f"give one of {known}")
        )
    if faults:
        raise BadRecord(faults)
    rule = next((it for it in RULES if it == allowance), None)
    return Asked(sheets, partial == "yes", rule)


def _files(laid: LaidSet, asked: Asked) -> dict[str, str]:
    """Name -> content of all files but set.json, which stands beside them."""
    return {
        name: _as_text(name, content)
        for name, content in folder.files(laid, asked.sheets)
        if name != "set.json"
    }


def _as_text(name: str, content: bytes) -> str:
    if name.endswith(".pdf"):
        return base64.b64encode(content).decode("ascii")
    return content.decode("utf-8")


def _faulty(bad: BadRecord) -> Response:
    faults = [_told(fault) for fault in bad.faults]
    return Response({"faults": faults}, status.HTTP_400_BAD_REQUEST)


def _told(fault: Fault) -> dict[str, str]:
    return {"field": fault.field, "given": fault.given, "expected": fault.expected}


def _unbuildable(cannot: CannotBuild) -> Response:
    return Response({"reasons": cannot.reasons}, status.HTTP_422_UNPROCESSABLE_ENTITY)


@extend_schema(tags=["layouts"])
class JobLayout(APIView):
    """The laying out of a job from the measures that count."""

    permission_classes = [api_needs("lay_out")]

    @extend_schema(
        request=None,
        responses={
            200: WholeLayoutSerializer,
            400: _FAULTS,
            401: ERRORS[401],
            403: ERRORS[403],
            404: ERRORS[404],
            422: _REASONS,
            **CONFLICT,
        },
    )
    def post(self, request: Request, pk: int) -> Response:
        """Lays the job out. Nothing changed since: the last layout is the answer.

        A job that can't be built is a layout too, with its state and reasons.
        """
        person = person_who_may(request.user, "lay_out")
        job = job_for(person, pk, "lay_out")
        try:
            layout = lay_out_job(job, person)
        except BadRecord as bad:
            return _faulty(bad)
        except CannotBuild as cannot:
            return _unbuildable(cannot)
        except (Closed, Refused) as refused:
            raise Conflict(refused) from refused
        return Response(WholeLayoutSerializer(layout).data)


@extend_schema(tags=["layouts"])
class Schemas(APIView):
    """JSON Schemas of the site record, by kind."""

    permission_classes = [api_needs("advance")]

    @extend_schema(responses={200: OpenApiTypes.OBJECT, **ERRORS})
    def get(self, request: Request, kind: str) -> Response:
        """The JSON Schema of one kind of site, such as chimney or pipe; of a record
        that holds several: several."""
        if kind not in KINDS:
            raise NotFound(f"There is no schema {kind}. Known are {', '.join(KINDS)}.")
        return Response(site_record.bundled(kind))


router = SimpleRouter()
router.register("layouts", LayoutViewSet, basename="api-layouts")

urlpatterns = [
    path("jobs/<int:pk>/layout/", JobLayout.as_view(), name="api-job-layout"),
    path("schemas/<slug:kind>/", Schemas.as_view(), name="api-schema-of"),
    *router.urls,
]
