"""The plan report: everything the plan says, with its charts, and what it rests on."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from hearthold.papers.blocks import Block, Heading, Points, Words
from hearthold.papers.document import document
from hearthold.papers.sections import household, onbattery, wiring
from hearthold.papers.sections.comparison import comparison_blocks
from hearthold.papers.sections.cost import cost_blocks
from hearthold.papers.sections.findings import finding_blocks
from hearthold.papers.sections.risk import risk_blocks
from hearthold.papers.words.phrases import month
from hearthold.papers.words.short import in_short

if TYPE_CHECKING:
    from hearthold.papers.job import Job


def plan_report(job: Job) -> bytes:
    """The report as PDF."""
    return document(
        job, "Plan report", "What stays on, what carries it, when to run, for how long", report_blocks(job)
    )


def report_blocks(job: Job) -> Iterator[Block]:
    """First what the household does, then what it rests on."""
    yield Words(_weather(job), "quiet")
    yield Heading("In short")
    yield Points(tuple(in_short(job, job.plan)), numbered=True)
    yield from _findings(job)
    yield from household.hold_blocks(job)
    panel = job.plan.on_battery
    yield from household.routine_blocks(job) if panel is None else onbattery.panel_blocks(job, panel)
    yield from household.choice_blocks(job)
    yield from household.fuel_blocks(job)
    if job.plan.supplies:
        yield Heading("What the machine gives here")
        yield from wiring.supply_blocks(job)
    yield from wiring.chain_blocks(job)
    yield from cost_blocks(job)
    if job.outlook is not None:
        yield from risk_blocks(job, job.outlook)
        yield from comparison_blocks(job, job.outlook.comparison)
    yield from _notes(job)
    yield from household.assumption_blocks(job)


def _findings(job: Job) -> Iterator[Block]:
    yield Heading("Findings")
    if not job.plan.findings:
        yield Words("The rules found nothing to mend. They cannot see what the file does not say.")
        return
    yield Words(
        "Danger: can hurt or kill. Act: mend it before anybody relies on the power. Consider: "
        "would make the plan better.",
        "quiet",
    )
    yield from finding_blocks(job, (f for f in job.plan.findings if f.severity != "note"))


def _notes(job: Job) -> Iterator[Block]:
    notes = [f for f in job.plan.findings if f.severity == "note"]
    if notes:
        yield Heading("Good to know")
        yield from finding_blocks(job, notes)


def _weather(job: Job) -> str:
    found, say = job.plan.conditions, job.say
    kind = "a bad spell" if found.harsh else "a usual week"
    fuel = f" on {job.fuel_word}" if job.fuel_word else ""
    span = f"{say.temperature(found.outdoor_low_c)} to {say.temperature(found.outdoor_high_c)}"
    return (
        f"Plan for {month(found.month)}{fuel}. Reckoned for {kind} at {job.plan.house.place}, {span} "
        "outdoors. ~ marks what the file does not say."
    )
