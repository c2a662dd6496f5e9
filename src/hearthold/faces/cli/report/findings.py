"""Findings: gravest first, each with its place, why it matters, what mends it, whose rule it is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from hearthold.faces.cli.report.parts import INDENT, STYLES, heading, sentence

if TYPE_CHECKING:
    from hearthold.rules.finding import Finding

MEANING = {
    "danger": "can hurt or kill; stop and mend it first",
    "act": "mend it before anybody relies on the power",
    "consider": "would make the plan better",
    "note": "good to know",
}
_MARK_WIDTH = 9


def count_words(findings: Iterable[Finding]) -> str:
    """How many of each severity, in words: "1 danger, 3 act, 2 consider"."""
    counted = Counter(str(f.severity) for f in findings)
    return ", ".join(f"{counted[word]} {word}" for word in MEANING if counted[word]) or "nothing"


def findings_section(
    findings: tuple[Finding, ...], page: Console, *, every: bool = True
) -> Iterator[RenderableType]:
    """The section; notes are counted and not shown unless asked for."""
    yield heading("Findings", page)
    if not findings:
        yield sentence("The rules found nothing to mend. They cannot see what the file does not say.")
        return
    present = [word for word in MEANING if any(f.severity == word for f in findings)]
    yield sentence("; ".join(f"{word.upper()}: {MEANING[word]}" for word in present) + ".")
    shown = [f for f in findings if every or f.severity != "note"]
    for finding in shown:
        yield _finding(finding)
    if len(shown) < len(findings):
        yield sentence(f"{len(findings) - len(shown)} more of severity note: add --all.")


def _finding(finding: Finding) -> RenderableType:
    severity = str(finding.severity)
    grid = Table.grid(padding=(0, 1))
    grid.add_column(width=_MARK_WIDTH, no_wrap=True)
    grid.add_column()
    grid.add_row(Text(severity.upper(), style=STYLES[severity]), _head(finding))
    grid.add_row(Text(""), Text(finding.why))
    if finding.remedy:
        grid.add_row(Text("do"), Text(finding.remedy))
    grid.add_row(Text("rule", style=STYLES["quiet"]), Text(_reference(finding), style=STYLES["quiet"]))
    return Padding(grid, (1, 0, 0, INDENT))


def _head(finding: Finding) -> Text:
    text = Text(finding.title.rstrip("."), style="bold")
    return text.append(f" [{finding.where}]", style="not bold") if finding.where else text


def _reference(finding: Finding) -> str:
    edition = f", {finding.edition}" if finding.edition else ""
    return f"{finding.rule}: {finding.source}{edition}"
