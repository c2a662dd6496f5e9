"""The recommendation: which way, why, and how sure, in three plain sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hearthold.study.words import band, chance

if TYPE_CHECKING:
    from collections.abc import Sequence

    from hearthold.study.comparison import Candidate
    from hearthold.study.money import Terms
    from hearthold.study.sensitivity import Swing

_SURE_FRAC, _LIKELY_FRAC = 0.9, 0.6


def eligible(candidates: Sequence[Candidate], budget: float | None) -> list[Candidate]:
    """Ways that may be recommended: they carry all that is vital and essential, within the budget where one is.

    Where none does, all that carry it; where none carries it, all.
    """
    serving = [c for c in candidates if c.serves] or list(candidates)
    affordable = [c for c in serving if budget is None or c.to_spend.typical <= budget]
    return affordable or serving


def sentences(
    candidates: Sequence[Candidate],
    best: Candidate,
    second: Candidate | None,
    swings: Sequence[Swing],
    currency: str,
    terms: Terms,
    budget: float | None,
) -> tuple[str, str, str]:
    """What to do, what it is weighed against, and how sure that is."""  # fmt: skip
    return (
        _first(best, currency, terms, budget, any(c.serves for c in candidates)),
        _second(best, second, currency, terms),
        _third(best, swings),
    )


def _first(best: Candidate, currency: str, terms: Terms, budget: float | None, some_serve: bool) -> str:
    spend = (
        "nothing more to buy"
        if best.to_spend.high <= 0.0
        else f"{_money(best.to_spend.typical)} {currency} to spend now"
    )
    within = "" if budget is None or best.to_spend.typical > budget else " within the budget"
    why = (
        f"costs least of those{within} that carry all that is vital and essential"
        if some_serve
        else "costs least"
    )
    text = (
        f"{best.name[0].upper()}{best.name[1:]} {why}: {spend}, {_money(best.lifetime.value)} {currency} over "
        f"{terms.years:g} years with losses, and in a year {_chances(best)}."
    )
    if not some_serve:
        return f"No way carries all that is vital and essential. {text}"
    if budget is not None and best.to_spend.typical > budget:
        return f"Nothing that carries it all fits the budget of {_money(budget)} {currency}. {text}"
    return text


def _chances(best: Candidate) -> str:
    """Medical power first, then anything at all, each with what it may be."""
    medical, anything = best.medical, best.loss("anything")
    told = []
    if medical is not None:
        told.append(f"{chance(medical.year_frac)} ({band(medical.year_band_frac)}) to lose medical power")
    if anything is not None:
        told.append(f"{chance(anything.year_frac)} ({band(anything.year_band_frac)}) to lose anything at all")
    return f"a chance of {' and of '.join(told)}" if told else "nothing that an outage could harm"


def _second(best: Candidate, second: Candidate | None, currency: str, terms: Terms) -> str:
    if second is None:
        return "There is no second way to weigh it against."
    more = second.beside_best.value
    safer = second.any_loss_frac.value < best.any_loss_frac.value - 0.01
    risk = (
        f"cuts the chance of any loss to {_share(second.any_loss_frac.value)}"
        if safer
        else f"leaves the chance of any loss at {_share(second.any_loss_frac.value)}"
    )
    hours = second.hands_h_per_year.value - best.hands_h_per_year.value
    whole = round(abs(hours))
    work = f"{whole} hour{'' if whole == 1 else 's'} of work a year {'more' if hours > 0 else 'less'}"
    tail = f", with {work}" if abs(hours) >= 0.5 else ""
    return (
        f"Next comes {second.name}: it costs {_money(more)} {currency} more over {terms.years:g} years "
        f"and {risk}{tail}."
    )  # fmt: skip


def _third(best: Candidate, swings: Sequence[Swing]) -> str:
    share = best.cheapest_frac
    sure = "sure" if share >= _SURE_FRAC else "likely" if share >= _LIKELY_FRAC else "a close call"
    flips = [s for s in swings if s.lead_at_low < 0.0 or s.lead_at_high < 0.0]
    told = f"That is {sure}: over all prices, rates and outages tried it is the cheapest in {_share(share)} of cases"
    if not flips:
        return f"{told}, and no single input, moved alone, changes the order."
    return f"{told}; what would change the order first is the {flips[0].words}."


def _money(value: float) -> str:
    """A sum to two figures or whole tens, for prose."""
    step = 10.0 if abs(value) < 2000.0 else 100.0
    return f"{round(value / step) * step:,.0f}"


def _share(value: float) -> str:
    if 0.0 < value < 0.005:
        return "below 1 %"
    return f"{100.0 * value:.0f} %"
