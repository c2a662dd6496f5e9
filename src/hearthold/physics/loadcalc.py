"""Dwelling load calculation: the sums an electrician hands in for a service or an automatic transfer switch.

The factors (10 kVA, 40 %, 3 VA a square foot ...) are the code's and come in as arguments; only the steps
are here.
A result is an aid to a licensed electrician, who makes the calculation that counts under local code.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from hearthold.errors import InputError
from hearthold.physics.values import Values
from hearthold.quantities.glossary import require


@dataclass(frozen=True, slots=True)
class DemandRule:
    """Demand factors in blocks: the first block_va[0] at block_frac[0], and so on, the rest at rest_frac."""

    block_va: tuple[float, ...]
    block_frac: tuple[float, ...]
    rest_frac: float


@dataclass(frozen=True, slots=True)
class DwellingDemand:
    """A dwelling calculation with its steps, so that it can be printed and checked line by line."""

    general_va: float
    general_demand_va: float
    hvac_va: float
    total_va: float
    service_a: float


# --- steps -----------------------------------------------------------------------------------------------


def general_load_va(
    floor_area_m2: float,
    floor_va_per_m2: float,
    circuit_count: int,
    circuit_va: float,
    nameplate_va: ArrayLike,
) -> float:
    """General load of a dwelling before demand factors.

    Floor area times its unit load, circuit_count small-appliance and laundry circuits at circuit_va each, and
    the nameplates of everything fastened in place or on its own circuit, shape (n,). Heating and cooling are
    not in it. Raises: InputError outside the glossary's ranges.

    Source: NFPA 70 (NEC) 220.82(B)(1) to (4).
    """
    rated_va = np.asarray(nameplate_va, dtype=float)
    require(
        floor_area_m2=floor_area_m2,
        floor_va_per_m2=floor_va_per_m2,
        circuit_count=circuit_count,
        circuit_va=circuit_va,
    )
    if rated_va.size:
        require(nameplate_va=rated_va)
    return floor_area_m2 * floor_va_per_m2 + circuit_count * circuit_va + float(rated_va.sum())


def demand_va(calculated_va: float, rule: DemandRule) -> float:
    """Load after demand factors applied block by block.

    rule holds the blocks: optional method ((10 kVA at 1), rest 0.4); standard method for lighting
    ((3 kVA at 1, next 117 kVA at 0.35), rest 0.25).
    Raises: InputError outside the glossary's ranges, or for blocks and factors of different number.

    Source: NFPA 70 (NEC) 220.82(B) and Table 220.42 (220.45 from 2023).
    """
    require(calculated_va=calculated_va, rest_frac=rule.rest_frac)
    if len(rule.block_va) != len(rule.block_frac):
        raise InputError(
            f"the demand rule has {len(rule.block_va)} blocks and {len(rule.block_frac)} factors; give one "
            "factor for each block.",
            code="shapes_differ",
        )
    total_va, left_va = 0.0, calculated_va
    for block_va, block_frac in zip(rule.block_va, rule.block_frac, strict=True):
        require(block_va=block_va, block_frac=block_frac)
        total_va += min(left_va, block_va) * block_frac
        left_va = max(left_va - block_va, 0.0)
    return total_va + left_va * rule.rest_frac


def largest_entry_va(entry_va: ArrayLike, entry_frac: ArrayLike) -> float:
    """Heating or cooling load: the largest of the entries, each after its own factor, shape (n,) both.

    Give a heat pump with supplementary heat as one entry already summed (compressor + 0.65 supplement, with
    factor 1). No entries count as nothing. Raises: InputError outside the glossary's ranges.

    Source: NFPA 70 (NEC) 220.82(C).
    """
    rated_va, factor = np.broadcast_arrays(
        np.asarray(entry_va, dtype=float), np.asarray(entry_frac, dtype=float)
    )
    if not rated_va.size:
        return 0.0
    require(entry_va=rated_va, entry_frac=factor)
    return float((rated_va * factor).max())


def neutral_demand_va(
    lighting_demand_va: float, range_va: float, dryer_va: float, neutral_frac: float
) -> float:
    """Load counted on the neutral of a dwelling feeder.

    lighting + f (range + dryer), f 0.7; loads across both legs alone (water heater, air conditioner) count
    nothing. Raises: InputError outside the glossary's ranges.

    Source: NFPA 70 (NEC) 220.61(B) and Annex D, Example D1(a).
    """
    require(
        lighting_demand_va=lighting_demand_va, range_va=range_va, dryer_va=dryer_va, neutral_frac=neutral_frac
    )
    return lighting_demand_va + neutral_frac * (range_va + dryer_va)


def service_current_a(calculated_va: Values, voltage_v: Values) -> Values:
    """Current of a calculated load at the voltage across both legs (or of the single phase): I = S / V.

    Raises: InputError outside the glossary's ranges.

    Source: NFPA 70 (NEC) Annex D, Examples D1(a) and D2(a).
    """
    require(calculated_va=calculated_va, voltage_v=voltage_v)
    return calculated_va / voltage_v


# --- whole calculations ----------------------------------------------------------------------------------


def dwelling_demand(general_va: float, hvac_va: float, rule: DemandRule, voltage_v: float) -> DwellingDemand:
    """The optional calculation for a one-family dwelling, from its two parts to the service current.

    Total = demand of the general load by rule + heating or cooling; for a service of 100 A or more, so a
    smaller result still needs 100 A. general_va is from general_load_va, hvac_va from largest_entry_va.
    Raises: InputError outside the glossary's ranges.

    Source: NFPA 70 (NEC) 220.82; worked in NEC 2005 Annex D, Example D2(a).
    """
    require(general_va=general_va, hvac_va=hvac_va)
    general_demand_va = demand_va(general_va, rule)
    total_va = general_demand_va + hvac_va
    return DwellingDemand(
        general_va, general_demand_va, hvac_va, total_va, float(service_current_a(total_va, voltage_v))
    )


def diversified_w(rated_w: ArrayLike, diversity_frac: ArrayLike) -> float:
    """Sum of rated loads, each times the share of it that is counted at once, shape (n,) both or one share.

    With diversity_frac 1 it is the plain sum. No standard gives these shares for a household under IEC
    practice: they are the user's judgement and must be shown as such. Raises: InputError outside the ranges.

    Source: common practice, no source (IEC 60364-1, 311 asks that diversity be considered, from memory).
    """
    rated, share = np.broadcast_arrays(
        np.asarray(rated_w, dtype=float), np.asarray(diversity_frac, dtype=float)
    )
    if not rated.size:
        return 0.0
    require(rated_w=rated, diversity_frac=share)
    return float((rated * share).sum())
