"""Signing in and out, and a new password: Django's own views."""

from django.contrib.auth import views
from django.urls import path

urlpatterns = [
    path("sign-in/", views.LoginView.as_view(), name="login"),
    path("sign-out/", views.LogoutView.as_view(), name="logout"),
    path(
        "password/",
        views.PasswordChangeView.as_view(
            template_name="registration/change_password.html", success_url="/"
        ),
        name="password_change",
    ),
]
