from django.urls import path

from media.views import papers, photos

app_name = "media"

urlpatterns = [
    path("jobs/<int:pk>/photos/", photos.add, name="photo_add"),
    path(
        "jobs/<int:pk>/photos/beside/", photos.beside_measures, name="beside_measures"
    ),
    path("files/photos/<int:pk>/", photos.photo, name="photo"),
    path("files/photos/<int:pk>/small/", photos.photo_small, name="photo_small"),
    path("jobs/<int:pk>/papers/", papers.papers, name="papers"),
    path("jobs/<int:pk>/papers/make/", papers.make, name="make_sheets"),
    path("files/documents/<int:pk>/", papers.document, name="document"),
]
