from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.http import HttpRequest

from media.models import Document, Photo
from shop.access import may


class LookUp(admin.ModelAdmin):
    """To look up only: photos and papers come from what people do, and stay."""

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


@admin.register(Photo)
class PhotoAdmin(LookUp):
    list_display = ("__str__", "job", "measure", "uploaded_by", "uploaded_at")
    list_select_related = ("job", "uploaded_by")
    search_fields = ("caption", "measure")
    exclude = ("file", "small")


@admin.register(Document)
class DocumentAdmin(LookUp):
    list_display = ("number", "job", "title", "state", "asked_by", "asked_at", "digest")
    list_select_related = ("job", "asked_by")
    list_filter = ("state", "kind")
    search_fields = ("title",)
    exclude = ("file",)
