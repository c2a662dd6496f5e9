"""Which outages to reckon with: the house's own history, else its utility's indices, else a region."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.reference.outages import outage_model
from hearthold.study.belief import believe
from hearthold.study.fromindices import from_house
from hearthold.study.history import read_history
from hearthold.study.outages import Outages, from_model

if TYPE_CHECKING:
    from hearthold.house.house import House

USUAL_REGION = "us_average"


def outages_of(
    house: House, today: date, *, since: date | None = None, seed: int = 0, file: str = ""
) -> Outages:
    """The outages to reckon with. Indices or region are the prior of a history, and stand alone without one.

    Raises: InputError for a history or indices that cannot be used, naming `file` where it is given.
    """
    try:
        return _outages_of(house, today, since, seed)
    except InputError as problem:
        if not file:
            raise
        raise InputError(f"{file}: {problem}", code=problem.code, **problem.values) from None


def _outages_of(house: House, today: date, since: date | None, seed: int) -> Outages:
    region = outage_model(house.outages.region or USUAL_REGION)
    prior = from_house(house.outages, region) or from_model(region)
    if not house.past_outages and since is None:
        return prior
    return believe(read_history(house.past_outages, today, house.site.zone, since), prior, seed=seed)
