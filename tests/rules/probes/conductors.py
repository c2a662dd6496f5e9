"""Circuits and conductors, both ways."""

from tests.rules.houses import CALM, CALM_230, changed, item, probe

from hearthold.house.loads import Pattern
from hearthold.house.supply import HookupKind
from hearthold.rules.finding import Severity


def circuit(ident, house=CALM, **values):
    """The house with one circuit changed."""
    return item(house, "circuits", ident, **values)


def grid(house, breaker_a, **values):
    """The house with another breaker ahead of its feeder on the grid side, None for one nobody knows."""
    return changed(house, hookup={"grid_breaker_a": breaker_a, **values})


PAIR = circuit("rooms", multiwire_with="boiler")
HEAVY_LAMP = item(CALM, "loads", "lamp", running_w=1600.0, high_w=1600.0, start_va=1600.0)
KETTLE = item(CALM_230, "loads", "freezer", running_w=3600.0, high_w=3600.0, start_va=3600.0)
HARD_START = item(CALM, "loads", "well_pump", start_va=11e3)

# 3,600 VA at 240 V are 15 A: 250 % is 37.5 A, next standard size 40 A (NEC 430.52(C)(1), Exception 1)
BIG_PUMP = item(
    circuit("well", breaker_a=40.0), "loads", "well_pump", running_w=3600.0, power_factor=1.0, start_va=15e3
)
BIG_BOREHOLE = item(
    circuit("borehole", CALM_230, breaker_a=40.0),
    "loads",
    "pump",
    running_w=3450.0,
    power_factor=1.0,
    start_va=15e3,
)

PROBES = [
    probe("breaker-over-conductor", circuit("rooms", breaker_a=20.0), "20 A", "14 AWG", "15 A at most"),
    probe("device-over-conductor", circuit("sockets", KETTLE, breaker_a=32.0), "32 A", "2.5 mm2", "27 A"),
    probe("motor-circuit-exception", BIG_PUMP, "40 A", "10 AWG", "30 A at most"),
    probe("motor-circuit-exception", BIG_PUMP, "40 A", quiet=circuit("well", breaker_a=40.0)),
    probe(
        "motor-breaker-large",
        circuit("well", breaker_a=40.0),
        "40 A",
        "15 A is the usual most",
        quiet=BIG_PUMP,
    ),
    probe("motor-device-exception", BIG_BOREHOLE, "40 A", "4 mm2", "36 A"),
    probe("motor-device-large", circuit("borehole", CALM_230, breaker_a=40.0), "40 A", "4 mm2", "15 A"),
    probe("breaker-over-conductor", circuit("freezer", breaker_a=30.0), "30 A", "12 AWG", "20 A at most"),
    probe(
        "circuit-load-over-breaker",
        item(CALM, "loads", "lamp", running_w=2400.0),
        "20 A through a breaker of 15 A",
        quiet=HEAVY_LAMP,
    ),
    probe(
        "continuous-load-125",
        item(HEAVY_LAMP, "loads", "lamp", pattern=Pattern.CONTINUOUS),
        "13.3 A",
        "16.7 A",
        "15 A",
        quiet=HEAVY_LAMP,
    ),
    probe("branch-drop", circuit("rooms", HEAVY_LAMP, length_m=45.0), "148 ft (45 m)", "14 AWG", "3 %"),
    probe(
        "final-circuit-drop",
        circuit("sockets", KETTLE, length_m=60.0),
        "60 m",
        "2.5 mm2",
        "5 %",
        quiet=KETTLE,
    ),
    probe(
        "whole-path-drop",
        changed(CALM, hookup={"cord": CALM.hookup.cord.model_copy(update={"length_m": 250.0})}),
        "5 %",
    ),
    probe(
        "whole-way-drop",
        changed(KETTLE, hookup={"cord": KETTLE.hookup.cord.model_copy(update={"length_m": 60.0})}),
        "5 %",
        quiet=KETTLE,
    ),
    probe(
        "starting-drop",
        circuit("well", HARD_START, length_m=150.0),
        "15 %",
        quiet=circuit("well", length_m=30.0),
    ),
    probe(
        "cord-drop",
        changed(CALM, hookup={"cord": CALM.hookup.cord.model_copy(update={"length_m": 120.0})}),
        "394 ft (120 m)",
        "10 AWG",
        "3 %",
    ),
    probe(
        "feeder-below-breaker",
        changed(CALM, hookup={"inlet_breaker_a": 50.0}),
        "8 AWG",
        "40 A at most",
        "50 A",
    ),
    probe(
        "cable-below-device", changed(CALM_230, hookup={"inlet_breaker_a": 80.0}), "10 mm2", "63 A", "80 A"
    ),
    # 8 AWG NM-B: 40 A in the 60 degC column (NEC 310.16, 334.80); 10 mm2 clipped: 63 A (IEC 60364-5-52 B.52.2)
    probe("grid-breaker-over-feeder", grid(CALM, 60.0), "8 AWG", "carries 40 A", "40 A at most", "is 60 A"),
    probe("grid-device-over-feeder", grid(CALM_230, 80.0), "10 mm2", "63 A at most", "is 80 A"),
    probe(
        "grid-breaker-unknown",
        grid(CALM, None),
        "40 A at most",
        "main of the panel, 60 A",
        severity=Severity.ACT,
    ),
    probe("grid-breaker-unknown", grid(CALM, None, panel_main_a=40.0), "40 A at most"),
    probe("grid-device-unknown", grid(CALM_230, None), "may be 40 A at most", "63 A", severity=Severity.ACT),
    # an interlocked inlet's feeder never carries grid power
    probe(
        "grid-breaker-unknown",
        grid(CALM, None),
        quiet=grid(CALM, None, kind=HookupKind.INTERLOCK),
        severity=Severity.ACT,
    ),
    # 9.6 kW across both legs are 40 A, and the rest of the panel comes on top
    probe(
        "feeder-below-grid-load",
        item(CALM, "loads", "well_pump", running_w=9600.0),
        "carries 40 A",
        "busier leg",
    ),
    # 15 kW at 230 V are 65 A
    probe(
        "cable-below-grid-load", item(CALM_230, "loads", "pump", running_w=15e3), "10 mm2", "63 A", "16 mm2"
    ),
    # by hand: 9600 W at a power factor of 0.7 are 13714 VA, half of it a leg; with 176 VA and the largest motor's
    # 385 x 1.25 (430.24) on leg A 7514 VA, at 120 V 62.6 A. NEC 240.6(A): 70 A is next. The bus of 100 A holds it.
    probe(
        "grid-load-over-breakers",
        item(CALM, "loads", "well_pump", running_w=9600.0),
        "62.6 A on its busier leg",
        "the breaker on the grid side (40 A), the transfer equipment (60 A) and the main of the panel (60 A)",
        "70 A or more",
    ),
    # the same load behind an interlock is the service's own matter
    probe(
        "grid-load-over-breakers",
        item(CALM, "loads", "well_pump", running_w=9600.0),
        quiet=changed(
            item(CALM, "loads", "well_pump", running_w=9600.0), hookup={"kind": HookupKind.INTERLOCK}
        ),
    ),
    probe(
        "grid-load-over-devices",
        item(CALM_230, "loads", "pump", running_w=15e3),
        "the breaker on the grid side (40 A)",
        "the main of the panel (63 A)",
        "100 A or more",  # 15 kW at a power factor of 0.8 are 82 A; IEC 60898-1: 80, 100
    ),
    probe("aluminium-branch", circuit("well", material="aluminium"), "10 AWG aluminium"),
    probe("multiwire-same-leg", circuit("rooms", PAIR, leg="A"), "30 A", "15 A", "leg A", quiet=PAIR),
    probe("multiwire-split-panels", circuit("boiler", PAIR, panel="main"), "only one of them", quiet=PAIR),
    probe("protection-must-move", circuit("rooms", protection=("afci",)), "Rooms circuit"),
]
