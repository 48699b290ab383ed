from django.urls import path

from layout.views import drawings, layouts, measure, places, plans

app_name = "layout"

urlpatterns = [
    path("jobs/<int:pk>/measure/", measure.sheet, name="measure"),
    path("jobs/<int:pk>/measure/<int:place>/", measure.sheet, name="measure"),
    path("jobs/<int:pk>/measure/read/", measure.read, name="measure_read"),
    path("jobs/<int:pk>/measure/<int:place>/read/", measure.read, name="measure_read"),
    path("jobs/<int:pk>/places/new/", places.new, name="place_new"),
    path("jobs/<int:pk>/measure/<slug:slug>/", measure.takings, name="takings"),
    path(
        "jobs/<int:pk>/measure/<int:place>/<slug:slug>/",
        measure.takings,
        name="takings",
    ),
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
    path("plans/", plans.plan_list, name="plans"),
    path("plans/new/", plans.new, name="plan_new"),
    path("plans/<int:pk>/", plans.plan, name="plan"),
    path("plans/<int:pk>/stop/", plans.stop, name="plan_stop"),
    path("plans/<int:pk>/accept/", plans.accept, name="plan_accept"),
    path("plans/<int:pk>/set-aside/", plans.drop, name="plan_drop"),
    path("plans/<int:pk>/rest/", plans.rest, name="plan_rest"),
    path("plans/<int:pk>/<int:position>/", plans.stock, name="plan_stock"),
    path("plans/<int:pk>/<int:position>.svg", plans.stock_svg, name="plan_stock_svg"),
    path("plans/<int:pk>/<int:position>/cut/", plans.make_cut, name="plan_cut"),
    path("plans/<int:pk>/<int:position>/back/", plans.take_back, name="plan_back"),
    path("plans/<int:pk>/<int:position>/damaged/", plans.damage, name="plan_damage"),
    path("plans/<int:pk>/<int:position>/come/", plans.supply, name="plan_come"),
    path("rack/order/", plans.order, name="order"),
    path("rack/order.<slug:ending>", plans.order_file, name="order_file"),
    path("rack/<int:number>/label.pdf", plans.rack_label, name="rack_label"),
]
