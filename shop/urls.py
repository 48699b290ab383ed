"""The front door: one include per room."""

from importlib.util import find_spec

from django.contrib import admin
from django.urls import URLPattern, URLResolver, include, path
from django.views.generic import RedirectView

from shop import views

ROOMS = ("jobs", "layout", "media")


def rooms(name: str) -> list[str]:
    return [f"{room}.{name}" for room in ROOMS if find_spec(f"{room}.{name}")]


urlpatterns: list[URLPattern | URLResolver] = [
    path("", RedirectView.as_view(pattern_name="jobs:today"), name="front"),
    path("", include("shop.signing")),
    *(path("", include(urls)) for urls in rooms("urls")),
    path("api/v1/", include("shop.api")),
    *(path("api/v1/", include(urls)) for urls in rooms("api")),
    path("shop/", admin.site.urls),
    path("health/", views.health, name="health"),
]
