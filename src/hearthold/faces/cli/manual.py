"""docs/cli.md, printed from the commands themselves: python -m hearthold.faces.cli.manual > docs/cli.md"""

from __future__ import annotations

import os
import subprocess
import sys

from hearthold.faces.cli.exits import MEANINGS
from hearthold.faces.cli.layout import PURPOSES
from hearthold.faces.cli.main import app
from hearthold.faces.cli.page import emit
from hearthold.faces.settings import PREFIX, SETTINGS

_HEAD = """# The command line

This page is printed from the program (`python -m hearthold.faces.cli.manual > docs/cli.md`); a test keeps it
true.

Results go to standard output, everything about the work itself to standard error. Every command that computes
takes `--json`. A page is plain ASCII; sent to a file or a pipe it has no colour and 80 columns.
"""


def manual() -> str:
    """The whole page."""
    parts = [_HEAD, _table("Exit codes", "code", {str(int(code)): text for code, text in MEANINGS.items()})]
    settings = {f"`{PREFIX}{s.name.upper()}`": f"{s.help} (left out: `{s.default}`)" for s in SETTINGS}
    parts.append(_table("Settings from the environment", "name", settings))
    parts.append(_block("hearthold", []))
    parts += [_block(f"hearthold {name}", [name]) for name in command_names()]
    return "\n".join(parts)


def command_names() -> list[str]:
    """Commands in the order of the help."""
    known = {command.callback.__name__ for command in app.registered_commands if command.callback}
    return [name for names in PURPOSES.values() for name in names if name in known]


def _block(title: str, arguments: list[str]) -> str:
    return f"## {title}\n\n```text\n{_help(arguments).strip()}\n```\n"


def _help(arguments: list[str]) -> str:
    """The help as a plain terminal of 80 columns shows it."""
    environment = os.environ | {"COLUMNS": "80", "TERM": "dumb", "NO_COLOR": "1"}
    command = [sys.executable, "-m", "hearthold", *arguments, "--help"]
    return subprocess.run(command, env=environment, capture_output=True, text=True, check=True).stdout


def _table(title: str, head: str, rows: dict[str, str]) -> str:
    lines = [f"## {title}", "", f"| {head} | meaning |", "| --- | --- |"]
    return "\n".join(lines + [f"| {key} | {text} |" for key, text in rows.items()]) + "\n"


if __name__ == "__main__":
    emit(manual())
