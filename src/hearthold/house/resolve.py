"""From the checked document to `House`: every gap filled from the catalogue, every filled figure listed."""

from __future__ import annotations

from pathlib import Path

from hearthold.house.document import HouseDocument
from hearthold.house.fill_cold import fill_cold
from hearthold.house.fill_loads import fill_loads
from hearthold.house.fill_medical import fill_medical
from hearthold.house.fill_prices import fill_prices
from hearthold.house.fill_stores import fill_heat, fill_hot_water, fill_pits, fill_water
from hearthold.house.house import House
from hearthold.house.place import placed
from hearthold.house.weatherfile import with_normals


def resolve(document: HouseDocument, beside: Path) -> House:
    """The household with every figure the computations need. The document must have passed its checks.

    `beside` is the folder from which the path of a weather file counts. Raises InputError, MissingExtraError.
    """
    poles = {circuit.id: circuit.poles for circuit in document.circuit}
    loads, load_notes = fill_loads(document.load, document.site.system, poles)
    by_id = {load.id: load for load in loads}
    readings = {r.store: r.value_c for r in document.reading if r.value_c is not None}
    measured = frozenset(x.id for x in document.load if x.energy_w is not None)
    with placed("prices"):
        prices, price_notes = fill_prices(document.prices)
    cold, cold_notes = fill_cold(document.cold, by_id, prices, readings, measured)
    medical, medical_notes = fill_medical(document.medical)
    with placed("climate", "weather_file"):
        climate = with_normals(document.climate, beside)
    with placed("heat"):
        heat, heat_notes = fill_heat(document, climate, readings.get("house"))
    with placed("water"):
        water, water_notes = fill_water(document, by_id)
    with placed("hot_water"):
        hot_water, hot_notes = fill_hot_water(document, by_id, readings.get("hot_water"))
    return House(
        name=document.house.name, note=document.house.note, site=document.site, people=document.people,
        medical=medical, climate=climate, outages=document.outages,
        past_outages=document.past_outage, loads=loads, circuits=document.circuit,
        generator=document.generator,
        fuel=document.fuel, hookup=document.hookup, battery=document.battery, solar=document.solar, cold=cold,
        heat=heat, water=water, hot_water=hot_water, pits=fill_pits(document.pit), safety=document.safety,
        wishes=document.wishes, budget=document.budget, prices=prices,
        assumptions=(
            *load_notes, *cold_notes, *heat_notes, *water_notes, *hot_notes, *medical_notes, *price_notes,
        ),
    )  # fmt: skip
