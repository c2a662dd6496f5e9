"""The breaker of a circuit that feeds motors alone: larger than its wire would have, and still bounded."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hearthold.reference import ampacity
from hearthold.reference.reader import table


@dataclass(frozen=True, slots=True)
class MotorDevice:
    """Breakers on a circuit of motors, A."""

    usual_a: float  # the standard size at or next above the usual ratio
    most_a: float  # beyond it no motor's start is a reason


def motor_device(full_load_a: Sequence[float]) -> MotorDevice:
    """Largest breaker for motors of these full-load currents: the largest by its ratio, plus the others.

    Where the largest is very small the smallest standard breaker is always allowed.
    Raises: ValueError without a motor; TableError past the largest standard breaker.

    Source: NFPA 70 (NEC) 430.52(C)(1) with Exceptions 1 and 2(c), 430.53(C), 430.62(A); from memory.
    """
    row = table("motor_devices").row("inverse_time_breaker")
    largest_a = max(full_load_a)
    rest_a = sum(full_load_a) - largest_a
    usual_a = ampacity.next_breaker_a(row.number("usual_ratio") * largest_a + rest_a)
    return MotorDevice(usual_a, max(usual_a, row.number("most_ratio") * largest_a + rest_a))
