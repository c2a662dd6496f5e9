"""In short: the sentences are those of the papers, for a terminal and for a sheet alike."""

from __future__ import annotations

from hearthold.papers.words.short import in_short

__all__ = ["in_short"]
