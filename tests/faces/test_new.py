"""`hearthold new`: questions at a terminal, plain guesses elsewhere; never over an older file."""

import os
import pty
import re
import select
import subprocess
import sys
import time
import tomllib

import pytest

from hearthold.faces.cli import main as cli
from hearthold.faces.cli.exits import Exit
from hearthold.house.reader import read_house


class Terminal:
    """`hearthold new FILE` in a pseudo-terminal: what it shows, and answers typed into it."""

    def __init__(self, path):
        self.leader, follower = pty.openpty()
        self.process = subprocess.Popen(
            [sys.executable, "-m", "hearthold", "new", str(path)],
            stdin=follower,
            stdout=follower,
            stderr=follower,
            env=os.environ | {"TERM": "dumb", "COLUMNS": "100"},
            start_new_session=True,
        )
        os.close(follower)
        self.shown = ""

    def read(self, wait_s=0.2):
        while select.select([self.leader], [], [], wait_s)[0]:
            try:
                data = os.read(self.leader, 4096)
            except OSError:
                return False
            if not data:
                return False
            self.shown += data.decode()
        return True

    def expect(self, text, limit_s=20):
        begin = time.monotonic()
        while text not in self.shown:
            assert time.monotonic() - begin < limit_s, f"{text!r} not shown; seen: {self.shown[-500:]!r}"
            if not self.read(0.05) and text not in self.shown:
                pytest.fail(f"ended before {text!r}: {self.shown[-500:]!r}")
        self.shown = self.shown.partition(text)[2]

    def answer(self, question, typed=""):
        self.expect(question)
        self.expect("]: ")
        os.write(self.leader, f"{typed}\n".encode())

    def end(self):
        self.read(0.5)
        code = self.process.wait(30)
        os.close(self.leader)
        return code


def test_every_answer_taken_as_offered(tmp_path):
    path = tmp_path / "farm.toml"
    terminal = Terminal(path)
    begin = time.monotonic()
    while terminal.process.poll() is None and time.monotonic() - begin < 60:
        terminal.read(0.05)
        if terminal.shown.endswith("]: "):
            terminal.shown += "\n"
            os.write(terminal.leader, b"\n")
    assert terminal.end() == Exit.DONE
    house = read_house(path)
    assert house.name == "My house"
    assert house.generator is not None
    assert {load.kind for load in house.loads} >= {"fridge_frost_free", "chest_freezer", "boiler_oil"}


def test_a_few_answers_and_corrections(tmp_path):
    path = tmp_path / "croft.toml"
    terminal = Terminal(path)
    terminal.answer("What do you call the house?", "Windy Ridge")
    terminal.answer("Which electrical supply?", "3")
    terminal.expect("'3' is not a number from 1 to 2.")
    terminal.answer("Number", "2")
    terminal.answer("Nearest town", "Skerrow")
    terminal.answer("Country", "gb")
    terminal.answer("Latitude", "99")
    terminal.expect("99 is outside -66 to 72.")
    terminal.answer("Latitude", "57.2")
    terminal.answer("Longitude", "-3,5")
    terminal.expect("'-3,5' is not a number")
    terminal.answer("Longitude", "-3.5")
    terminal.answer("Height above the sea", "210")
    terminal.expect("has no unit")
    terminal.answer("Height above the sea", "210 m")
    terminal.answer("Time zone", "Europe/Narnia")
    terminal.expect("is not a time zone")
    terminal.answer("Time zone", "Europe/London")
    terminal.answer("How many people", "3")
    terminal.answer("coldest month", "2 C")
    terminal.answer("warmest month", "14 C")
    terminal.answer("floor area", "105 m2")
    for group in ("water", "sanitation", "heat", "cold", "medical", "light_and_comms"):
        terminal.answer(f"({group})", "1" if group in ("cold", "medical") else "-")
    terminal.answer("More to choose from", "n")
    terminal.answer("Is there a generator", "n")
    terminal.expect("Wrote")
    assert terminal.end() == Exit.DONE
    house = read_house(path)
    assert (house.name, house.site.country, house.people.count) == ("Windy Ridge", "GB", 3)
    assert house.site.altitude_m == 210
    assert house.generator is None
    assert len(house.loads) == 2
    assert "(guess)" not in re.search(r"^latitude.*$", path.read_text(), re.M)[0]


def test_ctrl_c_writes_nothing(tmp_path):
    terminal = Terminal(tmp_path / "farm.toml")
    terminal.answer("What do you call the house?", "Half done")
    terminal.expect("Which electrical supply?")
    os.write(terminal.leader, b"\x03")
    os.killpg(terminal.process.pid, 2)
    terminal.expect("Stopped; nothing was changed.")
    assert terminal.end() == Exit.INTERRUPTED
    assert list(tmp_path.iterdir()) == []


def test_an_existing_file_is_refused_before_the_questions(tmp_path):
    path = tmp_path / "farm.toml"
    path.write_text("mine")
    terminal = Terminal(path)
    terminal.expect("--force")
    assert terminal.end() == Exit.BAD_INPUT
    assert path.read_text() == "mine"


def test_not_at_a_terminal_it_writes_plain_guesses(tmp_path, capsys):
    path = tmp_path / "farm.toml"
    assert cli.main(["new", str(path)]) == Exit.DONE
    assert "hearthold check" in capsys.readouterr().err
    assert tomllib.loads(path.read_text("utf-8"))["house"]["name"] == "My house"
    assert cli.main(["check", str(path)]) in (Exit.DONE, Exit.FINDINGS)


def test_force_overwrites(tmp_path, capsys):
    path = tmp_path / "farm.toml"
    path.write_text("mine")
    assert cli.main(["new", str(path)]) == Exit.BAD_INPUT
    assert "overwrite it with --force" in " ".join(capsys.readouterr().err.split())
    assert cli.main(["new", str(path), "--force"]) == Exit.DONE
    assert path.read_text() != "mine"
