"""`check`: every rule that applies to a case, gravest first. The way into this layer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from hearthold.errors import HeartholdError
from hearthold.house.site import VoltageSystem
from hearthold.reference.local_words import in_local_words
from hearthold.rules.case import Case
from hearthold.rules.families import (  # noqa: F401  each import ties its functions to their rows
    cold,
    conductors,
    connection,
    data,
    earthing,
    food,
    fuel,
    medical,
    monoxide,
    permit,
    starting,
    supply,
    upkeep,
    water,
)
from hearthold.rules.finding import Finding, Hit, Value, frozen_values
from hearthold.rules.registry import registered, rule
from hearthold.rules.rows import RuleRow, rule_book, rule_row
from hearthold.rules.words import blanked, filled

REFUSED = "not-checked"  # answered here, by what the other rules could not do

_DEFERENCE = {
    VoltageSystem.SPLIT_120_240: (
        "Section numbers move between editions ({edition} here); "
        "the local code as adopted where you live and its inspector decide."
    ),
    VoltageSystem.SINGLE_230: (
        "Clause numbers follow {edition}; "
        "the national wiring rules and the competent person who certifies the work decide."
    ),
}


def check(case: Case) -> tuple[Finding, ...]:
    """Findings of every rule for the house's voltage system, gravest first, then in the order of the tables.

    A rule that cannot be worked out, say because a table has no such wire, is named in a finding of its own.
    """
    found, refused = _attempt(case)
    found += [_finding(case, rule_row(REFUSED), hit) for hit in refused]
    return tuple(sorted(found, key=lambda f: f.severity.rank))


def explain(rule_id: str, system: VoltageSystem = VoltageSystem.SPLIT_120_240) -> str:
    """A rule in words: what it looks for, what mends it, where it comes from. Raises InputError."""
    row = rule_row(rule_id)
    spoken_in = system if system in row.systems else row.systems[0]
    lines = [
        f"{row.title} ({row.severity})",
        blanked(row.why, row.limits, spoken_in),
        f"What to do: {blanked(row.remedy, row.limits, spoken_in)}",
        f"Source: {row.source}",
        deference(row, spoken_in),
    ]
    return "\n".join(line for line in lines if line)


def deference(row: RuleRow, system: VoltageSystem) -> str:
    """Whose word counts more than ours; empty where the rule cites no code."""
    return _DEFERENCE[system].format(edition=row.edition) if row.is_code else ""


@rule(REFUSED)
def left_out(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Checks that a faulty entry made impossible, by what is wrong."""
    yield from _attempt(case)[1]


def _attempt(case: Case) -> tuple[list[Finding], list[Hit]]:
    """Findings of every rule that could be worked out, and one hit for each reason why others could not."""
    found: list[Finding] = []
    refused: dict[str, list[str]] = {}
    for row in rule_book().values():
        if case.house.system not in row.systems or row.id == REFUSED:
            continue
        try:
            found += [_finding(case, row, hit) for hit in registered()[row.id](case, row)]
        except HeartholdError as problem:
            refused.setdefault(str(problem).rstrip("."), []).append(row.title)
    return found, [
        Hit("the house file", {"problem": problem, "rules": "; ".join(titles)})
        for problem, titles in refused.items()
    ]


def _told(template: str, values: Mapping[str, Value], system: VoltageSystem) -> str:
    """A template filled in, in the words of the place; names that the household gave stay as they are."""
    return " ".join(filled(in_local_words(template, system), values, system).split())


def _finding(case: Case, row: RuleRow, hit: Hit) -> Finding:
    values = frozen_values(row.limits, hit.values)
    system = case.house.system
    title, why, remedy = (_told(text, values, system) for text in (row.title, row.why, row.remedy))
    return Finding(
        rule=row.id,
        family=row.family,
        severity=hit.severity or row.severity,
        title=title,
        where=hit.where,
        why=why,
        remedy=" ".join(part for part in (remedy, deference(row, system)) if part),
        source=row.source,
        edition=row.edition,
        caution=row.caution,
        values=values,
    )
