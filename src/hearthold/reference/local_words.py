"""Local words: a sentence of the tables in the words of the place where the house stands."""

from __future__ import annotations

import re
from functools import cache

from hearthold.reference.reader import table


def in_local_words(text: str, system: str) -> str:
    """The text with the words of this voltage system's countries; what has no other word stays.

    Source: table local_words, from memory.
    """
    ours = _words(system)
    if not ours:
        return text
    return _pattern(system).sub(lambda m: _like(m[0], ours[m[0].lower()]), text)


@cache
def _words(system: str) -> dict[str, str]:
    return {row.text("word"): row.text("ours") for row in table("local_words").where(system=system)}


@cache
def _pattern(system: str) -> re.Pattern[str]:
    longest_first = sorted(_words(system), key=len, reverse=True)
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, longest_first))})\b", re.IGNORECASE)


def _like(found: str, ours: str) -> str:
    return ours[:1].upper() + ours[1:] if found[:1].isupper() else ours
