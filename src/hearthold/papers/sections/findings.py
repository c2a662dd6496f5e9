"""Findings of the rules as blocks, gravest first, each with its source and the caution that belongs to it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from hearthold.papers.blocks import Block, Found, Warn

if TYPE_CHECKING:
    from hearthold.papers.job import Job
    from hearthold.rules.finding import Finding


def finding_blocks(job: Job, findings: Iterable[Finding]) -> Iterator[Block]:
    """Findings in the order given; a caution follows the first finding that calls for it."""
    said: set[str] = set()
    for finding in findings:
        yield _found(finding)
        if finding.caution and finding.caution not in said:
            said.add(finding.caution)
            words = job.caution(finding.caution)
            if words:
                yield Warn(words)


def _found(finding: Finding) -> Found:
    edition = f", {finding.edition}" if finding.edition else ""
    source = f"{finding.rule}: {finding.source}{edition}"
    return Found(
        str(finding.severity), finding.title.rstrip("."), finding.where, finding.why, finding.remedy, source
    )
