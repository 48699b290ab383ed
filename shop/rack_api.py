"""The rack for programs: the same doors and verbs as its pages."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, serializers, status
from rest_framework.decorators import action
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.routers import SimpleRouter

from shop import rack
from shop.access import may
from shop.answers import CONFLICT, ERRORS, Conflict, Room, id_field, key_field
from shop.keys import key_of
from shop.models import Claim, Metal, Person, RackEvent, RackItem
from shop.models.rack import RackItemQuerySet
from shop.rack_shape import MOST_CORNERS


def length(**given: Any) -> serializers.DecimalField:
    return serializers.DecimalField(
        max_digits=9, decimal_places=3, min_value=0, **given
    )


def money(**given: Any) -> serializers.DecimalField:
    return serializers.DecimalField(
        max_digits=12,
        decimal_places=2,
        min_value=0,
        required=False,
        allow_null=True,
        **given,
    )


class ClaimSerializer(serializers.ModelSerializer[Claim]):
    class Meta:
        model = Claim
        fields = ["holder", "words", "length_mm", "at"]
        read_only_fields = fields


class RackItemSerializer(serializers.ModelSerializer[RackItem]):
    metal = serializers.SlugRelatedField[Metal](slug_field="name", read_only=True)
    reserved_for = serializers.SerializerMethodField()

    class Meta:
        model = RackItem
        fields = [
            "id",
            "number",
            "metal",
            "form",
            "finish",
            "lot",
            "width_mm",
            "length_mm",
            "left_mm",
            "reserved_mm",
            "outline",
            "weight_kg",
            "place",
            "paid",
            "cut_from",
            "state",
            "reserved_for",
        ]
        read_only_fields = fields

    def get_reserved_for(self, item: RackItem) -> list[dict[str, Any]]:
        open_ = [claim for claim in item.claims.all() if claim.open]
        return [dict(ClaimSerializer(claim).data) for claim in open_]

    def to_representation(self, item: RackItem) -> dict[str, Any]:
        """Money only for those who may see it."""
        shown: dict[str, Any] = super().to_representation(item)
        if not may(self.context["request"].user, "money"):
            del shown["paid"]
        return shown


class RackEventSerializer(serializers.ModelSerializer[RackEvent]):
    by = serializers.StringRelatedField[Person]()

    class Meta:
        model = RackEvent
        fields = [
            "id",
            "what",
            "length_mm",
            "holder",
            "words",
            "place",
            "money",
            "reason",
            "by",
            "at",
        ]
        read_only_fields = fields

    def to_representation(self, event: RackEvent) -> dict[str, Any]:
        shown: dict[str, Any] = super().to_representation(event)
        if not may(self.context["request"].user, "money"):
            del shown["money"]
        return shown


class CornerField(serializers.ListField):
    child = serializers.FloatField(min_value=-1e6, max_value=1e6)


class TakeInSerializer(serializers.Serializer[Any]):
    metal = serializers.SlugRelatedField(
        slug_field="name", queryset=Metal.objects.active()
    )
    form = serializers.ChoiceField(choices=RackItem.Form.choices)
    width_mm = length(required=False, default=0)
    length_mm = length(required=False, default=0)
    outline = serializers.ListField(
        child=CornerField(min_length=2, max_length=2),
        min_length=3,
        max_length=MOST_CORNERS,
        required=False,
        allow_null=True,
        help_text="Of an offcut: [x, y] in mm, in order round it.",
    )
    alike = serializers.IntegerField(
        min_value=1, max_value=rack.MOST_AT_ONCE, default=1
    )
    weight_kg = serializers.DecimalField(
        max_digits=8, decimal_places=2, min_value=0, required=False, allow_null=True
    )
    finish = serializers.CharField(max_length=60, required=False, default="")
    lot = serializers.CharField(max_length=60, required=False, default="")
    place = serializers.CharField(max_length=60, required=False, default="")
    paid = money()
    key = key_field()


class ReserveSerializer(serializers.Serializer[Any]):
    words = serializers.CharField(max_length=120, help_text="What it is for.")
    length_mm = length(required=False, help_text="Of a coil; all of it if not said.")
    key = key_field()


class LetGoSerializer(serializers.Serializer[Any]):
    holder = serializers.CharField(max_length=60)


class MoveSerializer(serializers.Serializer[Any]):
    place = serializers.CharField(max_length=60)
    key = key_field()


class RackReasonSerializer(serializers.Serializer[Any]):
    reason = serializers.CharField(max_length=300)
    key = key_field()


class UseSerializer(RackReasonSerializer):
    length_mm = length(required=False, help_text="Of a coil; all of it if not said.")


class MeasureSerializer(RackReasonSerializer):
    length_mm = length()


class SellSerializer(RackReasonSerializer):
    money = money(help_text="What the dealer paid.")


class RackFilter(serializers.Serializer[Any]):
    metal = serializers.CharField(max_length=60, required=False, source="metal__name")
    form = serializers.ChoiceField(choices=RackItem.Form.choices, required=False)
    state = serializers.ChoiceField(choices=RackItem.State.choices, required=False)
    number = id_field(required=False)


DONE: dict[int, Any] = {200: RackItemSerializer, **ERRORS, **CONFLICT}


@extend_schema(tags=["rack"])
@extend_schema_view(
    list=extend_schema(
        parameters=[RackFilter], responses={200: RackItemSerializer, **ERRORS}
    ),
    retrieve=extend_schema(responses={200: RackItemSerializer, **ERRORS}),
)
class RackViewSet(mixins.ListModelMixin, mixins.RetrieveModelMixin, Room):
    """Sheets, coil and offcuts, and what happens to them."""

    serializer_class = RackItemSerializer
    acts = {"reserve": "lay_out", "let_go": "lay_out", "sell": "money"}

    def get_queryset(self) -> RackItemQuerySet:
        items = RackItem.objects.in_order().prefetch_related("claims")
        return (
            items.filter(**self.asked(RackFilter)) if self.action == "list" else items
        )

    @extend_schema(
        request=TakeInSerializer,
        responses={201: RackItemSerializer(many=True), **ERRORS, **CONFLICT},
    )
    def create(self, request: Request) -> Response:
        """Puts metal on the rack; gives each item with its number."""
        asked = self.given(TakeInSerializer)
        if asked.get("paid") is not None and not may(self.person, "money"):
            raise PermissionDenied
        outline = asked.get("outline")
        new = rack.New(
            asked["metal"],
            asked["form"],
            asked["width_mm"],
            asked["length_mm"],
            asked["finish"],
            asked["lot"],
            asked["place"],
            asked.get("weight_kg"),
            asked.get("paid"),
            tuple((x, y) for x, y in outline) if outline else None,
            asked["alike"],
        )
        key = self._key("rack-in", asked)
        made = self._or_conflict(lambda: rack.take_in(new, self.person, key=key))
        shown = self.get_serializer(made, many=True)
        return Response(shown.data, status=status.HTTP_201_CREATED)

    @extend_schema(request=ReserveSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def reserve(self, request: Request, pk: str) -> Response:
        asked = self.given(ReserveSerializer)
        item = self.get_object()
        wanted = [rack.Wanted(item.pk, asked.get("length_mm"))]
        holder = f"by hand:{asked.get('key') or self.person.pk}"[:60]
        self._or_conflict(
            lambda: rack.reserve(
                wanted, self.person, holder=holder, words=asked["words"]
            )
        )
        return self._now(item)

    @extend_schema(request=LetGoSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def let_go(self, request: Request, pk: str) -> Response:
        """Frees what was reserved by hand; a plan lets its own metal go."""
        holder = self.given(LetGoSerializer)["holder"]
        item = self.get_object()
        if not holder.startswith("by hand:"):
            raise Conflict(rack.Refused(f"{holder} is let go where it was reserved."))
        rack.let_go(holder, self.person, items=[item.pk])
        return self._now(item)

    @extend_schema(request=MoveSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def move(self, request: Request, pk: str) -> Response:
        return self._done(MoveSerializer, rack.move, "place")

    @extend_schema(request=UseSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def cut(self, request: Request, pk: str) -> Response:
        """It was used without a plan."""
        return self._done(UseSerializer, rack.cut, reason="reason", length="length_mm")

    @extend_schema(request=MeasureSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def measure(self, request: Request, pk: str) -> Response:
        """The length left on a coil, as it was found."""
        return self._done(MeasureSerializer, rack.measure_again, "length_mm", "reason")

    @extend_schema(request=RackReasonSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def spoil(self, request: Request, pk: str) -> Response:
        return self._done(RackReasonSerializer, rack.spoil, "reason")

    @extend_schema(request=RackReasonSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def put_back(self, request: Request, pk: str) -> Response:
        return self._done(RackReasonSerializer, rack.put_back, "reason")

    @extend_schema(request=SellSerializer, responses=DONE)
    @action(detail=True, methods=["post"])
    def sell(self, request: Request, pk: str) -> Response:
        """Sold as scrap."""
        return self._done(SellSerializer, rack.sell, "reason", money="money")

    @extend_schema(
        responses={200: RackEventSerializer(many=True), **ERRORS}, filters=False
    )
    @action(detail=True, pagination_class=None)
    def events(self, request: Request, pk: str) -> Response:
        """What happened to the item, the newest first."""
        events = self.get_object().events.select_related("by")
        context = self.get_serializer_context()
        return Response(RackEventSerializer(events, many=True, context=context).data)

    def _done(
        self,
        shape: type[serializers.Serializer[Any]],
        verb: Callable[..., Any],
        *places: str,
        **names: str,
    ) -> Response:
        """places, names: fields that are handed to the verb in their order, by name."""
        asked = self.given(shape)
        item = self.get_object()
        more = {name: asked.get(field) for name, field in names.items()}
        key = self._key(str(self.action), asked)
        self._or_conflict(
            lambda: verb(
                item, self.person, *(asked[it] for it in places), key=key, **more
            )
        )
        return self._now(item)

    def _now(self, item: RackItem) -> Response:
        return Response(self.get_serializer(self.get_queryset().get(pk=item.pk)).data)

    def _key(self, act: str, asked: dict[str, Any]) -> str | None:
        key = key_of(self.person, f"rack-{act}", asked.get("key"))
        return f"api:{key}" if key else None

    def _or_conflict(self, verb: Callable[[], Any]) -> Any:
        try:
            return verb()
        except rack.Refused as refused:
            raise Conflict(refused) from refused


router = SimpleRouter()
router.register("rack", RackViewSet, basename="api-rack")

urlpatterns = router.urls
