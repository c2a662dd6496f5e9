"""The limit chain against the trade's own figures, and the invariant that no link is exceeded."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sizing_houses import cottage, farm, farm_generator, farm_hookup

from hearthold.errors import InputError, TableError
from hearthold.sizing.chain import chain, cord_chain
from hearthold.sizing.supply import supply


def of(generator=None, hookup=None):
    house = farm(generator=generator or farm_generator(), hookup=hookup or farm_hookup())
    return chain(house, supply(house))


def machine(watts, **given):
    return farm_generator(on=[{"fuel": "gasoline", "running": f"{watts} W"}], **given)


def test_ten_kilowatts_on_a_thirty_amp_cord_deliver_seven_point_two():
    # 30 A x 240 V = 7.2 kW; 80 % of it, 5.76 kW, for three hours or more (plug tables after ANSI/NEMA WD 6)
    found = of(machine(12000.0))
    assert found.delivered_w == 7200.0
    assert found.continuous_w == pytest.approx(5760.0)
    assert {x.kind for x in found.weakest} >= {"receptacle", "cord", "inlet", "inlet breaker"}


def test_fifty_amp_chain_passes_twelve_kilowatts_and_an_eight_gauge_cord_does_not():
    # 14-50: 12.0 kW and 9.6 kW continuous; 6/4 cord 55 A, 8/4 cord 40 A (NEC 400.5, column B)
    wide = {
        "inlet": "14-50",
        "inlet_breaker": "50 A",
        "transfer": "50 A",
        "feeder": {"wire": "4 AWG", "cable": "NM-B", "length": "6 m"},
    }
    big = machine(20000.0, receptacle="14-50", breaker="50 A")
    thick = of(big, farm_hookup(cord={"wire": "6 AWG", "cable": "cord", "length": "9 m"}, **wide))
    assert thick.delivered_w == 12000.0
    assert thick.continuous_w == pytest.approx(9600.0)
    thin = of(big, farm_hookup(cord={"wire": "8 AWG", "cable": "cord", "length": "9 m"}, **wide))
    assert [x.kind for x in thin.weakest] == ["cord"]
    assert thin.delivered_w == 9600.0
    assert thin.weakest[0].next_name == "6 AWG"
    assert thin.with_next_w == 12000.0


def test_machine_is_the_weakest_where_it_is_small():
    found = of(machine(3000.0))
    assert [x.kind for x in found.weakest] == ["generator"]
    assert found.with_next_w == found.delivered_w


def test_one_hundred_and_twenty_volt_inlet_passes_no_240():
    # L5-30: 3.6 kW, 2.88 kW continuous, and no 240 V (plug tables)
    found = of(machine(9000.0), farm_hookup(inlet="L5-30"))
    assert not found.passes_240
    assert found.delivered_w == 3600.0
    assert found.continuous_w == pytest.approx(2880.0)
    assert "120 V only" in found.notes[0]


def test_plug_without_neutral_is_said():
    found = of(machine(9000.0, receptacle="L6-30"), farm_hookup(inlet="L6-30"))
    assert not found.passes_neutral
    assert "no neutral" in found.notes[0]


def test_one_leg_limits_an_uneven_load():
    found = of(machine(12000.0))
    assert found.leg_a == 30.0
    assert found.at_split_w(0.5) == 7200.0
    # all on one 120 V leg: 30 A x 120 V
    assert found.at_split_w(1.0) == 3600.0


def test_leg_limit_of_the_maker_counts():
    found = of(machine(12000.0, leg_limit="2400 W"))
    assert found.leg_a == 20.0


def test_parts_without_a_rating_are_listed_not_guessed():
    found = of(machine(12000.0, breaker=None), farm_hookup(inlet_breaker=None, transfer=None))
    assert found.unknown == ("generator breaker", "inlet breaker", "transfer device")


def test_the_open_main_of_an_interlocked_panel_is_no_part_of_the_way():
    # the lock lets the back-fed breaker close only while the main is open (NEC 702.5, from memory)
    given = {"transfer": None, "panel_main": "20 A", "panel_bus": "200 A"}
    locked = of(machine(12000.0), farm_hookup(kind="interlock", **given))
    assert "panel main" not in {x.kind for x in locked.links}
    assert "panel bus" in {x.kind for x in locked.links}
    assert locked.delivered_w == 7200.0  # not the 4.8 kW of 20 A
    by_hand = of(machine(12000.0), farm_hookup(**given))
    assert by_hand.delivered_w == 4800.0


def test_standby_machine_has_no_plug_in_its_chain():
    found = of(
        machine(12000.0, kind="standby", breaker="60 A"),
        farm_hookup(
            inlet=None,
            cord=None,
            inlet_breaker=None,
            transfer="100 A",
            feeder={"wire": "4 AWG", "length": "10 m"},
            panel_bus="100 A",
        ),
    )
    assert "receptacle" not in {x.kind for x in found.links}
    assert found.delivered_w == pytest.approx(supply(farm(generator=machine(12000.0))).running_w)


def test_iec_chain_has_no_eighty_per_cent_rule():
    house = cottage()
    found = chain(house, supply(house))
    assert all(x.continuous_a == x.rated_a for x in found.links)
    # 3 kW machine; the 16 A plug would pass 3.68 kW (IEC 60309-2)
    assert found.delivered_w == 3000.0
    plug = next(x for x in found.links if x.kind == "inlet")
    assert plug.rated_w == pytest.approx(3680.0)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(
    st.floats(1000.0, 30000.0),
    st.sampled_from(["5-20", "TT-30", "L5-30", "L14-20", "L14-30", "14-50"]),
    st.sampled_from([15, 20, 30, 40, 50]),
    st.sampled_from(["14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG"]),
    st.floats(-30.0, 45.0),
)
def test_nothing_delivered_exceeds_any_link(watts, inlet, breaker, cord, ambient_c):
    house = farm(
        generator=machine(watts),
        hookup=farm_hookup(inlet=inlet, inlet_breaker=f"{breaker} A", cord={"wire": cord, "length": "9 m"}),
    )
    found = chain(house, supply(house), ambient_c)
    for link in found.links:
        assert found.delivered_w <= link.rated_w
        assert found.continuous_w <= link.continuous_w
        assert link.continuous_a <= link.rated_a
    assert found.with_next_w >= found.delivered_w
    assert found.continuous_w <= found.delivered_w
    assert found.at_split_w(1.0) <= found.at_split_w(0.5) <= found.delivered_w


def test_missing_parts_are_refused_with_a_remedy():
    house = farm(hookup=None)
    with pytest.raises(InputError, match=r"no \[hookup\]"):
        chain(house, supply(house))
    with pytest.raises(TableError, match="connectors"):
        of(machine(5000.0), farm_hookup(inlet="L14-31"))


def on_cords(house, **given):
    hookup = farm_hookup(kind="cords", inlet=None, inlet_breaker=None, feeder=None, transfer=None, **given)
    return replace(house, hookup=hookup)


def test_an_appliance_cord_passes_what_its_plug_does_on_one_leg():
    # 14 AWG: 18 A (NEC 400.5(A)(1) column B), 2160 W at 120 V; NEMA 5-15: 15 A, 1800 W, 80 % of it for hours
    house = on_cords(farm(), cord={"wire": "14 AWG", "cable": "cord", "length": "20 m"})
    found = cord_chain(house, supply(house))
    assert [x.kind for x in found.links] == ["generator", "cord", "plug"]
    assert found.links[0].rated_w == pytest.approx(supply(house).leg_limit_w)
    assert found.links[1].rated_w == pytest.approx(2160.0)
    assert found.delivered_w == pytest.approx(1800.0)
    assert found.continuous_w == pytest.approx(1440.0)
    assert (found.end, found.passes_240) == ("the end of each cord", False)


def test_a_british_plug_passes_thirteen_amperes():
    # BS 1363: 13 A at 230 V, 2990 W, and no 80 % rule; 2.5 mm2 carries more
    house = on_cords(cottage(), cord={"wire": "2.5 mm2", "cable": "cord", "length": "20 m"})
    found = cord_chain(house, supply(house))
    assert found.delivered_w == found.continuous_w == pytest.approx(2990.0)


def test_a_cord_that_nobody_described_is_said():
    house = on_cords(farm(), cord=None)
    assert cord_chain(house, supply(house)).unknown == ("cord",)
