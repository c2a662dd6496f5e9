"""The help page's own layout: commands under what a person wants to do, one line each."""

from __future__ import annotations

from typing import Any

from typer.core import TyperGroup

PURPOSES = {
    "Begin": ("demo", "new", "check"),
    "Work it out": ("plan", "outage", "simulate", "risk", "compare", "sweep", "study"),
    "Put it on paper": ("papers",),
    "Look something up": ("loads", "rules", "glossary", "schema"),
}


class ByPurpose(TyperGroup):
    """A command group whose help lists commands by purpose."""

    def list_commands(self, ctx: Any) -> list[str]:
        """Command names, in the order of the purposes."""
        listed = [name for names in PURPOSES.values() for name in names if name in self.commands]
        return listed + [name for name in self.commands if name not in listed]

    def format_commands(self, ctx: Any, formatter: Any) -> None:
        """Write one short block a purpose."""
        for purpose, names in PURPOSES.items():
            rows = [
                (name, self.commands[name].get_short_help_str(formatter.width))
                for name in names
                if name in self.commands
            ]
            if rows:
                with formatter.section(purpose):
                    formatter.write_dl(rows, col_spacing=3)
