"""Sun on the level ground where nobody measured it: from how far a day's warmest and coldest hour lie apart."""

from __future__ import annotations

import numpy as np

from hearthold.physics.values import Values
from hearthold.quantities.glossary import require

INLAND_PER_ROOT_K, COAST_PER_ROOT_K = 0.16, 0.19
CLEAR_SKY_FRAC = 0.75


def level_from_range_j_per_m2(daily_range_k: Values, above_j_per_m2: Values, coast: bool = False) -> Values:
    """Sun on the level ground in a month's mean day: R = k sqrt(Tmax - Tmin) Ra, never more than a clear sky's 0.75 Ra.

    k is 0.16 inland and 0.19 on a coast (`coast`, a bool), per root kelvin. Within a fifth or so over a month;
    of little use on islands. `above_j_per_m2` is the sun above the air, Ra.

    Raises: InputError outside the glossary ranges.
    Source: Hargreaves' formula in FAO Irrigation and Drainage Paper 56, 1998, eq. 50; eq. 37 at sea level (from
    Source: Hargreaves' formula, FAO Irrigation and Drainage Paper 56, 1998, eq. 50 and 37 (from memory).
    """
    require(daily_range_k=daily_range_k, above_j_per_m2=above_j_per_m2)
    per_root_k = COAST_PER_ROOT_K if coast else INLAND_PER_ROOT_K
    share = np.minimum(per_root_k * np.sqrt(np.asarray(daily_range_k, dtype=float)), CLEAR_SKY_FRAC)
    found = share * np.asarray(above_j_per_m2, dtype=float)
    return float(found) if np.ndim(found) == 0 else np.asarray(found)
