"""Cut plans for programs: the same doors and verbs as their pages."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, serializers, status
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.routers import SimpleRouter

from jobs.models import Job
from layout import plans, plans_cutting, plans_reading
from layout.models import CutPlan, KeptOffcut, PlannedBlank, PlanStock
from layout.models.plans import LONGEST, SHORTEST, CutPlanQuerySet
from layout.views.plans import stock_for
from shop.access import may
from shop.answers import CONFLICT, ERRORS, Conflict, Room, id_field, key_field
from shop.keys import key_of
from shop.models import Metal


class BlankSerializer(serializers.ModelSerializer[PlannedBlank]):
    mark = serializers.CharField(source="piece.mark")
    job = serializers.IntegerField(source="piece.job_id")

    class Meta:
        model = PlannedBlank
        fields = [
            "position",
            "mark",
            "job",
            "piece",
            "copy",
            "x_mm",
            "y_mm",
            "width_mm",
            "length_mm",
            "turn",
            "cut",
        ]
        read_only_fields = fields


class OffcutSerializer(serializers.ModelSerializer[KeptOffcut]):
    class Meta:
        model = KeptOffcut
        fields = ["position", "x_mm", "y_mm", "width_mm", "length_mm", "item"]
        read_only_fields = fields


class PlanStockSerializer(serializers.ModelSerializer[PlanStock]):
    to_order = serializers.BooleanField(read_only=True)
    blanks = BlankSerializer(many=True, read_only=True)
    offcuts = OffcutSerializer(many=True, read_only=True)

    class Meta:
        model = PlanStock
        fields = [
            "position",
            "item",
            "to_order",
            "form",
            "width_mm",
            "length_mm",
            "cuts",
            "cuts_done",
            "damaged",
            "set_aside",
            "blanks",
            "offcuts",
        ]
        read_only_fields = fields


class CutPlanSerializer(serializers.ModelSerializer[CutPlan]):
    metal = serializers.SlugRelatedField[Metal](slug_field="name", read_only=True)
    state = serializers.CharField(source="standing", read_only=True)
    figures = serializers.SerializerMethodField()

    class Meta:
        model = CutPlan
        fields = [
            "id",
            "number",
            "metal",
            "finish",
            "jobs",
            "state",
            "seconds",
            "seed",
            "terms",
            "figures",
            "found",
            "reason",
            "after",
            "asked_by",
            "asked_at",
        ]
        read_only_fields = fields

    def get_figures(self, plan: CutPlan) -> dict[str, Any]:
        """Areas in square mm; money only for those who may see it."""
        figures = dict(plan.figures)
        if not may(self.context["request"].user, "money"):
            figures.pop("cost", None)
        return figures


class WholePlanSerializer(CutPlanSerializer):
    stocks = PlanStockSerializer(many=True, read_only=True)

    class Meta(CutPlanSerializer.Meta):
        fields = [*CutPlanSerializer.Meta.fields, "stocks"]
        read_only_fields = fields


class AskPlanSerializer(serializers.Serializer[Any]):
    jobs = serializers.PrimaryKeyRelatedField(
        queryset=Job.objects.all(), many=True, allow_empty=False
    )
    metal = serializers.SlugRelatedField(
        slug_field="name", queryset=Metal.objects.all()
    )
    finish = serializers.CharField(max_length=60, required=False, default="")
    seconds = serializers.IntegerField(
        min_value=SHORTEST, max_value=LONGEST, default=10
    )
    rolled = serializers.BooleanField(
        default=False, help_text="Keep every blank to the rolling direction."
    )
    may_order = serializers.BooleanField(default=True)
    seed = serializers.IntegerField(min_value=1, max_value=2**31 - 1, default=1)
    rounds = serializers.IntegerField(
        min_value=1,
        max_value=100_000,
        required=False,
        help_text="So many attempts within the time; the same give the same plan.",
    )
    key = key_field()


class KeySerializer(serializers.Serializer[Any]):
    key = key_field()


class DropSerializer(serializers.Serializer[Any]):
    reason = serializers.CharField(max_length=300, required=False, default="")


class CutSerializer(serializers.Serializer[Any]):
    position = serializers.IntegerField(min_value=0, max_value=9999)
    seen = serializers.IntegerField(
        min_value=0, max_value=9999, help_text="How many cuts were made when looked at."
    )
    cuts = serializers.IntegerField(
        min_value=1, max_value=9999, default=1, help_text="How many more are made."
    )
    key = key_field()


class StockReasonSerializer(serializers.Serializer[Any]):
    position = serializers.IntegerField(min_value=0, max_value=9999)
    reason = serializers.CharField(max_length=300)
    key = key_field()


class PlanFilter(serializers.Serializer[Any]):
    job = id_field(required=False, source="jobs")
    state = serializers.ChoiceField(choices=CutPlan.State.choices, required=False)


DONE: dict[int, Any] = {200: WholePlanSerializer, **ERRORS, **CONFLICT}


@extend_schema(tags=["cut plans"])
@extend_schema_view(
    list=extend_schema(
        parameters=[PlanFilter], responses={200: CutPlanSerializer, **ERRORS}
    ),
    retrieve=extend_schema(responses={200: WholePlanSerializer, **ERRORS}),
)
class CutPlanViewSet(mixins.ListModelMixin, mixins.RetrieveModelMixin, Room):
    """Which blanks come out of which stock, and the cutting of them."""

    acts = dict.fromkeys(("create", "accept", "stop", "set_aside", "rest"), "lay_out")

    def get_queryset(self) -> CutPlanQuerySet:
        rows = CutPlan.objects.newest_first().prefetch_related("jobs")
        if self.action == "list":
            return rows.filter(**self.asked(PlanFilter)).distinct()
        return rows.prefetch_related("stocks__blanks__piece", "stocks__offcuts")

    def get_serializer_class(self) -> type[CutPlanSerializer]:
        return CutPlanSerializer if self.action == "list" else WholePlanSerializer

    @extend_schema(
        request=AskPlanSerializer,
        responses={201: WholePlanSerializer, **ERRORS, **CONFLICT},
    )
    def create(self, request: Request) -> Response:
        """Asks for a plan. It is found by a worker: ask for it until it is ready."""
        asked = self.given(AskPlanSerializer)
        plan = self._or_conflict(
            lambda: plans.ask_for_plan(
                asked["jobs"],
                asked["metal"],
                self.person,
                seconds=asked["seconds"],
                finish=asked["finish"],
                turned=not asked["rolled"],
                may_order=asked["may_order"],
                seed=asked["seed"],
                rounds=asked.get("rounds"),
                key=self._key("plan", asked),
            )
        )
        answer = self._now(plan)
        answer.status_code = status.HTTP_201_CREATED
        return answer

    @extend_schema(request=KeySerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def accept(self, request: Request, pk: str) -> Response:
        """The plan will be cut: its stock is reserved, all or none."""
        key = self._key("accept", self.given(KeySerializer))
        plan = self.get_object()
        return self._now(
            self._or_conflict(lambda: plans.accept(plan, self.person, key))
        )

    @extend_schema(request=None, responses=DONE)
    @action(detail=True, methods=["post"])
    def stop(self, request: Request, pk: str) -> Response:
        """The search ends with the best plan so far."""
        plan = self.get_object()
        return self._now(self._or_conflict(lambda: plans.stop(plan, self.person)))

    @extend_schema(request=DropSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def set_aside(self, request: Request, pk: str) -> Response:
        reason = self.given(DropSerializer)["reason"]
        plan = self.get_object()
        return self._now(
            self._or_conflict(lambda: plans.drop(plan, self.person, reason))
        )

    @extend_schema(request=KeySerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def rest(self, request: Request, pk: str) -> Response:
        """A new plan for what is not cut, on the same terms."""
        key = self._key("rest", self.given(KeySerializer))
        plan = self.get_object()
        return self._now(
            self._or_conflict(lambda: plans_cutting.plan_rest(plan, self.person, key))
        )

    @extend_schema(request=CutSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def cut(self, request: Request, pk: str) -> Response:
        """The next cuts of one stock are made."""
        asked = self.given(CutSerializer)
        stock = stock_for(self.person, int(pk), asked["position"])
        key = self._key("cut", asked)
        self._or_conflict(
            lambda: plans_cutting.make_cuts(
                stock, self.person, asked["seen"], asked["cuts"], key
            )
        )
        return self._now(stock.plan)

    @extend_schema(request=StockReasonSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def take_back(self, request: Request, pk: str) -> Response:
        """The last cut of one stock was not made after all."""
        return self._with_reason(pk, plans_cutting.take_back)

    @extend_schema(request=StockReasonSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def damage(self, request: Request, pk: str) -> Response:
        """One stock was damaged. Then ask for the rest."""
        return self._with_reason(pk, plans_cutting.damage)

    def _with_reason(self, pk: str, verb: Callable[..., PlanStock]) -> Response:
        asked = self.given(StockReasonSerializer)
        stock = stock_for(self.person, int(pk), asked["position"])
        key = self._key(str(self.action), asked)
        self._or_conflict(lambda: verb(stock, self.person, asked["reason"], key=key))
        return self._now(stock.plan)

    def _now(self, plan: CutPlan) -> Response:
        found = self.get_queryset().get(pk=plan.pk)
        context = self.get_serializer_context()
        return Response(WholePlanSerializer(found, context=context).data)

    def _key(self, act: str, asked: dict[str, Any]) -> str | None:
        key = key_of(self.person, f"plan-{act}", asked.get("key"))
        return f"api:{key}" if key else None

    def _or_conflict(self, verb: Callable[[], Any]) -> Any:
        try:
            return verb()
        except plans_reading.Refused as refused:
            raise Conflict(refused) from refused


router = SimpleRouter()
router.register("cut-plans", CutPlanViewSet, basename="api-cut-plans")

urlpatterns = router.urls
