from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, serializers

from jobs.access import jobs_for
from jobs.api.answers import ERRORS, Room, id_field
from jobs.models import Event
from jobs.models.events import EventQuerySet


class EventSerializer(serializers.ModelSerializer[Event]):
    who = serializers.CharField(
        read_only=True, help_text="Seambook: nobody, it came about by itself."
    )

    class Meta:
        model = Event
        fields = [
            "id",
            "job",
            "piece",
            "what",
            "about",
            "before",
            "after",
            "who",
            "at",
            "reason",
        ]


class EventFilter(serializers.Serializer[Any]):
    job = id_field(required=False)
    piece = id_field(required=False)


@extend_schema(tags=["events"])
@extend_schema_view(
    list=extend_schema(
        parameters=[EventFilter], responses={200: EventSerializer, **ERRORS}
    )
)
class EventViewSet(mixins.ListModelMixin, Room):
    """Who did what and when, newest first. Events are only added, by what is done."""

    serializer_class = EventSerializer

    def get_queryset(self) -> EventQuerySet:
        events = Event.objects.filter(job__in=jobs_for(self.person).order_by())
        return events.filter(**self.asked(EventFilter)).with_names()
