"""`study_folder`: thousands of house files through the same code; resumable, with failures listed and left aside.

found = study_folder(Path("homes"), Path("results"), Asked("2026-11-01"))
found.losing["water"]            # homes that lose water in the outage asked about
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hearthold.errors import InputError, MissingExtraError
from hearthold.house.reader import LARGEST_BYTES
from hearthold.study import crew
from hearthold.study.estimate import Estimate, estimate, ratio, share_of
from hearthold.study.ledger import Ledger, key_of
from hearthold.study.onehome import Asked, Done, Job
from hearthold.study.remedies import NAMES
from hearthold.study.tablefile import write_rows

if TYPE_CHECKING:
    from collections.abc import Iterable

Progress = Callable[[str], None]
LOSSES = ("water", "food", "warmth", "pipes", "medical")


@dataclass(frozen=True, slots=True)
class RemedyWorth:
    """One remedy over all homes that it was tried for. Saved per 1000 spent, in a usual year."""

    id: str
    name: str
    homes: int
    cost_mean: float
    harm_saved_per_1000: Estimate  # losses of any kind that do not happen
    food_saved_per_1000: Estimate
    keeps_water: int  # homes that then keep their water in the outage asked about


@dataclass(frozen=True, slots=True)
class FolderStudy:
    """What a folder of homes came to. Intervals take the homes for a random sample of such homes."""

    folder: str
    asked: Asked
    homes: int
    resumed: int  # of these, taken from the ledger
    failures: tuple[tuple[str, str], ...]  # file and reason
    losing: dict[str, int]
    losing_frac: dict[str, Estimate]  # of the homes that were run
    with_well: int
    without_machine: int
    mean_any_year_frac: Estimate
    remedies: tuple[RemedyWorth, ...]  # the one that saves most losses per 1000 first
    results: str  # the file with a row a home


def study_folder(
    folder: Path,
    out: Path,
    asked: Asked,
    *,
    workers: int | None = None,
    address: str | None = None,
    progress: Progress | None = None,
) -> FolderStudy:
    """Every house file of a folder; results, failures and ledger in `out`.

    `workers` processes on this machine (all cores if left out, 0 for none besides this one), or a Dask scheduler at
    `address`. The same rows on any. Raises: InputError for a folder without house files or one that cannot be read;
    MissingExtraError where a cluster is asked for without Dask.
    """  # fmt: skip
    jobs, unread = _jobs(folder, asked)
    _make(out)
    ledger = Ledger(out / "ledger.jsonl")
    known = ledger.read()
    keys = {job.file: key_of(job) for job in jobs}
    found = {job.file: known[keys[job.file]] for job in jobs if keys[job.file] in known}
    waiting = [job for job in jobs if job.file not in found]
    resumed = len(found)
    for done in _working(waiting, workers, address):
        ledger.add((keys[x.file], x) for x in done)
        found |= {x.file: x for x in done}
        if progress is not None:
            progress(f"{len(found)} of {len(jobs)} homes")
    return _told(folder, out, asked, [*found.values(), *unread], resumed)


def _working(waiting: Sequence[Job], workers: int | None, address: str | None) -> Iterator[list[Done]]:
    if not waiting:
        return iter(())
    if address is not None:
        return crew.cluster(waiting, address)
    count = (os.cpu_count() or 1) if workers is None else workers
    return crew.here(waiting) if count == 0 else crew.pool(waiting, count)


def _jobs(folder: Path, asked: Asked) -> tuple[list[Job], list[Done]]:
    """House files as jobs, and those that cannot even be read."""
    if not folder.is_dir():
        raise InputError(
            f"{folder} is not a folder; name the folder that holds the house files.", code="no_folder"
        )
    try:
        files = sorted(p for p in folder.glob("*.toml"))
    except OSError as problem:
        raise InputError(f"{folder} cannot be read: {problem.strerror}.", code="unreadable") from None
    if not files:
        raise InputError(f"{folder} holds no house file (*.toml); nothing to study.", code="empty_folder")
    jobs, unread = [], []
    for path in files:
        try:
            jobs.append(Job(str(path), _text(path), asked))
        except OSError as problem:
            told = f"cannot be read ({problem.strerror}); put it right or take it out of the folder"
            unread.append(Done(str(path), None, told))
        except UnicodeDecodeError as problem:
            told = f"is not text: byte {problem.start} is no UTF-8; save it as UTF-8 text"
            unread.append(Done(str(path), None, told))
        except ValueError as problem:
            unread.append(Done(str(path), None, f"cannot be read: {problem}"))
    return jobs, unread


def _text(path: Path) -> str:
    """The text of a file of sensible size. Raises OSError, ValueError."""
    with path.open("rb") as file:
        data = file.read(LARGEST_BYTES + 1)
    if len(data) > LARGEST_BYTES:
        raise ValueError(f"more than {LARGEST_BYTES // 1_000_000} MB")
    return data.decode("utf-8-sig")


def _make(out: Path) -> None:
    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        raise InputError(f"{out} cannot be made a folder: {problem.strerror}.", code="no_folder") from None


def _told(folder: Path, out: Path, asked: Asked, found: Iterable[Done], resumed: int) -> FolderStudy:
    """Files written, and the whole in figures. Order of the rows is that of the files, whoever ran them."""
    ordered = sorted(found, key=lambda done: done.file)
    rows = [done.row for done in ordered if done.row is not None]
    failed = [(done.file, done.error) for done in ordered if done.row is None]
    results = _write(out, rows)
    losing = {name: sum(bool(row[f"loses_{name}"]) for row in rows) for name in LOSSES}
    write_rows(
        out / "failures.csv", [{"file": f, "reason": r} for f, r in failed] or [{"file": "", "reason": ""}]
    )
    return FolderStudy(
        str(folder),
        asked,
        len(ordered),
        resumed,
        tuple(failed),
        losing,
        {name: share_of(count, len(rows)) for name, count in losing.items()},
        sum(bool(row["has_well"]) for row in rows),
        sum(not row["has_machine"] for row in rows),
        _mean_chance([row["any_year_frac"] for row in rows]),
        remedy_worths(rows),
        str(results),
    )


def _mean_chance(chances: Sequence[float]) -> Estimate:
    """Mean over the homes; one home tells nothing of others."""
    if len(chances) < 2:
        return Estimate(sum(chances), 0.0, 1.0)
    return estimate(chances, least=0.0, most=1.0)


def _write(out: Path, rows: Sequence[dict[str, Any]]) -> Path:
    """The rows as Parquet, or as CSV without pyarrow; every row with every column."""
    names = list(dict.fromkeys(name for row in rows for name in row))
    full = [{name: row.get(name) for name in names} for row in rows]
    try:
        path = out / "results.parquet"
        write_rows(path, full)
    except MissingExtraError:
        path = out / "results.csv"
        write_rows(path, full)
    return path


def remedy_worths(rows: Sequence[dict[str, Any]]) -> tuple[RemedyWorth, ...]:
    """What each remedy saves per 1000 spent over all homes that could have it, the best first."""
    found = []
    for ident, name in NAMES.items():
        tried = [row for row in rows if row.get(f"{ident}_cost") is not None]
        costs = [row[f"{ident}_cost"] for row in tried]
        spent = sum(costs)
        if spent <= 0.0:
            continue
        harm, food = (
            ratio([r[f"{ident}_{what}_saved_per_year"] for r in tried], costs) for what in ("harm", "food")
        )
        found.append(
            RemedyWorth(
                ident,
                name,
                len(tried),
                spent / len(tried),
                harm.times(1000.0),
                food.times(1000.0),
                sum(bool(row[f"{ident}_keeps_water"]) for row in tried),
            )
        )
    return tuple(sorted(found, key=lambda x: -x.harm_saved_per_1000.value))
