"""The plan page: 80 columns, plain text, the reader's units, cautions where the danger is."""

import json
import os
import pty
import re
import select
import subprocess
import sys
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from hearthold.faces import service
from hearthold.faces.cli import main as cli
from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.page import plain_text
from hearthold.faces.cli.report.plan import plan_report
from hearthold.faces.cli.report.say import Say
from hearthold.faces.plan_json import plan_json, plan_schema

ROOT = Path(__file__).parents[2]
TODAY = date(2026, 11, 25)
HOUSEHOLD = (
    "In short",
    "When to run",
    "Switch on in this order",
    "Which circuits can be on",
    "How long things last without power",
    "Fuel",
    "Findings",
)
TABLES = (
    "What the machine gives here",
    "What the circuits ask for",
    "Motors starting",
    "From the machine to the panel",
    "Conductors",
    "Load calculation",
    "What it costs",
    "Assumed values",
)
HOUSES = ("tarn_hollow", "skerrow_croft")


@pytest.fixture(scope="module")
def plans():
    return {name: service.plan(ROOT / "examples" / f"{name}.toml", TODAY) for name in HOUSES}


def page_of(found, say, every=False):
    return plain_text(lambda page: plan_report(found, say, page, every=every))


@pytest.fixture(scope="module")
def pages(plans):
    return {
        (name, us, every): page_of(plans[name], Say(us=us), every)
        for name in HOUSES
        for us in (True, False)
        for every in (True, False)
    }


def sections(page):
    """Section texts by their heads."""
    found, head = {}, ""
    lines = page.splitlines()
    for line, below in zip(lines, [*lines[1:], ""], strict=True):
        if below and line and set(below) == {"-"} and len(below) == len(line):
            head = line
        found[head] = f"{found.get(head, '')}{line}\n"
    return found


def test_every_section_is_there(pages):
    for (_, _, every), page in pages.items():
        wanted = (
            (*HOUSEHOLD, *TABLES) if every else (*HOUSEHOLD, "Machine, wiring and cost in short", "Cautions")
        )
        assert [name for name in wanted if name not in sections(page)] == []
        assert bool(set(TABLES) & set(sections(page))) is every
    assert "The two legs" in sections(pages["tarn_hollow", True, True])
    assert "The two legs" not in sections(pages["skerrow_croft", False, True])


def test_pages_are_narrow_plain_and_clean(pages):
    for page in pages.values():
        lines = page.splitlines()
        assert [line for line in lines if len(line) > 80] == []
        assert [line for line in lines if line != line.rstrip()] == []
        assert "\x1b" not in page
        drawn = set(page) & set("─│┌┐└┘├┤┬┴┼━┃╭╮╰╯═║")
        assert not drawn


def test_nothing_unfinished_reaches_the_page(pages):
    for page in pages.values():
        assert re.findall(r"\b(?:nan|None|inf|True|False|object at|<[A-Z]\w+)\b", page) == []
        assert re.findall(r"\w+_(?:w|va|a|m3|s|frac|c)\b", page.replace("running_w", "")) == []


def test_in_short_is_short(pages):
    for page in pages.values():
        points = re.findall(r"^ +(\d)\. ", sections(page)["In short"], re.M)
        assert points == [str(n) for n in range(1, len(points) + 1)]
        assert 4 <= len(points) <= 8


def test_the_short_page_can_be_read_in_one_go(pages):
    """Four pages of print: about 70 lines of 80 columns each."""
    for (_, _, every), page in pages.items():
        if not every:
            assert len(page.splitlines()) <= 290


def test_vital_losses_come_before_everything_else(plans):
    found = plans["tarn_hollow"]
    stores = tuple(
        replace(s, kept=False, first_s=3600.0, beyond_s=7200.0, missed=7200.0) if s.kind == "vital" else s
        for s in found.plan.routine.stores
    )
    lost = replace(found, plan=replace(found.plan, routine=replace(found.plan.routine, stores=stores)))
    first = " ".join(sections(page_of(lost, Say(us=True)))["In short"].split("2. ")[0].split())
    assert "1. VITAL" in first
    assert "CPAP with humidifier" in first


def test_a_page_ends_with_cautions_each_said_once(pages):
    for (_, _, every), page in pages.items():
        flat = " ".join(page.split())
        for words in (
            "Never inside a home",
            "let the set cool",
            "Never feed the house",
            "stays live",
            "on every level",
        ):
            assert flat.count(words) == 1, (words, every)
        last = [line for line in page.splitlines() if line.startswith("  CAUTION")][-1]
        assert page.index(last) > page.rindex("\n---")


def test_on_a_phone_no_word_is_cut_and_no_line_is_too_long(plans, monkeypatch):
    monkeypatch.setenv("HEARTHOLD_WIDTH", "40")
    for name, found in plans.items():
        for every in (False, True):
            page = page_of(found, Say(us=True), every)
            assert [line for line in page.splitlines() if len(line) > 40] == [], name
            assert page.isascii(), "a cut word ends in an ellipsis"
            words = set(page.replace(";", " ").replace(",", " ").split())
            for circuit in found.house.fed_circuits:
                assert set(circuit.name.replace(",", " ").replace(";", " ").split()) <= words, circuit.name


def test_units_are_the_readers(pages):
    """What rules and tables say in both units is left out: findings, cautions, cost items."""
    foreign = {True: r"\d (?:L|m|C|kg)\b", False: r"\d (?:gal|ft|F|lb)\b"}
    for (_, us, _), page in pages.items():
        parts = sections(page)
        for name in {"How long things last without power", "Fuel", "Conductors", "In short"} & set(parts):
            own = re.sub(r"(?s)CAUTION.*?\n(?=\S|\n|  CAUTION)", "", parts[name])
            assert re.findall(foreign[us], own) == [], name


def test_cautions_stand_where_the_danger_is(pages):
    parts = sections(pages["tarn_hollow", True, True])
    spoken = {
        "What the machine gives here": "Never inside a home, garage",
        "Fuel": "let the set cool for 15 minutes before refuelling",
        "From the machine to the panel": "Never feed the house through a wall socket",
        "The two legs": "An open panel stays live",
        "How long things last without power": "never taste food to judge it",
        "Switch on in this order": "Open the utility main",
    }
    for name, words in spoken.items():
        flat = " ".join(parts[name].split())
        assert words in flat, name
        assert "CAUTION" in parts[name]


def test_each_voltage_system_gets_its_own_emergency_number(pages):
    us = " ".join(pages["tarn_hollow", True, False].split())
    other = " ".join(pages["skerrow_croft", False, False].split())
    assert "call 911" in us
    assert "112 or 999" not in us
    assert "112 or 999" in other
    assert "911" not in other


def test_assumed_values_are_marked_and_explained(pages):
    page = pages["tarn_hollow", True, True]
    assert "~ marks what the file does not say" in " ".join(page.split())
    assert re.search(r"Sump pump 1/3 hp +~3,000", sections(page)["Motors starting"])
    assert not re.search(
        r"Well pump.* ~", sections(page)["Motors starting"]
    )  # its locked-rotor amperes are given


def test_all_shows_more(pages):
    short, long = pages["tarn_hollow", True, False], pages["tarn_hollow", True, True]
    assert len(long) > len(short)
    assert "--all" in short
    assert "--all" not in long


def test_what_the_page_says_is_what_the_plan_holds(plans, pages):
    plan, page = plans["tarn_hollow"].plan, pages["tarn_hollow", False, True]
    assert f"{plan.chain.links[0].rated_a:.1f}" in sections(page)["From the machine to the panel"]
    for step in plan.switch_on.steps:
        assert f"{step.position}.  {step.name}" in sections(page)["Switch on in this order"]
    for finding in plan.findings:
        assert f"{finding.rule}:" in page
    for hold in plan.holds:
        assert hold.name.split(" ")[0] in sections(page)["How long things last without power"]


@pytest.mark.parametrize("name", HOUSES)
def test_json_obeys_the_published_schema(name, plans):
    published = json.loads((ROOT / "docs" / "schema" / "plan.schema.json").read_text("utf-8"))
    Draft202012Validator.check_schema(published)
    written = json.loads(plan_json(plans[name].plan))
    assert [error.message for error in Draft202012Validator(published).iter_errors(written)] == []
    assert written["house"]["name"] == plans[name].plan.house.name


def test_the_printed_plan_schema_is_this_one():
    """Made with: hearthold schema --plan docs/schema/plan.schema.json --force"""
    printed = json.loads((ROOT / "docs" / "schema" / "plan.schema.json").read_text("utf-8"))
    assert printed == json.loads(json.dumps(plan_schema()))


@pytest.mark.parametrize("name", HOUSES)
def test_the_fridge_finding_goes_by_the_routine(plans, name):
    """The longest gap is counted minute by minute, round the clock; what the replay keeps is no more than a doubt."""
    plan = plans[name].plan
    (finding,) = [f for f in plan.findings if f.rule == "fridge-hold-shorter-than-gap"]
    runs = [(r.at_s / 60.0, r.length_s / 60.0) for r in plan.routine.runs]
    on = [any((minute - start) % 1440 < length for start, length in runs) for minute in range(1440)]
    longest = max(len(off) for off in "".join("x" if x else "." for x in on * 2).split("x"))
    assert finding.values["gap_s"] == longest * 60.0
    kept = {s.name: s.kept for s in plan.routine.stores}
    assert finding.needs_action is not kept[finding.where]
    assert ("keeps it within its limit" in finding.why) is kept[finding.where]


def test_the_command_writes_page_and_json(tmp_path, capsys):
    house = str(ROOT / "examples" / "tarn_hollow.toml")
    assert (
        cli.main(["plan", house, "--month", "7", "--fuel", "propane", "--out", str(tmp_path / "out")])
        == Exit.FINDINGS
    )
    assert "Wrote plan.txt, plan.json, run-sheet.pdf" in capsys.readouterr().err
    assert (tmp_path / "out" / "plan.txt").read_text().startswith("Tarn Hollow: plan for July on propane\n")
    assert json.loads((tmp_path / "out" / "plan.json").read_text())["conditions"]["month"] == 7
    (tmp_path / "out" / "plan.txt").unlink()
    assert cli.main(["plan", house, "--out", str(tmp_path / "out")]) == Exit.BAD_INPUT
    assert not (tmp_path / "out" / "plan.txt").exists()  # refused before any work
    assert "is already there" in " ".join(capsys.readouterr().err.split())


def test_a_fuel_the_machine_does_not_burn(capsys):
    assert (
        cli.main(["plan", str(ROOT / "examples" / "tarn_hollow.toml"), "--fuel", "diesel"]) == Exit.BAD_INPUT
    )
    assert "this generator burns gasoline, propane" in " ".join(capsys.readouterr().err.split())


def in_a_terminal(environment):
    """Output of `check` in a pseudo-terminal of 90 columns."""
    usual = {k: v for k, v in os.environ.items() if k != "NO_COLOR"}
    leader, follower = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "hearthold", "check", str(ROOT / "examples" / "skerrow_croft.toml")],
        stdin=follower, stdout=follower, stderr=subprocess.DEVNULL,
        env=usual | {"TERM": "xterm", "HEARTHOLD_WIDTH": "90"} | environment,
    )  # fmt: skip
    os.close(follower)
    seen = b""
    while select.select([leader], [], [], 30)[0]:
        try:
            data = os.read(leader, 65536)
        except OSError:
            break
        if not data:
            break
        seen += data
    process.wait(30)
    os.close(leader)
    return seen.decode()


def test_colour_only_at_a_terminal_and_never_alone():
    coloured = in_a_terminal({})
    assert "\x1b[1;31mDANGER" in coloured
    for environment in ({"NO_COLOR": "1"}, {"TERM": "dumb"}, {"HEARTHOLD_COLOR": "never"}):
        plain = in_a_terminal(environment)
        assert "\x1b[1;31m" not in plain
        assert "\x1b[3" not in plain
        assert "DANGER" in plain


def test_the_page_is_plain_ascii_where_the_house_is(pages):
    """Rules and tables write the ring of a degree; a terminal of any age prints F and C without it."""
    for (name, us, every), page in pages.items():
        assert page.isascii(), (name, us, every, [c for c in page if not c.isascii()][:3])


def test_no_id_of_the_house_file_is_shown_for_a_thing_that_has_a_name(pages, plans):
    for (name, _, _), page in pages.items():
        ids = {x.id for x in plans[name].house.loads if "_" in x.id}
        assert not ids & set(re.findall(r"[\w.]+", page)), name


def test_what_another_spell_costs_in_fuel_is_said(pages, plans):
    for name, found in plans.items():
        for other in found.plan.routine.alternatives if found.plan.routine else ():
            told = f"It takes {Say(us=True).volume(other.fuel_day_m3)} of fuel a day instead of"
            assert told in " ".join(pages[name, True, False].split())
