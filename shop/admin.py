from __future__ import annotations

from typing import Any

from django import forms
from django.contrib import admin
from django.contrib.auth.admin import UserAdmin
from django.contrib.auth.forms import UserCreationForm
from django.http import HttpRequest
from django.utils.safestring import SafeString, mark_safe

from shop import brake_section
from shop.access import may
from shop.models import (
    Brake,
    Errand,
    Metal,
    MetalPair,
    Person,
    RackItem,
    SeamKind,
    ShopProfile,
    Standard,
    Stock,
)


class OwnersTable(admin.ModelAdmin):
    """A table the owner keeps. Rows are set aside, never deleted."""

    def has_module_permission(self, request: HttpRequest) -> bool:
        return may(request.user, "shop")

    def has_view_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return may(request.user, "shop")

    def has_add_permission(self, request: HttpRequest) -> bool:
        return may(request.user, "shop")

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return may(request.user, "shop")

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False


class NewPerson(UserCreationForm):
    class Meta:
        model = Person
        fields = ("username", "first_name", "last_name", "role")


@admin.register(Person)
class PersonAdmin(OwnersTable, UserAdmin):
    add_form = NewPerson
    list_display = ("username", "first_name", "last_name", "role", "is_active")
    list_filter = ("role", "is_active")
    fieldsets = (
        (None, {"fields": ("username", "password")}),
        ("Who", {"fields": ("first_name", "last_name", "email")}),
        ("What they may do", {"fields": ("role", "is_active")}),
    )
    add_fieldsets = (
        (
            None,
            {
                "classes": ("wide",),
                "fields": (
                    "username",
                    "first_name",
                    "last_name",
                    "role",
                    "password1",
                    "password2",
                ),
            },
        ),
    )


@admin.register(Metal)
class MetalAdmin(OwnersTable):
    list_display = ("name", "kind", "thickness_mm", "smallest_radius_mm", "active")
    list_filter = ("kind", "active")
    search_fields = ("name",)
    prepopulated_fields = {"slug": ("name",)}
    fieldsets = (
        (None, {"fields": ("name", "slug", "kind", "active")}),
        (
            "The sheet",
            {
                "fields": (
                    "thickness_mm",
                    "density_kg_m3",
                    "smallest_radius_mm",
                    "sides",
                    "stretch",
                    "source",
                )
            },
        ),
        (
            "Warmth",
            {
                "fields": (
                    "expansion_along_mm_m",
                    "expansion_across_mm_m",
                    "expansion_source",
                    "fold_from_c",
                    "fold_source",
                )
            },
        ),
    )


@admin.register(MetalPair)
class MetalPairAdmin(OwnersTable):
    list_display = ("first", "second", "meeting", "why", "active")
    list_filter = ("meeting", "active")


@admin.register(SeamKind)
class SeamKindAdmin(OwnersTable):
    list_display = (
        "__str__",
        "receiving_mm",
        "covering_mm",
        "lost_mm",
        "active",
    )
    list_filter = ("metal_kind", "made", "fold", "active")


@admin.register(Brake)
class BrakeAdmin(OwnersTable):
    list_display = ("name", "length_mm", "smallest_flange_mm", "active")
    readonly_fields = ("section",)
    fieldsets = (
        (None, {"fields": ("name", "active")}),
        (
            "What it folds",
            {
                "fields": (
                    "length_mm",
                    "throat_mm",
                    "smallest_flange_mm",
                    "smallest_clamp_mm",
                    "largest_angle_deg",
                    "radius_mm",
                )
            },
        ),
        ("Its section", {"fields": ("section", "jaw", "bed", "leaf")}),
    )

    @admin.display(description="As it is kept")
    def section(self, brake: Brake) -> str | SafeString:
        """Its shapes drawn; what was not saved yet is not shown."""
        parts = {
            part: brake_section.shapes(given)
            for part in brake_section.PARTS
            if (given := getattr(brake, part))
        }
        if not parts:
            return "The usual section; nothing of its own was entered."
        drawn = brake_section.picture(parts, f"Section of {brake}: {', '.join(parts)}")
        return mark_safe(drawn)  # numbers that were checked, and an escaped title


@admin.register(Stock)
class StockAdmin(OwnersTable):
    list_display = ("metal", "form", "width_mm", "length_mm")
    list_filter = ("form", "metal__kind")
    list_select_related = ("metal",)

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        """A form no longer bought stands on no paper: it may go."""
        return may(request.user, "shop")


class StandardForm(forms.ModelForm):
    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if choices := self.instance.choices:
            self.fields["value"] = forms.ChoiceField(
                choices=[(choice, choice) for choice in choices]
            )


@admin.register(Standard)
class StandardAdmin(OwnersTable):
    form = StandardForm
    list_display = ("__str__", "value", "unit", "words")
    fields = ("key", "words", "value", "unit", "source")
    readonly_fields = ("key", "words", "unit")
    search_fields = ("key", "words")

    def has_add_permission(self, request: HttpRequest) -> bool:
        return False


@admin.register(ShopProfile)
class ShopProfileAdmin(OwnersTable):
    def has_add_permission(self, request: HttpRequest) -> bool:
        return not ShopProfile.objects.exists() and super().has_add_permission(request)


@admin.register(Errand)
class ErrandAdmin(OwnersTable):
    """Read only: what the queue did and why something failed."""

    list_display = ("__str__", "state", "attempt", "asked_at", "ended_at", "reason")
    list_filter = ("state", "kind")

    def has_add_permission(self, request: HttpRequest) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False


@admin.register(RackItem)
class RackItemAdmin(OwnersTable):
    """Read only: the rack is changed by what happens to it, on its own pages."""

    list_display = ("__str__", "metal", "form", "state", "left_mm", "place", "paid")
    list_filter = ("state", "form", "metal__kind")
    list_select_related = ("metal",)
    search_fields = ("number", "lot", "finish", "place")

    def has_add_permission(self, request: HttpRequest) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False
