"""Lays a job out: brief in, set through the core, rows out.

Quick enough to be done while the person waits; the errand does the same.
"""

from __future__ import annotations

import logging

from jobs.models import Job
from layout import reading, recording, run
from layout.faults import BadRecord, CannotBuild
from layout.models import Layout
from shop.models import Person

log = logging.getLogger(__name__)


def lay_out_job(job: Job, by: Person) -> Layout:
    """The layout of the job as it is measured and asked now.

    Nothing changed since the last layout: that one is given again.
    Raises BadRecord where measures are missing or can't be read, recording.Closed
    where the job is not open, and jobs.progress.Refused where a piece can't be
    brought up to it; then nothing is kept. A job that can't be built is given as a
    refused layout.
    """
    brief = reading.brief(job)
    last = Layout.objects.of(job).judged().newest_first().first()
    if last and last.digest == brief.digest:
        if last.is_done():
            recording.hand_to_bench(last, by)
        return last
    try:
        laid = run.lay_out(
            brief.record, brief.facts.__getitem__, brief.looks, brief.roof_metal
        )
    except CannotBuild as cannot:
        return recording.refuse(job, by, brief, cannot.reasons)
    except BadRecord:
        raise
    except Exception as fault:
        log.exception("Layout of %s failed", job)
        return recording.fail(
            job,
            by,
            brief,
            f"Something went wrong on our side ({type(fault).__name__}), not with "
            "what was measured. Nothing of yours is lost. Tell whoever keeps the "
            "server.",
        )
    return recording.record(job, by, brief, laid)
