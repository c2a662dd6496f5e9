"""Times in words, alike on every page: lengths in hours below two days and in days from there on, and moments."""

from __future__ import annotations

from math import isinf

HOUR_S, DAY_S = 3600.0, 86400.0


def duration(seconds: float) -> str:
    """A length of time as people say it: 40 s, 25 min, 3.5 h, 2.5 days.

    From two days on in days, as outages are planned in: 69 h would hide that it is short of 3 days. A whole number
    of days is said only where it is reached, so that nothing short of an outage reads as long as it.
    """
    if isinf(seconds):
        return "no end"
    if seconds <= 0:
        return "at once"
    if seconds < 90:
        return f"{seconds:.0f} s"
    if seconds < 90 * 60:
        return f"{seconds / 60:.0f} min"
    if round(seconds) < 2 * DAY_S:
        return hours(seconds)
    days = round(seconds) / DAY_S
    if days >= 10:
        return f"{days:.0f} days"
    shown = round(days, 1)
    short = shown > days and shown == round(shown)
    return f"{shown - 0.1 if short else shown:.1f}".removesuffix(".0") + " days"


def hours(seconds: float) -> str:
    """The same in hours, as the clocks of food guidance count: 4 h, 48 h."""
    length_h = seconds / HOUR_S
    whole = length_h >= 10 or abs(length_h - round(length_h)) < 0.05
    return f"{length_h:.0f} h" if whole else f"{length_h:.1f} h"


def clock(at_s: float) -> str:
    """Time of day, 24-hour."""
    minutes = round(at_s / 60.0) % 1440
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def day_clock(at_s: float) -> str:
    """A moment of an outage, since midnight before it: day 2 at 05:15. The day on which the grid fails is day 1."""
    return f"day {day_number(at_s)} at {clock(at_s)}"


def day_number(at_s: float) -> int:
    """Which day of an outage a moment lies on, since midnight before it; the first is 1."""
    return int(at_s // DAY_S) + 1
