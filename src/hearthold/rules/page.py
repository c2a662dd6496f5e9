"""The rule book in print: docs/rules.md is this page, and a test keeps them equal.

Print it again with: python -m hearthold.rules.page > docs/rules.md
"""

from __future__ import annotations

import sys
from collections.abc import Iterator

from hearthold.house.site import VoltageSystem
from hearthold.rules.finding import Severity
from hearthold.rules.rows import Family, RuleRow, families, rule_book
from hearthold.rules.words import blanked

_HEAD = """# Rules

Printed from `src/hearthold/rules/tables/`. Each rule is a row there and a small function in
`src/hearthold/rules/families/`. A finding is advice: the local code, the inspector and a licensed
electrician decide.
Words in angle brackets are figures of the house; the others are the limits of the rule.
"""
_MEANING = {
    Severity.DANGER: "can hurt or kill",
    Severity.ACT: "must be mended before anybody relies on the power",
    Severity.CONSIDER: "would make the plan better or the margin wider",
    Severity.NOTE: "good to know",
}
_SYSTEM = {VoltageSystem.SPLIT_120_240: "120/240 V", VoltageSystem.SINGLE_230: "230 V"}


def rules_page() -> str:
    """The whole page, a family at a time, as Markdown."""
    book = tuple(rule_book().values())
    lines = [_HEAD, *(f"* **{word}**: {meaning}" for word, meaning in _MEANING.items()), ""]
    lines.append(f"{len(book)} rules in {len(families())} families.")
    for family in families().values():
        lines += _family(family, [row for row in book if row.family == family.name])
    return "\n".join(lines) + "\n"


def _family(family: Family, rows: list[RuleRow]) -> Iterator[str]:
    yield f"\n## {family.title}\n\n{family.meaning}"
    for row in rows:
        yield from _rule(row)


def _rule(row: RuleRow) -> Iterator[str]:
    system = row.systems[0]
    where = "both systems" if len(row.systems) > 1 else _SYSTEM[system]
    edition = f"; {row.edition}" if row.edition else ""
    yield f"\n### `{row.id}`\n"
    yield f"**{blanked(row.title, row.limits, system)}** ({row.severity}; {where})\n"
    yield blanked(row.why, row.limits, system).replace("<", "\\<") + "\n"
    yield f"*What to do:* {blanked(row.remedy, row.limits, system)}\n".replace("<", "\\<")
    yield f"*Source:* {row.source}{edition}"


if __name__ == "__main__":
    sys.stdout.write(rules_page())
