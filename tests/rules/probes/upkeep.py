"""Upkeep, both ways; the day of the check is given."""

from datetime import date

from tests.rules.houses import CALM, changed, probe


def bought(day):
    """The calm house with a key start and a battery of that day."""
    return changed(CALM, generator={"electric_start": True, "start_battery_bought": day})


PROBES = [
    probe(
        "not-exercised",
        changed(CALM, generator={"last_exercised": date(2026, 10, 20)}),
        "2026-10-20",
        "36 days",
        "30 days",
        "15 min",
    ),
    probe("exercise-unknown", changed(CALM, generator={"last_exercised": None}), "30 days"),
    probe("oil-due-by-hours", changed(CALM, generator={"oil_hours_s": 95 * 3600.0}), "has run 95 h", "50 h"),
    probe(
        "oil-runs-out-in-outage",
        changed(CALM, generator={"oil_hours_s": 46 * 3600.0}),
        "46 h",
        "50 %",
        "12 h",
    ),
    probe(
        "oil-due-by-date",
        changed(CALM, generator={"last_oil": date(2025, 10, 11)}),
        "2025-10-11",
        "13 months",
    ),
    probe(
        "oil-unknown", changed(CALM, generator={"last_oil": None, "oil_hours_s": None}), "generator.last_oil"
    ),
    probe("start-battery", changed(CALM, generator={"electric_start": True}), "3 years to 5 years"),
    probe(
        "start-battery",
        changed(CALM, generator={"electric_start": True}),
        "start_battery_bought",
        quiet=bought(date(2025, 6, 1)),
    ),
    probe("start-battery-old", bought(date(2023, 6, 1)), "2023-06-01", quiet=bought(date(2025, 6, 1))),
    probe("start-battery-old", bought(date(2020, 6, 1)), "2020-06-01", severity="act"),
    probe("test-alarms", CALM, "here: 3", quiet=changed(CALM, generator=None)),
    probe("no-extinguisher", changed(CALM, safety={"extinguisher": False}), "no fire extinguisher"),
]
