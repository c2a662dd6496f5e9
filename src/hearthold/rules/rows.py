"""The rule book: every rule as a row of tables/<family>.toml, read once, refused if anything is missing."""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from hearthold.errors import InputError, TableError
from hearthold.house.site import VoltageSystem
from hearthold.quantities.source import Source, Standing
from hearthold.reference.reader import table
from hearthold.rules.finding import Severity, Value
from hearthold.rules.words import filled

_FAMILY_KEYS = {"place", "title", "meaning"}
_NEEDED = {"id", "severity", "title", "why", "remedy", "source", "standing"}
_KNOWN = _NEEDED | {"systems", "edition", "caution", "limits", "read", "cites"}
_BOTH = tuple(s.value for s in VoltageSystem)


@dataclass(frozen=True, slots=True)
class RuleRow:
    """One rule: its wording, the limits it applies, and where both come from."""

    id: str
    family: str
    severity: Severity
    systems: tuple[VoltageSystem, ...]
    title: str
    why: str  # template over the hit's values and the limits
    remedy: str  # template likewise
    source: Source  # its words may name limits
    edition: str  # edition whose numbering is cited; empty where no code is
    caution: str  # row of the reference table of cautions; empty where there is none
    cites: tuple[str, ...]  # rows of the reference table of code rules
    limits: Mapping[str, Value]  # names end in SI units, `_frac` or nothing for counts and words

    @property
    def is_code(self) -> bool:
        """True where the rule restates a wiring code."""
        return bool(self.edition)

    def number(self, name: str) -> float:
        """A limit as a number. Raises TableError if the row has none of that name."""
        value = self.limits.get(name)
        if isinstance(value, str) or value is None:
            raise TableError(
                f"rule {self.id}: no numeric limit {name}; there are {', '.join(self.limits) or 'none'}"
            )
        return float(value)


@dataclass(frozen=True, slots=True)
class Family:
    """A family of rules: its title and what it looks after."""

    name: str
    title: str
    meaning: str


@cache
def families() -> Mapping[str, Family]:
    """Every family by name, what can kill first."""
    return MappingProxyType({name: _family(name, raw) for name, raw in _raw().items()})


@cache
def rule_book() -> Mapping[str, RuleRow]:
    """Every rule by id. Raises TableError naming file, rule and key if a table is not as it should be."""
    book: dict[str, RuleRow] = {}
    for family, raw in _raw().items():
        for entry in raw.get("rule", []):
            row = _row(family, entry)
            if row.id in book:
                raise TableError(f"rules/tables/{family}.toml: rule {row.id} is there twice")
            book[row.id] = row
    return MappingProxyType(book)


def rule_row(rule_id: str) -> RuleRow:
    """The row of one rule. Raises InputError with near names if there is none."""
    book = rule_book()
    if rule_id not in book:
        near = difflib.get_close_matches(rule_id, book, n=3, cutoff=0.4)
        hint = f"near: {', '.join(near)}" if near else "docs/rules.md lists them all"
        raise InputError(f"there is no rule {rule_id!r}; {hint}.", code="no_such_rule", rule=rule_id)
    return book[rule_id]


@cache
def _raw() -> dict[str, dict[str, Any]]:
    root = files("hearthold.rules").joinpath("tables")
    places = (p for p in root.iterdir() if p.name.endswith(".toml"))
    raw = {p.name.removesuffix(".toml"): tomllib.loads(p.read_text("utf-8")) for p in places}
    return dict(sorted(raw.items(), key=lambda item: item[1].get("family", {}).get("place", 0)))


def _family(name: str, raw: Mapping[str, Any]) -> Family:
    head = raw.get("family", {})
    if set(head) != _FAMILY_KEYS or set(raw) - {"family", "rule"}:
        raise TableError(
            f"rules/tables/{name}.toml: needs [family] with place, title and meaning, and [[rule]] rows only"
        )
    return Family(name, head["title"], head["meaning"])


def _row(family: str, raw: Mapping[str, Any]) -> RuleRow:
    place = f"rules/tables/{family}.toml, rule {raw.get('id', '?')}"
    missing, unknown = sorted(_NEEDED - set(raw)), sorted(set(raw) - _KNOWN)
    if missing or unknown:
        raise TableError(
            f"{place}: lacks {', '.join(missing) or 'nothing'}; unknown {', '.join(unknown) or 'nothing'}"
        )
    limits = _limits(raw)
    try:
        return RuleRow(
            raw["id"],
            family,
            Severity(raw["severity"]),
            tuple(VoltageSystem(s) for s in raw.get("systems", _BOTH)),
            _line(raw["title"]),
            _line(raw["why"]),
            _line(raw["remedy"]),
            Source(filled(raw["source"], limits, VoltageSystem.SPLIT_120_240), Standing(raw["standing"])),
            raw.get("edition", ""),
            raw.get("caution", ""),
            tuple(raw.get("cites", ())),
            MappingProxyType(limits),
        )
    except KeyError as name:
        raise TableError(f"{place}: its source names {name}, which is no limit of the row") from name
    except ValueError as problem:
        raise TableError(f"{place}: {problem}") from problem


def _limits(raw: Mapping[str, Any]) -> dict[str, Value]:
    """The row's own limits, and those read in SI from a reference table: name = [table, key..., column]."""
    found: dict[str, Value] = dict(raw.get("limits", {}))
    for name, (of_table, *key, column) in raw.get("read", {}).items():
        found[name] = table(of_table).row(*key).si(column)
    return found


def _line(text: str) -> str:
    """Text of several lines as one."""
    return " ".join(text.split())
