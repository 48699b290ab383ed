"""Books, changes, closes and opens jobs. Each act is an event."""

from __future__ import annotations

from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import F, Max

from jobs import closing, log
from jobs.models import Client, Event, Job, Site
from shop.models import Person

# Fields of a job that people fill in, in the order the form asks them.
TYPED = (
    "client",
    "title",
    "site_address",
    "leaks",
    "present_metal",
    "present_seam_kind",
    "present_seam_height_mm",
    "present_pan_width_mm",
    "present_colour",
    "access",
    "wished_from",
    "wished_until",
    "visit_on",
    "install_from",
    "install_until",
)
TYPED_OF_SITE = ("kind", "name", "units", "roof_notes", "hazards")
TYPED_OF_CLIENT = ("name", "phone", "email", "address", "note")

MOST_SITES = 50
"""Of one job; a record holds no more."""

_TRIES = 5


class ChangedMeanwhile(ValueError):
    """Somebody saved the same thing first."""

    def __init__(self, what: str, last: Event | None = None) -> None:
        who = f"{last.who()} saved it first ({last.reason})" if last else "It was saved"
        super().__init__(
            f"{what}: {who} while you were typing. Yours is still below and is not "
            "saved. Compare, then save again."
        )


def book(by: Person, *, client: Client, units: str = "in", **typed: Any) -> Job:
    """Books a job for a client, with one chimney site to be measured.

    typed: fields of Job named in TYPED. Numbers run on without a gap; when two people
    book at once, one of them simply gets the next number.
    """
    for _ in range(_TRIES):
        try:
            with transaction.atomic():
                job = Job.objects.create(
                    number=_next_number(), client=client, created_by=by, **typed
                )
                Site.objects.create(job=job, units=units)
                log.write(job, "booked", by, about=job.title)
                return job
        except IntegrityError as error:
            if "number" not in str(error):
                raise
    raise RuntimeError("no free job number after several tries")


def change(job: Job, by: Person, typed: dict[str, Any], version: int) -> Job:
    """Saves new values of fields named in TYPED; says in the log which were changed.

    version: the job's version that the person saw.
    Raises ChangedMeanwhile if somebody saved first.
    """
    with transaction.atomic():
        now = Job.objects.select_for_update(of=("self",)).get(pk=job.pk)
        changed = _changed(now, typed, TYPED)
        if not changed:
            return now
        if not Job.objects.filter(pk=now.pk, version=version).update(
            **changed, version=F("version") + 1
        ):
            last = now.events.filter(what="changed").select_related("by").first()
            raise ChangedMeanwhile(str(now), last)
        log.write(
            now,
            "changed",
            by,
            about=now.title,
            before=_as_lines(now, changed),
            after=_as_lines(Job(**changed), changed),
            reason=", ".join(_name(Job, field) for field in changed),
        )
    return Job.objects.get(pk=job.pk)


def add_site(
    job: Job, by: Person, *, kind: str, units: str, name: str = "", **noted: str
) -> Site:
    """Adds another place to be measured to an open job.

    noted: roof_notes and hazards. Raises ValueError where the job is closed or has
    MOST_SITES already.
    """
    with transaction.atomic():
        now = Job.objects.select_for_update(of=("self",)).get(pk=job.pk)
        if not now.is_open():
            raise ValueError(
                f"{now} is {now.get_state_display()}. Open it again to add a place."
            )
        if now.sites.count() >= MOST_SITES:
            raise ValueError(
                f"{now} has {MOST_SITES} places already. Book another job for more."
            )
        site = Site.objects.create(job=now, kind=kind, name=name, units=units, **noted)
        log.write(now, "added a place", by, about=site.words(), after=kind)
        return site


def leave_out(site: Site, by: Person, reason: str) -> Site:
    """Leaves a place out of the layout; its measures, and what was made, stay.

    Raises ValueError without a reason, or where no place would be left.
    """
    reason = " ".join(reason.split())
    if not reason:
        raise ValueError("Reason: say in a few words why the place is left out.")
    with transaction.atomic():
        job = Job.objects.select_for_update(of=("self",)).get(pk=site.job_id)
        others = job.sites.laid_out().exclude(pk=site.pk)
        if not others.exists():
            raise ValueError(
                f"{site.words().capitalize()} is the only place of {job} that is laid "
                "out. Add another first, or call the job off."
            )
        return _keep_left_out(job, site, by, "left out a place", reason)


def take_in(site: Site, by: Person) -> Site:
    """Takes a place that was left out into the layout again."""
    with transaction.atomic():
        job = Job.objects.select_for_update(of=("self",)).get(pk=site.job_id)
        return _keep_left_out(job, site, by, "took in a place", "")


def _keep_left_out(job: Job, site: Site, by: Person, what: str, because: str) -> Site:
    now = job.sites.get(pk=site.pk)
    if now.left_out == bool(because):
        state = "left out" if because else "laid out"
        raise ValueError(f"{now.words().capitalize()} is {state} already.")
    if not job.is_open():
        raise ValueError(f"{job} is {job.get_state_display()}. Open it again first.")
    job.sites.filter(pk=now.pk).update(left_out_because=because)
    log.write(job, what, by, about=now.words(), reason=because)
    now.left_out_because = because
    return now


def note_site(site: Site, by: Person, typed: dict[str, Any]) -> Site:
    """Saves kind, name, units, roof notes and hazards of a site."""
    with transaction.atomic():
        now = Site.objects.select_for_update(of=("self",)).get(pk=site.pk)
        changed = _changed(now, typed, TYPED_OF_SITE)
        if changed:
            Site.objects.filter(pk=now.pk).update(**changed)
            log.write(
                now.job,
                "noted the site",
                by,
                about=", ".join(_name(Site, field) for field in changed),
                before=_as_lines(now, changed),
                after=_as_lines(Site(**changed), changed),
            )
    return Site.objects.get(pk=site.pk)


def change_client(
    client: Client, by: Person, typed: dict[str, Any], version: int
) -> Client:
    """Saves a client's card; the log of each of their open jobs says so."""
    with transaction.atomic():
        now = Client.objects.select_for_update(of=("self",)).get(pk=client.pk)
        changed = _changed(now, typed, TYPED_OF_CLIENT)
        if not changed:
            return now
        if not Client.objects.filter(pk=now.pk, version=version).update(
            **changed, version=F("version") + 1
        ):
            raise ChangedMeanwhile(str(now))
        for job in now.jobs.open():
            log.write(
                job,
                "changed the client",
                by,
                about=now.name,
                before=_as_lines(now, changed),
                after=_as_lines(Client(**changed), changed),
            )
    return Client.objects.get(pk=client.pk)


def close(job: Job, by: Person, state: str, reason: str) -> Job:
    """Hands a job over or calls it off. state: Job.State.DONE or OFF."""
    reason = " ".join(reason.split())
    if state == Job.State.OFF and not reason:
        raise ValueError("Reason: say in a few words why the job is called off.")
    return _set_state(job, by, state, Job.State(state).label, reason)


def open_again(job: Job, by: Person, reason: str) -> Job:
    """Opens a closed job again."""
    reason = " ".join(reason.split())
    if not reason:
        raise ValueError("Reason: say in a few words why the job is opened again.")
    return _set_state(job, by, Job.State.OPEN, "opened again", reason)


def _set_state(job: Job, by: Person, state: str, what: str, reason: str) -> Job:
    with transaction.atomic():
        now = Job.objects.select_for_update(of=("self",)).get(pk=job.pk)
        if now.state == state:
            raise ValueError(f"{now} is {now.get_state_display()} already.")
        Job.objects.filter(pk=now.pk).update(state=state, version=F("version") + 1)
        log.write(now, what, by, before=now.state, after=state, reason=reason)
        now.state = state
        if now.is_open():
            closing.opened(now)
        else:
            closing.close(now)
    return Job.objects.get(pk=job.pk)


def _next_number() -> int:
    return (Job.objects.aggregate(last=Max("number"))["last"] or 0) + 1


def _changed(
    row: Job | Site | Client, typed: dict[str, Any], allowed: tuple[str, ...]
) -> dict[str, Any]:
    return {
        field: value
        for field, value in typed.items()
        if field in allowed and getattr(row, field) != value
    }


def _name(model: type[Job] | type[Site] | type[Client], field: str) -> str:
    return str(model._meta.get_field(field).verbose_name)  # type: ignore[union-attr]


def _as_lines(row: Job | Site | Client, fields: dict[str, Any]) -> str:
    lines = []
    for field in fields:
        value = getattr(row, field)
        words = "none" if value in (None, "") else str(value)
        lines.append(f"{_name(type(row), field)}: {words}")
    return "\n".join(lines)
