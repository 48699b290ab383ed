"""Photos and papers for programs: the same doors and verbs as the pages."""

from __future__ import annotations

from typing import Any

from django.http import FileResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema, extend_schema_view
from rest_framework import mixins, serializers, status
from rest_framework.decorators import action
from rest_framework.exceptions import ValidationError
from rest_framework.parsers import MultiPartParser
from rest_framework.renderers import BaseRenderer, JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.routers import SimpleRouter

from jobs.access import cost_for, job_for
from jobs.api.answers import CONFLICT, ERRORS, Conflict, Room, id_field, key_field
from jobs.models import Cost, Job
from jobs.views.keys import key_of
from layout.faults import BadRecord, CannotBuild
from layout.recording import Closed
from media import documents, photos
from media.access import document_for, documents_for, photo_for, photos_for
from media.forms import measure_choices
from media.models import Document, Photo
from media.models.documents import DocumentQuerySet
from media.models.photos import PhotoQuerySet
from media.views.papers import served

KEY = OpenApiParameter(
    "Idempotency-Key",
    OpenApiTypes.STR,
    OpenApiParameter.HEADER,
    description="Your own key for this act. Sending it twice acts once.",
)
KEY_SIGNS = 64


class JobFilter(serializers.Serializer[Any]):
    job = id_field(required=False)


class PhotoSerializer(serializers.ModelSerializer[Photo]):
    class Meta:
        model = Photo
        fields = [
            "id",
            "job",
            "measure",
            "cost",
            "caption",
            "uploaded_by",
            "uploaded_at",
            "taken_at",
            "width",
            "height",
            "digest",
        ]
        read_only_fields = fields


class SentPhotoSerializer(serializers.Serializer[Any]):
    job = id_field()
    photo = serializers.FileField(help_text=photos.FORMAT_WORDS)
    measure = serializers.ChoiceField(
        choices=measure_choices(), required=False, allow_blank=True, default=""
    )
    caption = serializers.CharField(
        max_length=200, required=False, allow_blank=True, default=""
    )
    cost = id_field(
        required=False,
        help_text="The cost it is the receipt of, by who may see money.",
    )
    key = key_field()


class DocumentSerializer(serializers.ModelSerializer[Document]):
    state = serializers.ChoiceField(
        source="standing", choices=Document.State.choices, read_only=True
    )
    reason = serializers.CharField(source="why", read_only=True)

    class Meta:
        model = Document
        fields = [
            "id",
            "job",
            "number",
            "kind",
            "title",
            "layout",
            "paper",
            "state",
            "reason",
            "asked_by",
            "asked_at",
            "made_at",
            "digest",
            "size",
        ]
        read_only_fields = fields


class AskedPaperSerializer(serializers.Serializer[Any]):
    job = id_field()
    paper = serializers.ChoiceField(choices=["letter", "a4"], required=False)
    key = key_field()


class JpegRenderer(BaseRenderer):
    media_type = "image/jpeg"
    format = "jpeg"
    render_style = "binary"

    def render(self, data: Any, *args: Any, **kwargs: Any) -> Any:
        return data


class PdfRenderer(JpegRenderer):
    media_type = "application/pdf"
    format = "pdf"


@extend_schema(tags=["photos"])
@extend_schema_view(
    list=extend_schema(
        parameters=[JobFilter], responses={200: PhotoSerializer, **ERRORS}
    ),
    retrieve=extend_schema(responses={200: PhotoSerializer, **ERRORS}),
)
class PhotoViewSet(mixins.ListModelMixin, mixins.RetrieveModelMixin, Room):
    """Photos of a job: upright, without their place and other private marks."""

    serializer_class = PhotoSerializer
    parser_classes = [MultiPartParser]
    acts = {"create": "measure"}

    def get_queryset(self) -> PhotoQuerySet:
        found = photos_for(self.person)
        return found.filter(**self.asked(JobFilter)) if self.action == "list" else found

    @extend_schema(
        request=SentPhotoSerializer,
        parameters=[KEY],
        responses={201: PhotoSerializer, **ERRORS},
    )
    def create(self, request: Request) -> Response:
        given = self.given(SentPhotoSerializer)
        job = job_for(self.person, given["job"], "measure")
        try:
            photo = photos.keep(
                job,
                self.person,
                given["photo"].read(photos.MOST_BYTES + 1),
                measure=given["measure"],
                caption=given["caption"],
                cost=self._cost(job, given.get("cost")),
                key=key_of(self.person, "photo", _key(request, given)),
            )
        except photos.PhotoRefused as refused:
            raise ValidationError({"photo": [str(refused)]}) from refused
        return Response(PhotoSerializer(photo).data, status.HTTP_201_CREATED)

    def _cost(self, job: Job, pk: int | None) -> Cost | None:
        """The cost of this job that a receipt is of."""
        if pk is None:
            return None
        cost = cost_for(self.person, pk)
        if cost.job_id != job.pk:
            raise ValidationError({"cost": [f"{job} has no cost with the id {pk}."]})
        return cost

    @extend_schema(responses={(200, "image/jpeg"): OpenApiTypes.BINARY, **ERRORS})
    @action(detail=True, renderer_classes=[JSONRenderer, JpegRenderer])
    def file(self, request: Request, pk: str) -> FileResponse:
        """The photo itself, a JPEG."""
        photo = photo_for(self.person, int(pk))
        return FileResponse(photo.file.open("rb"), content_type="image/jpeg")


@extend_schema(tags=["documents"])
@extend_schema_view(
    list=extend_schema(
        parameters=[JobFilter], responses={200: DocumentSerializer, **ERRORS}
    ),
    retrieve=extend_schema(responses={200: DocumentSerializer, **ERRORS}),
)
class DocumentViewSet(mixins.ListModelMixin, mixins.RetrieveModelMixin, Room):
    """Papers of the shop: numbered, with the digest of their file."""

    serializer_class = DocumentSerializer
    acts = {"create": "lay_out"}

    def get_queryset(self) -> DocumentQuerySet:
        found = documents_for(self.person)
        if self.action == "list" and (job := self.asked(JobFilter).get("job")):
            return found.of_job(job)
        return found

    @extend_schema(
        request=AskedPaperSerializer,
        parameters=[KEY],
        responses={201: DocumentSerializer, **ERRORS, **CONFLICT},
    )
    def create(self, request: Request) -> Response:
        """Asks for cut sheets of a job. They are waiting until a worker made them."""
        given = self.given(AskedPaperSerializer)
        job = job_for(self.person, given["job"], "lay_out")
        try:
            document = documents.ask_for_cut_sheets(
                job,
                self.person,
                address=request.build_absolute_uri("/"),
                paper=given.get("paper", ""),
                key=key_of(self.person, "sheets", _key(request, given)),
            )
        except BadRecord as bad:
            words = [str(fault) for fault in bad.faults]
            raise ValidationError({"job": words}) from bad
        except (documents.NothingToDraw, CannotBuild, Closed) as nothing:
            raise Conflict(ValueError(str(nothing))) from nothing
        return Response(DocumentSerializer(document).data, status.HTTP_201_CREATED)

    @extend_schema(
        responses={(200, "application/pdf"): OpenApiTypes.BINARY, **ERRORS, **CONFLICT}
    )
    @action(detail=True, renderer_classes=[JSONRenderer, PdfRenderer])
    def file(self, request: Request, pk: str) -> FileResponse:
        """The paper itself, a PDF; 409 while it is not made."""
        document = document_for(self.person, int(pk))
        if not document.is_made():
            raise Conflict(ValueError(f"{document} is {document.standing_words()}."))
        return served(document)


def _key(request: Request, given: dict[str, Any]) -> str | None:
    """The header, else the field."""
    key = request.headers.get("Idempotency-Key") or given.get("key") or None
    if key and len(key) > KEY_SIGNS:
        raise ValidationError(
            {"key": [f"The key has {len(key)} signs. Give {KEY_SIGNS} or fewer."]}
        )
    return key


router = SimpleRouter()
router.register("photos", PhotoViewSet, basename="api-photos")
router.register("documents", DocumentViewSet, basename="api-documents")

urlpatterns = router.urls
