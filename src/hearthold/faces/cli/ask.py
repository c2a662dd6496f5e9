"""Questions at a terminal: each offers an answer, says what is wrong with another, and asks again."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import typer

from hearthold.errors import InputError
from hearthold.faces.cli.page import say

Check = Callable[[str], str]  # returns the answer to keep; raises InputError with what is wrong


def text(question: str, usual: str, check: Check | None = None) -> str:
    """One answer, Enter for the usual one."""
    while True:
        answer = str(typer.prompt(question, default=usual, err=True)).strip()
        try:
            return check(answer) if check is not None else answer
        except InputError as problem:
            say(f"  {problem}")


def yes(question: str, usual: bool) -> bool:
    """Yes or no."""
    return bool(typer.confirm(question, default=usual, err=True))


def one_of(question: str, options: Sequence[tuple[str, str]], usual: str) -> str:
    """One of some options (value, words), chosen by its number."""
    say(f"\n{question}")
    for number, (_, words) in enumerate(options, start=1):
        say(f"  {number:>2}  {words}")
    values = [value for value, _ in options]
    return values[int(text("Number", str(values.index(usual) + 1), _number(len(options)))) - 1]


def some_of(question: str, options: Sequence[tuple[str, str]], usual: Sequence[str]) -> tuple[str, ...]:
    """Any of some options, chosen by numbers; - for none."""
    say(f"\n{question}")
    for number, (_, words) in enumerate(options, start=1):
        say(f"  {number:>2}  {words}")
    values = [value for value, _ in options]
    offered = " ".join(str(values.index(value) + 1) for value in usual if value in values) or "-"
    answer = text("Numbers, or - for none", offered, _numbers(len(options)))
    return tuple(dict.fromkeys(values[int(n) - 1] for n in answer.split()))


def _number(count: int) -> Check:
    def check(answer: str) -> str:
        if not answer.isdecimal() or not 1 <= int(answer) <= count:
            raise InputError(f"{answer!r} is not a number from 1 to {count}.")
        return answer

    return check


def _numbers(count: int) -> Check:
    def check(answer: str) -> str:
        if answer == "-":
            return ""
        return " ".join(_number(count)(part) for part in answer.replace(",", " ").split())

    return check
