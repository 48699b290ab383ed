"""The front door: one include per room."""

from django.contrib import admin
from django.urls import include, path
from django.views.generic import RedirectView

from shop import views

urlpatterns = [
    path("", RedirectView.as_view(pattern_name="jobs:today"), name="front"),
    path("", include("shop.signing")),
    path("", include("shop.rack_urls")),
    path("", include("jobs.urls")),
    path("", include("layout.urls")),
    path("", include("media.urls")),
    path("numbers/", include("layout.views.numbers")),
    path("api/v1/", include("shop.api")),
    path("api/v1/", include("shop.rack_api")),
    path("api/v1/", include("shop.price_api")),
    path("api/v1/", include("jobs.api")),
    path("api/v1/", include("layout.api")),
    path("api/v1/", include("layout.plans_api")),
    path("api/v1/", include("media.api")),
    path("api/v1/", include("media.quotes_api")),
    path("shop/", include("shop.price_views")),
    path("shop/", admin.site.urls),
    path("health/", views.health, name="health"),
]
