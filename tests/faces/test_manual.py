"""docs/cli.md and the public API say what the program does."""

from pathlib import Path

import pytest

import hearthold
from hearthold.faces.cli.manual import command_names, manual

ROOT = Path(__file__).parents[2]


def test_the_printed_manual_is_this_one():
    """Print it anew with: python -m hearthold.faces.cli.manual > docs/cli.md"""
    assert (ROOT / "docs" / "cli.md").read_text("utf-8") == manual()


def test_every_command_is_in_the_manual():
    text = manual()
    assert all(f"## hearthold {name}\n" in text for name in command_names())


def test_the_public_api_is_short_and_lazy():
    assert hearthold.__all__ == ["__version__", "plan_house", "read_house"]
    house = hearthold.read_house(ROOT / "examples" / "tarn_hollow.toml")
    assert house.name == "Tarn Hollow"
    assert hearthold.__version__.count(".") == 2
    assert set(hearthold.__all__) <= set(dir(hearthold))


def test_another_name_is_refused():
    with pytest.raises(AttributeError, match="no attribute 'plan_castle'"):
        _ = hearthold.plan_castle
