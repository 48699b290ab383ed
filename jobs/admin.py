from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.http import HttpRequest

from jobs.models import Event
from shop.access import may


@admin.register(Event)
class EventAdmin(admin.ModelAdmin):
    """To look up only: events are added by what people do, and stay."""

    list_display = ("at", "who", "what", "about", "job", "piece")
    list_select_related = ("by", "job", "piece")
    list_filter = ("what",)
    search_fields = ("about", "reason")
    date_hierarchy = "at"

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
