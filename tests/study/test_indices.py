import numpy as np
import pytest

from hearthold.errors import InputError
from hearthold.study import indices


def test_index_identities_hold_on_a_random_table():
    rng = np.random.default_rng(3)
    length_s, out = rng.uniform(400.0, 1e5, 50), rng.integers(1, 500, 50)
    saidi, saifi = indices.saidi_s(length_s, out, 900.0), indices.saifi_per_customer(length_s, out, 900.0)
    assert saidi == pytest.approx(saifi * indices.caidi_s(length_s, out))
    assert indices.asai_frac(length_s, out, 900.0, 3.2e7) == pytest.approx(1.0 - saidi / 3.2e7)


def test_five_minutes_are_momentary_and_count_nowhere():
    assert indices.saidi_s([300.0, 600.0], [100, 10], 100.0) == pytest.approx(60.0)
    with pytest.raises(InputError, match="no sustained interruption"):
        indices.caidi_s([300.0], [100])


def test_major_day_threshold_leaves_quiet_days_out_and_marks_few_days():
    rng = np.random.default_rng(1)
    days_s = np.exp(rng.normal(3.0, 1.4, 1825))
    threshold = indices.major_day_threshold_s(np.concatenate([days_s, np.zeros(100)]))
    assert np.log(threshold) == pytest.approx(3.0 + 2.5 * 1.4, abs=0.15)
    # 2.3 days a year in theory (0.62 % of a normal lies beyond 2.5 deviations): IEEE 1366, clause 5.
    assert np.mean(days_s > threshold) == pytest.approx(0.0062, abs=0.004)


@pytest.mark.parametrize(
    ("given", "match"),
    [
        (([600.0], [1, 2], 10.0), "one of each"),
        (([-1.0], [1], 10.0), "0 or more"),
        (([600.0], [1], 0.0), "customers served above 0"),
    ],
)
def test_bad_tables_are_refused(given, match):
    with pytest.raises(InputError, match=match):
        indices.saidi_s(*given)


def test_a_period_shorter_than_the_outages_and_too_few_days_are_refused():
    with pytest.raises(InputError, match="at least SAIDI"):
        indices.asai_frac([7200.0], [10], 10.0, 3600.0)
    with pytest.raises(InputError, match="1 days with interruptions"):
        indices.major_day_threshold_s([0.0, 5.0])
