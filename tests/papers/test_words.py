"""Words for figures: what people read, not what the house file calls it."""

import math
from dataclasses import replace
from pathlib import Path

import pytest
from tests.papers import houses
from tests.papers.plans import TODAY, plan_of, plan_of_example

from hearthold.house.reader import read_house
from hearthold.house.supply import FuelKind, HookupKind
from hearthold.papers.make import job_of
from hearthold.papers.runsheet import run_sheet_data
from hearthold.papers.words import steps, ways
from hearthold.papers.words.assumed import assumed_place
from hearthold.papers.words.circuits import fed, stay_off
from hearthold.papers.words.fuel import trips_words
from hearthold.papers.words.heater import in_the_cold, with_heater
from hearthold.papers.words.kept import given_up_words, limit, worst
from hearthold.papers.words.say import Say, duration
from hearthold.papers.words.short import in_short
from hearthold.plan.choice import Verdict
from hearthold.plan.fuelcourse import FuelTrip
from hearthold.plan.kept import StoreKept
from hearthold.plan.turns import one_turn

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


def test_pipes_that_no_running_keeps_are_told_and_others_are_not():
    """Those that are no limit and freeze; not those that are kept, nor a limit that is broken."""
    lost = store("pipes", "degC", 0.0, -2.0, 5.0)
    given_up = replace(lost, hard=False)
    assert "grid or no grid" in given_up_words([lost, given_up])
    assert given_up_words([lost, replace(given_up, kept=True)]) == ""


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


def test_an_automatic_set_is_told_as_one() -> None:
    """Nobody stands at its panel: no order of switching, no turns; what it burns by itself, and how to stretch it."""
    house = houses.with_hookup(houses.tarn(), HookupKind.AUTOMATIC_STANDBY)
    plan = plan_of(house)
    one = job_of(plan, house, today=TODAY)
    told = " ".join(in_short(one, plan))
    assert "starts by itself and runs until the grid is back, on" in told
    assert one.say.volume(plan.fuel.by_itself_day_m3) in told
    assert "Switch on one at a time" not in told
    assert "in turn" not in told
    by_hand = " ".join(
        in_short(job_of(plan_of_example("tarn"), houses.tarn(), today=TODAY), plan_of_example("tarn"))
    )
    assert "starts by itself" not in by_hand
    assert "Switch on one at a time" in by_hand


def test_what_stays_off_is_in_no_order_behind_an_automatic_switch_either():
    """The example's range draws 8 kW, more than its machine gives."""
    house = houses.with_hookup(houses.tarn(), HookupKind.AUTOMATIC_STANDBY)
    plan = plan_of(house)
    routine = replace(plan.routine, turns=one_turn(house))  # as the planner has it behind such a switch
    (turn,) = job_of(replace(plan, routine=routine), house, today=TODAY).turns
    assert plan.choice.never == ("range",)
    assert set(turn) == {c.id for c in house.circuits} - {"range"}


def test_circuits_that_stay_off_for_one_reason_are_told_together():
    found = plan_of_example("tarn").choice
    one, two, three, *others = found.circuits
    full = "needs 1 of 2 panel spaces, which went to others"
    off = [replace(c, verdict=Verdict.NEVER, reason=full) for c in (one, two)]
    off.append(replace(three, verdict=Verdict.NEVER, reason="running 8.0 kW exceeds 7.1 kW"))
    assert stay_off(replace(found, circuits=(*off, *others))) == (
        (f"{one.name} and {two.name}", "needs 1 of 2 panel spaces, which went to others"),
        (three.name, "running 8.0 kW exceeds 7.1 kW"),
    )


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        (HookupKind.MANUAL_TRANSFER, "the hookup feeds 12"),
        (HookupKind.INTERLOCK, "the hookup feeds 15"),
        (HookupKind.CORDS, "cords feed none of them"),
        (None, "nothing feeds them yet"),
    ],
)
def test_how_many_circuits_power_reaches(kind, words):
    """Counted in the example's file: fifteen circuits, twelve of them on the panel for essentials."""
    assert fed(houses.with_hookup(houses.tarn(), kind)) == words


@pytest.mark.parametrize(
    ("kind", "off", "left"),
    [
        (HookupKind.MANUAL_TRANSFER, "Branch breakers OFF", "Transfer switch to GRID"),
        (HookupKind.INTERLOCK, "Branch breakers OFF", "Slide the interlock back. Main breaker ON"),
        (HookupKind.BATTERY_INVERTER, "Breaker to the inverter OFF", "goes on from the battery"),
        (HookupKind.CORDS, "Unplug the appliances", "Back into the wall"),
    ],
)
def test_a_run_ends_with_loads_off_cooling_the_stop_and_the_way_the_house_is_left(kind, off, left):
    """Makers' manuals: loads off, minutes without load, then stop (common practice); the interlock's breaker before
    the main (NEC 702.5: never both). Whoever runs a set must see by something that the grid is back.
    """
    house = houses.with_hookup(houses.tarn(), kind)
    job = job_of(plan_of(house), house, today=TODAY)
    ends, seen = " ".join(steps.end(job)), " ".join(steps.sign(job))
    order = [ends.index(part) for part in (off, "5 min without load", "stop it as its manual says", left)]
    assert order == sorted(order)
    if "interlock" in ends:
        assert (
            ends.index("Inlet breaker OFF")
            < ends.index("Slide the interlock back")
            < ends.index("Main breaker ON")
        )
    assert "Look for it" in seen
    assert "other houses" in seen
    sheet = run_sheet_data(job)
    assert (len(sheet["end"]), len(sheet["back"])) == (len(steps.end(job)), len(steps.back(job)) + 1)


def test_nobody_ends_the_run_of_a_set_that_stops_by_itself():
    house = houses.with_hookup(houses.tarn(), HookupKind.AUTOMATIC_STANDBY)
    sheet = run_sheet_data(job_of(plan_of(house), house, today=TODAY))
    assert sheet["end"] == []
    assert sheet["back"][0].startswith("It switches back and stops by itself")


def test_a_range_whose_ends_read_alike_is_one_figure():
    assert ways.spread(249.6, 1250.2) == "250 to 1,250"
    assert ways.spread(249.6, 250.2) == "250"


@pytest.mark.parametrize(
    ("hours", "words"),
    [
        (47, "47 h"),
        (48, "2 days"),
        (50, "2.1 days"),
        (69, "2.9 days"),
        (71, "2.9 days"),
        (72, "3 days"),
        (240, "10 days"),
    ],
)
def test_what_is_beside_an_outage_of_days_is_told_in_days(hours, words):
    """69 h and 3 days, side by side, do not say that the one is short of the other; nor do 48 h and 2.1 days."""
    assert duration(hours * 3600.0) == words


def test_a_stock_that_the_heater_burns_too_is_told_with_both():
    """By hand: gallons at home over what set and heater burn a day together."""
    house = houses.tarn()
    house = replace(
        house,
        heat=replace(house.heat, heater_fuel=FuelKind.PROPANE),
        fuel=house.fuel.model_copy(update={"preferred": FuelKind.PROPANE}),
    )
    plan = plan_of(house)
    (finding,) = [f for f in plan.findings if f.rule == "heater-on-the-same-propane"]
    days = finding.values["amount_m3"] / (plan.fuel.day_need_m3 + finding.values["day_m3"])
    told = f"{duration(days * 86400.0)} with the heater on it all day"
    assert days < plan.fuel.stock_days
    job = job_of(plan, house, today=TODAY)
    assert any(told in line for line in in_short(job, plan))
    assert told in " ".join(run_sheet_data(job)["routine"]["words"]).replace("\u200b", "")
    assert with_heater(plan_of(houses.tarn()), FuelKind.GASOLINE, 3.0) == ""
    assert with_heater(plan, FuelKind.GASOLINE, 3.0) == ""
    slow = any(f.rule == "propane-too-cold" for f in plan.findings)
    assert (slow, in_the_cold(plan, FuelKind.PROPANE) != "", in_the_cold(plan, FuelKind.GASOLINE)) == (
        True,
        True,
        "",
    )
    warm = replace(plan, findings=tuple(f for f in plan.findings if f.rule != "propane-too-cold"))
    assert in_the_cold(warm, FuelKind.PROPANE) == ""


def with_fuel(lasts_h, stock_days, trips=(), others=()):
    """What the short plan says of fuel, of a house whose routine stands without it after so long."""
    plan = plan_of_example("tarn")
    routine = replace(plan.routine, fuel_lasts_s=lasts_h * 3600.0, trips=trips)
    fuel = replace(plan.fuel, stock_days=stock_days, other_fuels_days=others)
    found = replace(plan, routine=routine, fuel=fuel)
    job = job_of(found, houses.tarn(), today=TODAY)
    return " ".join(in_short(job, found)), " ".join(run_sheet_data(job)["routine"]["words"])


def test_a_routine_that_outlasts_its_fuel_says_when_and_what_else_is_at_home():
    """It fails at 18:00: 39 h later it is 09:00 of the third day."""
    short, sheet = with_fuel(39.0, 39.0 / 24.0, others=((FuelKind.PROPANE, 8.0),))
    when = "after 39 h, on day 3 at 09:00, nothing is left, and from then on nothing runs"
    told = f"The routine outlasts its fuel: {when}."
    assert (
        f"The gasoline at home lasts 39 h at 2.51 gal a day. {told} Propane at home lasts 8 days, in the cold "
        "too little gas for half load on end: ask for the" in short
    )
    assert told in sheet


def test_a_routine_whose_fuel_lasts_says_nothing_of_its_end():
    for text in with_fuel(math.inf, 5.9, others=((FuelKind.PROPANE, 8.0),)):
        assert "outlasts" not in text
        assert "Propane" not in text


def test_a_plan_without_its_fuel_at_home_says_what_it_rests_on():
    short, sheet = with_fuel(
        0.0, 0.0, trips=(FuelTrip(0.0, 7200.0, 0.07), FuelTrip(108.5 * 3600.0, 110.5 * 3600.0, 0.07))
    )
    assert (
        "There is no gasoline at home. This plan rests on 2 trips for it, the first as soon as the grid"
        in short
    )
    assert "at once" not in sheet
    assert "none is at home" in sheet
    # it fails at 18:00: 108.5 h later it is 06:30 of the fifth day after
    assert sheet.split(" While ")[0].endswith(
        "Fetch fuel, leaving on day 1 at 18:00 and on day 6 at 06:30, if a station has power."
    )


@pytest.mark.parametrize(("burned_m3", "ahead"), [(0.090, True), (0.100, False)])
def test_a_trip_for_fuel_that_is_not_burned_is_told_as_ahead_of_need(burned_m3, ahead):
    """95 L at home and 75 L brought: the trip was needed if more than 95 L was burned."""
    routine = replace(
        plan_of_example("tarn").routine,
        fuel_lasts_s=math.inf,
        trips=(FuelTrip(108.5 * 3600.0, 110.5 * 3600.0, 0.075),),
        fuel_left_m3=0.095 + 0.075 - burned_m3,
    )
    told = trips_words(routine)
    assert told.startswith("one trip for fuel in all, leaving on day 6 at 06:30")
    assert ("ahead of need: what is at home lasts for" in told) is ahead
