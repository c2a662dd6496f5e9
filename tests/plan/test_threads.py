"""Side by side: in order, the same as in turn, and work within work neither waits for ever nor is lost."""

from __future__ import annotations

import threading

import pytest

from hearthold.plan.threads import side_by_side


def test_in_order_and_the_same_as_in_turn() -> None:
    assert side_by_side(lambda x: x * x, range(100)) == [x * x for x in range(100)]
    assert side_by_side(str, []) == []


def test_work_within_work_stays_on_its_thread() -> None:
    """More pieces than cores, each with pieces of its own: on one pool they would wait for each other."""

    def outer(n: int) -> tuple[set[int], list[int]]:
        inner = side_by_side(lambda k: (threading.get_ident(), n * k), range(8))
        return {thread for thread, _ in inner} | {threading.get_ident()}, [made for _, made in inner]

    for n, (threads, made) in enumerate(side_by_side(outer, range(32))):
        assert len(threads) == 1
        assert made == [n * k for k in range(8)]


def test_what_fails_is_raised() -> None:
    with pytest.raises(ZeroDivisionError):
        side_by_side(lambda x: 1 // x, [1, 0, 2])
