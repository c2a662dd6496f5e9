"""Words for figures: what people read, not what the house file calls it."""

import math
from pathlib import Path

import pytest

from hearthold.house.reader import read_house
from hearthold.papers.words.assumed import assumed_place
from hearthold.papers.words.kept import limit, worst
from hearthold.papers.words.say import Say
from hearthold.plan.kept import StoreKept

EXAMPLES = Path(__file__).parents[2] / "examples"
KEYS = ("_", "ua w", "per k", "cooling w", "running w")


@pytest.mark.parametrize("name", ["tarn_hollow", "skerrow_croft"])
def test_every_assumed_figure_is_named_as_people_say_it(name):
    house = read_house(EXAMPLES / f"{name}.toml")
    told = [assumed_place(a.item, house) for a in house.assumptions]
    assert [words for words in told if any(key in words for key in KEYS) or not words[0].isupper()] == []


def store(kind, unit, bound, low, high, *, kept=False, missed=0.0):
    first_s = math.inf if kept else 3600.0
    return StoreKept("x", "X", kind, unit, low, high, bound, 60.0, first_s, missed, True, kept)


def test_a_breach_of_a_fraction_of_a_degree_is_seen():
    """40 F is 4.444 degC: 4.7 degC is 40.5 F."""
    fridge = store("food", "degC", 40 / 1.8 - 32 / 1.8, 2.0, 4.7)
    assert (worst(fridge, Say(us=True)), limit(fridge, Say(us=True))) == ("40.5 F", "40 F")
    far = store("food", "degC", 40 / 1.8 - 32 / 1.8, 2.0, 10.0)
    assert worst(far, Say(us=True)) == "50 F"
    cold = store("house", "degC", 10.0, 9.6, 20.0)
    assert worst(cold, Say(us=False)) == "9.6 C"


def test_what_ran_over_or_came_short_is_an_amount_and_nothing_where_it_did_not():
    assert worst(store("pit", "m3", 0.0, 0.0, 0.0, missed=0.0378541), Say(us=True)) == "10.0 gal over"
    assert worst(store("water", "m3", 0.0, 0.0, 0.0, missed=0.060), Say(us=False)) == "60.0 L short"
    assert worst(store("water", "m3", 0.0, 0.0, 0.0, kept=True), Say(us=False)) == ""
