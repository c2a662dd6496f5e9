"""What the parts of the frame share: prices of electricity, powers of loads, the weather of a slot."""

# mypy: disable-error-code="no-any-return"

from __future__ import annotations

import numpy as np

from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array
from hearthold.plan import objective as o
from hearthold.plan.bound.sure import ALWAYS, Sureness
from hearthold.plan.objective import SLOT_S
from hearthold.plan.problem import Problem


class UnsupportedError(Exception):
    """The problem has something that the bound does not cover; the message says what."""


def energy_price(problem: Problem) -> float:
    """Joules of fuel for a joule of electricity."""
    return float(problem.compiled.world.par[c.P_FUEL_B] * problem.prices[o.FUEL_J_PER_M3])


def load_w(problem: Problem, load: float) -> float:
    """Running watts of a load, 0 for none."""
    j = int(load)
    row = problem.compiled.world.loads[j]
    return float(row[c.L_WA] + row[c.L_WB]) if j >= 0 else 0.0


def outdoors(problem: Problem) -> Array:
    """Outdoor temperature of each slot; slots lie within hours."""
    at_s = problem.start_s + problem.lead_s + SLOT_S * np.arange(problem.slots) + 1.0
    return problem.outside.outdoor_c[(at_s // 3600.0).astype(int)]


def always(sure: Sureness, j: int) -> bool:
    """Whether load j runs for certain whenever it wants to and its circuit is live."""
    return bool(sure.sure[j] == ALWAYS and not sure.sheds[:, j].any())
