"""`compare`: every way to get power into a house, designed for it and run through the same random outages.

    found = compare(house, outages_of(house, today), seed=1)
    found.sentences          # what to do, against what, how sure

Designs are sized by the planner's own functions, each is run by the routine found for it, and all meet the same
outages under the same sky, so that differences are not noise.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from hearthold.errors import MissingExtraError
from hearthold.sizing.fuel import stock_m3
from hearthold.study import advice
from hearthold.study.bands import chance_bands
from hearthold.study.breakeven import break_evens
from hearthold.study.comparison import Candidate, Carried, Comparison, LossChance
from hearthold.study.design import Design, NotPossible, design
from hearthold.study.estimate import Estimate, estimate
from hearthold.study.gathering import chance, outage_figures
from hearthold.study.habit import SEASONS
from hearthold.study.hookups import COMPARED, Way
from hearthold.study.lifetime import LENGTHS, Account, account_of, base_point, hands_s
from hearthold.study.measure import EACH, ROUNDS, Measured, Year, course_of, measure
from hearthold.study.money import Terms, annuity_factor
from hearthold.study.sensitivity import Share, Swing, global_shares, sampled_totals, tornado
from hearthold.study.spending import Spending, spending
from hearthold.study.worth import AMOUNTS, Worth, comfort_per_year, food_per_year

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.weatherfile import WeatherHours
    from hearthold.study.measure import Array
    from hearthold.study.outages import Outages

Progress = Callable[[str], None]
_HOUR_S = 3600.0
_MIDDLE = (0.05, 0.95)


@dataclass(frozen=True, slots=True, eq=False)
class Row:
    """One design with everything that was worked out for it."""

    design: Design
    measured: Measured
    year: Year
    spending: Spending
    account: Account


def compare(
    house: House,
    outages: Outages,
    *,
    ways: Sequence[Way] = COMPARED,
    terms: Terms | None = None,
    worth: Worth | None = None,
    seed: int = 0,
    rounds: int = ROUNDS,
    each: int = EACH,
    weather_file: WeatherHours | None = None,
    all_doubt: bool = True,
    progress: Progress | None = None,
) -> Comparison:
    """Ways designed for a house, side by side. Same seed, same answer. `all_doubt`: with shares of all inputs' doubt.

    Raises: InputError for a house without a machine's worth of facts (no normals), prices below 0, or fewer than two
    rounds.
    """
    asked, priced = terms or Terms(), worth or Worth()
    course = course_of(house, outages, seed=seed, rounds=rounds, each=each, file=weather_file)
    designs = [design(house, way) for way in (Way.NOTHING, *dict.fromkeys(ways))]
    rows: list[Row] = []
    survivals: list[tuple[Array, Array]] = []
    for made in (d for d in designs if isinstance(d, Design)):
        if progress is not None:
            progress(f"running {made.name} through the outages")
        found = measure(made, course)
        survivals = survivals or [found.survivals(factor) for factor in LENGTHS]
        spent = spending(made, house)
        account = account_of(found, spent, house, priced, survivals)
        rows.append(Row(made, found, found.usual_year(survivals[LENGTHS.index(1.0)]), spent, account))
    refused = tuple((d.name, d.reason) for d in designs if isinstance(d, NotPossible))
    tried = 2 * rounds * each
    return _Judge(house, outages, asked, priced, seed, tried, rows, refused, all_doubt).comparison()


@dataclass(frozen=True, slots=True, eq=False)
class _Judge:
    """Puts the rows side by side."""

    house: House
    outages: Outages
    terms: Terms
    worth: Worth
    seed: int
    tried: int
    rows: list[Row]  # the first is the one without anything
    refused: tuple[tuple[str, str], ...]
    all_doubt: bool

    def comparison(self) -> Comparison:
        """Everything together."""
        nothing, *rows = self.rows
        plain = [self._candidate(row) for row in rows]
        budget = self.house.budget.first
        choice = advice.eligible(plain, budget)
        ranked = sorted(choice, key=lambda c: c.lifetime.value)
        best = ranked[0] if ranked else None
        accounts = [row.account for row in rows if any(c.way == row.account.way for c in choice)]
        swings = tornado(accounts, best.way, self.terms) if best is not None else ()
        candidates = self._beside(rows, plain, best, accounts)
        second = next((c for c in candidates if len(ranked) > 1 and c.way == ranked[1].way), None)
        best = next((c for c in candidates if best is not None and c.way == best.way), None)
        return Comparison(
            house=self.house.name,
            currency=self.house.prices.currency,
            terms=self.terms,
            outages=outage_figures(self.outages),
            candidates=candidates,
            nothing=self._candidate(nothing),
            not_possible=self.refused,
            recommended=best.way if best is not None else None,
            next_best=second.way if second is not None else None,
            sentences=self._sentences(candidates, best, second, swings, budget),
            break_even=break_evens([row.account for row in rows], self.terms),
            swings=swings,
            shares=self._shares(accounts, best),
            labour_priced=self.house.prices.own_hour is not None,
            comfort_priced=self.worth.said,
            outages_tried=self.tried,
            assumptions=_assumptions(self.house, self.rows, self.outages),
        )

    def _sentences(
        self,
        candidates: Sequence[Candidate],
        best: Candidate | None,
        second: Candidate | None,
        swings: Sequence[Swing],
        budget: float | None,
    ) -> tuple[str, str, str]:
        if best is None:
            return ("No way to get power in can be designed for this house.", "", "")
        return advice.sentences(
            candidates, best, second, swings, self.house.prices.currency, self.terms, budget
        )

    def _candidate(self, row: Row) -> Candidate:
        """One row as it stands alone."""
        spent, made, year = row.spending, row.design, row.year
        rounds = self._lifetime_rounds(row)
        point = base_point(self.terms, [made.way.value])
        per_m3 = spent.fuel_per_m3.typical
        comfort = comfort_per_year(year, self.worth) if self.worth.said else None
        return Candidate(
            way=made.way.value,
            name=made.name,
            machine=made.house.generator.name if made.house.generator is not None else "",
            machine_in_hand=made.owned_machine,
            battery_j=made.house.battery.capacity_j if made.house.battery is not None else 0.0,
            panels_w=made.house.solar.peak_w if made.house.solar is not None else 0.0,
            fuel=made.house.fuel.preferred.value if made.house.fuel is not None else "",
            fuel_kept_m3=_kept_m3(made),
            cord_count=len(made.cords),
            routines=_routines(row.measured),
            carried=_carried(made),
            serves=made.serves,
            notes=made.notes,
            first=spent.first,
            to_spend=spent.to_spend,
            to_buy=spent.to_buy,
            upkeep_per_year=spent.upkeep_per_year,
            test_fuel_per_year=spent.test_fuel_m3_per_year.times(per_m3),
            fuel_per_year=estimate(year.sum("fuel_m3") * per_m3, least=0.0),
            hands_h_per_year=estimate((hands_s(year, spent) + spent.hands_yearly_s) / _HOUR_S, least=0.0),
            nights_per_year=estimate(year.sum("woken"), least=0.0),
            losses=_losses(row.measured),
            food_per_year=estimate(food_per_year(year, self.house), least=0.0),
            comfort_per_year=None if comfort is None else estimate(comfort, least=0.0),
            unserved=tuple((a, estimate(year.sum(a), least=0.0)) for a, _, _ in AMOUNTS.values()),
            lifetime=estimate(rounds),
            owning=float(row.account.owning(point)),
            lifetime_range=(float("nan"), float("nan")),
            cheapest_frac=0.0,
            beside_best=Estimate(0.0, 0.0, 0.0),
            on_front=False,
        )

    def _lifetime_rounds(self, row: Row) -> Array:
        """(r,) everything over the years, by round: linear in what each round brought."""
        point = base_point(self.terms, [row.design.way.value])
        level = float(annuity_factor(self.terms.discount_frac, self.terms.years))
        rising = float(annuity_factor(self.terms.discount_frac, self.terms.years, self.terms.fuel_rise_frac))
        year, spent = row.year, row.spending
        worth = food_per_year(year, self.house) + comfort_per_year(year, self.worth)
        worth = worth + row.account.own_hour * hands_s(year, spent) / _HOUR_S
        moved = level * worth + rising * spent.fuel_per_m3.typical * year.sum("fuel_m3")
        return np.asarray(float(row.account.total(point)) + moved - moved.mean())

    def _beside(
        self,
        rows: Sequence[Row],
        plain: Sequence[Candidate],
        best: Candidate | None,
        accounts: Sequence[Account],
    ) -> tuple[Candidate, ...]:
        """The candidates with what only shows side by side."""
        if best is None:
            return tuple(plain)
        at = next(i for i, c in enumerate(plain) if c.way == best.way)
        base = self._lifetime_rounds(rows[at])
        totals = sampled_totals([row.account for row in rows], self.terms, seed=self.seed)
        among = [i for i, row in enumerate(rows) if any(a is row.account for a in accounts)]
        winner = np.array(among)[np.argmin(totals[among], axis=0)]
        front = _front([(c.owning, c.any_loss_frac.value) for c in plain])
        return tuple(
            replace(
                c,
                lifetime_range=_middle(totals[i]),
                cheapest_frac=float(np.mean(winner == i)),
                beside_best=estimate(self._lifetime_rounds(rows[i]) - base),
                on_front=front[i],
            )
            for i, c in enumerate(plain)
        )

    def _shares(self, accounts: Sequence[Account], best: Candidate | None) -> tuple[Share, ...]:
        if not self.all_doubt or best is None or len(accounts) < 2:
            return ()
        try:
            return global_shares(accounts, best.way, self.terms, seed=self.seed)
        except MissingExtraError:
            return ()


def _losses(found: Measured) -> tuple[LossChance, ...]:
    bands = chance_bands(found.parts, found.outages)
    return tuple(
        LossChance(loss.id, loss.kind, chance(found.year_frac[:, i], found.unseen_year_frac), bands[i])
        for i, loss in enumerate(found.losses)
        if loss.id != "machine_out"
    )


def _routines(found: Measured) -> tuple[str, ...]:
    """Each in words; two are one for the heating season and one for the rest."""
    said = [r.sentence for r in found.routines]
    return (
        tuple(f"{when}: {x}" for when, x in zip(SEASONS, said, strict=True))
        if len(said) == 2
        else tuple(said)
    )


def _carried(made: Design) -> Carried:
    """What is fed: at one time, in turns, never; behind a battery everything that was chosen, at one time."""
    names = {c.id: c.name for c in made.house.circuits}
    if made.choice is None or made.house.battery is not None:
        return Carried(tuple(names[c] for c in made.circuits), (), ())
    together, never = made.choice.together, made.choice.never
    turns = tuple(names[c] for c in made.circuits if c not in together and c not in never)
    return Carried(tuple(names[c] for c in together), turns, tuple(names[c] for c in never))


def _kept_m3(made: Design) -> float | None:
    if made.house.fuel is None or made.house.generator is None:
        return None
    kept = stock_m3(made.house, made.house.fuel.preferred)
    return kept if kept < float("inf") else None


def _middle(totals: Array) -> tuple[float, float]:
    low, high = np.quantile(totals, _MIDDLE)
    return float(low), float(high)


def _front(points: Sequence[tuple[float, float]]) -> list[bool]:
    """Whether no other point is at least as good in both and better in one."""
    return [
        not any(a <= x and b <= y and (a, b) != (x, y) for a, b in points)
        for x, y in points
    ]  # fmt: skip


def _assumptions(house: House, rows: Sequence[Row], outages: Outages) -> tuple[str, ...]:
    notes = [
        "real prices of today; the discount rate is a real one; replaced parts are bought at today's price",
        "a part in hand costs nothing until it is worn out; what is left of a part at the end is taken off",
        "machines are of generic sizes, and their prices are ranges from memory: ask for quotes",
        "machines start whenever they are asked to",
        "the routine is followed to the letter, and nobody knows how long an outage will last",
    ]
    if any(row.design.house.solar is not None for row in rows):
        notes.append(
            "the sky is estimated from the daily range of temperature; snow on panels is not counted"
        )
        if house.prices.electricity_per_j is None:
            notes.append("power from panels on ordinary days counts for nothing until you give its price")
    if house.prices.own_hour is None:
        notes.append("work is counted in hours and not priced; own_hour in [prices] prices it")
    return (*notes, *outages.notes)
