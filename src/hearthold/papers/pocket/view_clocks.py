"""The section "Clocks": how long each store lasts, counted from the real taps."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from hearthold.papers.pocket.clocks import Clock
from hearthold.papers.pocket.facts import Facts
from hearthold.papers.pocket.markup import el, name
from hearthold.papers.pocket.view import bullets, section, warnings
from hearthold.papers.words.phrases import sentence
from hearthold.papers.words.say import duration

_HOW = (
    "A clock counts while its store has no power, by the shortest answer there is. A run of the machine "
    "stops it; how long a run starts it anew stands in its notes."
)


def clocks_section(facts: Facts) -> Element:
    """A card for every store whose hold ends."""
    found = facts.clocks
    return section(
        "clocks",
        "Clocks",
        el("p", _HOW, class_="quiet"),
        el("p", id="clock-alarm", class_="live-only lead", aria_live="polite"),
        el("ol", [el("li", _card(c), id=f"clock-{n}") for n, c in enumerate(found.clocks)], class_="cards"),
        _endless(found.without_end),
        warnings(facts.cautions("food_doubt", "cold_house")),
    )


def _card(clock: Clock) -> Element:
    running = clock.counts == "running"
    return el(
        "article",
        el("h3", name(clock.name)),
        el(
            "p",
            el("span", duration(clock.hold_s), class_="left", role="timer"),
            el("span", "of running" if running else "without power", class_="status"),
            class_="reading",
        ),
        el("div", el("i", class_=f"fill {clock.colour}"), class_="bar", aria_hidden="true"),
        el("p", "Limit: ", el("span", clock.limit, dir="auto"), ".", class_="quiet"),
        el("p", class_="seen quiet", hidden=True),
        _details(clock),
        class_="card",
    )


def _details(clock: Clock) -> Element:
    rows = [f"{what}: {length}" for what, length in clock.answers]
    notes = [*clock.notes, *_behaviour(clock)]
    return el(
        "details", el("summary", "Answers and notes"), bullets([*rows, *(sentence(note) for note in notes)])
    )


def _behaviour(clock: Clock) -> list[str]:
    if clock.counts == "running":
        return ["counts while the machine runs"]
    if clock.renew_s is None:
        return ["a run stops this clock and does not start it anew"]
    return [f"a run of {duration(clock.renew_s)} starts this clock anew"]


def _endless(found: tuple[str, ...]) -> Element | None:
    if not found:
        return None
    return el(
        "div",
        el("h3", "Last without power in this weather"),
        bullets([name(n)] for n in found),
        class_="panel",
    )
