"""The bench of whole commands runs commands that exist, and does not pass over one that fails."""

import importlib.util
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def bench():
    spec = importlib.util.spec_from_file_location("bench_commands", ROOT / "bench" / "commands.py")
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def test_a_run_is_reckoned(bench):
    """Sleep is wall time and no processor time; a hundred million bytes held are seen."""
    found = bench.spent([sys.executable, "-c", "import time; held = b'x' * 10**8; time.sleep(0.5)"])
    assert found.wall_s >= 0.5
    assert 0.0 < found.cpu_s < found.wall_s
    assert found.peak_bytes > 1e8


def test_what_fails_is_not_timed(bench):
    with pytest.raises(RuntimeError, match="ended with 2"):
        bench.spent([bench.HEARTHOLD, "plan", "no-such-house.toml"])


def test_every_command_is_read(bench, tmp_path):
    """Each command's own help names it, so that a renamed or dropped one is seen."""
    for name, words in bench.commands("tarn_hollow", tmp_path).items():
        assert words[1] == name.split(",")[0]
        bench.spent([*words[:2], "--help"])
    bench.spent([*next(bench.village(tmp_path))[:2], "--help"])
