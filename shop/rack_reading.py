"""What the rack holds, read from what happened to it.

The state of an item is a sum of its events, one after the other. `after` is that sum's
one step: the verbs take it once a deed, `read` takes it over the whole history, and
both must agree.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import NamedTuple

from shop.models import RackEvent, RackItem

What, State = RackEvent.What, RackItem.State
NOTHING = Decimal(0)


class Standing(NamedTuple):
    """How an item stands. left, reserved: mm of its length."""

    state: str
    left: Decimal
    reserved: Decimal
    place: str


START = Standing(State.USED, NOTHING, NOTHING, "")


class Impossible(ValueError):
    """The event does not fit what the item is. The words say why."""


def after(standing: Standing, event: RackEvent) -> Standing:
    """How the item stands once the event has happened.

    Raises Impossible where it would leave less than nothing, or where what is
    reserved, cut or sold is not there.
    """
    state, left, reserved, place = standing
    much = event.length_mm
    what = What(event.what)
    if what == What.CAME_IN:
        return Standing(State.FREE, much, NOTHING, event.place)
    if what == What.MOVED:
        return standing._replace(place=event.place)
    if what == What.PUT_BACK:
        if state == State.SOLD:
            raise Impossible("it was sold and is gone")
        left += much
        return Standing(_of(left, reserved), left, reserved, place)
    if state not in (State.FREE, State.RESERVED):
        raise Impossible(f"it is {State(state).label}, not on the rack")
    if what == What.RESERVED:
        if reserved + much > left:
            raise Impossible("that much of it is not free")
        reserved += much
    elif what == What.LET_GO:
        if much > reserved:
            raise Impossible("that much of it is not reserved")
        reserved -= much
    elif what == What.CUT:
        if much > left:
            raise Impossible("that much of it is not left")
        left -= much
        if event.holder:
            reserved -= much
    elif what == What.MEASURED:
        left = much
    else:
        ends = State.SPOILED if what == What.SPOILED else State.SOLD
        return Standing(ends, NOTHING, NOTHING, place)
    if reserved < 0 or reserved > left:
        raise Impossible("more of it is reserved than would be left")
    return Standing(_of(left, reserved), left, reserved, place)


def read(events: Iterable[RackEvent]) -> Standing:
    """How an item stands, from all its events, oldest first."""
    standing = START
    for event in events:
        standing = after(standing, event)
    return standing


def standing_of(item: RackItem) -> Standing:
    """As its row says it."""
    return Standing(item.state, item.left_mm, item.reserved_mm, item.place)


def _of(left: Decimal, reserved: Decimal) -> str:
    if not left:
        return State.USED
    return State.RESERVED if reserved else State.FREE
