"""The verbs of the rack: in, reserved, let go, cut, put back, spoiled, sold.

Each locks its rows, adds its events and brings the rows up to them, in one
transaction, all or none. Where rows can't be locked, the database still lets nobody
reserve a sheet twice or cut more than there is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import Any, NamedTuple

from django.db import IntegrityError, transaction
from django.db.models import Max

from shop import rack_reading, rack_shape
from shop.models import Claim, Metal, Person, RackEvent, RackItem

What = RackEvent.What
Form = RackItem.Form
MOST_AT_ONCE = 200
_TRIES = 20


class Refused(ValueError):
    """The rack does not allow it. `faults` holds one sentence a fault."""

    def __init__(self, *faults: str) -> None:
        self.faults = list(faults)
        super().__init__(" ".join(faults))


class Wanted(NamedTuple):
    """An item by its id, or a length of a coil, mm; None is all that is left."""

    item: int
    length: Decimal | None = None


class New(NamedTuple):
    """What comes on the rack. paid: for each of those alike."""

    metal: Metal
    form: str
    width: Decimal
    length: Decimal
    finish: str = ""
    lot: str = ""
    place: str = ""
    weight: Decimal | None = None
    paid: Decimal | None = None
    outline: rack_shape.Corners | None = None
    alike: int = 1


def take_in(
    new: New,
    by: Person,
    *,
    cut_from: RackItem | None = None,
    words: str = "",
    key: str | None = None,
) -> list[RackItem]:
    """Puts so many items alike on the rack, each with a number of its own.

    Raises Refused for a size, number or outline that can't be.
    """
    if key and (done := _came_by(key)):
        return done
    new = _sound(new)
    with transaction.atomic():
        # One at a time: numbers run on without a gap to fall into.
        list(Metal.objects.select_for_update().filter(pk=new.metal.pk))
        made = []
        for place in range(new.alike):
            item = _numbered(new, cut_from)
            event = RackEvent(
                what=What.CAME_IN,
                length_mm=item.length_mm,
                place=new.place,
                words=words,
                key=f"{key}/{place}" if key else None,
            )
            made.append(_tell(item, event, by))
        return made


def reserve(
    wanted: Iterable[Wanted],
    by: Person,
    *,
    holder: str,
    words: str,
) -> list[Claim]:
    """Reserves every item for the holder, all or none.

    holder: for programs, such as plan:12; words: for people, such as "Job 4, plan 12"
    Raises Refused naming each item that is not free, and who holds it.
    """
    asked = {it.item: it for it in wanted}
    if not asked:
        raise Refused("Nothing was chosen to reserve.")
    words = _said(words, "For what: say which job it is reserved for.")
    try:
        with transaction.atomic():
            items = _locked(asked)
            faults = [_why_not(items[pk], asked[pk]) for pk in asked if pk in items]
            faults += [
                f"There is no item {pk} on the rack." for pk in asked.keys() - items
            ]
            if faults := [fault for fault in faults if fault]:
                raise Refused(*faults)
            return [
                _claim(items[pk], asked[pk].length, by, holder, words) for pk in asked
            ]
    except IntegrityError as fault:
        raise Refused(
            "Somebody reserved one of these at the same moment. Nothing of yours was"
            " reserved. Look at the rack again."
        ) from fault


def let_go(holder: str, by: Person, reason: str = "", items: Sequence[int] = ()) -> int:
    """Frees what the holder reserved, or only those items; gives how many."""
    with transaction.atomic():
        claims = Claim.objects.filter(holder=holder, open=True)
        if items:
            claims = claims.filter(item__in=items)
        wanted = {claim.item_id: claim for claim in claims}
        for pk, item in _locked(wanted).items():
            claim = wanted[pk]
            _close(claim)
            event = RackEvent(
                what=What.LET_GO,
                length_mm=claim.length_mm,
                holder=holder,
                words=claim.words,
                reason=reason,
            )
            _tell(item, event, by)
        return len(wanted)


def cut(
    item: RackItem,
    by: Person,
    *,
    length: Decimal | None = None,
    holder: str = "",
    words: str = "",
    reason: str = "",
    key: str | None = None,
) -> RackItem:
    """Uses the item up, or a length of coil. With a holder, what it has reserved.

    Raises Refused where it is not there, or held by another.
    """

    def make(item: RackItem) -> RackEvent:
        much = item.left_mm if length is None else length
        if length is not None and not item.is_coil() and length != item.left_mm:
            raise Refused(
                f"{item} is a {item.form}: it is used whole. Put what is left on the"
                " rack as an offcut."
            )
        held = item.claims.filter(open=True, holder=holder).first() if holder else None
        if holder and held is None:
            raise Refused(f"{item} is not reserved for {words or holder}.")
        if held is not None:
            _close(held, keep=held.length_mm - much)
        elif much > item.free_mm():
            raise Refused(_too_much(item, much))
        return RackEvent(
            what=What.CUT, length_mm=much, holder=holder, words=words, reason=reason
        )

    return _one(item, by, make, key)


def put_back(
    item: RackItem,
    by: Person,
    reason: str,
    *,
    length: Decimal | None = None,
    key: str | None = None,
) -> RackItem:
    """What was written down as cut or spoiled and was not: it is there again."""

    def make(item: RackItem) -> RackEvent:
        gone = item.length_mm - item.left_mm
        much = gone if length is None else length
        if not much:
            raise Refused(f"{item} is on the rack whole. There is nothing to put back.")
        if much > gone:
            raise Refused(f"{item}: no more than what came in can be put back.")
        return RackEvent(what=What.PUT_BACK, length_mm=much, reason=_why(reason))

    return _one(item, by, make, key)


def spoil(
    item: RackItem,
    by: Person,
    reason: str,
    *,
    holder: str = "",
    key: str | None = None,
) -> RackItem:
    """It was damaged. Whoever else holds it must let it go first."""

    def make(item: RackItem) -> RackEvent:
        _none_else_holds(item, holder)
        return RackEvent(
            what=What.SPOILED,
            length_mm=item.left_mm,
            holder=holder,
            reason=_why(reason),
        )

    return _one(item, by, make, key)


def sell(
    item: RackItem,
    by: Person,
    reason: str,
    *,
    money: Decimal | None = None,
    key: str | None = None,
) -> RackItem:
    """Sold as scrap. money: what the dealer paid."""

    def make(item: RackItem) -> RackEvent:
        _none_else_holds(item, "")
        if money is not None and money < 0:
            raise Refused(f"Money: {money} is below zero. Leave it empty or give 0.")
        return RackEvent(
            what=What.SOLD, length_mm=item.left_mm, money=money, reason=_why(reason)
        )

    return _one(item, by, make, key)


def measure_again(
    item: RackItem, by: Person, length: Decimal, reason: str, key: str | None = None
) -> RackItem:
    """A coil's length as it was found, where the rack says otherwise."""

    def make(item: RackItem) -> RackEvent:
        if not item.is_coil():
            raise Refused(f"{item} is a {item.form}: only a coil is measured again.")
        if length < item.reserved_mm:
            raise Refused(
                f"{item}: more than that is reserved. Let a reservation go first."
            )
        return RackEvent(what=What.MEASURED, length_mm=length, reason=_why(reason))

    return _one(item, by, make, key)


def move(item: RackItem, by: Person, place: str, key: str | None = None) -> RackItem:
    """It leans somewhere else now."""
    place = _said(place, "Place: say where it leans now.")

    def make(item: RackItem) -> RackEvent:
        return RackEvent(what=What.MOVED, length_mm=item.left_mm, place=place)

    return _one(item, by, make, key)


# --- how it is done --------------------------------------------------------------


def _one(item: RackItem, by: Person, make: Any, key: str | None) -> RackItem:
    """One event of one item, made from the row as it is once locked."""
    with transaction.atomic():
        locked = _locked([item.pk])[item.pk]
        if key and RackEvent.objects.filter(key=key).exists():
            return locked
        event = make(locked)
        event.key = key
        return _tell(locked, event, by)


def _locked(wanted: Iterable[int]) -> dict[int, RackItem]:
    # Always in the same order, so that two people never wait for each other.
    rows = (
        RackItem.objects.filter(pk__in=list(wanted))
        .select_related("metal")
        .order_by("pk")
        .select_for_update(of=("self",))
    )
    return {item.pk: item for item in rows}


def _tell(item: RackItem, event: RackEvent, by: Person) -> RackItem:
    """Adds the event and brings the row up to it."""
    event.item, event.by = item, by
    try:
        state, left, reserved, place = rack_reading.after(
            rack_reading.standing_of(item), event
        )
    except rack_reading.Impossible as fault:
        raise Refused(f"{item} can't be {event.get_what_display()}: {fault}.") from None
    event.save(force_insert=True)
    before = item.left_mm, item.reserved_mm, item.state
    changed = RackItem.objects.filter(
        pk=item.pk, left_mm=before[0], reserved_mm=before[1], state=before[2]
    ).update(state=state, left_mm=left, reserved_mm=reserved, place=place)
    if not changed:
        raise Refused(f"{item} was changed at the same moment. Look at it again.")
    item.state, item.left_mm, item.reserved_mm, item.place = (
        state,
        left,
        reserved,
        place,
    )
    return item


def _numbered(new: New, cut_from: RackItem | None) -> RackItem:
    for _ in range(_TRIES):
        last = RackItem.objects.aggregate(last=Max("number"))["last"] or 0
        try:
            with transaction.atomic():
                return RackItem.objects.create(
                    number=last + 1,
                    metal=new.metal,
                    form=new.form,
                    finish=new.finish,
                    lot=new.lot,
                    width_mm=new.width,
                    length_mm=new.length,
                    outline=[list(p) for p in new.outline] if new.outline else None,
                    weight_kg=new.weight,
                    place=new.place,
                    paid=new.paid,
                    cut_from=cut_from,
                    left_mm=new.length,
                )
        except IntegrityError as error:
            if "number" not in str(error):
                raise
    raise RuntimeError("no free rack number after several tries")


def _came_by(key: str) -> list[RackItem]:
    events = RackEvent.objects.filter(key__startswith=f"{key}/", what=What.CAME_IN)
    return [event.item for event in events.select_related("item").order_by("pk")]


def _sound(new: New) -> New:
    """The same with an outline's own size. Raises Refused."""
    faults = []
    if new.form not in Form.values:
        faults.append(f"Form: “{new.form}” is not one of {', '.join(Form.values)}.")
    if not 1 <= new.alike <= MOST_AT_ONCE:
        faults.append(f"Number: {new.alike}. Give 1 to {MOST_AT_ONCE}.")
    if new.paid is not None and new.paid < 0:
        faults.append(f"Paid: {new.paid} is below zero. Leave it empty or give 0.")
    if new.outline is not None:
        if new.form != Form.OFFCUT:
            faults.append("Outline: only an offcut has one.")
        elif words := rack_shape.fault(new.outline):
            faults.append(f"Outline: {words}")
        else:
            outline, width, length = rack_shape.laid_square(new.outline)
            new = new._replace(outline=outline, width=width, length=length)
    for name, size in (("Width", new.width), ("Length", new.length)):
        if size <= 0:
            faults.append(f"{name}: {size} mm. Give a length above zero.")
    if faults:
        raise Refused(*faults)
    return new


def _why_not(item: RackItem, wanted: Wanted) -> str:
    if not item.is_there():
        return f"{item} is {item.get_state_display()}. It can't be reserved."
    held = item.claims.filter(open=True)
    if not item.is_coil():
        if wanted.length is not None and wanted.length != item.left_mm:
            return f"{item} is a {item.form}: it is reserved whole."
        claim = held.first()
        return f"{item} is reserved for {claim.words} already." if claim else ""
    much = item.free_mm() if wanted.length is None else wanted.length
    if much <= 0:
        return f"{item}: nothing of the coil is free."
    return _too_much(item, much) if much > item.free_mm() else ""


def _too_much(item: RackItem, much: Decimal) -> str:
    if not item.is_coil() and item.reserved_mm:
        claim = item.claims.filter(open=True).first()
        return f"{item} is reserved for {claim.words if claim else 'somebody'}."
    return (
        f"{item}: {much.normalize():f} mm are asked for, "
        f"{item.free_mm().normalize():f} mm are free. The rack never goes below zero."
    )


def _claim(
    item: RackItem, length: Decimal | None, by: Person, holder: str, words: str
) -> Claim:
    much = item.free_mm() if length is None else length
    claim = item.claims.filter(open=True, holder=holder).first()
    if claim is None:
        claim = Claim.objects.create(
            item=item,
            holder=holder,
            words=words,
            length_mm=much,
            whole=not item.is_coil(),
        )
    else:  # more of the same coil for the same holder
        claim.length_mm += much
        claim.save(update_fields=["length_mm"])
    event = RackEvent(what=What.RESERVED, length_mm=much, holder=holder, words=words)
    _tell(item, event, by)
    return claim


def _close(claim: Claim, keep: Decimal = Decimal(0)) -> None:
    """Nothing of it is reserved any more, or only what was not used."""
    if keep < 0:
        raise Refused(f"{claim}: only {claim.length_mm.normalize():f} mm are reserved.")
    if keep:
        claim.length_mm = keep
    else:
        claim.open = False
    claim.save(update_fields=["open", "length_mm"])


def _none_else_holds(item: RackItem, holder: str) -> None:
    """Closes the holder's own claims. Raises Refused if another has one."""
    for claim in item.claims.filter(open=True):
        if claim.holder != holder:
            raise Refused(f"{item} is reserved for {claim.words}. Let it go first.")
        _close(claim)


def _said(words: str, fault: str) -> str:
    words = " ".join(words.split())
    if not words:
        raise Refused(fault)
    return words[:120]


def _why(reason: str) -> str:
    return _said(reason, "Reason: say in a few words why.")
