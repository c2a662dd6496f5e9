"""`pocket_html`: one HTML file that holds its style, scripts, letters and data, and asks for nothing.

All words stand in the HTML itself, so that a viewer without scripts shows every list; scripts add clocks
and log.
"""

from __future__ import annotations

import re
from base64 import b64encode
from datetime import date
from functools import cache
from hashlib import sha256
from importlib.metadata import version
from importlib.resources import files
from typing import TYPE_CHECKING, Any
from xml.etree.ElementTree import Element

from hearthold.errors import TableError
from hearthold.papers.job import Job, say_of, sheet_for
from hearthold.papers.look import css_variables, look
from hearthold.papers.pocket.facts import Facts, gather
from hearthold.papers.pocket.markup import data, document, el, name, raw
from hearthold.papers.pocket.steps import cool_s
from hearthold.papers.pocket.view import button
from hearthold.papers.pocket.view_clocks import clocks_section
from hearthold.papers.pocket.view_log import log_section
from hearthold.papers.pocket.view_now import now_section
from hearthold.papers.pocket.view_rules import rules_section
from hearthold.papers.pocket.view_run import run_section
from hearthold.quantities import units

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.plan.result import Plan
    from hearthold.sizing.order import Step

LARGEST_BYTES = 300_000
TABS = (("now", "Now"), ("run", "Run"), ("clocks", "Clocks"), ("rules", "Rules"), ("log", "Log"))
_SCRIPTS = (
    "10-time",
    "20-keep",
    "30-log",
    "40-clocks",
    "50-screen",
    "60-watch",
    "70-entries",
    "80-exchange",
    "90-start",
)
_EXPORTS = re.compile(r"export\{(\w+) as correction,(\w+) as generate\};?\s*$")


def pocket_html(house: House, plan: Plan, *, made: date, us: bool | None = None) -> str:
    """The pocket page of a house and its plan; `made` is printed on it; units of the place by default."""
    return pocket_page(
        Job(plan, house, made, sheet_for(house, None), say_of(house, us), version("hearthold"))
    )


def pocket_page(job: Job) -> str:
    """The pocket page of a job of papers."""
    facts, script, style = gather(job), _script(), _style()
    head = el(
        "head",
        el("meta", charset="utf-8"),
        el("meta", name="viewport", content="width=device-width, initial-scale=1, viewport-fit=cover"),
        el("meta", http_equiv="Content-Security-Policy", content=_policy(script, style)),
        el("meta", name="referrer", content="no-referrer"),
        el("meta", name="color-scheme", content="light dark"),
        el("meta", name="format-detection", content="telephone=no"),
        el("title", f"{job.house.name}: pocket page"),
        raw("style", style),
    )
    body = el(
        "body", _header(facts), _main(facts), _footer(facts), _bar(), _tabs(), data(_data(facts), "facts")
    )
    body.append(raw("script", script, type="module"))
    return document(el("html", head, body, lang="en"))


def _header(facts: Facts) -> Element:
    about = f"Plan for {facts.month}, made {facts.job.today.isoformat()}"
    still = "Clocks and log need scripts: open this file in a web browser. All lists below are complete."
    lost = "This viewer keeps nothing: log and clocks are lost when it closes. Save the log as a file before."
    return el(
        "header",
        el("h1", name(facts.house.name)),
        el("p", about, class_="quiet"),
        el("p", still, class_="no-live banner"),
        el("p", lost, id="no-storage", class_="banner", role="alert", hidden=True),
    )  # fmt: skip


def _main(facts: Facts) -> Element:
    return el(
        "main",
        now_section(facts),
        run_section(facts),
        clocks_section(facts),
        rules_section(facts),
        log_section(facts),
    )


def _footer(facts: Facts) -> Element:
    advice = (
        "Advice from a computed plan, not a permit and not an inspection. Local code, the machine's manual "
        "and a licensed electrician decide. In an emergency, get out first and call."
    )
    return el("footer", el("p", advice), el("p", facts.job.stamp))


def _bar() -> Element:
    """What just happened: within reach of a thumb on every section."""
    toast = el(
        "div",
        el("p", id="said", role="status"),
        button("Undo", "undo", kind="small", hidden=True),
        id="toast",
        hidden=True,
    )
    state = el("p", el("b", id="bar-state"), el("span", id="bar-since"), class_="bar-text")
    inner = el("div", state, button("Grid failed", "tap-main"), class_="row")
    return el(
        "div", toast, inner, id="act", class_="live-only", role="region", aria_label="What just happened"
    )


def _tabs() -> Element:
    mark = el("span", "past limit", id="clocks-mark", class_="mark", hidden=True)
    links = [el("a", title, mark if key == "clocks" else None, href=f"#{key}") for key, title in TABS]
    return el("nav", links, id="tabs", class_="live-only", aria_label="Sections")


def _data(facts: Facts) -> dict[str, Any]:
    """What the scripts count with: SI, ids and names."""
    house, routine = facts.house, facts.routine
    limits = {store.id: store.limit_c for store in house.cold}
    return {
        "house": house.name,
        "key": facts.key,
        "made": facts.job.today.isoformat(),
        "zone": house.site.time_zone,
        "us": facts.say.us,
        "volume_unit": facts.say.volume_unit,
        "volume_m3": units.si(1.0, facts.say.volume_unit, "volume"),
        "fuel": house.fuel.preferred.value if house.fuel is not None else "",
        "cool_s": cool_s(facts.job),
        "runs": [[run.at_s, run.length_s] for run in routine.runs] if routine is not None else [],
        "turns": [[_step(step) for step in turn] for turn in facts.turns],
        "feeds": [list(turn) for turn in facts.job.turns],
        "clocks": [
            {"id": c.id, "name": c.name, "hold_s": c.hold_s, "counts": c.counts, "circuit": c.circuit,
             "renew_s": c.renew_s, "limit_c": limits.get(c.id)}
            for c in facts.clocks.clocks
        ],
        "names": _names(house),
    }  # fmt: skip


def _step(step: Step) -> dict[str, Any]:
    return {"id": step.circuit, "name": step.name, "wait_s": step.wait_s}


def _names(house: House) -> dict[str, str]:
    named = {c.id: c.name for c in house.circuits} | {c.id: c.name for c in house.cold}
    return named | {"house": "House", "outdoors": "Outdoors"}


def _policy(script: str, style: str) -> str:
    """Nothing may be fetched; the one script and the one style are known by their hashes."""
    rules = {
        "default-src": "'none'",
        "script-src": _hash(script),
        "style-src": _hash(style),
        "font-src": "data:",
        "img-src": "data: blob:",
        "base-uri": "'none'",
        "form-action": "'none'",
    }
    return "; ".join(f"{what} {allowed}" for what, allowed in rules.items())


def _hash(text: str) -> str:
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"


@cache
def _script() -> str:
    """All scripts as one module; the maker of QR codes is shut in, so that its short names stay its own."""
    maker = _part("vendor/lean-qr-nano.js")
    found = _EXPORTS.search(maker)
    if found is None:
        raise TableError("vendor/lean-qr-nano.js does not end with the export that is expected.")
    licence = "/* QR codes: lean-qr 2.7.4, Copyright (c) 2021-2025 David Evans, MIT License. */"
    shut = f"{{ correction: {found[1]}, qrCode: {found[2]} }}"
    made = f"const {{ correction, qrCode }} = (() => {{\n{maker[: found.start()]}\nreturn {shut};\n}})();"
    return "\n".join([licence, made, *(_part(f"{one}.js") for one in _SCRIPTS)])


@cache
def _style() -> str:
    faces = "".join(_face(cut, weight) for cut, weight in (("Regular", 400), ("Bold", 700)))
    licence = "/* Letters: B612, Copyright 2012 AIRBUS and others, SIL Open Font License 1.1. */\n"
    return f"{licence}{faces}{css_variables()}:root{{--family:{look().family}}}\n{_part('page.css')}"


def _face(cut: str, weight: int) -> str:
    letters = b64encode(_bytes(f"fonts/B612-{cut}.woff2")).decode()
    source = f"src:url(data:font/woff2;base64,{letters}) format('woff2')"
    return f"@font-face{{font-family:'B612';font-weight:{weight};font-display:swap;{source}}}\n"


def _part(path: str) -> str:
    return _bytes(path).decode("utf-8")


def _bytes(path: str) -> bytes:
    return files("hearthold.papers.pocket").joinpath("parts").joinpath(path).read_bytes()
