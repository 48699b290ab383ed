"""Layouts that are asked for as an errand."""

from __future__ import annotations

from jobs.models import Job
from layout import plans_finding
from layout.faults import BadRecord, CannotBuild
from layout.laying import lay_out_job
from layout.recording import Closed
from shop.errands import Beat, Refused, ask, carries, held
from shop.models import Errand, Person

__all__ = ["ask_for_layout", "carry_layout", "plans_finding"]

KIND = "lay_out"


def ask_for_layout(job: Job, by: Person) -> Errand:
    """Puts the laying out of a job down as an errand."""
    return ask(KIND, job=job.pk, by=by.pk)


@carries(KIND)
def carry_layout(errand: Errand, beat: Beat) -> None:
    job = Job.objects.filter(pk=errand.payload["job"]).first()
    by = Person.objects.filter(pk=errand.payload["by"]).first()
    if job is None or by is None:
        raise Refused("The job or the person who asked is no longer there.")
    try:
        with held(errand):
            lay_out_job(job, by)
    except (BadRecord, CannotBuild, Closed) as refusal:
        raise Refused(str(refusal)) from refusal
