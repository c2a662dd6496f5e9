"""The weather and the rooms to plan with: one month of the year, as usual or as in a bad spell."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.reference.reader import table

if TYPE_CHECKING:
    from hearthold.house.house import House

HEATING_BASE_C = table("house_defaults").row("heating_base").si("typical_c")  # months below it are heated


@dataclass(frozen=True, slots=True)
class Conditions:
    """What it is like outside and in the rooms, with what was assumed to say so."""

    month: int
    harsh: bool
    outdoor_mean_c: float
    daily_range_k: float
    house_c: float
    unheated_c: float
    notes: tuple[str, ...]

    @property
    def heating_season(self) -> bool:
        """Whether the house needs heat in this weather."""
        return self.outdoor_mean_c < HEATING_BASE_C

    @property
    def outdoor_high_c(self) -> float:
        """Warmest hour of the day."""
        return self.outdoor_mean_c + self.daily_range_k / 2.0

    @property
    def outdoor_low_c(self) -> float:
        """Coldest hour of the day."""
        return self.outdoor_mean_c - self.daily_range_k / 2.0

    def room_c(self, room: str) -> float:
        """Temperature of "house", "unheated" or "outside". Raises InputError for another word."""
        rooms_c = {"house": self.house_c, "unheated": self.unheated_c, "outside": self.outdoor_mean_c}
        if room not in rooms_c:
            raise InputError(f"room is {room!r}; allowed: {', '.join(rooms_c)}.", code="unknown_room")
        return rooms_c[room]


def conditions(
    house: House, month: int, harsh: bool = True, outdoor_mean_c: float | None = None
) -> Conditions:
    """Conditions of a month (1 to 12), in a bad spell unless told otherwise, or at a temperature given.

    Harsh is the month's mean less the house's cold spell in the heating season, and warmer by half as much in
    summer. The house starts at its set point, or at the outdoor mean where that is warmer.
    Raises: InputError for a month that is none, or where neither normals nor a temperature are known.

    Source: the household's climate section; the shares are assumptions and are listed in `notes`.
    """
    if month not in range(1, 13):
        raise InputError(
            f"month is {month}; allowed 1 to 12.", code="out_of_range", name="month", value=month
        )
    usual_c = _usual_c(house, month) if outdoor_mean_c is None else outdoor_mean_c
    shift_k = _shift_k(house, usual_c) if harsh and outdoor_mean_c is None else 0.0
    outdoor_c = usual_c + shift_k
    set_c = house.heat.set_c if house.heat is not None else _usual("room_set", "typical_c")
    house_c = max(set_c, outdoor_c)
    unheated_c = outdoor_c + (1.0 - _usual("unheated_room", "typical_frac")) * (house_c - outdoor_c)
    return Conditions(
        month,
        harsh,
        outdoor_c,
        house.climate.daily_range_k,
        house_c,
        unheated_c,
        _notes(house, shift_k),
    )


def harshest_month(house: House) -> int:
    """The coldest month by its normal. Raises InputError where no normals are given."""
    means_c = [_usual_c(house, month) for month in range(1, 13)]
    return means_c.index(min(means_c)) + 1


def _usual(name: str, column: str) -> float:
    return table("house_defaults").row(name).si(column)


def _usual_c(house: House, month: int) -> float:
    if not house.climate.mean:
        raise InputError(
            "climate has a weather file but no monthly means; give mean = [...] or a temperature.",
            code="no_normals",
        )
    return house.climate.mean_c[month - 1]


def _shift_k(house: House, usual_c: float) -> float:
    spell_k = house.climate.cold_spell_k
    return -spell_k if usual_c < HEATING_BASE_C else _usual("summer_spell", "typical_frac") * spell_k


def _notes(house: House, shift_k: float) -> tuple[str, ...]:
    notes = ["unheated room taken midway between house and outdoors"]
    if shift_k > 0.0:
        notes.append("hot spell taken as half the cold spell")
    if house.heat is None:
        notes.append(f"house temperature not given, taken as {_usual('room_set', 'typical_c'):g} degC")
    return tuple(notes)
