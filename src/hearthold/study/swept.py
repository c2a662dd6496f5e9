"""What a sweep found: one design a row, flat rows for a table file, and the designs that no other beats."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from hearthold.study.estimate import Estimate
from hearthold.study.result import Band


@dataclass(frozen=True, slots=True)
class Swept:
    """One design and what a year of outages brings it. Chances are of once or more in a usual year."""

    machine_w: float
    fuel_m3: float
    battery_j: float
    fuel_tank_m3: float
    water_tank_ratio: float
    running: str
    to_spend: float  # typical, of what is not in place
    losses: tuple[tuple[str, Estimate], ...]
    amounts: tuple[tuple[str, Estimate], ...]
    any_loss_band_frac: Band  # what the outage statistics leave open

    def loss(self, ident: str) -> Estimate:
        """Chance of one loss by id. Raises KeyError."""
        return dict(self.losses)[ident]

    def amount(self, ident: str) -> Estimate:
        """One expected amount by the id of its account. Raises KeyError."""
        return dict(self.amounts)[ident]

    @property
    def any_loss_frac(self) -> Estimate:
        """Chance of any loss at all; 0 where there is nothing to lose."""
        return dict(self.losses).get("anything", Estimate(0.0, 0.0, 0.0))


def rows_of(found: Sequence[Swept]) -> list[dict[str, float | str]]:
    """One flat row a design, units in the names: what goes into a table file. Low and high are the ends of the 95 %
    interval of the outages tried; the band of any loss is what the outage statistics leave open.
    """
    return [_flat(x) for x in found]


def _flat(x: Swept) -> dict[str, float | str]:
    row: dict[str, float | str] = {
        "machine_w": x.machine_w,
        "fuel_m3": x.fuel_m3,
        "battery_j": x.battery_j,
        "fuel_tank_m3": x.fuel_tank_m3,
        "water_tank_ratio": x.water_tank_ratio,
        "running": x.running,
        "to_spend": x.to_spend,
        "anything_band_low_year_frac": x.any_loss_band_frac[0],
        "anything_band_high_year_frac": x.any_loss_band_frac[1],
    }
    for end in ("value", "low", "high"):
        word = "" if end == "value" else f"{end}_"
        row |= {f"{name}_{word}year_frac": getattr(e, end) for name, e in x.losses}
        row |= {f"year_{word}{name}": getattr(e, end) for name, e in x.amounts}
    return row


def front(found: Sequence[Swept]) -> tuple[Swept, ...]:
    """Designs that no other beats in money and in the chance of any loss, cheapest first."""
    best, kept = inf, []
    for x in sorted(found, key=lambda x: (x.to_spend, x.any_loss_frac.value, x.fuel_m3)):
        if x.any_loss_frac.value < best - 1e-9:
            best = x.any_loss_frac.value
            kept.append(x)
    return tuple(kept)
