"""Words of the place: no paper of one country speaks of another's fuel, code, units or emergency number."""

from __future__ import annotations

import re
from functools import cache

import pytest
from tests.papers import houses
from tests.papers.pages import pages
from tests.papers.plans import TODAY, plan_of, plan_of_example

from hearthold.house.house import House
from hearthold.house.supply import HookupKind
from hearthold.papers.job import Job
from hearthold.papers.make import PAPERS, job_of
from hearthold.papers.words.say import Say

# What an electrician or a neighbour of the other country would stumble over.
FOREIGN = {
    "skerrow": r"gasoline|\bNEC\b|NFPA 70|430\.52|\b911\b|dryer outlet|lineworker|fire marshal|\d gal\b|\d ft\b"
    r"|AWG|GFCI|permit office|\blisted\b|[Mm]ain panel|[Ee]ssential panel|[Pp]anel schedule|[Tt]ransfer switch"
    r"|\d psi\b|\d lb\b|\d °F|\bgpm\b|Btu|[Ss]ervice disconnect|the sticker|[Ww]ors[et] leg|\b[Ll]eg [AB]\b",
    "tarn": r"petrol|\b999\b|call 112|mains\b|consumer unit|changeover|mm²|RCBO|IEC 60364|BS 7671"
    r"|IEC 60617|[^(\d.]\d[\d.]* (?:L|m|kPa|bar)\b|neighbour\b|labour|GBP|Network operator",
}
SOURCES = r"ANSI/PGMA[^.;]*|IEC 60617"  # of a finding, named as it is published


@cache
def job(which: str) -> Job:
    """The papers' job of an example."""
    return job_of(plan_of_example(which), getattr(houses, which)(), today=TODAY)


def words_of(one: Job, name: str) -> str:
    """What a reader of a paper reads."""
    paper = next(p for p in PAPERS if p.name == name)
    made = paper.made(one)
    if paper.file.endswith(".pdf"):
        return " ".join(" ".join(page.text for page in pages(made)).split())
    unfolded = re.sub(r"\r\n[ \t]", "", made.decode())  # RFC 5545, 3.1
    return " ".join(re.sub(r"(?s)<script.*?</script>|<style.*?</style>", " ", unfolded).split())


@pytest.mark.parametrize("name", [p.name for p in PAPERS])
@pytest.mark.parametrize("which", ["tarn", "skerrow"])
def test_no_paper_speaks_as_the_other_country_does(which: str, name: str) -> None:
    text = re.sub(SOURCES, "", words_of(job(which), name))
    assert [text[max(0, m.start() - 40) : m.end() + 20] for m in re.finditer(FOREIGN[which], text)] == []


def test_the_word_for_the_fuel_is_there_at_all() -> None:
    assert "petrol" in words_of(job("skerrow"), "brief")
    assert "gasoline" in words_of(job("tarn"), "brief")


def test_nobody_is_told_to_choose_a_portable_set_where_one_stands_wired_in() -> None:
    for kind, there in ((HookupKind.AUTOMATIC_STANDBY, False), (HookupKind.MANUAL_TRANSFER, True)):
        house = houses.with_hookup(houses.tarn(), kind)
        text = words_of(job_of(plan_of(house), house, today=TODAY), "shopping")
        assert ("Choose a portable set" in text) is there


@pytest.mark.parametrize(
    ("ends", "wires"),
    # ANSI/NEMA WD 6: 3 poles and 4 wires at 125/250 V, 2 poles and 3 wires at 125 V; NEC 250.134 wants the ground.
    [
        (("14-50", "CS-50"), "Four wires (two hot, neutral, ground)"),
        (("L14-30", "L14-30"), "Four wires (two hot, neutral, ground)"),
        (("L5-30", "L5-30"), "Three wires (hot, neutral, ground)"),
    ],
)
def test_the_cord_to_an_inlet_has_a_wire_for_each_contact(ends: tuple[str, str], wires: str) -> None:
    house = houses.tarn()
    assert house.generator is not None
    assert house.hookup is not None
    house = houses.replace(
        house,
        generator=house.generator.model_copy(update={"receptacle": ends[0]}),
        hookup=house.hookup.model_copy(update={"inlet": ends[1]}),
    )
    asked = job_of(plan_of(house), house, today=TODAY)
    assert wires.casefold() in words_of(asked, "shopping").casefold()
    for name in ("brief", "report"):
        text = words_of(asked, name)
        said = "The set's receptacle and the inlet are of different kinds" in text
        assert said is (ends[0] != ends[1])
        assert not said or "outdoor cord with a wire for each contact, four at 120/240 V" in text
        assert "hree-wire outdoor cord" not in text


def with_heavy_breaker(house: House, pump: str) -> House:
    """The house with a breaker on its pump's circuit that no wire of it allows."""
    circuits = tuple(
        c.model_copy(update={"breaker_a": 63.0}) if c.id == house.load_by_id[pump].circuit else c
        for c in house.circuits
    )
    return houses.replace(house, circuits=circuits)


@pytest.mark.parametrize(
    ("which", "pump", "rule", "other"),
    [("tarn", "well_pump", "430.52", "60364"), ("skerrow", "borehole_pump", "IEC 60364-4-43", "430.52")],
)
def test_a_motor_circuit_is_judged_by_the_rules_in_force_there(
    which: str, pump: str, rule: str, other: str
) -> None:
    house = with_heavy_breaker(getattr(houses, which)(), pump)
    text = words_of(job_of(plan_of(house), house, today=TODAY), "brief")
    remark = text[text.index("motor circuit:") :][:60]
    assert rule in remark
    assert other not in remark


@pytest.mark.parametrize("country", ["GB", "FR", "AU", "NZ", "ZZ"])
def test_a_caution_names_the_number_of_the_country_and_no_other(country: str) -> None:
    site = houses.skerrow().site.model_copy(update={"country": country})
    house = houses.replace(houses.skerrow(), site=site)
    one = job_of(plan_of_example("skerrow"), house, today=TODAY)
    text = one.caution("co_symptoms")
    assert f"call {one.emergency}, do not go back in" in text
    assert set(re.findall(r"\d{3}", text)) == set(re.findall(r"\d{3}", one.emergency))


def test_lengths_and_volumes_of_the_layers_below_are_told_in_metres_and_litres() -> None:
    """A foot is 0.3048 m, a US gallon 3.785 411 784 L exactly (NIST SP 811)."""
    assert Say(us=False).retold("cord 30 A, 25 ft") == "cord 30 A, 7.62 m"
    assert Say(us=False).retold("a tank of 100 gal") == "a tank of 379 L"
    assert Say(us=True).retold("cord 30 A, 25 ft") == "cord 30 A, 25 ft"


def test_words_of_the_layers_below_keep_their_capitals_and_become_those_of_the_place() -> None:
    assert job("skerrow").told("Gasoline and gasoline") == "Petrol and petrol"
    assert job("tarn").told("portable set, petrol") == "portable set, gasoline"
    assert (
        job("skerrow").told("main panel and transfer equipment") == "consumer unit and changeover equipment"
    )
    assert job("tarn").told("main panel and transfer equipment") == "main panel and transfer equipment"
