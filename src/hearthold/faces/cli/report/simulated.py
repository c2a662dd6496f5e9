"""The page of `simulate`: what broke, what it took, when the machine ran."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType

from hearthold.faces.cli.report.kept import harm, kept_table
from hearthold.faces.cli.report.parts import Column, heading, pairs, sentence, table, title
from hearthold.faces.cli.report.ran import fuel_words, ran_words
from hearthold.faces.cli.report.say import Say, clock, counted, duration, names, whole
from hearthold.faces.simulation import turns_left_out
from hearthold.papers.words.kept import given_up_words, short

if TYPE_CHECKING:
    from hearthold.engine.trace import LogLine
    from hearthold.faces.simulation import Account, Simulated

_SHOWN = {
    "machine starts",
    "machine stops",
    "machine's tank empty",
    "overload: breaker opens",
    "back with fuel",
}
_MOST = 40


def simulated_report(found: Simulated, say: Say, page: Console) -> Iterator[RenderableType]:
    """Everything `simulate` prints, in order."""
    account = found.account
    yield title(
        f"{found.house.name}: the grid fails at {found.asked.start} for {duration(account.hours * 3600)}",
        page,
    )
    yield sentence(_verdict(account))
    for told in _switching(found):
        yield sentence(told)
    yield sentence("")
    machine = found.house.generator is not None
    yield pairs(_figures(account, say) if machine else _battery_figures(found, say))
    yield heading("What was kept", page)
    yield kept_table(account.stores, say)
    yield sentence("Times count from the failure of the grid.")
    if not machine:
        return
    yield heading("When the machine ran", page)
    if not account.starts:
        yield sentence("It did not run.")
        return
    yield table((Column("day", True), Column("time", True), Column("what")), _log(found))


def _switching(found: Simulated) -> Iterator[str]:
    """The routine that was looked for, and what is switched within a spell."""
    if found.running.sentence:
        yield found.running.sentence
    if not found.account.starts:
        return
    turns = found.running.turns.sentence(found.house)
    if turns:
        yield turns
    elif turns_left_out(found):
        yield (
            "All that the hookup feeds is on in every spell. The turns in which plan and outage switch circuits are "
            "left out, so hot water and other chores may do better or worse here than there."
        )


def _verdict(account: Account) -> str:
    if not account.broken:
        return "Every limit was kept."
    hard = [f"{store.name} ({harm(store)})" for store in account.broken if store.hard]
    soft = [store.name for store in short(account.broken)]
    parts = [f"Limits broken: {names(hard)}."] if hard else ["No hard limit was broken."]
    parts += [f"Comfort short: {names(soft)}."] if soft else []
    return " ".join([*parts, given_up_words(account.broken)]).strip()


def _figures(account: Account, say: Say) -> Iterator[tuple[str, str]]:
    yield "machine ran", ran_words(account.run_s, account.starts, account.night_run_s)
    fuel = fuel_words(say, account.fuel_m3, account.fuel_left_m3)
    trips = f"{counted(account.refills, 'refill')}, {counted(account.fuel_trips, 'trip')} for more"
    yield "fuel", f"{fuel}; {trips}"
    if account.fuel_out_s is not None:
        yield "", f"out of fuel after {duration(account.fuel_out_s)}"
    yield "energy", f"{say.energy(account.energy_j)}, at most {whole(account.peak_w)} W at a time"
    if account.overload_trips:
        yield "overload", f"the breaker opened {counted(account.overload_trips, 'time')}"


def _battery_figures(found: Simulated, say: Say) -> Iterator[tuple[str, str]]:
    """A house without a machine: what its battery gave, if it has one."""
    yield "machine", "the house file names none"
    if found.house.battery is None:
        return
    on = "every circuit that it feeds" if not found.running.sentence else "circuits by the hours above"
    yield "battery", f"full when the grid fails; {on}"
    account = found.account
    yield "used", f"{say.energy(account.used_j)}, at most {whole(account.peak_w)} W at a time"


def _log(found: Simulated) -> Iterator[tuple[str, ...]]:
    lines = [line for line in found.trace.log if str(line.what) in _SHOWN]
    for line in lines[:_MOST]:
        yield _log_row(line, found.trace.start_s)
    if len(lines) > _MOST:
        yield ("", "", f"and {len(lines) - _MOST} more; the whole course with --out FILE")


def _log_row(line: LogLine, start_s: float) -> tuple[str, ...]:
    now_s = start_s + line.at_s
    return (str(int(now_s // 86400.0) + 1), clock(now_s), str(line.what))
