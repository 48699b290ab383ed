"""The jobs room for programs: the same doors and verbs as the pages."""

from rest_framework.routers import SimpleRouter

from jobs.api.clients import ClientViewSet
from jobs.api.costs import CostViewSet
from jobs.api.events import EventViewSet
from jobs.api.hours import HoursViewSet
from jobs.api.jobs import JobViewSet
from jobs.api.looks import LooksViewSet
from jobs.api.pieces import PieceViewSet
from jobs.api.sites import MeasurementViewSet, SiteViewSet

router = SimpleRouter()
router.register("clients", ClientViewSet, basename="api-clients")
router.register("jobs", JobViewSet, basename="api-jobs")
router.register("looks", LooksViewSet, basename="api-looks")
router.register("sites", SiteViewSet, basename="api-sites")
router.register("measurements", MeasurementViewSet, basename="api-measurements")
router.register("pieces", PieceViewSet, basename="api-pieces")
router.register("events", EventViewSet, basename="api-events")
router.register("hours", HoursViewSet, basename="api-hours")
router.register("costs", CostViewSet, basename="api-costs")

urlpatterns = router.urls
