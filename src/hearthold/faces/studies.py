"""The actions over many random outages that every face offers: risk, hookups compared, a sweep, a folder of homes."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from hearthold.faces.service import read

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from datetime import date

    from hearthold.house.house import House
    from hearthold.house.weatherfile import WeatherHours
    from hearthold.papers.job import Outlook
    from hearthold.study.comparison import Comparison
    from hearthold.study.folder import FolderStudy
    from hearthold.study.result import Risk
    from hearthold.study.swept import Swept


@dataclass(frozen=True, slots=True)
class Risked:
    """Chances with the house they are for, and what the household is taken to do in an outage."""

    house: House
    risk: Risk
    habit: tuple[str, ...]

    @property
    def interrupted(self) -> bool:
        """True where somebody stopped the reckoning; the answer is what had been found by then."""
        from hearthold.study.result import Stopped

        return self.risk.stopped is Stopped.INTERRUPTED


@dataclass(frozen=True, slots=True)
class Compared:
    """Hookups side by side, with the house they are for."""

    house: House
    comparison: Comparison


@dataclass(frozen=True, slots=True)
class SweptHouse:
    """Designs of a sweep, with the house they vary."""

    house: House
    designs: tuple[Swept, ...]


def risk(
    path: str | Path,
    today: date,
    month: int | None = None,
    fuel: str | None = None,
    seed: int = 0,
    progress: Callable[[str], None] | None = None,
    house: House | None = None,
) -> Risked:
    """How likely a house is to come through its outages under its routine. Raises HouseFileError, InputError.

    A weather file named in the house file is read beside it. `house`: the one of that file, where it was read before.
    """
    from hearthold.study.chosen import outages_of
    from hearthold.study.habit import usual_habit
    from hearthold.study.risk import risk as reckon

    house = (house or read(path, today)).running
    outages = outages_of(house, today, seed=seed, file=str(path))
    weather = _weather_of(house, path)
    habit = usual_habit(house, month=month, fuel=fuel, progress=progress)
    found = reckon(
        house,
        habit.controls,
        outages,
        seed=seed,
        month=month,
        fuel=fuel,
        weather_file=weather,
        progress=progress,
    )
    return Risked(house, found, habit.words)


def compare(
    path: str | Path,
    today: date,
    years: float = 20.0,
    discount_frac: float = 0.03,
    worth: tuple[str, ...] = (),
    seed: int = 0,
    progress: Callable[[str], None] | None = None,
    house: House | None = None,
    all_doubt: bool = True,
) -> Compared:
    """Ways to get power into a house, designed and run through the same outages. Raises HouseFileError, InputError.

    `house`: the one of that file, where it was read before. `all_doubt`: with shares of all inputs' doubt.
    """
    from hearthold.study.chosen import outages_of
    from hearthold.study.compare import compare as side_by_side
    from hearthold.study.money import Terms
    from hearthold.study.worth import read_worth

    house = house or read(path, today)
    found = side_by_side(
        house,
        outages_of(house, today, seed=seed, file=str(path)),
        terms=Terms(years, discount_frac),
        worth=read_worth(worth),
        seed=seed,
        weather_file=_weather_of(house, path),
        all_doubt=all_doubt,
        progress=progress,
    )
    return Compared(house, found)


def comparison_picture(found: Compared) -> str:
    """Cost against risk of a comparison as one SVG file, narrow enough for a phone."""
    from hearthold.papers.compared import comparison_figure

    return comparison_figure(found.comparison, alone=True).svg + "\n"


def outlook(
    house: House,
    path: str | Path,
    today: date,
    fuel: str | None = None,
    seed: int = 0,
    progress: Callable[[str], None] | None = None,
) -> Callable[[], Outlook]:
    """Begin risk and comparison for the plan report, what `risk` and `compare` tell; the answer waits for both.

    The answer raises InputError.
    """
    from concurrent.futures import ThreadPoolExecutor

    from hearthold.papers.job import Outlook

    _weather_of(house, path)  # which keeps it for both, and is refused before any work
    # side by side, since each has stretches of Python in which a core would idle
    pool = ThreadPoolExecutor(2)
    risked = pool.submit(risk, path, today, fuel=fuel, seed=seed, progress=progress, house=house)
    compared = pool.submit(compare, path, today, seed=seed, progress=progress, house=house, all_doubt=False)
    pool.shutdown(wait=False)

    def answer() -> Outlook:
        told = risked.result()
        return Outlook(told.risk, told.habit, compared.result().comparison)

    return answer


def sweep(
    path: str | Path,
    today: date,
    lists: Mapping[str, str | None],
    out: Path | None = None,
    seed: int = 0,
    progress: Callable[[str], None] | None = None,
) -> SweptHouse:
    """Every combination of lists of values, over the same outages; written to `out` (.parquet, .csv) if one is named.

    Raises HouseFileError, InputError, MissingExtraError.
    """
    from hearthold.study.chosen import outages_of
    from hearthold.study.gridtext import read_grid
    from hearthold.study.sweep import sweep as try_all
    from hearthold.study.swept import rows_of
    from hearthold.study.tablefile import check_path, write_rows

    house = read(path, today).running
    if out is not None:
        check_path(out)
    found = try_all(
        house,
        outages_of(house, today, seed=seed, file=str(path)),
        read_grid(house, lists),
        seed=seed,
        progress=progress,
    )
    if out is not None:
        write_rows(out, rows_of(found))
    return SweptHouse(house, found)


def study(
    folder: Path,
    out: Path,
    today: date,
    month: int = 1,
    hours: float = 72.0,
    seed: int = 0,
    workers: int | None = None,
    address: str | None = None,
    invent: int | None = None,
    progress: Callable[[str], None] | None = None,
) -> FolderStudy:
    """Every house file of a folder through the same outages, on this machine or a Dask scheduler at `address`.

    `invent` writes so many invented homes there first. Raises InputError, MissingExtraError.
    """
    from hearthold.study.folder import study_folder
    from hearthold.study.onehome import Asked
    from hearthold.study.village import write_village

    if invent is not None:
        write_village(folder, invent, seed)
    asked = Asked(today.isoformat(), month, hours, seed=seed)
    return study_folder(folder, out, asked, workers=workers, address=address, progress=progress)


def _weather_of(house: House, path: str | Path) -> WeatherHours | None:
    """The weather file named in a house file, read beside it."""
    from hearthold.house.weatherfile import read_weather

    named = house.climate.weather_file
    return None if named is None else read_weather(str(Path(path).parent / named))
