"""shop/access.py's table at the doors of the API; pages start without its framework."""

from __future__ import annotations

from typing import Any

from rest_framework.permissions import BasePermission
from rest_framework.request import Request
from rest_framework.views import APIView

from shop.access import ACTS, may


def api_needs(act: str) -> type[BasePermission]:
    """Only for those who may: permission_classes = [api_needs("book")]."""
    ACTS[act]

    class Needs(BasePermission):
        def has_permission(self, request: Request, view: APIView) -> bool:
            user: Any = request.user
            return may(user, act)

    return Needs
