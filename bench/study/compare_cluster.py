"""What several processes cost over one, at equal total cores: a pool, and a Dask cluster on the loopback.

Run: python bench/study/compare_cluster.py

Each crew is started and has loaded the engine before its clock runs, and does its linear algebra on one thread. One
process stands against one Dask worker, two plain processes with half of the homes each against two Dask workers.
Rounds alternate; medians count. Client and scheduler need some of the same cores.
"""

import os
import statistics
import time
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

os.environ |= dict.fromkeys(("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"), "1")  # a core each, Dask or not

from distributed import LocalCluster

from hearthold.study import crew
from hearthold.study.onehome import Asked, Job, study_homes
from hearthold.study.village import village

HOMES, WORKERS, ROUNDS = 64, 2, 3
ASKED = Asked("2026-11-01")
_QUIET = {"threads_per_worker": 1, "processes": True, "dashboard_address": ":0", "silence_logs": 50}


def jobs(round_, count=HOMES):
    """Homes that were not run before, so that nothing is remembered."""
    return [Job(f"{round_}-{h.file}", h.text, ASKED) for h in village(count, seed=round_)]


def timed(work):
    begun = time.perf_counter()
    found = [x for done in work() for x in done]
    return time.perf_counter() - begun, found


def main():
    one, solo, pair, many = [], [], [], []
    with (
        ProcessPoolExecutor(WORKERS, mp_context=get_context("spawn")) as plain,
        LocalCluster(n_workers=WORKERS, host="127.0.0.1", **_QUIET) as two,
        LocalCluster(n_workers=1, host="127.0.0.1", **_QUIET) as single,
    ):
        list(plain.map(study_homes, crew.pieces(jobs(96, 16))))
        list(crew.cluster(jobs(99, 16), two.scheduler_address))
        list(crew.cluster(jobs(98, 8), single.scheduler_address))
        list(crew.here(jobs(97, 4)))
        for number in range(ROUNDS):
            some = jobs(number)
            answers = [
                keep(one, lambda s=some: crew.here(s)),
                keep(solo, lambda s=some: crew.cluster(s, single.scheduler_address)),
                keep(pair, lambda s=some: plain.map(study_homes, crew.pieces(s, HOMES // WORKERS))),
                keep(many, lambda s=some: crew.cluster(s, two.scheduler_address)),
            ]
            assert all(found == answers[0] for found in answers)
    told("one worker", one, solo)
    told(f"{WORKERS} workers", pair, many)


def keep(times, work):
    """Note the wall time of some work, and give its rows by file."""
    spent_s, found = timed(work)
    times.append(spent_s)
    return {x.file: x for x in found}


def told(name, plain, dask):
    base, other = statistics.median(plain), statistics.median(dask)
    extra = 100.0 * (other / base - 1.0)
    print(
        f"{name}: {base:.2f} s for {HOMES} homes without Dask, {other:.2f} s with: {extra:+.0f} % (aim: under 15 %)"
    )


if __name__ == "__main__":
    main()
