"""The nearest known word to one that is not known."""

from __future__ import annotations

import difflib
from collections.abc import Iterable


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """A question that offers the nearest known word, or an empty text."""
    near = difflib.get_close_matches(word, list(known), n=1, cutoff=0.45)
    return f'Did you mean "{near[0]}"?' if near else ""
