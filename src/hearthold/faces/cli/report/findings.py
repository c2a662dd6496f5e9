"""Findings: gravest first, each with its place, why it matters, what mends it, whose rule it is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from hearthold.faces.cli.report.parts import INDENT, STYLES, heading, plain, sentence
from hearthold.house.site import VoltageSystem
from hearthold.rules.check import deference
from hearthold.rules.rows import rule_row

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
    findings: tuple[Finding, ...],
    page: Console,
    system: VoltageSystem,
    *,
    every: bool = True,
    titles: bool = False,
) -> Iterator[RenderableType]:
    """The section. Notes are counted and not shown unless asked for; with `titles`, what is only to be
    considered is a line each.
    """
    yield heading("Findings", page)
    if not findings:
        yield sentence("The rules found nothing to mend. They cannot see what the file does not say.")
        return
    shown = [f for f in findings if every or f.severity != "note"]
    present = [word for word in MEANING if any(f.severity == word for f in shown)]
    yield sentence("; ".join(f"{word.upper()}: {MEANING[word]}" for word in present) + ".")
    in_full = [f for f in shown if f.needs_action or not titles]
    yield from (_finding(finding, system) for finding in in_full)
    if len(in_full) < len(shown):
        yield _titles(f for f in shown if f not in in_full)
    if any(f.edition for f in shown):
        yield sentence(f"\n{_WHOSE[system]}")
    if len(shown) < len(findings):
        yield sentence(f"{len(findings) - len(shown)} more of severity note: add --all.")


_WHOSE = {
    VoltageSystem.SPLIT_120_240: (
        "Section numbers move between editions; the local code as adopted where you live and its inspector decide."
    ),
    VoltageSystem.SINGLE_230: (
        "Clause numbers follow the edition named; the national wiring rules and the competent person who "
        "certifies the work decide."
    ),
}


def _finding(finding: Finding, system: VoltageSystem) -> RenderableType:
    severity = str(finding.severity)
    grid = _grid()
    grid.add_row(Text(severity.upper(), style=STYLES[severity]), _head(finding))
    grid.add_row(Text(""), Text(plain(finding.why)))
    remedy = finding.remedy.removesuffix(deference(rule_row(finding.rule), system)).rstrip()
    if remedy:
        grid.add_row(Text("do"), Text(plain(remedy)))
    grid.add_row(Text("rule", style=STYLES["quiet"]), Text(_reference(finding), style=STYLES["quiet"]))
    return Padding(grid, (1, 0, 0, INDENT))


def _titles(findings: Iterable[Finding]) -> RenderableType:
    grid = _grid()
    for finding in findings:
        severity = str(finding.severity)
        grid.add_row(Text(severity.upper(), style=STYLES[severity]), _head(finding))
    return Padding(grid, (1, 0, 0, INDENT))


def _grid() -> Table:
    """Severity at the left, the words hanging beside it."""
    grid = Table.grid(padding=(0, 1))
    grid.add_column(width=_MARK_WIDTH, no_wrap=True)
    grid.add_column(overflow="fold")  # a rule's name or a key longer than a phone's line is broken, never cut
    return grid


def _head(finding: Finding) -> Text:
    text = Text(finding.title.rstrip("."), style="bold")
    return text.append(f" [{finding.where}]", style="not bold") if finding.where else text


def _reference(finding: Finding) -> str:
    edition = f", {finding.edition}" if finding.edition else ""
    return plain(f"{finding.rule}: {finding.source}{edition}")
