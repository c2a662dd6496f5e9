"""Figures in words. NIST SP 811 (2008): 1 gal = 3.785412 L, 1 ft = 0.3048 m, 1 lb = 0.4535924 kg."""

from math import inf

import pytest

from hearthold.faces.cli.report.say import Say, clock, duration, figure, names, share, whole

US, METRIC = Say(us=True), Say(us=False, currency="GBP")


@pytest.mark.parametrize(
    ("said", "us", "metric"),
    [
        (lambda s: s.volume(3.785412e-3), "1.00 gal", "3.79 L"),
        (lambda s: s.length(6.096), "20.0 ft", "6.10 m"),
        (lambda s: s.mass(9.071847), "20.0 lb", "9.07 kg"),
        (lambda s: s.temperature(-40.0), "-40 F", "-40.0 C"),
        (lambda s: s.temperature(4.444444), "40 F", "4.4 C"),
        (lambda s: s.step(10.0), "18 F", "10.0 K"),
        (lambda s: s.fuel_rate(3.785412e-3 / 3600), "1.00 gal/h", "3.79 L/h"),
        (lambda s: s.power(7126.0), "7,130 W", "7,130 W"),
        (lambda s: s.power(14400.0), "14.4 kW", "14.4 kW"),
        (lambda s: s.volt_amps(940.0), "940 VA", "940 VA"),
        (lambda s: s.current(29.69), "29.7 A", "29.7 A"),
        (lambda s: s.energy(3.6e6), "1.00 kWh", "1.00 kWh"),
        (lambda s: s.money(1234.5), "1,234 USD", "1,234 GBP"),
        (lambda s: s.in_words(0.5, "of 1"), "50 %", "50 %"),
        (lambda s: s.in_words(3.785412e-3, "m3"), "1.00 gal", "3.79 L"),
        (lambda s: s.in_words(20.0, "degC"), "68 F", "20 C"),
        (lambda s: s.in_words(960.0, "W"), "960 W", "960 W"),
        (
            lambda s: s.retold("15 degC indoors, 76 L left"),
            "59 F indoors, 20.1 gal left",
            "15 C indoors, 76 L left",
        ),
    ],
)
def test_quantities(said, us, metric):
    assert said(US) == us
    assert said(METRIC) == metric


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0, "0"),
        (0.1234, "0.12"),
        (3.14159, "3.14"),
        (9.999, "10.0"),
        (42.42, "42.4"),
        (99.96, "100"),
        (123.4, "123"),
        (12345, "12,300"),
        (inf, "no end"),
    ],
)
def test_figures_keep_three_digits(value, text):
    assert figure(value) == text


@pytest.mark.parametrize(
    ("seconds", "text"),
    [
        (0, "at once"), (40, "40 s"), (600, "10 min"), (5400, "1.5 h"), (5399, "90 min"), (7200, "2 h"),
        (90000, "25 h"),
        (3 * 86400, "3 days"), (4.5 * 86400, "4.5 days"), (30 * 86400, "30 days"), (inf, "no end"),
    ],
)  # fmt: skip
def test_durations(seconds, text):
    assert duration(seconds) == text


def test_small_words():
    assert clock(6.5 * 3600) == "06:30"
    assert clock(86400) == "00:00"
    assert share(0.056) == "5.6 %"
    assert share(0.5) == "50 %"
    assert whole(9421.7) == "9,422"
    assert names([]) == "none"
    assert names(["a"]) == "a"
    assert names(["a", "b", "c"]) == "a, b and c"
    assert names(list("abcdef"), 4) == "a, b, c and 3 more"
