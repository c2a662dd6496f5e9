"""The report's risk and comparison: every figure is the study's own, whole, and nothing overflows."""

from __future__ import annotations

from functools import cache

import pytest
from tests.papers import houses
from tests.papers.pages import letters, objects, overflow, pages, reader, squeezed
from tests.papers.plans import TODAY, plan_of, plan_of_example

from hearthold.house.house import House
from hearthold.papers.job import Job, Outlook
from hearthold.papers.make import job_of
from hearthold.papers.report import plan_report
from hearthold.study.chosen import outages_of
from hearthold.study.compare import compare
from hearthold.study.habit import usual_habit
from hearthold.study.risk import risk
from hearthold.study.words import LETTERS, band, off


def outlook(house: House) -> Outlook:
    """What the study says of a house."""
    outages, habit = outages_of(house, TODAY), usual_habit(house)
    return Outlook(risk(house, habit.controls, outages), habit.words, compare(house, outages))


@cache
def ahead(name: str) -> Outlook:
    """What the study says of an example, worked out once."""
    return outlook(getattr(houses, name)())


def job(name: str, paper: str = "letter") -> Job:
    """The job of an example with its outlook."""
    house: House = getattr(houses, name)()
    return job_of(plan_of_example(name), house, today=TODAY, paper=paper, outlook=ahead(name))


@cache
def report(name: str, paper: str = "letter") -> bytes:
    """The report of an example."""
    return plan_report(job(name, paper))


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("name", ["tarn", "skerrow"])
def test_nothing_overflows(name: str, paper: str) -> None:
    assert overflow(report(name, paper)) == []
    assert 6 <= len(pages(report(name, paper))) <= 18


@pytest.mark.parametrize("name", ["tarn", "skerrow"])
def test_every_loss_stands_with_its_chance_and_what_it_may_be(name: str) -> None:
    text = letters(report(name))
    for loss in ahead(name).risk.losses:
        row = f"{loss.name} {off(loss.year_frac).replace('+-', '±')} {band(loss.year_band_frac)}"
        assert squeezed(row) in text, loss.id


@pytest.mark.parametrize("name", ["tarn", "skerrow"])
def test_every_way_stands_with_its_letter_what_it_asks_and_what_it_risks(name: str) -> None:
    text, found = letters(report(name)), ahead(name).comparison
    assert len(found.candidates) >= 5
    for letter, way in zip(LETTERS, found.candidates, strict=False):
        first = f"{way.first.low:,.0f} to {way.first.high:,.0f}"
        assert squeezed(f"{letter} {way.name} {first}") in text
        any_loss = way.loss("anything")
        assert any_loss is not None
        assert squeezed(off(any_loss.year_frac).replace("+-", "±")) in text
    for sentence in found.sentences:
        assert squeezed(sentence) in text


def test_the_sections_are_in_the_bookmarks_and_the_picture_has_its_alternative() -> None:
    read = reader(report("tarn"))
    titles = [entry.title for entry in read.outline if not isinstance(entry, list)]
    assert {"Risk", "Ways to get power into the house"} <= set(titles)
    told = [str(o["/Alt"]) for o in objects(read) if "/Alt" in o]
    (picture,) = [text for text in told if "cost against risk" in text]
    for way in ahead("tarn").comparison.candidates:
        assert way.name in picture


def test_without_an_outlook_the_report_says_nothing_of_either() -> None:
    text = letters(plan_report(job_of(plan_of_example("tarn"), houses.tarn(), today=TODAY)))
    assert squeezed("Ways to get power into the house") not in text


def test_a_house_with_nothing_to_lose_and_names_with_markup_go_through() -> None:
    for house in (houses.bare(houses.tarn()), houses.renamed(houses.skerrow(), houses.MARKUP)):
        told = outlook(house)
        pdf = plan_report(job_of(plan_of(house), house, today=TODAY, outlook=told))
        assert overflow(pdf) == []
