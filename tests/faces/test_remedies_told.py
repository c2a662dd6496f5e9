"""What would help, as the page of `outage` sorts it: enough, better, no help, each told once."""

from dataclasses import dataclass, field
from io import StringIO

from rich.console import Console

from hearthold.faces.cli.report.outage import _trouble
from hearthold.faces.outage import sorted_out
from hearthold.papers.words.say import Say
from hearthold.plan.infeasible import Remedy


@dataclass
class Cost:
    total_j: float = 100.0


@dataclass
class Plan:
    cost: Cost = field(default_factory=Cost)


@dataclass
class Trouble:
    remedies: tuple
    plan: Plan = field(default_factory=Plan)
    statement: str = (
        "A plan made for that alone keeps every limit for 4.2 h; then coldest pipe falls below 0.0 degC."
    )


def remedy(what, keys, cost_j, fuel=1.0, kept=False, breaks=("house",)):
    outlay = "fuel" if "fuel" in keys else "nothing to buy"
    left = () if kept else breaks
    return Remedy(what, outlay, kept, 9.0, fuel, cost_j, "house", "", left, keys, None, fuel, None)


DRAIN = remedy("Drain", ("drain",), 60.0)
TWENTY = remedy("Have 20 L", ("fuel",), 80.0, fuel=2.0)
FORTY = remedy("Have 40 L", ("fuel",), 79.5, fuel=4.0)
BOTH = remedy("Drain, and have 20 L", ("drain", "fuel"), 40.0, fuel=2.0)
DRAIN_NIGHT = remedy("Drain, and run at night", ("drain", "night"), 59.5)
NIGHT = remedy("Allow running at night", ("night",), 99.5)
BIG = remedy("A machine 1.5 times as large", ("machine",), 101.0)


def test_each_is_told_once_and_only_where_it_gains_on_less():
    found = sorted_out(Trouble((BOTH, DRAIN_NIGHT, DRAIN, FORTY, TWENTY, NIGHT, BIG)))
    assert found.enough == ()
    assert found.better == (BOTH, DRAIN, TWENTY)  # no night for 1 %, no 40 L for 1 %
    assert set(found.no_help) == {NIGHT, BIG}


def test_of_fuel_that_is_of_no_help_the_largest_amount_is_told():
    little, much = (remedy(f"Have {n} L", ("fuel",), 100.0, fuel=n) for n in (20.0, 80.0))
    assert sorted_out(Trouble((little, much))).no_help == (much,)


def test_the_page_has_one_line_a_remedy_and_the_useless_in_one_sentence():
    page = Console(width=100, record=True, file=StringIO())
    for part in _trouble(Trouble((BOTH, DRAIN, NIGHT, BIG)), Say(us=True)):
        page.print(part)
    text = page.export_text()
    rows = [line.strip() for line in text.splitlines()]
    assert any(row.startswith("Drain, and have 5.28 gal") and row.endswith("house") for row in rows)
    assert any(row.startswith("Drain  ") for row in rows)
    assert "Of no help: allow running at night; a machine 1.5 times as large." in " ".join(text.split())
    assert "below 32 F" in text
