"""What would change the order of the hookups: one input at a time, and all together.

Every doubtful input has a low and a high end; which of them matter is found by moving each alone (a tornado), and by
moving all at once over their whole ranges (variance-based indices; share of the points at which each way is cheapest).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hearthold.errors import InputError, MissingExtraError
from hearthold.study.lifetime import Account, base_point
from hearthold.study.money import Terms

Array = NDArray[np.float64]
POINTS = 2048
SALIB_POINTS = 256


@dataclass(frozen=True, slots=True)
class Doubt:
    """One doubtful input: its ends, whether it is spread by its logarithm, and in words."""

    name: str
    low: float
    high: float
    by_log: bool
    words: str

    def at(self, share: Array) -> Array:
        """The value at a share of its spread, 0 to 1."""
        if self.by_log:
            return np.asarray(self.low * (self.high / self.low) ** share)
        return np.asarray(self.low + (self.high - self.low) * share)


@dataclass(frozen=True, slots=True)
class Swing:
    """One input moved alone: by how much the leader then leads (negative: it does not), and who is cheapest."""

    name: str
    words: str
    low: float
    high: float
    lead_at_low: float
    lead_at_high: float
    best_at_low: str
    best_at_high: str

    @property
    def width(self) -> float:
        """How far the input moves the lead."""
        return abs(self.lead_at_high - self.lead_at_low)


@dataclass(frozen=True, slots=True)
class Share:
    """How much of the variance of the lead one input brings: alone, and with all its company; 95 % half widths."""

    name: str
    words: str
    first: float
    total: float
    first_half: float
    total_half: float


def doubts(accounts: Sequence[Account], terms: Terms) -> tuple[Doubt, ...]:
    """The inputs that are in doubt. Ends are judgements (common practice, no source), those of prices their ranges."""
    found = [
        Doubt("outages", 0.5, 2.0, True, "number of outages a year"),
        Doubt("length", 0.5, 2.0, True, "length of outages"),
        Doubt("years", max(1.0, 0.5 * terms.years), 1.5 * terms.years, False, "years reckoned with"),
        Doubt(
            "discount",
            max(0.0, terms.discount_frac - 0.02),
            terms.discount_frac + 0.03,
            False,
            "discount rate",
        ),
        Doubt(
            "fuel_rise",
            terms.fuel_rise_frac - 0.02,
            terms.fuel_rise_frac + 0.02,
            False,
            "yearly rise of fuel",
        ),
        Doubt("fuel", 0.7, 1.5, True, "price of fuel"),
        Doubt("lives", -1.0, 1.0, False, "how long parts last"),
        Doubt("food", 0.5, 2.0, True, "value of food"),
    ]
    if any(np.any(a.yearly.comfort > 0.0) for a in accounts):
        found.append(Doubt("worth", 0.5, 2.0, True, "worth of comfort, as you stated it"))
    if any(a.own_hour > 0.0 for a in accounts):
        found.append(Doubt("own_hour", 0.5, 2.0, True, "price of your own hour"))
    spread = [a for a in accounts if any(p.price.high > p.price.low for p in a.spending.parts)]
    found += [Doubt(f"price of {a.way}", -1.0, 1.0, False, f"first cost: {_plain(a.way)}") for a in spread]
    return tuple(found)


def tornado(
    accounts: Sequence[Account], leader: str, terms: Terms, asked: Sequence[Doubt] | None = None
) -> tuple[Swing, ...]:
    """Every input moved alone between its ends, the widest swing of the lead first."""
    ways = [a.way for a in accounts]
    found = []
    for doubt in doubts(accounts, terms) if asked is None else asked:
        ends = [base_point(terms, ways) | {doubt.name: end} for end in (doubt.low, doubt.high)]
        totals = [np.array([float(a.total(point)) for a in accounts]) for point in ends]
        leads = [float(lead(total[:, None], ways.index(leader))[0]) for total in totals]
        best = [ways[int(np.argmin(total))] for total in totals]
        found.append(
            Swing(doubt.name, doubt.words, doubt.low, doubt.high, leads[0], leads[1], best[0], best[1])
        )
    return tuple(sorted(found, key=lambda swing: -swing.width))


def lead(totals: Array, leader: int) -> Array:
    """(points,) by how much the leader is cheaper than the cheapest other, from (ways, points) totals."""
    others = np.delete(totals, leader, axis=0)
    if len(others) == 0:
        return np.zeros(totals.shape[1])
    return np.asarray(others.min(axis=0) - totals[leader])


def sampled_totals(accounts: Sequence[Account], terms: Terms, *, seed: int = 0) -> Array:
    """(ways, points) of totals at points spread evenly over each doubt (a Latin hypercube: McKay, Beckman and Conover,
    Technometrics 21, 1979, from memory). Same seed, same points."""
    asked, rng = doubts(accounts, terms), np.random.default_rng([seed, 11])
    places = rng.permuted(np.tile(np.arange(POINTS), (len(asked), 1)), axis=1)
    shares = (places + rng.random(places.shape)).T / POINTS
    return totals_at(accounts, terms, asked, shares)


def totals_at(accounts: Sequence[Account], terms: Terms, asked: Sequence[Doubt], shares: Array) -> Array:
    """(ways, points) of totals, from (points, doubts) shares of each doubt's spread."""
    point = base_point(terms, [a.way for a in accounts])
    point |= {doubt.name: doubt.at(shares[:, i]) for i, doubt in enumerate(asked)}
    return np.array([np.broadcast_to(a.total(point), len(shares)) for a in accounts])


def global_shares(
    accounts: Sequence[Account], leader: str, terms: Terms, *, seed: int = 0
) -> tuple[Share, ...]:
    """Variance-based indices of the leader's lead, largest total first. Raises MissingExtraError without SALib."""
    asked = doubts(accounts, terms)
    index = [a.way for a in accounts].index(leader)

    def model(shares: Array) -> Array:
        return lead(totals_at(accounts, terms, asked, shares), index)

    first, total, first_half, total_half = variance_shares(model, len(asked), seed=seed)
    rows = [
        Share(d.name, d.words, float(first[i]), float(total[i]), float(first_half[i]), float(total_half[i]))
        for i, d in enumerate(asked)
    ]
    return tuple(sorted(rows, key=lambda row: -row.total))


def variance_shares(
    model: Callable[[Array], Array],
    count: int,
    *,
    low: float = 0.0,
    high: float = 1.0,
    points: int = SALIB_POINTS,
    seed: int = 0,
) -> tuple[Array, Array, Array, Array]:
    """First-order and total indices of a function of `count` inputs in [low, high], with their 95 % half widths.

    `model` takes (n, count) and gives (n,). Raises MissingExtraError without SALib; InputError for no inputs.
    Source: Saltelli sampling with Sobol sets and Jansen's estimators, as SALib implements them.
    """  # fmt: skip
    if count < 1:
        raise InputError("no doubtful input is left, so there is nothing to share out.", code="no_inputs")
    try:
        from SALib.analyze import sobol as analyse
        from SALib.sample import sobol as sample
    except ImportError:
        raise MissingExtraError("global sensitivity needs SALib: pip install 'hearthold[study]'.") from None
    problem = {"num_vars": count, "names": [f"x{i}" for i in range(count)], "bounds": [[low, high]] * count}
    shares = sample.sample(problem, points, calc_second_order=False, seed=seed)
    values = model(shares)
    if float(np.ptp(values)) == 0.0:
        nothing = np.zeros(count)
        return nothing, nothing, nothing, nothing
    # SALib takes a seed of 0 for none at all.
    found = analyse.analyze(problem, values, calc_second_order=False, seed=seed + 1)
    return found["S1"], found["ST"], found["S1_conf"], found["ST_conf"]


def _plain(way: str) -> str:
    from hearthold.study.hookups import TRAITS, Way

    return TRAITS[Way(way)].name
