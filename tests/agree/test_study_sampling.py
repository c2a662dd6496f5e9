"""The survival-averaged estimator against plain sampling of the same engine; intervals against repetition."""

from pathlib import Path

import numpy as np
import pytest

from hearthold.engine.compile import compile_house
from hearthold.engine.control import DailySpell, Routine
from hearthold.engine.run import simulate_many
from hearthold.house.reader import read_house
from hearthold.reference.outages import outage_model
from hearthold.study.draws import COLD, DAY_S, EVEN, draw
from hearthold.study.estimate import estimate
from hearthold.study.outages import from_model
from hearthold.study.tracks import follow
from hearthold.study.weather import climate_of
from hearthold.study.weigh import gather

LONGEST_S = 14 * DAY_S
RARE = ("pantry_freezer", "chest_freezer", "water", "effluent", "fuel")
EACH, ROUNDS, TOGETHER = 32, 48, 4  # rounds of one answer belong together, and answers are independent


@pytest.fixture(scope="module")
def house():
    return read_house(Path(__file__).parents[2] / "examples" / "tarn_hollow.toml")


@pytest.fixture(scope="module")
def stream():
    return from_model(outage_model("us_average")).major


@pytest.fixture(scope="module")
def compiled(house):
    return compile_house(house)


ROUTINE = Routine(
    (DailySpell(6 * 3600, 9000.0), DailySpell(13.5 * 3600, 9000.0), DailySpell(20.5 * 3600, 5400.0))
)


@pytest.fixture(scope="module", params=[EVEN, COLD], ids=["even", "cold"])
def rounds(house, compiled, stream, request):
    """(rounds, losses) estimates of the rounds of twelve answers, and the losses' ids: weather as it comes, or more
    cold.
    """
    climate = climate_of(house)
    tracks = [
        follow(
            compiled,
            ROUTINE,
            draw(
                climate,
                stream,
                seed=21 + n // TOGETHER,
                number=n % TOGETHER,
                longest_s=LONGEST_S,
                each=EACH,
                shares=request.param,
            ),
        )
        for n in range(ROUNDS)
    ]
    part = gather(tracks, stream)
    return part.chances(stream.survival_frac(part.time_s)), [x.id for x in tracks[0].losses]


@pytest.fixture(scope="module")
def plain(house, compiled, stream):
    """20,000 plain random outages through the engine: random start, weather and length, nothing clever."""
    rng = np.random.default_rng(8)
    count, batches = 4096, 5
    lost, fuel_m3 = [], []
    for n in range(batches):
        drawn = draw(climate_of(house), stream, seed=99, number=n, longest_s=LONGEST_S, each=count)
        length_s = np.exp(rng.normal(np.log(stream.median_s[0]), stream.sigma[0], count))
        length_s = np.clip(length_s, 1.0, LONGEST_S)
        out = simulate_many(compiled, drawn.hours, ROUTINE, drawn.start_s, length_s)
        lost.append(
            np.column_stack(
                [
                    np.isfinite(out.food_lost_s),
                    np.isfinite(out.air_first_s),
                    np.isfinite(out.medical_first_s[:, 0]),
                    out.pipes_at_risk,
                    np.isfinite(out.fuel_out_s),
                ]
            )
        )
        fuel_m3.append(out.fuel_m3)
    return np.concatenate(lost), np.concatenate(fuel_m3)


def test_chances_are_those_of_plain_sampling(rounds, plain, compiled):
    chances, ids = rounds
    lost, _ = plain
    named = [*compiled.cold_ids, "house", "cpap", "pipes", "fuel"]
    for column, name in enumerate(named):
        mean = chances[:, ids.index(name)].mean()
        error = chances[:, ids.index(name)].std(ddof=1) / ROUNDS**0.5
        p = lost[:, column].mean()
        other = np.sqrt(max(p * (1.0 - p), 1e-6) / len(lost))
        # Seven comparisons: 3.5 errors is one false alarm in 300 runs; the grids of time add at most 2e-4.
        assert abs(mean - p) < 3.5 * np.hypot(error, other) + 2e-4, name


def test_expected_fuel_is_that_of_plain_sampling(house, compiled, stream, plain):
    _, fuel_m3 = plain
    climate = climate_of(house)
    tracks = [
        follow(compiled, ROUTINE, draw(climate, stream, seed=22, number=n, longest_s=LONGEST_S, each=EACH))
        for n in range(8)
    ]
    part = gather(tracks, stream)
    at = [x.id for x in tracks[0].accounts].index("fuel_m3")
    found = part.amounts(stream.survival_frac(part.time_s))[:, at].mean()
    assert found == pytest.approx(fuel_m3.mean(), abs=4.0 * fuel_m3.std() / len(fuel_m3) ** 0.5)


def test_an_answer_is_as_sharp_as_a_hundred_times_as_many_plain_outages(house, compiled, stream):
    """Variance of six rounds together against p (1 - p) / n, every loss. Twenty answers know it to a third, so half of
    the hundred is asked. Rounds that did not belong together would reach some 90 for the fridge and 60 for the house.
    """
    climate, each, count, answers = climate_of(house), 256, 6, 20
    found = []
    for seed in range(answers):
        tracks = [
            follow(
                compiled,
                ROUTINE,
                draw(climate, stream, seed=seed, number=n, longest_s=LONGEST_S, each=each, shares=COLD),
            )
            for n in range(count)
        ]
        part = gather(tracks, stream)
        found.append(part.chances(stream.survival_frac(part.time_s)).mean(axis=0))
    p, variance = np.mean(found, axis=0), np.var(found, axis=0, ddof=1)
    gain = p * (1.0 - p) / (each * count) / variance
    assert min(gain[(p > 1e-4) & (p < 1.0 - 1e-4)]) > 50.0, gain


@pytest.mark.parametrize("loss", RARE)
def test_rare_losses_scatter_a_hundred_times_less_than_plain_sampling(rounds, loss):
    """Variance of a round against p (1 - p) / n of as many plain outages."""
    chances, ids = rounds
    column = chances[:, ids.index(loss)]
    p = column.mean()
    assert 0.0 < p < 0.2
    assert p * (1.0 - p) / EACH / column.var(ddof=1) > 100.0


def test_intervals_hold_the_truth_about_as_often_as_they_say(rounds):
    """Twelve answers of four rounds each for every loss, against the mean of all 48."""
    chances, _ = rounds
    truth, held, count = chances.mean(axis=0), 0, 0
    for group in chances.reshape(ROUNDS // TOGETHER, TOGETHER, -1):
        for column, true in zip(group.T, truth, strict=True):
            if column.std() > 0.0:
                found = estimate(column)
                held, count = held + (found.low <= true <= found.high), count + 1
    # 95 % promised; answers of one group share their outages, so the scatter is that of some 40 tries.
    assert held / count > 0.87
