"""The electrician's brief: its sums add up, it asks what the hookup leaves open, and nothing that it does not."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest
from tests.papers import houses
from tests.papers.pages import pages
from tests.papers.plans import TODAY, plan_of
from tests.papers.test_diagram import small_set

from hearthold.house.house import House
from hearthold.house.supply import HookupKind
from hearthold.papers.brief import brief
from hearthold.papers.make import job_of


@cache
def words_with(kind: HookupKind | None, house: str = "tarn") -> str:
    """What the brief of an example says with another way in."""
    return words_of(houses.with_hookup(getattr(houses, house)(), kind))


def words_of(house: House) -> str:
    """All words of a house's brief, blanks squeezed."""
    pdf = brief(job_of(plan_of(house), house, today=TODAY))
    return " ".join(" ".join(page.text for page in pages(pdf)).split())


def section(text: str, head: str, until: str) -> str:
    return text[text.index(head) : text.index(until, text.index(head))]


def test_rows_of_the_dwelling_calculation_sum_to_what_is_printed() -> None:
    """NEC 220.82 by hand: the rows give the general load, 10 kVA of it count in full and 40 % of the rest."""
    found = section(words_with(HookupKind.AUTOMATIC_STANDBY), "Load calculation", "Starting analysis")
    rows, steps = found.split("General load, before demand factors")
    added = [float(x.replace(",", "")) for x in re.findall(r" 100 % ([\d,]+) ", rows)]
    general, total = (float(x.replace(",", "")) for x in re.findall(r"(?:^|Sum) ([\d,]+)", steps)[:2])
    assert len(added) > 5
    assert sum(added) == pytest.approx(general, abs=len(added))
    assert total == pytest.approx(10e3 + 0.4 * (general - 10e3), abs=1.0)


def test_the_worse_leg_is_told_with_what_it_is_too_much_for() -> None:
    """60.6 A when even, but 67.5 A on leg A: NEC 215.3 and 408.30 ask that breaker and panel hold 67.5 A."""
    house = houses.tarn()
    assert house.hookup is not None
    small = house.hookup.model_copy(update={"grid_breaker_a": 60.0, "transfer_a": 60.0, "panel_main_a": 60.0})
    for hookup, over in ((small, True), (house.hookup, False)):
        found = section(words_of(replace(house, hookup=hookup)), "Load calculation", "Starting analysis")
        assert "60.6 A at 240 V" in found
        assert "67.5 A" in found
        told = "Leg A is above the breaker on the grid side (60 A), the transfer equipment (60 A) and the main of "
        assert (told + "the panel (60 A)." in found) is over


def test_a_small_set_has_its_amperes_at_its_own_voltage_and_the_joint_explained() -> None:
    text = words_of(small_set())
    assert re.search(r"[\d.]+ A at 120 V\. By leg, on the grid", text)
    assert "joined on the set's side" in text
    assert "joined on the set's side" not in words_with(HookupKind.MANUAL_TRANSFER)


@pytest.mark.parametrize("house", ["tarn", "skerrow"])
def test_on_cords_nobody_is_asked_about_the_neutral_of_transfer_equipment(house: str) -> None:
    text = words_with(HookupKind.CORDS, house)
    assert "no wire of the house is joined to its neutral" in text
    assert "Neutral switched" not in text
    assert "open the neutral" not in text


def test_what_is_drawn_is_not_said_to_be_unknown() -> None:
    locked = section(words_with(HookupKind.INTERLOCK), "What we do not know", "Review")
    assert "of the main panel:" not in locked
    assert "a service disconnect stands ahead of the main panel" in locked
    given = section(words_with(HookupKind.MANUAL_TRANSFER), "What we do not know", "Review")
    assert "breaker ahead of the transfer equipment" not in given
    house = houses.tarn()
    untold = replace(
        house, hookup=house.hookup.model_copy(update={"grid_breaker_a": None, "transfer_a": 100.0})
    )
    by_hand = section(words_of(untold), "What we do not know", "Review")
    assert "ratings of main and bus of the main panel; breaker ahead of the transfer equipment" in by_hand
    assert "(70 A at most for this feeder)" in by_hand  # 4 AWG NM-B, NEC 310.16 at 60 degC: 70 A


def test_an_interlock_has_no_essential_panel() -> None:
    text = words_with(HookupKind.INTERLOCK)
    assert "Main panel: " in section(text, "Load calculation", "Starting analysis")
    assert "Essential panel" not in text
    assert "essential panel?" not in text


def test_a_brief_of_230_v_asks_for_cut_out_and_main_switch() -> None:
    text = words_with(HookupKind.MANUAL_TRANSFER, "skerrow")
    assert "fuse of the supplier's cut-out and rating of the main switch" in text
    assert "ervice disconnect" not in text


def test_a_brief_on_cords_has_no_sums_of_a_panel_that_is_not_fed() -> None:
    text = words_with(HookupKind.CORDS)
    for absent in ("Load calculation", " 0 VA", "all on 0 W", "On at one time"):
        assert absent not in text


def test_two_temperatures_are_told_apart_and_the_method_of_a_230_v_table_is_named() -> None:
    """310.16 gives NM-B its 60 degC column (334.80); the resistance of Chapter 9 is that of 75 degC (from memory)."""
    text = words_with(HookupKind.MANUAL_TRANSFER)
    assert "Resistance for the drop at 75 °C; may carry by the 60 °C column" in text
    text = words_with(HookupKind.MANUAL_TRANSFER, "skerrow")
    assert "method C" in text
    # BS 7671 Table 4D5: 2.5 mm2 clipped direct 27 A, in insulation (method 103) 13.5 A, from memory
    assert "kettle (2.5 mm²: 13.5 A behind 20 A)" in text
    assert "Borehole pump (4 mm²" not in text  # 18 A are enough for its 16 A


@pytest.mark.parametrize(
    ("force", "said", "absent"),
    [
        ("NEC 2023", "702.4(B)(1) (2011-2020); in 2023 702.4(A)(1), from memory", "445.20 (2014-2017) "),
        ("NEC 2023", "445.20 (2014-2017); number in 2023 not known to us", "445.11 (2014-2023);"),
        ("NEC 2020", "702.4(B)(1) (2011-2020) ", "702.4(A)(1)"),
        ("", "702.4(B)(1) (2011-2020) ", "not known to us"),
    ],
)
def test_articles_of_an_older_edition_say_what_they_are_in_the_one_in_force(
    force: str, said: str, absent: str
) -> None:
    tarn = houses.tarn()
    text = words_of(houses.replace(tarn, site=tarn.site.model_copy(update={"code": force})))
    found = text[text.index("Articles to confirm") :]
    assert said in found
    assert absent not in found


def test_articles_bear_on_the_hookup_at_hand() -> None:
    by_hand, stands = words_with(HookupKind.MANUAL_TRANSFER), words_with(HookupKind.AUTOMATIC_STANDBY)
    assert "emergency shutdown" not in by_hand
    assert "emergency shutdown" in stands
    assert "702.7(B)" not in by_hand  # neutral not switched: earthed at the service alone
    tarn = houses.tarn()
    switched = tarn.hookup.model_copy(update={"switched_neutral": True})
    assert "702.7(B)" in words_of(houses.replace(tarn, hookup=switched))
    assert "may serve in place of a ground rod" in words_with(HookupKind.CORDS)


def test_a_thicker_wire_is_said_to_hold_the_drop() -> None:
    text = words_with(HookupKind.MANUAL_TRANSFER)
    assert "10 AWG holds it to 3 %" in text
    assert "Worse leg, amperes" in text
    assert "orst leg" not in text
