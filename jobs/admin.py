from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.http import HttpRequest
from django.utils import timezone

from jobs.models import Event
from jobs.models.events import EventQuerySet
from shop.access import may


class YearFilter(admin.SimpleListFilter):
    """Years from the first event on: the framework's own looks at every event."""

    title = "year"
    parameter_name = "year"

    def lookups(self, request: HttpRequest, of: Any) -> list[tuple[str, str]]:
        first = Event.objects.order_by("at", "pk").first()
        if first is None:
            return []
        begins = timezone.localtime(first.at).year
        years = range(timezone.localdate().year, begins - 1, -1)
        return [(str(year), str(year)) for year in years]

    def queryset(self, request: HttpRequest, events: Any) -> EventQuerySet:
        known = {year for year, _ in self.lookup_choices}
        year = self.value()
        found: EventQuerySet = events
        return found.filter(at__year=int(year)) if year in known else found


@admin.register(Event)
class EventAdmin(admin.ModelAdmin):
    """To look up only: events are added by what people do, and stay."""

    list_display = ("at", "who", "what", "about", "job", "piece")
    list_select_related = ("by", "job", "piece")
    list_filter = (YearFilter, "what")
    search_fields = ("about", "reason")

    def has_module_permission(self, request: HttpRequest) -> bool:
        return may(request.user, "shop")

    def has_view_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return may(request.user, "shop")

    def has_add_permission(self, request: HttpRequest) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False
