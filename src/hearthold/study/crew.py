"""Who does the work: this process, a pool of processes, or a cluster. All give the same rows; none loses a home.

A worker that dies takes nothing with it but its own unfinished pieces, and these are done again. Only a home that
kills its worker whenever it is run alone is given up, and said to have done so.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing import get_context
from typing import TYPE_CHECKING, Any

from hearthold.errors import InputError, MissingExtraError
from hearthold.study.onehome import Done, Job, study_homes

if TYPE_CHECKING:
    from collections.abc import Callable

PIECE = 4  # homes that travel together
_THREADS = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")
_ADDRESS = re.compile(r"[a-z]+://[^\s/]+:\d+/?")
_TRIES = 2  # of a whole pool before homes are run one by one
_KILLED = "the process that ran this home died each time; it was given up"


def pieces(jobs: Sequence[Job], size: int = PIECE) -> list[list[Job]]:
    """Jobs in pieces of a few."""
    return [list(jobs[i : i + size]) for i in range(0, len(jobs), size)]


def here(jobs: Sequence[Job], work: Callable[[list[Job]], list[Done]] = study_homes) -> Iterator[list[Done]]:
    """One after another in this process."""
    for piece in pieces(jobs):
        yield work(piece)


def pool(
    jobs: Sequence[Job], workers: int, work: Callable[[list[Job]], list[Done]] = study_homes
) -> Iterator[list[Done]]:
    """On a pool of processes of this machine. Raises InputError for fewer than one worker."""
    if workers < 1:
        raise InputError(f"{workers} workers; allowed 1 and above.", code="out_of_range")
    waiting = list(jobs)
    for _ in range(_TRIES):
        finished: set[str] = set()
        for done in _until_broken(waiting, workers, work):
            finished |= {x.file for x in done}
            yield done
        waiting = [job for job in waiting if job.file not in finished]
        if not waiting:
            return
    for job in waiting:
        yield _alone(job, work)


def _until_broken(
    jobs: Sequence[Job], workers: int, work: Callable[[list[Job]], list[Done]]
) -> Iterator[list[Done]]:
    """What a pool finishes before one of its processes dies, if one does."""
    with _one_thread_each(), ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as crew:
        futures = [crew.submit(work, piece) for piece in pieces(jobs)]
        for future in as_completed(futures):
            try:
                yield future.result()
            except BrokenProcessPool:
                continue


@contextmanager
def _one_thread_each() -> Iterator[None]:
    """Processes started meanwhile do their linear algebra on one thread each: there is a process for every core."""
    before = {name: os.environ.get(name) for name in _THREADS}
    os.environ.update(dict.fromkeys(_THREADS, "1"))
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value


def _alone(job: Job, work: Callable[[list[Job]], list[Done]]) -> list[Done]:
    """One home in a process of its own."""
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as crew:
        try:
            return crew.submit(work, [job]).result()
        except BrokenProcessPool:
            return [Done(job.file, None, _KILLED)]


def cluster(
    jobs: Sequence[Job], address: str, work: Callable[[list[Job]], list[Done]] = study_homes
) -> Iterator[list[Done]]:
    """On the workers of a running Dask scheduler; texts travel, so they need no folder in common.

    Raises: MissingExtraError without distributed; InputError where no scheduler answers at the address.
    """
    client = _client(address)
    try:
        yield from _finished(client, pieces(jobs), work, last=False)
    finally:
        client.close()


def _finished(
    client: Any, some: list[list[Job]], work: Callable[[list[Job]], list[Done]], last: bool
) -> Iterator[list[Done]]:
    """Pieces as they finish; those that killed their worker too often once more, home by home."""
    from distributed import as_completed as as_finished

    futures = client.map(work, some, pure=False, retries=2)
    piece_of = {future.key: piece for future, piece in zip(futures, some, strict=True)}
    again: list[list[Job]] = []
    for future in as_finished(futures, loop=client.loop):
        piece = piece_of[future.key]
        if future.status == "finished":
            yield future.result()
        elif last:
            yield [Done(job.file, None, f"{_KILLED} ({_named(future)})") for job in piece]
        else:
            again += [[job] for job in piece]
    if again:
        yield from _finished(client, again, work, last=True)


def _named(future: Any) -> str:
    return type(future.exception()).__name__


def _client(address: str) -> Any:
    try:
        from distributed import Client
    except ImportError:
        raise MissingExtraError("a cluster needs Dask: pip install 'hearthold[cluster]'.") from None
    if not _ADDRESS.fullmatch(address):
        raise InputError(
            f"--cluster is {address!r}; give the address of a Dask scheduler, such as tcp://host:8786.",
            code="no_cluster",
        )
    try:
        return Client(address, timeout="10s", set_as_default=False)
    except (OSError, ValueError, TimeoutError) as problem:
        raise InputError(
            f"--cluster is {address}: no scheduler answers there ({type(problem).__name__}); start one with: dask "
            "scheduler, or leave --cluster out to run on this machine.",
            code="no_scheduler",
        ) from None
