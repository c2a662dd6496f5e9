"""The pocket page as a file: read by another parser, closed to the network, whole whatever the names hold."""

from __future__ import annotations

import json
import re
from base64 import b64encode
from datetime import date
from hashlib import sha256
from typing import Any

import html5lib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.papers import houses
from tests.papers.plans import plan_of, plan_of_example

from hearthold.house.house import House
from hearthold.house.supply import HookupKind
from hearthold.papers.pocket.markup import clean, data, document, el, raw
from hearthold.papers.pocket.page import LARGEST_BYTES, pocket_html
from hearthold.reference.cautions import local_caution
from hearthold.reference.food import freezer_items, fridge_items

MADE = date(2026, 11, 25)
LINE_ENDS = "first\u2028second\u2029third\nfourth\tfifth\x00sixth"
NAMES = (
    houses.MARKUP,
    "</script><script>alert(1)</script><!--",
    "' onclick='alert(1)",
    houses.LONG,
    houses.UNBROKEN,
    houses.HEBREW,
    houses.ARABIC,
    houses.CHINESE,
    LINE_ENDS,
    "{distance} {0} %s ${x}",
)
WHERE = (
    ("before", "never_indoors"),
    ("before", "co_distance"),
    ("over", "no_backfeed"),
    ("refuel", "cool_before_refuel"),
    ("back", "no_backfeed"),
    ("trip", "open_panel"),
)


def parsed(text: str) -> Any:
    """The page as a browser reads it; html5lib refuses what is not valid HTML5."""
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)


def words(node: Any) -> str:
    return "".join(node.itertext())


def page_of(house: House) -> str:
    return pocket_html(house, plan_of(house), made=MADE)


@pytest.fixture(scope="module", params=["tarn", "skerrow"])
def example(request: pytest.FixtureRequest) -> str:
    return pocket_html(getattr(houses, request.param)(), plan_of_example(request.param), made=MADE)


def test_it_is_small_and_asks_for_nothing(example: str) -> None:
    assert len(example.encode()) < LARGEST_BYTES
    page = parsed(example)
    assert not re.search(
        r"https?:|//[a-z]+\.|@import|\bfetch\(|XMLHttpRequest|WebSocket|eval\(|innerHTML", example
    )
    sources = [
        node.attrib[key]
        for node in page.iter()
        for key in ("src", "href", "action", "data")
        if key in node.attrib
    ]
    assert sources
    assert all(source.startswith("#") for source in sources)
    assert re.findall(r"url\((?!data:font/woff2;base64,)", example) == []


def test_the_policy_names_the_hashes_of_what_is_inside(example: str) -> None:
    """CSP Level 3: the hash is taken over the element's text as the browser parses it."""
    page = parsed(example)
    policy = next(
        m.attrib["content"]
        for m in page.iter("meta")
        if m.attrib.get("http-equiv") == "Content-Security-Policy"
    )
    rules = dict(part.split(" ", 1) for part in policy.split("; "))
    assert rules["default-src"] == "'none'"
    script = next(s for s in page.iter("script") if s.attrib["type"] == "module")
    style = next(page.iter("style"))
    for node, rule in ((script, "script-src"), (style, "style-src")):
        assert rules[rule] == f"'sha256-{b64encode(sha256(node.text.encode()).digest()).decode()}'"
    assert not [n.tag for n in page.iter() if any(key.startswith("on") or key == "style" for key in n.attrib)]


def test_ids_are_unique_and_every_reference_has_its_target(example: str) -> None:
    page = parsed(example)
    ids = [n.attrib["id"] for n in page.iter() if "id" in n.attrib]
    assert len(ids) == len(set(ids))
    for node in page.iter():
        for key in ("for", "aria-labelledby", "aria-controls", "aria-describedby"):
            assert node.attrib.get(key, ids[0]) in ids, (node.tag, key)
        if node.tag == "a":
            assert node.attrib["href"][1:] in ids
    scripted = set(re.findall(r'\$\("([a-z-]+)"\)', example))
    assert len(scripted) > 30
    assert scripted <= set(ids)


def test_every_control_has_a_label_and_every_section_a_heading(example: str) -> None:
    page = parsed(example)
    labelled = {n.attrib["for"] for n in page.iter("label") if "for" in n.attrib}
    wrapped = {
        n.attrib["id"] for label in page.iter("label") for n in label.iter("input") if "id" in n.attrib
    }
    controls = [n for tag in ("input", "select", "textarea") for n in page.iter(tag)]
    assert len(controls) > 30
    assert all(n.attrib["id"] in labelled | wrapped for n in controls)
    assert [n.tag for n in page.find("body") if n.tag in ("header", "main", "footer", "nav")] == [
        "header",
        "main",
        "footer",
        "nav",
    ]
    assert all(n.attrib.get("aria-label") for n in page.iter("nav"))
    assert len(list(page.iter("h1"))) == 1
    sections = list(page.find("body").find("main"))
    assert [s.attrib["id"] for s in sections] == ["now", "run", "clocks", "rules", "log"]
    assert all(s.attrib["aria-labelledby"] == s.find("h2").attrib["id"] for s in sections)


@pytest.mark.parametrize("which", ["tarn", "skerrow"])
def test_cautions_stand_where_the_danger_is_in_the_words_of_the_place(which: str) -> None:
    house = getattr(houses, which)()
    page = parsed(pocket_html(house, plan_of_example(which), made=MADE))
    panels = {h.attrib["id"]: words(p) for p in page.iter("div") for h in p.findall("h3") if "id" in h.attrib}
    for where, what in WHERE:
        here = local_caution(what, house.system.value, house.site.country)
        assert here.text[1:] in panels[f"list-{where}"], (where, what)
    rules = words(next(s for s in page.iter("section") if s.attrib["id"] == "rules"))
    assert local_caution("food_doubt", house.system.value).text[1:] in rules
    assert "licensed electrician decide" in " ".join(words(page.find("body").find("footer")).split())


def test_emergency_numbers_are_those_of_the_place() -> None:
    tarn, skerrow = (
        pocket_html(getattr(houses, n)(), plan_of_example(n), made=MADE) for n in ("tarn", "skerrow")
    )
    assert "call 911" in tarn
    assert "112" not in words(next(parsed(tarn).iter("main")))
    assert "call 112 or 999" in skerrow
    assert "911" not in words(next(parsed(skerrow).iter("main")))


def test_every_food_of_the_charts_is_listed_under_its_verdict(example: str) -> None:
    verdicts: dict[str, str] = {}
    for node in parsed(example).iter("div"):
        if node.attrib.get("class", "").startswith("verdict"):
            verdicts[words(node.find("h5"))] = verdicts.get(words(node.find("h5")), "") + words(node).lower()
    told = {
        "discard": "Throw out",
        "keep": "Keep",
        "discard_past_limit": "By the clock",
        "refreeze": "May be frozen again",
    }
    for item in fridge_items():
        assert item.food.lower().rstrip(".") in verdicts[told[item.verdict]]
    for frozen in freezer_items():
        assert frozen.food.lower() in verdicts[told[frozen.warm_verdict]]


def test_units_are_those_of_the_house_or_as_asked() -> None:
    plan = plan_of_example("tarn")
    assert "40\u00a0°F" in pocket_html(houses.tarn(), plan, made=MADE)
    metric = pocket_html(houses.tarn(), plan, made=MADE, us=False)
    assert "°F" not in words(next(parsed(metric).iter("main")))
    assert "4.4\u00a0°C" in metric


@pytest.mark.parametrize("name", NAMES)
def test_names_are_text_and_nothing_else(name: str) -> None:
    house = houses.renamed(houses.tarn(), name)
    text = page_of(house)
    page = parsed(text)
    assert len(list(page.iter("script"))) == 2
    assert len(list(page.iter("style"))) == 1
    assert not list(page.iter("strong")) or all(words(n) != "*b*" for n in page.iter("strong"))
    assert words(page.find("body").find("header").find("h1")) == clean(name)
    facts = json.loads(next(s for s in page.iter("script") if s.attrib["type"] == "application/json").text)
    assert facts["house"] == name
    assert {step["name"] for turn in facts["turns"] for step in turn} == {name}
    assert words(page).count(clean(name)) > 20


@pytest.mark.parametrize("kind", [*HookupKind, None])
def test_every_hookup_has_its_lists(kind: HookupKind | None) -> None:
    page = parsed(page_of(houses.with_hookup(houses.tarn(), kind)))
    titles = [words(h) for h in page.iter("h3")]
    assert {
        "Before starting",
        "Start",
        "Switch over",
        "Grid is back",
        "If something trips",
    } <= set(titles)
    by_itself = kind in (HookupKind.AUTOMATIC_STANDBY, None)
    assert ("End of a run, grid still down" in titles) is not by_itself
    assert len([n for n in page.iter("input") if n.attrib["type"] == "checkbox"]) > 12


@pytest.mark.parametrize("count", [1, 60])
def test_one_circuit_or_sixty(count: int) -> None:
    house = houses.with_circuits(houses.tarn(), count)
    text = page_of(house)
    assert len(text.encode()) < LARGEST_BYTES
    facts = json.loads(
        next(s for s in parsed(text).iter("script") if s.attrib["type"] == "application/json").text
    )
    never = {c.circuit for c in plan_of(house).choice.circuits if c.verdict == "never"}
    shown = {step["id"] for turn in facts["turns"] for step in turn}
    assert shown | never == {c.id for c in house.fed_circuits}


def test_a_bare_house_still_gets_its_rules() -> None:
    page = parsed(page_of(houses.bare(houses.tarn())))
    assert "Carbon monoxide" in words(page)
    assert "no machine" in words(page)


@settings(max_examples=150, deadline=None, derandomize=True)
@given(st.text(max_size=60))
def test_any_text_survives_as_text(text: str) -> None:
    """Through another parser, in an element, an attribute and the data of the scripts."""
    made = document(
        el(
            "html",
            el("head", el("title", "x")),
            el("body", el("p", text, title=text), data({"x": text}, "d")),
        )
    )
    body = html5lib.parse(made, namespaceHTMLElements=False).find("body")
    paragraph, script = body.find("p"), body.find("script")
    shown = clean(text).replace(" °", "\u00a0°")
    assert (paragraph.text or "") == shown
    assert paragraph.attrib["title"] == clean(text)
    assert json.loads(script.text)["x"] == text
    assert [n.tag for n in body] == ["p", "script"]


def test_a_script_that_would_end_itself_is_refused() -> None:
    with pytest.raises(ValueError, match="must not contain its own end"):
        raw("script", "const x = '</script>'")
