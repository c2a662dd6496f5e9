"""The machine's running in words: for simulated and planned outages alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.console import RenderableType

from hearthold.faces.cli.report.parts import sentence
from hearthold.faces.cli.report.say import Say, counted, duration


def ran_words(run_s: float, starts: int, night_run_s: float) -> str:
    """How long it ran, in how many spells, and what of that in quiet hours."""
    if starts == 0 and run_s <= 0.0:
        return "not at all"
    night = f", {duration(night_run_s)} of it in quiet hours" if night_run_s else ""
    return f"{duration(run_s)} in {counted(starts, 'spell')}{night}"


def fuel_words(say: Say, burned_m3: float, left_m3: float | None) -> str:
    """What was burned and what is left; None: from the main, no end."""
    left = "from the main" if left_m3 is None else f"{say.volume(left_m3)} left"
    return f"{say.volume(burned_m3)} burned, {left}"


def gave_way(wishes: Sequence[str]) -> Iterator[RenderableType]:
    """Which wishes of the household a vital load overrode, if any."""
    if wishes:
        yield sentence(f"Wishes that gave way to a vital load: {'; '.join(wishes)}.")
