"""Where each file goes and what it is called. Files are named by what they hold."""

from __future__ import annotations

from typing import Any

PAPERS = "papers"


def photo_place(photo: Any, name: str) -> str:
    """photos/job-0012/3f2a….jpg: a folder for each job."""
    return f"photos/job-{photo.job.number:04d}/{name}"


def photo_name(digest: str, ending: str = "") -> str:
    """Of the upright photo by the digest of what was sent; ending: "-small"."""
    return f"{digest[:24]}{ending}.jpg"


def folder_of_papers(document: Any, name: str) -> str:
    return f"{PAPERS}/{name}"


def paper_place(number: int, kind: str, digest: str) -> str:
    """papers/000007-cut-sheets-3f2a9c81d0e4.pdf: other contents, another name."""
    return f"{PAPERS}/{number:06d}-{kind.replace('_', '-')}-{digest[:12]}.pdf"


def download_name(number: int, job_number: int, kind: str) -> str:
    """What the file is called on the phone of whoever keeps it."""
    return f"paper-{number}-job-{job_number}-{kind.replace('_', '-')}.pdf"
