"""Speed and sharpness of the study, as ratios in one run.

Run: python bench/study/risk.py

1. How many plain random outages, and how much of the engine's time, the estimator replaces at equal error.
2. Time to know every chance to half a point at 95 %.
3. `risk` end to end, once the engine is compiled.
"""

import os
import time
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path

os.environ |= dict.fromkeys(("OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"), "1")  # as the command line has it

import numpy as np

from hearthold.engine.compile import compile_house
from hearthold.engine.run import simulate_many
from hearthold.house.reader import read_house
from hearthold.reference.outages import outage_model
from hearthold.study.chosen import outages_of
from hearthold.study.draws import COLD, DAY_S, EACH, draw
from hearthold.study.estimate import estimate, reach_of
from hearthold.study.habit import usual_habit
from hearthold.study.outages import from_model
from hearthold.study.risk import Effort, risk
from hearthold.study.tracks import follow
from hearthold.study.weather import climate_of
from hearthold.study.weigh import gather

HOUSE = read_house(Path(__file__).parents[2] / "examples" / "tarn_hollow.toml")
LONGEST_S = 14 * DAY_S
ANSWERS, ROUNDS = 100, 6  # independent answers, and the rounds of each: as many as `risk` takes on this house


def cpu_s(work):
    """Processor time of a piece of work and what it returns."""
    begun = time.process_time()
    found = work()
    return time.process_time() - begun, found


def rounds_of(compiled, habit, climate, stream, seed, count):
    """The rounds of one answer, as `risk` draws them."""
    for n in range(count):
        drawn = draw(climate, stream, seed=seed, number=n, longest_s=LONGEST_S, shares=COLD)
        yield follow(compiled, habit.controls, drawn, threads=1)


def sharpness(compiled, habit, climate):
    """Variance and cost against plain sampling, a loss a line."""
    stream = from_model(outage_model("us_average")).major
    found, smart_s, count = [], 0.0, ROUNDS * EACH
    ids: list[str] = []
    next(rounds_of(compiled, habit, climate, stream, 0, 1))
    for seed in range(ANSWERS):
        spent_s, tracks = cpu_s(lambda s=seed: list(rounds_of(compiled, habit, climate, stream, s, ROUNDS)))
        part, ids = gather(tracks, stream), [x.id for x in tracks[0].losses]
        found.append(part.chances(stream.survival_frac(part.time_s)))
        smart_s += spent_s / ANSWERS
    wide = draw(climate, stream, seed=2, number=0, longest_s=LONGEST_S, each=4096)
    rng = np.random.default_rng(3)
    length_s = np.minimum(np.exp(rng.normal(np.log(stream.median_s[0]), stream.sigma[0], 4096)), LONGEST_S)

    def plainly():
        return simulate_many(compiled, wide.hours, habit.controls[0], wide.start_s, length_s, threads=1)

    plainly()
    plain_s, _ = cpu_s(plainly)
    print(
        f"{count} outages an answer, {smart_s / count * 1e3:.2f} ms each; a plain one {plain_s / 4096 * 1e3:.2f} ms"
    )
    print(f"{'loss':<18}{'chance':>9}{'variance ratio':>16}{'time ratio':>12}{'held':>8}")
    rounds = np.array(found)  # (answers, rounds, losses)
    means, reach = rounds.mean(axis=1), np.array([reach_of(x) for x in rounds])
    for i, name in enumerate(ids):
        p, variance = means[:, i].mean(), means[:, i].var(ddof=1)
        if not 1e-4 < p < 1.0 - 1e-4 or variance == 0.0:
            continue
        ratio = p * (1.0 - p) / count / variance
        time_ratio = ratio * (plain_s / 4096) / (smart_s / count)
        held = np.mean(np.abs(means[:, i] - p) <= reach[:, i])
        print(f"{name:<18}{p:>9.4f}{ratio:>16.0f}{time_ratio:>12.0f}{held:>8.2f}")
    print(
        f"standard error of a ratio: {100.0 * (2.0 / (ANSWERS - 1)) ** 0.5:.0f} %; held: how often the interval did"
    )


def half_a_point(compiled, habit, climate):
    """Time until the chance of each loss in a major outage is known to half a point, least four rounds; two threads."""
    stream = from_model(outage_model("us_average")).major

    def one(number):
        drawn = draw(climate, stream, seed=5, number=number, longest_s=LONGEST_S, each=128, shares=COLD)
        tracks = follow(compiled, habit.controls, drawn, threads=1)
        part = gather([tracks], stream)
        return [x.id for x in tracks.losses], part.chances(stream.survival_frac(part.time_s))[0]

    with ThreadPoolExecutor() as pool:
        times = [until_known(pool, one) for _ in range(5)]
    print(
        "known to half a point at 95 % (target 0.2 s): wall time of the first of five, median, median of processor"
    )
    for name, (count, *_) in times[0].items():
        walls, cpus = ([x[name][i] for x in times] for i in (1, 2))
        told = "".join(f"{x:>8.2f} s" for x in (walls[0], np.median(walls), np.median(cpus)))
        print(f"{name:<18}{count:>6} outages{told}")


def until_known(pool, one):
    """Outages, wall and processor time at which each loss is known, run round by round."""
    begun, cpu = time.perf_counter(), time.process_time()
    rounds, known = list(pool.map(one, range(4))), {}
    ids = rounds[0][0]
    while len(known) < len(ids) and len(rounds) < 64:
        chances = np.array([found for _, found in rounds])
        spent = (time.perf_counter() - begun, time.process_time() - cpu)
        for name, column in zip(ids, chances.T, strict=True):
            if name not in known and estimate(column).half <= 0.005:
                known[name] = (len(rounds) * 128, *spent)
        rounds += pool.map(one, range(len(rounds), len(rounds) + 2))
    return known


def end_to_end(habit):
    """`risk` as the command runs it, routine in hand."""
    outages = outages_of(HOUSE, date(2026, 10, 14))
    times, cpu = [], []
    for seed in range(5):
        begun, cpu_begun = time.perf_counter(), time.process_time()
        found = risk(HOUSE, habit.controls, outages, seed=seed, effort=Effort())
        times.append(time.perf_counter() - begun)
        cpu.append(time.process_time() - cpu_begun)
    print(
        f"risk end to end: {np.median(times):.2f} s wall, {np.median(cpu):.2f} s processor, {found.tracks} outages "
        f"worth {found.worth_count:,.0f} plain ones (target 2 s)"
    )


if __name__ == "__main__":
    habit, climate, compiled = usual_habit(HOUSE), climate_of(HOUSE), compile_house(HOUSE)
    sharpness(compiled, habit, climate)
    half_a_point(compiled, habit, climate)
    end_to_end(habit)
