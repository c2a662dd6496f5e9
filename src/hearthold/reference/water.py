"""Water: what people and livestock use, pressure tanks, pumps and storage water heaters."""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.quantities.source import Source
from hearthold.reference.between import between
from hearthold.reference.reader import table
from hearthold.reference.shape import Row


@dataclass(frozen=True, slots=True)
class WaterUse:
    """Water used by one person, or one animal (hens: a hundred), as a mean flow over the day."""

    id: str
    meaning: str
    low_m3_per_s: float
    high_m3_per_s: float
    source: Source


def water_use(name: str = "usual") -> WaterUse:
    """Use of one person: usual, us_average, outage_modest, outage_survival. Raises TableError."""
    row = table("water_use").row(name)
    return _use(row, "low_gal_per_day", "high_gal_per_day")


def livestock_water(name: str) -> WaterUse:
    """Use of one animal, such as dairy_cow; winter and summer where the table gives those. Raises TableError.

    Source: Kansas State University; Agriculture and Agri-Food Canada.
    """
    row = table("livestock_water").row(name)
    by_day = "low_gal_per_day" in row
    ends = ("low_gal_per_day", "high_gal_per_day") if by_day else ("winter_l_per_day", "summer_l_per_day")
    return _use(row, *ends)


def livestock() -> tuple[str, ...]:
    """Kinds of livestock in the water table."""
    return tuple(str(n) for n in table("livestock_water").names())


def fixture_m3(name: str) -> tuple[float, float]:
    """Water of one flush, load or shower, low and high. Raises TableError. Source: Penn State Extension."""
    row = table("water_fixtures").row(name)
    return row.si("low_gal"), row.si("high_gal")


def tap_m3_per_s(name: str) -> float:
    """Flow of an open tap: kitchen_tap, hose_half_inch, shower.

    Raises TableError. Source: Penn State Extension.
    """
    return table("water_flows").row(name).si("flow_gal_per_min")


def drawdown_m3(
    tank_gal: float, cut_in_psi: float, cut_out_psi: float, precharge: str = "cut_in_minus_2"
) -> float:
    """Water drawn from a tank of trade size between its switch points.

    `precharge`: cut_in_minus_2 (practice) or equals_cut_in (many printed tables).
    Raises: TableError for a size or switch setting the table lacks.
    Source: Boyle's law, computed; 119 gal at 30/50 psi gives 36.8 gal in a trade magazine.
    """
    return table("pressure_tanks").row(precharge, cut_in_psi, cut_out_psi, tank_gal).si("drawdown_gal")


def tank_sizes_gal() -> tuple[float, ...]:
    """Trade sizes of pressure tanks, smallest first."""
    return tuple(
        sorted(
            r.number("tank_gal")
            for r in table("pressure_tanks").where(precharge="equals_cut_in", cut_in_psi=20)
        )
    )


def pump_efficiency_frac(kind: str) -> tuple[float, float]:
    """Wire-to-water efficiency, low and high: submersible or jet. Raises TableError. From memory."""
    row = table("pump_efficiency").row(kind)
    return row.si("low_frac"), row.si("high_frac")


def heater_loss_w_per_k(energy_factor: float) -> float:
    """Heat loss of an electric storage water heater by the energy factor on its label, between the rows.

    Raises: TableError outside 0.86-0.95.
    Source: computed from the DOE energy-factor test, conditions from memory.
    """
    points = [(r.number("energy_factor"), r.si("ua_w_per_k")) for r in table("water_heater_loss")]
    return between(energy_factor, points, "energy factor")


def recovery_m3_per_s(rise_k: float) -> float:
    """Recovery of a 4500 W water heater through a rise, between the printed rows.

    Raises: TableError outside 60-100 F of rise.
    Source: trade recovery table.
    """
    points = [(r.si("rise_f"), r.si("recovery_gal_per_h")) for r in table("water_heater_recovery")]
    return between(rise_k, points, "temperature rise, K,")


def _use(row: Row, low: str, high: str) -> WaterUse:
    return WaterUse(row.text("id"), row.text("meaning"), row.si(low), row.si(high), row.source(low, high))
