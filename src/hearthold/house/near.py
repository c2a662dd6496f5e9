"""The nearest known word to one that is not known, or the longer ones that it is a part of."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

MOST = 3  # longer words that are offered


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """A question that offers what may have been meant, or an empty text."""
    words = list(known)
    near = difflib.get_close_matches(word, words, n=1, cutoff=0.45) or [
        w for w in words if word and word.lower() in w.split("_")
    ]
    told = " or ".join(f'"{w}"' for w in near[:MOST])
    return f"Did you mean {told}?" if told else ""
