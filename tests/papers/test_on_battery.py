"""Papers of a house whose only backup is a battery: they say what plan says, and speak of no machine."""

import re
from datetime import date
from math import inf
from pathlib import Path

import pytest
from tests.builders.house_parts import battery

from hearthold.house.reader import house_from_text
from hearthold.papers.blocks import Points, Warn, Words
from hearthold.papers.drill import drill_blocks
from hearthold.papers.make import job_of
from hearthold.papers.pocket.page import pocket_page
from hearthold.papers.report import report_blocks
from hearthold.papers.runsheet import run_sheet, run_sheet_data
from hearthold.papers.shopping import shopping_blocks
from hearthold.papers.words.onbattery import lasts
from hearthold.plan.house import plan_house

TODAY = date(2026, 11, 1)
CROFT = Path(__file__).parents[2] / "examples" / "skerrow_croft.toml"


@pytest.fixture(scope="module")
def job():
    text = re.sub(r"\n\[generator\].*?\n(?=\[safety\])", "\n", CROFT.read_text("utf-8"), flags=re.DOTALL)
    solar = '\n[solar]\npeak = "3 kW"\n'
    house = house_from_text(text + "\n" + battery("10 kWh") + solar)
    return job_of(plan_house(house, today=TODAY), house, today=TODAY)


def told(blocks):
    found = []
    for block in blocks:
        if isinstance(block, Words):
            found.append(block.text)
        elif isinstance(block, Points):
            found += block.items
    return " ".join(found)


def test_the_run_sheet_lists_every_breaker_once(job):
    data = run_sheet_data(job)
    words = " ".join(data["routine"]["words"]).replace("\N{ZERO WIDTH SPACE}", "")
    found = job.plan.on_battery
    for name in (job.circuit(c) for c in (*found.always, *found.in_hours, *found.off)):
        assert words.count(name) == 1
    assert "ON at all hours: " in words
    assert not data["runs"]
    assert "No machine" not in data["machine"]
    assert run_sheet(job).startswith(b"%PDF")


def test_a_motor_that_the_inverter_cannot_start_is_off_on_every_page():
    """By hand: 1.5 kVA of surge is less than the borehole pump asks in its first second."""
    text = re.sub(r"\n\[generator\].*?\n(?=\[safety\])", "\n", CROFT.read_text("utf-8"), flags=re.DOTALL)
    house = house_from_text(text + "\n" + battery("10 kWh", surge="1.5 kVA", discharge="1.4 kW"))
    job = job_of(plan_house(house, today=TODAY), house, today=TODAY)
    pump = house.water.pump_load
    assert pump in job.plan.on_battery.unstartable
    assert house.load_by_id[pump].circuit in job.plan.on_battery.off
    words = " ".join(run_sheet_data(job)["routine"]["words"]).replace("\N{ZERO WIDTH SPACE}", "")
    for page in (words, told(report_blocks(job)), pocket_page(job)):
        page = page.replace("\N{NO-BREAK SPACE}", " ")
        said = page[page.index("The inverter cannot start") :]
        assert f"{house.load_by_id[pump].name} (" in said[: said.index("Breaker OFF")]
        assert "no water is pumped, what is stored is all there is" in page


def test_the_log_of_the_pocket_page_offers_nothing_of_a_machine(job):
    page = pocket_page(job)
    offered = re.findall(r'<option value="(\w+)"', page)
    assert {"reading", "grid_lost", "grid_back"} <= set(offered)
    assert not {"refuel", "start", "stop"} & set(offered)
    assert "Tap “Machine started” below" not in page


def test_report_drill_and_pocket_say_the_same(job):
    sentence = job.plan.on_battery.sentence
    assert told(report_blocks(job)).count(sentence) == 2  # in short, and in its own section
    assert sentence in told(drill_blocks(job))
    assert sentence in pocket_page(job)
    assert "nothing to run" not in told(report_blocks(job))


@pytest.mark.parametrize(
    ("seconds", "told"),
    [
        (90 * 60, "1.5 h"),
        (3.9 * 3600, "3 h"),
        (47.9 * 3600, "47 h"),
        (60 * 3600, "2.5 days"),
        (inf, "10 days or more"),
    ],
)
def test_what_lasts_is_told_in_full_hours_and_from_two_days_on_as_everywhere(seconds, told):
    """By hand: nobody should reckon with an hour that is not full; 60 h are two and a half days."""
    assert lasts(seconds) == told


def test_the_shopping_list_chooses_no_portable_set(job):
    """With no battery either, a set may yet be bought, and the list says what it must have."""
    warned = job.caution("co_shutoff")
    assert warned not in [x.text for x in shopping_blocks(job) if isinstance(x, Warn)]
    neither = house_from_text(
        re.sub(r"\n\[generator\].*?\n(?=\[safety\])", "\n", CROFT.read_text("utf-8"), flags=re.DOTALL)
    )
    bare = job_of(plan_house(neither, today=TODAY), neither, today=TODAY)
    assert warned in [x.text for x in shopping_blocks(bare) if isinstance(x, Warn)]
