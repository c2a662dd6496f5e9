"""A document of blocks as PDF: the frame that brief, lists, report and drill sheet share."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from hearthold.papers.blocks import Block, breakable, data_of
from hearthold.papers.fontfile import printable
from hearthold.papers.setting import set_pdf

if TYPE_CHECKING:
    from hearthold.papers.job import Job

_ROOM = 48  # letters of a house's name that the head of a page holds in one line
ADVICE = "Advice only: local code, a permit and a licensed electrician decide."


def document(job: Job, title: str, subject: str, blocks: Iterable[Block], notice: str = "") -> bytes:
    """The blocks under the paper's head, with house, date and version on every page."""
    house = f"{job.house.name}, {job.house.site.place}"
    data = {
        "title": breakable(f"{title}, {job.house.name}"),
        "title-short": title,
        "house": breakable(house),
        "running": title,
        "running-house": printable(_short(job.house.name)),
        "subject": subject,
        "paper": job.typst_paper,
        "date": [job.today.year, job.today.month, job.today.day],
        "stamp": job.stamp,
        "foot": f"{notice or ADVICE} {job.stamp}",
        "notice": notice,
        "blocks": [data_of(block) for block in blocks],
    }
    return set_pdf("document.typ", data, job.today)


def _short(name: str) -> str:
    """A name for the head of a page, cut where dots say so; it stands whole on the first page."""
    return name if len(name) <= _ROOM else f"{name[: _ROOM - 1].rstrip()}…"
