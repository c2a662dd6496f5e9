"""What docs/guide.md quotes from the program; run as a script it puts the figures of the quotes right.

A block of the page holds commands (`$ hearthold ...`) and lines that they print; a line of three dots is a gap.
"""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs" / "guide.md"
GAP = "..."


def quotes(text: str) -> list[tuple[str, list[str]]]:
    """Each command of the page with the lines below it."""
    found: list[tuple[str, list[str]]] = []
    for block in re.findall(r"```text\n(.*?)```", text, re.DOTALL):
        for line in block.splitlines():
            if line.startswith("$ "):
                found.append((line[2:], []))
            else:
                found[-1][1].append(line)
    return found


def pieces(lines: list[str]) -> list[list[str]]:
    """The runs of lines between the gaps."""
    found: list[list[str]] = [[]]
    for line in lines:
        if line == GAP:
            found.append([])
        else:
            found[-1].append(line)
    return [piece for piece in found if piece]


def printed(command: str, folder: Path) -> list[str]:
    """What the command prints in a folder that holds the example; 80 columns, the units of the house."""
    shutil.copy(ROOT / "examples" / "tarn_hollow.toml", folder)
    plain = {k: v for k, v in os.environ.items() if not k.startswith(("HEARTHOLD_UNITS", "HEARTHOLD_WIDTH"))}
    arguments = [sys.executable, "-m", *shlex.split(command)]
    done = subprocess.run(arguments, cwd=folder, env=plain, capture_output=True, text=True, check=False)
    if done.returncode not in (0, 1):
        raise RuntimeError(f"{command}: {done.stderr}")
    return (done.stdout + done.stderr).splitlines()


def place(piece: list[str], out: list[str], start: int, *, figures: bool = True) -> int | None:
    """Where a piece stands in the output, from a line on; without `figures` only the words are compared."""
    same = list if figures else _words
    wanted = same(piece)
    return next((i for i in range(start, len(out)) if same(out[i : i + len(piece)]) == wanted), None)


def _words(lines: list[str]) -> list[str]:
    return " ".join(re.sub(r"[\d.,:]+", "#", line) for line in lines).split()


def main() -> int:
    """Rewrite the figures; say which quotes have other words now."""
    text, lost = PAGE.read_text("utf-8"), 0
    with tempfile.TemporaryDirectory() as folder:
        seen: dict[str, list[str]] = {}
        for command, lines in quotes(text):
            out = seen.get(command) or printed(command, Path(folder))
            seen[command], at = out, 0
            for piece in pieces(lines):
                found = place(piece, out, at, figures=False)
                if found is None:
                    lost += 1
                    sys.stderr.write(f"{command}: no longer prints {piece}\n")
                    continue
                at = found + len(piece)
                text = text.replace("\n".join(piece), "\n".join(out[found:at]))
    PAGE.write_text(text, "utf-8")
    return 1 if lost else 0


if __name__ == "__main__":
    sys.exit(main())
