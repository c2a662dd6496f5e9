"""Invented households, built by hand, for the tests of sizing and planning."""

from dataclasses import replace

from hearthold.house.house import House
from hearthold.house.loads import Circuit, Load, Pattern, Priority
from hearthold.house.site import Budget, Climate, OutageStatistics, People, Site, VoltageSystem, Wishes
from hearthold.house.stores import ColdStore, HotWater, HouseHeat, Pit, WaterSystem
from hearthold.house.supply import Fuel, Generator, Hookup, Prices, Safety
from hearthold.physics.heat import house_nodes

VERMONT_C = (-7.0, -6.0, -1.0, 6.0, 13.0, 18.0, 21.0, 20.0, 15.0, 9.0, 3.0, -4.0)


def load(ident, circuit, running_w, **given):
    """A load; a plain resistive one unless told otherwise."""
    volts = given.pop("voltage_v", 120.0)
    count = given.pop("count", 1)
    factor = given.pop("power_factor", 1.0)
    plain = {
        "id": ident,
        "name": ident.replace("_", " "),
        "kind": None,
        "circuit": circuit,
        "group": "test",
        "priority": Priority.ESSENTIAL,
        "count": count,
        "voltage_v": volts,
        "running_w": running_w,
        "low_w": running_w,
        "high_w": running_w,
        "power_factor": factor,
        "start_va": running_w / factor / count,
        "start_power_factor": factor,
        "start_kind": "none",
        "run_up_s": 0.0,
        "duty_frac": 0.4,
        "energy_day_j": running_w * 0.4 * 86400.0,
        "pattern": Pattern.CYCLING,
        "use": (),
        "note": "",
    }
    return Load(**(plain | given))


def motor(ident, circuit, running_w, start_va, **given):
    """A motor: lagging, with a start."""
    usual = {
        "power_factor": 0.75,
        "start_power_factor": 0.8,
        "run_up_s": 1.0,
        "start_kind": "capacitor_start",
    }
    return load(ident, circuit, running_w, start_va=start_va, **(usual | given))


def circuit(ident, breaker_a=15.0, poles=1, wire="14 AWG", length=15.0, **given):
    """A branch circuit of the essential panel."""
    return Circuit(
        id=ident,
        name=ident,
        breaker=f"{breaker_a} A",
        poles=poles,
        wire=wire,
        length=f"{length} m",
        **({"panel": "essential"} | given),
    )


def farm_loads():
    return (
        motor("well", "c_well", 1310.0, 9360.0, voltage_v=240.0, name="well pump"),
        motor("fridge", "c_fridge", 180.0, 1500.0, duty_frac=0.35),
        motor("freezer", "c_freezer", 150.0, 1600.0, duty_frac=0.35),
        motor("circulator", "c_boiler", 90.0, 250.0, duty_frac=0.6),
        load("boiler", "c_boiler", 250.0, duty_frac=0.5),
        load("lights", "c_lights", 150.0, count=15, pattern=Pattern.ON_DEMAND, duty_frac=0.25),
        load("modem", "c_lights", 20.0, pattern=Pattern.CONTINUOUS, duty_frac=1.0, priority=Priority.COMFORT),
        load(
            "oxygen",
            "c_bed",
            350.0,
            power_factor=0.9,
            pattern=Pattern.CONTINUOUS,
            duty_frac=1.0,
            priority=Priority.VITAL,
        ),
        load(
            "kettle", "c_kitchen", 1500.0, pattern=Pattern.ON_DEMAND, duty_frac=0.02, priority=Priority.DEFER
        ),
        load("heater_tank", "c_tank", 4500.0, voltage_v=240.0, duty_frac=0.1, priority=Priority.COMFORT),
    )


def farm_circuits():
    return (
        circuit("c_well", 20.0, 2, "12 AWG", 60.0, cable="UF-B"),
        circuit("c_fridge", 20.0, 1, "12 AWG", leg="A"),
        circuit("c_freezer", 15.0, 1, "14 AWG", leg="B"),
        circuit("c_boiler", 15.0, 1, "14 AWG", leg="A"),
        circuit("c_lights", 15.0, 1, "14 AWG", leg="B"),
        circuit("c_bed", 15.0, 1, "14 AWG", leg="A"),
        circuit("c_kitchen", 20.0, 1, "12 AWG", leg="B"),
        circuit("c_tank", 30.0, 2, "10 AWG", panel="main"),
    )


def farm_generator(**given):
    plain = {
        "name": "portable, two fuels",
        "on": [
            {
                "fuel": "gasoline",
                "running": "7500 W",
                "start": "9400 W",
                "tank": "6.6 gal",
                "printed": [{"load": "50 %", "hours": "11 h"}],
            },
            {"fuel": "propane", "running": "6750 W", "start": "8500 W", "cylinder": "20 lb"},
        ],
        "voltage": "240 V",
        "breaker": "30 A",
        "receptacle": "L14-30",
        "neutral": "floating",
        "distance": "8 m",
    }
    return Generator(**(plain | given))


def farm_hookup(**given):
    plain = {
        "kind": "manual_transfer",
        "cord": {"wire": "10 AWG", "cable": "cord", "length": "9 m"},
        "inlet": "L14-30",
        "inlet_breaker": "30 A",
        "feeder": {"wire": "10 AWG", "cable": "NM-B", "length": "6 m"},
        "transfer": "30 A",
        "panel_bus": "60 A",
        "panel_spaces": 12,
    }
    return Hookup(**(plain | given))


def farm_fuel():
    return Fuel(
        preferred="gasoline",
        stock=[
            {
                "fuel": "gasoline",
                "amount": "20 gal",
                "stabilised": True,
                "bought": "2026-06-01",
                "place": "detached_shed",
            },
            {"fuel": "propane", "mass": "40 lb", "container_mass": "20 lb", "place": "outside"},
        ],
    )


def chest_freezer(**changes):
    """The 15 cu ft chest of the calibrated reference set: 136 kg full, 1.32 W/K, exposed share 0.150."""
    plain = {
        "id": "freezer",
        "name": "chest freezer",
        "kind": "chest_freezer",
        "load": "freezer",
        "is_freezer": True,
        "volume_m3": 0.425,
        "fill_frac": 1.0,
        "contents_kg": 136.0,
        "ua_w_per_k": 1.32,
        "cabinet_j_per_k": 25e3,
        "shell_frac": 0.150,
        "coupling_w_per_k_kg": 0.002,
        "cooling_w": 150.0,
        "set_c": -17.78,
        "start_c": -17.78,
        "limit_c": 4.44,
        "room": "house",
        "contents_value": 600.0,
        "fresh_j_per_k": 0.0,
    }
    return ColdStore(**(plain | changes))


def fridge(**changes):
    """Fresh food on the planning capacity of the reference: 183.3 kJ/K behind 1.15 W/K."""
    plain = {
        "id": "fridge",
        "name": "fridge",
        "kind": "fridge",
        "load": "fridge",
        "is_freezer": False,
        "contents_kg": 60.0,
        "ua_w_per_k": 1.15,
        "cabinet_j_per_k": 20e3,
        "shell_frac": 1.0,
        "coupling_w_per_k_kg": 0.0,
        "set_c": 2.78,
        "start_c": 2.78,
        "contents_value": 200.0,
        "fresh_j_per_k": 183.3e3,
    }
    return chest_freezer(**(plain | changes))


def farm_cold():
    return (chest_freezer(), fridge())


def farm_heat(**changes):
    """290 W/K over 167 m2, two fifths of it straight from the air."""
    nodes = house_nodes(290.0, 167.0, 110e3, 0.4)
    plain = {
        "floor_area_m2": 167.0,
        "ua_w_per_k": 290.0,
        "air_j_per_k": nodes.air_j_per_k,
        "mass_j_per_k": nodes.mass_j_per_k,
        "air_mass_w_per_k": nodes.air_mass_w_per_k,
        "air_outdoor_w_per_k": nodes.air_ua_w_per_k,
        "mass_outdoor_w_per_k": nodes.mass_ua_w_per_k,
        "gains_w": 400.0,
        "set_c": 20.0,
        "comfort_c": 16.0,
        "lowest_c": 7.2,
        "pipe_ratio": 0.5,
        "pipes_drained": False,
        "heater_load": "boiler",
        "heater_output_w": 20e3,
        "heater_fuel": "oil",
        "stove_output_w": 0.0,
        "stove_hours_per_day": 0.0,
        "stove_blower_load": None,
        "stove_without_blower_frac": 1.0,
    }
    return HouseHeat(**(plain | changes))


def farm(**changes):
    """A split-phase farmhouse with a 7.5 kW machine on a 30 A cord."""
    house = House(
        name="Invented farm",
        note="",
        site=Site(
            place="Nowhere",
            latitude=44.0,
            longitude=-72.5,
            altitude="300 m",
            time_zone="America/New_York",
            system="split_120_240",
        ),
        people=People(count=4),
        medical=(),
        climate=Climate(unit="C", mean=VERMONT_C, daily_range=11.0, cold_spell=10.0),
        outages=OutageStatistics(),
        past_outages=(),
        loads=farm_loads(),
        circuits=farm_circuits(),
        generator=farm_generator(),
        fuel=farm_fuel(),
        hookup=farm_hookup(),
        battery=None,
        solar=None,
        cold=farm_cold(),
        heat=farm_heat(),
        water=WaterSystem("well", 6.3e-4, 0.043, 0.02, 0.4, 0.05),
        hot_water=HotWater("heater_tank", "electric", 0.189, 4500.0, 1.5, 51.67, 40.56, 10.0, 0.1),
        pits=(Pit("sump", "sump", "sump", "fridge", 0.06, 0.03, 2e-5, 6e-4),),
        safety=Safety(),
        wishes=Wishes(),
        budget=Budget(),
        prices=Prices(),
        assumptions=(),
    )
    return replace(house, **changes)


def cottage(**changes):
    """A 230 V single-phase cottage with a 3 kW machine on a 16 A flex."""
    loads = (
        motor("pump", "w_pump", 800.0, 4000.0, voltage_v=230.0),
        motor("fridge", "w_sockets", 100.0, 700.0, voltage_v=230.0),
        load("lights", "w_lights", 120.0, voltage_v=230.0, pattern=Pattern.ON_DEMAND),
    )
    circuits = (
        circuit("w_pump", 16.0, 1, "2.5 mm2", 30.0, cable="PVC70"),
        circuit("w_sockets", 16.0, 1, "2.5 mm2", 20.0, cable="PVC70"),
        circuit("w_lights", 10.0, 1, "1.5 mm2", 20.0, cable="PVC70"),
    )
    generator = Generator(
        name="small set",
        on=[{"fuel": "gasoline", "running": "3000 W"}],
        voltage="230 V",
        breaker="16 A",
        receptacle="CEE-16",
    )
    hookup = Hookup(
        kind="manual_transfer",
        cord={"wire": "2.5 mm2", "cable": "cord", "length": "10 m"},
        inlet="CEE-16",
        transfer="25 A",
        switched_neutral=True,
        earthing="TT",
    )
    site = Site(
        place="Elsewhere",
        country="IE",
        latitude=53.0,
        longitude=-9.0,
        time_zone="Europe/Dublin",
        system=VoltageSystem.SINGLE_230,
    )
    return replace(
        farm(),
        name="Invented cottage",
        site=site,
        loads=loads,
        circuits=circuits,
        generator=generator,
        hookup=hookup,
        fuel=None,
        cold=(),
        pits=(),
        water=None,
        hot_water=None,
        **changes,
    )
