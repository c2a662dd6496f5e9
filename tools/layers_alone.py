"""Test each layer with every layer above it deleted: what only seems to point down breaks here."""

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parent.parent
# Bottom to top; layers in one tuple are siblings and are tested without each other.
LAYERS = (
    ("quantities",),
    ("reference", "physics"),
    ("house",),
    ("sizing",),
    ("rules", "engine"),
    ("plan",),
    ("study",),
    ("papers",),
)


def main() -> None:
    """Run pytest on tests/<layer> in a copy that holds the layer and those below alone."""
    below: list[str] = []
    for siblings in LAYERS:
        for layer in siblings:
            check(layer, [*below, layer])
        below += siblings


def check(layer: str, kept: list[str]) -> None:
    """Copy the kept layers to a scratch folder and run the layer's tests there."""
    with tempfile.TemporaryDirectory() as scratch:
        package = Path(scratch, "src", "hearthold")
        package.mkdir(parents=True)
        for name in kept:
            shutil.copytree(ROOT / "src/hearthold" / name, package / name)
        for name in ("__init__.py", "errors.py", "py.typed"):
            shutil.copy(ROOT / "src/hearthold" / name, package / name)
        # tests may borrow parts of houses, and the invented houses of a layer below
        for name in ("builders", *kept):
            shutil.copytree(ROOT / "tests" / name, Path(scratch, "tests", name))
        for name in ("examples", "docs"):
            shutil.copytree(ROOT / name, Path(scratch, name))
        shutil.copy(ROOT / "pyproject.toml", scratch)
        run(layer, kept, scratch)


def run(layer: str, kept: list[str], scratch: str) -> None:
    """Run the tests against the copy, and stop everything where they fail."""
    env = os.environ | {"PYTHONPATH": str(Path(scratch, "src")), "PYTHONSAFEPATH": "1"}
    command = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", f"tests/{layer}"]
    done = subprocess.run(command, cwd=scratch, env=env, capture_output=True, text=True, check=False)
    last = (done.stdout.strip().splitlines() or [""])[-1]
    print(f"{layer:<12} with {', '.join(kept[:-1]) or 'nothing'} below: {last}")  # noqa: T201
    if done.returncode != 0:
        sys.stderr.write(done.stdout + done.stderr)
        sys.exit(1)


if __name__ == "__main__":
    main()
