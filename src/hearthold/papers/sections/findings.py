"""Findings of the rules as blocks, gravest first, each with its source and the caution that belongs to it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from hearthold.papers.blocks import Block, Found, Warn, Words
from hearthold.rules.check import deference
from hearthold.rules.rows import rule_row

if TYPE_CHECKING:
    from hearthold.papers.job import Job
    from hearthold.rules.finding import Finding


def finding_blocks(job: Job, findings: Iterable[Finding]) -> Iterator[Block]:
    """Findings in the order given, each caution once, and at the end whose word counts."""
    said: set[str] = set()
    cited = False
    for finding in findings:
        defers = deference(rule_row(finding.rule), job.house.system)
        cited = cited or bool(defers)
        words = job.caution(finding.caution) if finding.caution and finding.caution not in said else ""
        said.add(finding.caution)
        yield _found(job, finding, defers, bool(words))
        if words:
            yield Warn(words)
    if cited:
        yield Words(_WHOSE[job.nec], "quiet")


_WHOSE = {
    True: "Section numbers move between editions; the code as adopted where you live decides.",
    False: "Clause numbers follow the edition named; national rules and whoever certifies the work decide.",
}


def _found(job: Job, finding: Finding, defers: str, warned: bool) -> Found:
    edition = f", {finding.edition}" if finding.edition else ""
    source = f"{finding.rule}: {job.source_words(finding.source)}{edition}"
    remedy = finding.remedy.removesuffix(defers).strip()
    title = finding.title.rstrip(".")
    return Found(str(finding.severity), title, finding.where, finding.why, remedy, source, warned)
