"""The section "Log": what happened, readings, and the way back into the ledger."""

from __future__ import annotations

from typing import TYPE_CHECKING
from xml.etree.ElementTree import Element

from hearthold.papers.pocket.markup import el
from hearthold.papers.pocket.view import button, field, section

if TYPE_CHECKING:
    from hearthold.papers.pocket.facts import Facts

KINDS = (
    ("reading", "Reading"),
    ("note", "Note"),
    ("trip", "Something tripped"),
    ("refuel", "Tank filled"),
    ("start", "Machine started"),
    ("stop", "Machine stopped"),
    ("grid_lost", "Grid failed"),
    ("grid_back", "Grid is back"),
)
OF_A_MACHINE = ("refuel", "start", "stop")  # not offered where there is none


def log_section(facts: Facts) -> Element:
    """Form, list, exchange."""
    return section(
        "log",
        "Log",
        el(
            "p",
            "The log lives in the page. It needs scripts, so open the file in a web browser.",
            class_="no-live",
        ),
        el("div", _form(facts), _entries(), _exchange(), class_="live-only"),
        _blank_lines(),
    )


def _form(facts: Facts) -> Element:
    fuel = facts.say.volume_unit
    words = el("input", type="text", autocomplete="off", maxlength="500", dir="auto")
    kinds = [(k, told) for k, told in KINDS if facts.job.source is not None or k not in OF_A_MACHINE]
    return el(
        "form",
        el("h3", "Write down"),
        field("add-kind", "What", el("select", [el("option", told, value=kind) for kind, told in kinds])),
        field("add-what", "Of", el("select", _readings(facts))),
        field("add-value", "Value", _number()),
        field("add-amount", f"Amount filled in, {fuel} (may stay empty)", _number(), hidden=True),
        field("add-circuit", "Which", el("select", _tripped(facts)), hidden=True),
        field("add-text", "Words (may stay empty)", words),
        field("add-time", "When (empty: now)", el("input", type="datetime-local")),
        el("p", id="add-said", role="status"),
        el("button", "Write it down", type="submit", id="add-go"),
        id="add",
        class_="panel",
        novalidate=True,
    )  # fmt: skip


def _number() -> Element:
    return el("input", type="text", inputmode="decimal", autocomplete="off")


def _readings(facts: Facts) -> list[Element]:
    """What can be read, in the reader's unit; the script turns it into SI."""
    degree = facts.say.temperature_unit
    stores = [(f"store:{c.id}", f"{c.name}, {degree}") for c in facts.house.cold]
    stores += [("store:house", f"House, {degree}"), ("store:outdoors", f"Outdoors, {degree}")]
    stores += [("hour_meter", "Machine's hour meter, h"), ("power", "Machine's load, W")]
    return [el("option", told, value=value) for value, told in stores]


def _tripped(facts: Facts) -> list[Element]:
    circuits = [("", "The machine's own breaker"), *((c.id, c.name) for c in facts.house.fed_circuits)]
    return [el("option", told, value=value) for value, told in circuits]


def _entries() -> Element:
    return el(
        "div",
        el("h3", "What happened"),
        el("p", "Nothing yet.", id="entries-none"),
        el("ol", id="entries", class_="entries", reversed=True),
        class_="panel",
    )


def _exchange() -> Element:
    chosen = el("input", type="file", accept=".json,application/json")
    shown = button("Show the log as codes", "codes-open", kind="second", aria_expanded="false")
    return el(
        "div",
        el("h3", "Bring it home"),
        el("p", "A file, or codes for a camera: both go into the ledger.", class_="quiet"),
        button("Save the log as a file", "export"),
        shown,
        _codes(),
        field("import", "Bring in a log file from another phone", chosen),
        el("p", id="exchange-said", role="status"),
        button("Empty the log", "empty", kind="second"),
        button("Yes, empty it: it is saved elsewhere", "empty-sure", kind="danger", hidden=True),
        class_="panel",
    )  # fmt: skip


def _codes() -> Element:
    return el(
        "div",
        el("canvas", id="code", role="img", aria_label="QR code"),
        el("p", id="code-said", aria_live="polite"),
        el("div", button("Previous", "code-back", kind="second"), button("Next", "code-next"), class_="pair"),
        id="codes",
        hidden=True,
    )


def _blank_lines() -> Element:
    """Lines to write on when the page is printed."""
    head = el("thead", el("tr", [el("th", word, scope="col") for word in ("Time", "What", "Value")]))
    rows = [el("tr", el("td"), el("td"), el("td")) for _ in range(14)]
    return el("table", el("caption", "By hand"), head, el("tbody", rows), class_="print-only")
