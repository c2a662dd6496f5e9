"""Speed and sharpness of the study, as ratios in one run.

Run: python bench/study/risk.py

1. How many plain random outages, and how much of the engine's time, the estimator replaces at equal error.
2. Time to know every chance to half a point at 95 %.
3. `risk` end to end, once the engine is compiled.
"""

import time
from datetime import date
from pathlib import Path

import numpy as np

from hearthold.engine.compile import compile_house
from hearthold.engine.run import simulate_many
from hearthold.house.reader import read_house
from hearthold.reference.outages import outage_model
from hearthold.study.chosen import outages_of
from hearthold.study.draws import COLD, DAY_S, EACH, draw
from hearthold.study.estimate import estimate
from hearthold.study.habit import usual_habit
from hearthold.study.outages import from_model
from hearthold.study.risk import Effort, risk
from hearthold.study.tracks import follow
from hearthold.study.weather import climate_of
from hearthold.study.weigh import gather

HOUSE = read_house(Path(__file__).parents[2] / "examples" / "tarn_hollow.toml")
LONGEST_S = 14 * DAY_S
ROUNDS = 128


def cpu_s(work):
    """Processor time of a piece of work and what it returns."""
    begun = time.process_time()
    found = work()
    return time.process_time() - begun, found


def sharpness(compiled, habit, climate):
    """Variance and cost against plain sampling, a loss a line."""
    stream = from_model(outage_model("us_average")).major
    scenarios = [
        draw(climate, stream, seed=1, number=n, longest_s=LONGEST_S, shares=COLD) for n in range(ROUNDS)
    ]
    follow(compiled, habit.controls, scenarios[0], threads=1)
    smart_s, tracks = cpu_s(lambda: [follow(compiled, habit.controls, s, threads=1) for s in scenarios])
    wide = draw(climate, stream, seed=2, number=0, longest_s=LONGEST_S, each=4096)
    rng = np.random.default_rng(3)
    length_s = np.minimum(np.exp(rng.normal(np.log(stream.median_s[0]), stream.sigma[0], 4096)), LONGEST_S)

    def plainly():
        return simulate_many(compiled, wide.hours, habit.controls[0], wide.start_s, length_s, threads=1)

    plainly()
    plain_s, _ = cpu_s(plainly)
    part = gather(tracks, stream)
    chances = part.chances(stream.survival_frac(part.time_s))
    print(
        f"an outage followed {smart_s / ROUNDS / EACH * 1e3:.2f} ms, a plain one {plain_s / 4096 * 1e3:.2f} ms"
    )
    print(f"{'loss':<18}{'chance':>9}{'variance ratio':>16}{'time ratio':>12}")
    for i, loss in enumerate(tracks[0].losses):
        p, variance = chances[:, i].mean(), chances[:, i].var(ddof=1)
        if not 1e-4 < p < 1.0 - 1e-4 or variance == 0.0:
            continue
        ratio = p * (1.0 - p) / EACH / variance
        time_ratio = ratio * (plain_s / 4096) / (smart_s / ROUNDS / EACH)
        print(f"{loss.id:<18}{p:>9.4f}{ratio:>16.0f}{time_ratio:>12.0f}")


def half_a_point(compiled, habit, climate):
    """Time until the chance of each loss in a major outage is known to half a point, least four rounds."""
    stream = from_model(outage_model("us_average")).major
    tracks, known, begun, cpu = [], {}, time.perf_counter(), time.process_time()
    ids: list[str] = []
    while len(known) < max(1, len(ids)) and len(tracks) < 80:
        drawn = draw(climate, stream, seed=5, number=len(tracks), longest_s=LONGEST_S, each=64)
        tracks.append(follow(compiled, habit.controls, drawn))
        ids = [x.id for x in tracks[0].losses]
        if len(tracks) < 4:
            continue
        part = gather(tracks, stream)
        chances = part.chances(stream.survival_frac(part.time_s))
        spent = (time.perf_counter() - begun, time.process_time() - cpu)
        for name, column in zip(ids, chances.T, strict=True):
            if name not in known and estimate(column).half <= 0.005:
                known[name] = (len(tracks) * 64, *spent)
    print("known to half a point at 95 % (target 0.2 s):")
    for name, (count, wall_s, cpu_s_) in known.items():
        print(f"{name:<18}{count:>6} outages{wall_s:>8.2f} s wall{cpu_s_:>8.2f} s processor")


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
