"""Carbon monoxide: each rule on a house where it fires and on one where it does not."""

from datetime import date

from tests.rules.houses import CALM, changed, probe

STANDBY = changed(CALM, generator={"kind": "standby", "distance_m": 2.0})

PROBES = [
    probe(
        "engine-in-deadly-place",
        changed(CALM, generator={"place": "garage"}),
        "the garage",
        "20 ft (6.1 m)",
        "within minutes",
    ),
    probe(
        "engine-too-close", changed(CALM, generator={"distance_m": 3.048}), "10 ft (3.05 m)", "20 ft (6.1 m)"
    ),
    probe("engine-distance-unknown", changed(CALM, generator={"distance_m": None}), "20 ft (6.1 m)"),
    probe("engine-place-unknown", changed(CALM, generator={"place": "unknown"}), "generator.place"),
    probe("engine-in-shelter", changed(CALM, generator={"place": "shelter"}), "walls on more than one side"),
    probe("exhaust-toward-house", changed(CALM, generator={"exhaust_away": False}), "does not point away"),
    probe("exhaust-unknown", changed(CALM, generator={"exhaust_away": None}), "generator.exhaust_away"),
    probe(
        "standby-set-too-close",
        changed(CALM, generator={"kind": "standby", "distance_m": 1.0}),
        "3.28 ft (1 m)",
        "5 ft (1.52 m)",
        quiet=STANDBY,
    ),
    probe("no-co-alarm", changed(CALM, safety={"co_alarms": 0}), "(2 here)"),
    probe("co-alarms-unknown", changed(CALM, safety={"co_alarms": None}), "safety.co_alarms"),
    probe(
        "co-alarms-too-few", changed(CALM, safety={"co_alarms": 1}), "here: 1, for 2 floors", "Add 1 or more"
    ),
    probe("no-co-alarm-by-bedrooms", changed(CALM, safety={"co_alarm_near_bedrooms": False}), "sleep"),
    probe(
        "co-alarms-expired",
        changed(CALM, safety={"co_alarms_replace_by": date(2026, 11, 1)}),
        "2026-11-01",
        "24 days",
        quiet=changed(CALM, safety={"co_alarms_replace_by": date(2026, 12, 1)}),
    ),
    probe("co-alarm-without-battery", changed(CALM, safety={"co_alarm_battery": None}), "lives on the mains"),
    probe("no-co-shutoff", changed(CALM, generator={"co_shutoff": False}), "G300"),
]
