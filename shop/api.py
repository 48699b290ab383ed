"""What the API shares: the token to sign in with, and the description of it all."""

from __future__ import annotations

from django.urls import path
from drf_spectacular.views import SpectacularAPIView
from rest_framework.authtoken.views import obtain_auth_token

urlpatterns = [
    path("token/", obtain_auth_token, name="api-token"),
    path("schema/", SpectacularAPIView.as_view(), name="api-schema"),
]
