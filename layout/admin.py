from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.http import HttpRequest

from layout.models import CutPlan, LaidPiece, Layout
from shop.access import may


class OnlyLookedAt(admin.ModelAdmin):
    """Layouts are made by laying out and stay as they are."""

    def has_module_permission(self, request: HttpRequest) -> bool:
        return may(request.user, "shop")

    def has_view_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return may(request.user, "shop")

    def has_add_permission(self, request: HttpRequest, *args: Any) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False


@admin.register(Layout)
class LayoutAdmin(OnlyLookedAt):
    list_display = ["job", "number", "state", "asked_by", "made_at"]
    list_filter = ["state"]
    list_select_related = ["job", "asked_by"]
    search_fields = ["job__number", "job__title"]
    exclude = ["frame"]


@admin.register(LaidPiece)
class LaidPieceAdmin(OnlyLookedAt):
    list_display = ["layout", "mark", "title", "quantity", "metal", "kept"]
    list_filter = ["family"]
    list_select_related = ["layout__job"]
    search_fields = ["mark", "layout__job__number"]
    exclude = ["pattern"]

    def get_queryset(self, request: HttpRequest) -> Any:
        return super().get_queryset(request).defer("pattern", "layout__frame")


@admin.register(CutPlan)
class CutPlanAdmin(OnlyLookedAt):
    list_display = ["number", "metal", "state", "seconds", "asked_by", "asked_at"]
    list_filter = ["state", "metal__kind"]
    list_select_related = ["metal", "asked_by"]
    exclude = ["errand"]
