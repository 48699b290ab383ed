from django.urls import path

from shop import rack_views as views

app_name = "rack"

urlpatterns = [
    path("rack/", views.rack_list, name="list"),
    path("rack/new/", views.new, name="new"),
    path("rack/<int:number>/", views.item, name="item"),
    path("rack/<int:number>/<slug:act>/", views.act, name="act"),
]
