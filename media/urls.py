from django.urls import path

from media.views import costs, papers, photos, plan_papers, quotes

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
    path("jobs/<int:pk>/quote/", quotes.draw_up, name="quote_new"),
    path("jobs/<int:pk>/costs/", costs.costs, name="costs"),
    path("quotes/<int:pk>/paper/", quotes.paper, name="quote_paper"),
    path("jobs/<int:pk>/hand-over/", quotes.hand_over, name="hand_over"),
    path("files/documents/<int:pk>/", papers.document, name="document"),
    path("plans/<int:pk>/papers/make/", plan_papers.make, name="make_plan_paper"),
]
