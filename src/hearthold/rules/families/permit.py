"""Permit and people: who wired the hookup, and who has looked at it."""

from __future__ import annotations

from collections.abc import Iterator

from hearthold.rules.case import Case
from hearthold.rules.finding import Hit
from hearthold.rules.registry import rule
from hearthold.rules.rows import RuleRow


def _when(case: Case, key: str, value: str) -> Iterator[Hit]:
    """A hit where an installed hookup says `key` = `value`."""
    hookup = case.panel_hookup
    if hookup is not None and hookup.installed and getattr(hookup, key) == value:
        yield Hit(case.way, {"way": case.way})


@rule("no-permit")
def no_permit(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Installed, and said to have none."""
    return _when(case, "permit", "no")


@rule("permit-unknown")
def permit_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Installed, and nobody said."""
    return _when(case, "permit", "unknown")


@rule("installed-by-household")
def by_household(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Installed by the people who live there."""
    return _when(case, "installed_by", "household")


@rule("installer-unknown")
def installer_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Installed by nobody knows whom."""
    return _when(case, "installed_by", "unknown")


@rule("not-installed-yet")
def not_installed(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A hookup that is only intended."""
    hookup = case.panel_hookup
    if hookup is not None and not hookup.installed:
        yield Hit(case.way, {"way": case.way})


@rule("utility-notice")
def utility_notice(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Any set that can feed the house through transfer equipment."""
    hookup, set_ = case.panel_hookup, case.generator
    if hookup is not None and set_ is not None:
        yield Hit(case.way, {"way": case.way, "machine": set_.name})
