"""The section "Run": checklists in the order of the work, and the switch-on order with its stopwatch."""

from __future__ import annotations

from typing import TYPE_CHECKING
from xml.etree.ElementTree import Element

from hearthold.papers.changes import off_words, on_words, rest_words, when
from hearthold.papers.pocket.facts import Facts
from hearthold.papers.pocket.markup import Child, el, name
from hearthold.papers.pocket.steps import Checklist
from hearthold.papers.pocket.view import bullets, button, section, ticks, warnings
from hearthold.papers.words.phrases import sentence
from hearthold.papers.words.say import duration

if TYPE_CHECKING:
    from hearthold.sizing.order import Step

_ORDER_AFTER = "over"


def run_section(facts: Facts) -> Element:
    """All lists, with the order after the list of switching over."""
    parts: list[Element | None] = []
    for found in facts.checklists:
        parts.append(_list(found))
        if found.id == _ORDER_AFTER:
            parts.append(_order(facts))
    return section(
        "run", "Run", _jumps(facts), parts, button("Clear all ticks", "clear-ticks", kind="second live-only")
    )


def _jumps(facts: Facts) -> Element:
    links = []
    for found in facts.checklists:
        links.append(el("a", found.title, href=f"#list-{found.id}"))
        if found.id == _ORDER_AFTER and facts.turns:
            links.append(el("a", "Order", href="#order"))
    return el("nav", links, class_="jumps", aria_label="Lists")


def _list(found: Checklist) -> Element:
    return el(
        "div",
        el("h3", found.title, id=f"list-{found.id}", tabindex="-1"),
        warnings(found.cautions),
        ticks(found.id, found.steps),
        class_="panel",
    )


def _order(facts: Facts) -> Element | None:
    """The order by turn, and the stopwatch that leads through it."""
    if not facts.turns:
        return None
    many = len(facts.turns) > 1
    lists = [_turn(facts, n, turn, many) for n, turn in enumerate(facts.turns, start=1)]
    return el(
        "div",
        el("h3", "Switch-on order", id="order", tabindex="-1"),
        el("p", "Largest start first. After each, wait until the machine sounds even again.", class_="quiet"),
        _turns(facts),
        _stopwatch(),
        lists,
        _left_off(facts),
        class_="panel",
    )


def _turns(facts: Facts) -> Element | None:
    if len(facts.turns) < 2:
        return None
    rows = [_turn_choice(number) for number in range(1, len(facts.turns) + 1)]
    return el(
        "fieldset",
        el("legend", "Which turn is switched on?"),
        el("p", _when(facts), class_="lead"),
        el("p", "Choose the turn that is on: the clocks count by it.", class_="quiet"),
        el("div", rows, class_="choices"),
        class_="live-only",
    )


def _when(facts: Facts) -> str:
    """When each turn comes, counted from the start of a run."""
    said = [
        f"{when(change).lower()} turn {change.turn}{' again' if change.back else ''}"
        for change in facts.changes
        if change.after_s is not None
    ]
    return sentence(
        f"not everything runs at once: {', '.join(said)}" if said else "not everything runs at once"
    )


def _turn_choice(number: int) -> Element:
    key = f"turn-{number}"
    radio = el("input", type="radio", name="turn", id=key, value=str(number), checked=number == 1)
    return el("label", radio, f"Turn {number}", class_="choice")


def _stopwatch() -> Element:
    return el(
        "div",
        el("p", "The stopwatch leads from circuit to circuit.", id="watch-text", aria_live="assertive"),
        el("p", id="watch-time", class_="big", role="timer"),
        button("Begin with the first circuit", "watch-go"),
        button("It runs evenly: go on now", "watch-skip", kind="second", hidden=True),
        button("Stop the stopwatch", "watch-stop", kind="second", hidden=True),
        id="watch",
        class_="live-only watch",
    )


def _turn(facts: Facts, number: int, steps: tuple[Step, ...], many: bool) -> Element:
    rows = [
        el(
            "li",
            name(step.name),
            el("span", f"wait {duration(step.wait_s)}" if step is not steps[-1] else "last", class_="wait"),
            id=f"step-{number}-{at}",
        )
        for at, step in enumerate(steps)
    ]
    head = el("h4", f"Turn {number}") if many else None
    ordered = el("ol", rows, class_="order")
    parts = [head, ordered, _way_back(facts)] if number == 1 else [head, _first_off(facts, number), ordered]
    return el("div", *parts, id=f"turn-order-{number}", class_="turn-order")


def _first_off(facts: Facts, number: int) -> Element | None:
    """What goes off before this turn comes on."""
    change = next(c for c in facts.changes if c.turn == number)
    off = off_words(facts.job, change)
    rest = rest_words(facts.job, change)
    return (
        el("p", f"{when(change)}, first OFF: ", name(off), ". Then ON:", f" {rest}" if rest else "")
        if off
        else None
    )


def _way_back(facts: Facts) -> Element | None:
    """How a run comes back to its first turn."""
    change = next((c for c in facts.changes if c.back), None)
    if change is None:
        return None
    on = "again in this order" if change.everything_off else on_words(facts.job, change)
    off = off_words(facts.job, change) or "nothing"
    rest = rest_words(facts.job, change)
    told = f". {rest}" if rest else "."
    return el("p", f"{when(change)}, back to turn 1. OFF: ", name(off), ". Then ON: ", name(on), told)


def _left_off(facts: Facts) -> Element | None:
    if not facts.left_off:
        return None
    rows: list[list[Child]] = [
        [name(circuit), ": ", sentence(facts.job.told(reason))] for circuit, reason in facts.left_off
    ]
    return el("div", el("h4", "Leave off: the machine cannot carry them"), bullets(rows))
