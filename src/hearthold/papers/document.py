"""A document of blocks as PDF: the frame that brief, lists, report and drill sheet share."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from hearthold.papers.blocks import Block, breakable, data_of
from hearthold.papers.setting import set_pdf

if TYPE_CHECKING:
    from hearthold.papers.job import Job

ADVICE = "Advice only: local code, a permit and a licensed electrician decide."


def document(job: Job, title: str, subject: str, blocks: Iterable[Block], notice: str = "") -> bytes:
    """The blocks under the paper's head, with house, date and version on every page."""
    house = f"{job.house.name}, {job.house.site.place}"
    data = {
        "title": breakable(f"{title}, {job.house.name}"),
        "title-short": title,
        "house": breakable(house),
        "running": title,
        "subject": subject,
        "paper": job.typst_paper,
        "date": [job.today.year, job.today.month, job.today.day],
        "stamp": job.stamp,
        "foot": f"{notice or ADVICE} {job.stamp}",
        "notice": notice,
        "blocks": [data_of(block) for block in blocks],
    }
    return set_pdf("document.typ", data, job.today)
