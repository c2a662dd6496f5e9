"""Motor starts, dips, order and pickup, both ways."""

from tests.rules.houses import CALM, battery, changed, item, probe, rating


def one_fuel(**values):
    """The calm house with a machine that burns gasoline alone."""
    return rating(changed(CALM, generator={"on": CALM.generator.on[:1]}), **values)


def starts(start_w, start_va, kind="inverter", **more):
    """The calm house with another starting rating and another start of its pump."""
    machine = changed(one_fuel(running_w=7e3, start_w=start_w), generator={"kind": kind})
    return item(machine, "loads", "well_pump", start_va=start_va, start_power_factor=0.8, **more)


BIG = starts(12e3, 3000.0)

PROBES = [
    # 3,600 VA on one leg against half of 7 kVA; across both legs the same start is within it
    probe(
        "start-beyond-inverter",
        battery(fridge=3600.0),
        "3,600 VA",
        "3,500 VA on one leg",
        "103 %",
        quiet=battery(),
    ),
    probe(
        "start-beyond-machine", starts(12e3, 15e3), "15,000 VA (12,000 W)", "125 %", quiet=starts(12e3, 11e3)
    ),
    probe(
        "start-beyond-printed-rating",
        starts(12e3, 13e3, kind="portable"),
        "13,000 VA (10,400 W)",
        "108 %",
        "86.7 %",
        quiet=starts(12e3, 13e3),  # an inverter set cuts off where an alternator dips: beyond it for good
    ),
    probe(
        "start-beyond-machine",
        starts(12e3, 26e3, kind="portable"),
        "26,000 VA",
        quiet=starts(12e3, 13e3, kind="portable"),
    ),
    probe("start-beyond-machine-with-others", starts(12e3, 11.8e3), "11,800 VA", quiet=starts(12e3, 5e3)),
    probe(
        "deep-voltage-dip",
        starts(12e3, 26e3, kind="portable"),
        "30 %",
        "35.8 %",
        quiet=starts(12e3, 6e3, kind="portable"),
    ),
    probe("dip-with-electronics", starts(12e3, 14e3, kind="portable"), "21.8 %", "20 %", quiet=BIG),
    probe("switch-on-order-needed", starts(6e3, 5.5e3), "6,000 VA", "Well circuit first", quiet=BIG),
    probe("no-order-is-enough", starts(6e3, 7e3), "5,600 W and 7,000 VA", "6,000 VA", quiet=BIG),
    probe("cold-load-pickup", one_fuel(running_w=1400.0), "1,400 W", "Well pump (960 W)"),
    probe(
        "two-wire-pump",
        item(CALM, "loads", "well_pump", kind="well_half_hp_two_wire"),
        "3,000 VA",
        "two-wire motor",
    ),
    probe(
        "compressor-restart",
        CALM,
        "3 min to 5 min",
        "Fridge and Freezer",
        quiet=item(
            item(CALM, "loads", "fridge", start_kind="none"), "loads", "freezer", start_kind="inverter_drive"
        ),
    ),
    probe("start-rating-unknown", one_fuel(start_w=None), "gasoline", "3,000 VA", "7,700 W"),
]
