from django.urls import path

from layout.views import drawings, layouts, measure

app_name = "layout"

urlpatterns = [
    path("jobs/<int:pk>/measure/", measure.sheet, name="measure"),
    path("jobs/<int:pk>/measure/read/", measure.read, name="measure_read"),
    path("jobs/<int:pk>/measure/<slug:slug>/", measure.takings, name="takings"),
    path("measures/<int:pk>/choose/", measure.choose, name="choose"),
    path("jobs/<int:pk>/layout/", layouts.page, name="page"),
    path("layouts/<int:pk>/", layouts.layout, name="layout"),
    path("layouts/<int:pk>/key-plan.svg", drawings.key_plan, name="key_plan"),
    path("laid/<int:pk>/", layouts.laid, name="laid"),
    path("laid/<int:pk>/<slug:view>.svg", drawings.laid_svg, name="laid_svg"),
    path("laid/<int:pk>/piece.fold", drawings.laid_fold, name="laid_fold"),
    path("laid/<int:pk>/piece.dxf", drawings.laid_dxf, name="laid_dxf"),
    path("pieces/<int:pk>/drawing.svg", drawings.piece_drawing, name="piece_drawing"),
    path("pieces/<int:pk>/piece.fold", drawings.piece_fold, name="piece_fold"),
]
