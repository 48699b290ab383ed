"""The owner's tables, in Django's admin."""

from __future__ import annotations

from django.contrib.admin import AdminSite
from django.http import HttpRequest

from shop.access import may


class OwnersSite(AdminSite):
    site_header = "Shop"
    site_title = "Seambook"
    index_title = "People, brakes, metals, standards"
    index_template = "shop/owners_index.html"

    def has_permission(self, request: HttpRequest) -> bool:
        return may(request.user, "shop")
