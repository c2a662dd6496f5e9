"""Figures in words: the unit that people read in their place, rounded as a person would."""

import pytest

from hearthold.house.site import VoltageSystem
from hearthold.rules.words import blanked, filled, likely_words, listed, names_in, spoken

US, IEC = VoltageSystem.SPLIT_120_240, VoltageSystem.SINGLE_230

# name, SI value, words in North America, words elsewhere; conversions after NIST SP 811
SPOKEN = [
    ("distance_m", 6.096, "20 ft (6.1 m)", "6.1 m"),
    ("tank_m3", 0.003785411784 * 5.8, "5.8 gal (22 L)", "22 L"),
    ("freezer_box_m3", 18 * 0.3048**3, "18 cu ft (510 L)", "510 L"),
    ("limit_c", 40 / 9, "40 °F (4.4 °C)", "4.4 °C"),
    ("limit_c", -20.0, "-4 °F (-20 °C)", "-20 °C"),
    ("step_k", 10.0, "18 °F", "10 K"),
    ("can_kg", 45.359237, "100 lb (45.4 kg)", "45.4 kg"),
    ("flow_m3_per_s", 1.0515032733e-6 * 6, "6 gal/h (22.7 L/h)", "22.7 L/h"),
    ("running_w", 5234.0, "5,230 W", "5,230 W"),
    ("running_w", 90.0, "90 W", "90 W"),
    ("start_va", 12345.0, "12,300 VA", "12,300 VA"),
    ("load_a", 13.333, "13.3 A", "13.3 A"),
    ("drop_frac", 0.0361, "3.6 %", "3.6 %"),
    ("share_frac", 1.666, "167 %", "167 %"),
    ("wait_s", 45.0, "45 s", "45 s"),
    ("wait_s", 900.0, "15 min", "15 min"),
    ("hold_s", 4.0 * 3600, "4 h", "4 h"),
    ("hold_s", 26.4 * 3600, "26 h", "26 h"),
    ("ago_s", 36 * 86400.0, "36 days", "36 days"),
    ("age_s", 13 * 2629746.0, "13 months", "13 months"),
    ("life_s", 5 * 31556952.0, "5 years", "5 years"),
    ("electrode_ohm", 1666.7, "1,667 ohm", "1,667 ohm"),
    ("value_money", 1250.0, "1,250", "1,250"),
    ("held_j", 3.6e6 * 5, "5 kWh", "5 kWh"),
    ("count", 12, "12", "12"),
    ("machine", "big set", "big set", "big set"),
]


@pytest.mark.parametrize(("name", "value", "american", "metric"), SPOKEN)
def test_value_is_spoken_in_the_units_of_the_place(name, value, american, metric):
    assert spoken(name, value, US) == american
    assert spoken(name, value, IEC) == metric


def test_a_fraction_without_a_unit_is_refused():
    with pytest.raises(ValueError, match=r"distance = 3\.5 does not end in a unit"):
        spoken("distance", 3.5, US)


def test_template_is_filled_and_a_missing_value_is_not_passed_over():
    assert filled("At {given_m}, not {limit_m}.", {"given_m": 3.048, "limit_m": 6.096}, US) == (
        "At 10 ft (3.05 m), not 20 ft (6.1 m)."
    )
    with pytest.raises(KeyError, match="limit_m"):
        filled("{limit_m}", {}, US)
    assert names_in("{a} and {b_w}") == ("a", "b_w")


def test_blanks_show_the_limits_and_hide_the_figures():
    assert blanked("{given_m} of {limit_m}", {"limit_m": 6.096}, IEC) == "<given> of 6.1 m"


def test_names_are_listed_as_a_person_lists_them():
    assert listed([]) == ""
    assert listed(["a"]) == "a"
    assert listed(["a", "b", "a", "c"]) == "a, b and c"
    assert listed("abcdefgh", most=4) == "a, b, c and 5 more"


def test_a_hold_without_end_is_said_in_words():
    assert likely_words(float("inf"), US) == "while the likely answer is that it never gets there"
    assert likely_words(7200.0, US) == "while 2 h is likely"
