"""The section "Now": what the machine does, the routine of the season, when it runs next."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING
from xml.etree.ElementTree import Element

from hearthold.papers.pocket.facts import Facts
from hearthold.papers.pocket.markup import Child, el, name
from hearthold.papers.pocket.view import bullets, button, section, warnings
from hearthold.papers.words.kept import broken
from hearthold.papers.words.onbattery import lasts_sentence, spared_words, unstartable_words
from hearthold.papers.words.phrases import sentence
from hearthold.papers.words.say import clock, duration

if TYPE_CHECKING:
    from hearthold.house.site import Medical
    from hearthold.plan.routine import Routine
    from hearthold.plan.rule_play import DailyRun

DAY_S = 86400.0
_WIDE = 288.0  # five minutes a unit


def now_section(facts: Facts) -> Element:
    """State of the outage, the cooling clock, the routine, vital needs."""
    return section(
        "now",
        "Now",
        el(
            "div",
            el("p", "Waiting for the first tap.", id="state", aria_live="polite"),
            el("p", id="state-time", class_="big", role="timer"),
            el("p", id="state-more", class_="quiet"),
            button("", "tap-other", kind="second", hidden=True),
            class_="live-only panel",
        ),
        _cooling(),
        _routine(facts),
        _vital(facts),
        warnings(facts.cautions("co_symptoms")),
    )


def _cooling() -> Element:
    return el(
        "div",
        el("h3", "Before refuelling"),
        el("p", id="cool-text", aria_live="polite"),
        el("p", id="cool-time", class_="big", role="timer"),
        button("Tank filled", "tap-refuel", kind="second"),
        id="cooling",
        class_="panel live-only",
        hidden=True,
    )


def _routine(facts: Facts) -> Element:
    routine = facts.routine
    panel = facts.job.plan.on_battery
    if panel is not None:
        return el(
            "div",
            el("h3", f"Circuits on the battery, {facts.month}"),
            el("p", panel.sentence, class_="lead"),
            el("p", unstartable_words(facts.house, panel, facts.say)),
            el("p", lasts_sentence(panel)),
            el("p", spared_words(facts.house, panel, facts.say)),
            class_="panel",
        )
    if routine is None:
        return el(
            "div",
            el("h3", "Routine"),
            el("p", "This house file has no machine, so there is no routine to keep."),
        )
    return el(
        "div",
        el("h3", f"Routine for {facts.month}"),
        el("p", routine.sentence, class_="lead"),
        el("p", id="next-run", class_="live-only", aria_live="polite"),
        _day(facts, routine) if routine.runs else None,
        _stands(routine),
        _not_kept(facts, routine),
        class_="panel",
    )


def _day(facts: Facts, routine: Routine) -> Element:
    """The day as a strip: quiet hours pale, runs solid, the hour now as a mark that the script moves."""
    people = facts.house.people
    runs = ", ".join(f"{clock(r.at_s)} to {clock(r.at_s + r.length_s)}" for r in routine.runs)
    quiet = f"{clock(people.quiet_from_s)} to {clock(people.quiet_to_s)}"
    hours = [
        el(
            "text",
            f"{h:02d}",
            x=str(h * 12),
            y="38",
            text_anchor="start" if h == 0 else "end" if h == 24 else "middle",
        )
        for h in range(0, 25, 6)
    ]
    picture = el(
        "svg",
        el("title", f"Machine runs {runs}. Quiet hours {quiet}."),
        el("rect", x="0", y="6", width=f"{_WIDE:g}", height="16", class_="strip"),
        [
            el("rect", **box, class_="hush")
            for box in _boxes(people.quiet_from_s, people.quiet_to_s - people.quiet_from_s)
        ],
        [el("rect", **box, class_="run") for r in routine.runs for box in _run_boxes(r)],
        hours,
        el("path", d="M0 2V26", id="day-mark", class_="mark", hidden=True),
        viewBox=f"0 0 {_WIDE:g} 40",
        role="img",
        class_="day",
    )
    return el(
        "figure",
        picture,
        el("figcaption", f"Hours of the day. Solid: the machine runs. Pale: quiet hours, {quiet}."),
    )


def _run_boxes(run: DailyRun) -> Iterator[dict[str, str]]:
    return _boxes(run.at_s, run.length_s)


def _boxes(from_s: float, length_s: float) -> Iterator[dict[str, str]]:
    """A stretch of the day as one box, or two where it goes past midnight."""
    start, length = from_s % DAY_S, length_s % DAY_S or (DAY_S if length_s else 0.0)
    for at_s, to_s in ((start, min(start + length, DAY_S)), (0.0, start + length - DAY_S)):
        if to_s > at_s:
            x, wide = at_s / DAY_S * _WIDE, (to_s - at_s) / DAY_S * _WIDE
            yield {"x": f"{x:.1f}", "y": "6", "width": f"{wide:.1f}", "height": "16"}


def _stands(routine: Routine) -> Element:
    """What stands behind the routine."""
    words = (
        routine.standing.words if routine.kept else "to keep every limit cannot be done; this comes nearest"
    )
    tested = f"{sentence(words)} Replayed over {duration(routine.tested_s)}"
    return el("p", f"{tested}: {duration(routine.run_day_s)} of running a day.", class_="quiet")


def _not_kept(facts: Facts, routine: Routine) -> Element | None:
    missed = broken(routine.stores)
    if not missed:
        return None
    more = [facts.job.told(a.sentence) for a in routine.alternatives]
    return el(
        "div",
        el(
            "p",
            el("strong", "This routine does not keep every limit: "),
            _named([s.name for s in missed]),
            ".",
        ),
        bullets(more) if more else None,
        class_="caution",
        role="note",
        aria_label="Limits not kept",
    )


def _named(found: list[str]) -> list[Element | str]:
    out: list[Element | str] = []
    for one in found:
        out += [", ", name(one)] if out else [name(one)]
    return out


def _vital(facts: Facts) -> Element | None:
    """Medical needs, before anything else is asked."""
    needs = facts.house.medical
    if not needs:
        return None
    rows: list[list[Child]] = [
        [name(need.person), ": ", name(facts.house.load_by_id[need.load].name), _hours(need)]
        for need in needs
    ]
    return el("div", el("h3", "Vital"), bullets(rows), warnings(facts.cautions("medical")), class_="panel")


def _hours(need: Medical) -> str:
    own = duration(need.own_battery_s) if need.own_battery_s > 0.0 else "none"
    return f", from {clock(need.from_s)}, {need.hours_per_day:g} h a day; own battery: {own}"
