"""Which function answers which rule: `@rule("engine-too-close")` ties the function to the row of that id."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING

from hearthold.errors import TableError
from hearthold.rules.finding import Hit

if TYPE_CHECKING:
    from hearthold.rules.case import Case
    from hearthold.rules.rows import RuleRow

Check = Callable[["Case", "RuleRow"], Iterable[Hit]]

_CHECKS: dict[str, Check] = {}


def rule(*rule_ids: str) -> Callable[[Check], Check]:
    """Ties a function to one rule, or to the same rule as two codes put it.

    Raises: TableError if another function answers that rule already.
    """

    def tie(function: Check) -> Check:
        for rule_id in rule_ids:
            if rule_id in _CHECKS:
                raise TableError(f"two functions answer rule {rule_id}")
            _CHECKS[rule_id] = function
        return function

    return tie


def registered() -> Mapping[str, Check]:
    """Functions by rule id."""
    return MappingProxyType(_CHECKS)
