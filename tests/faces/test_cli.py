"""The command line from outside: help, version, exit codes, no tracebacks, closed pipes, Ctrl-C."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from hearthold.faces.cli import main as cli
from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.options import month_of

COMMANDS = sorted(command.callback.__name__ for command in cli.app.registered_commands)
HEAVY = ("numpy", "numba", "pydantic", "highspy", "pvlib", "scipy", "rich", "tomlkit")


def hearthold(*arguments, **more):
    """Run the command in a process of its own, with a plain environment."""
    environment = {k: v for k, v in os.environ.items() if not k.startswith(("HEARTHOLD_", "NO_COLOR"))}
    return subprocess.run(
        [sys.executable, "-m", "hearthold", *map(str, arguments)],
        capture_output=True,
        text=True,
        timeout=120,
        env=environment | more.pop("env", {}),
        check=False,
        **more,
    )


@pytest.mark.parametrize("flag", ["-h", "--help"])
@pytest.mark.parametrize("command", [(), *((name,) for name in COMMANDS)], ids=lambda c: c[0] if c else "top")
def test_help_everywhere(command, flag, capsys):
    assert cli.main([*command, flag]) == Exit.DONE
    out = capsys.readouterr().out
    assert out.startswith("Usage: hearthold")
    assert "Show this message and exit." in out


def test_without_a_command_the_help_is_shown(capsys):
    assert cli.main([]) == Exit.DONE
    assert capsys.readouterr().out.startswith("Usage: hearthold [OPTIONS] COMMAND")


def test_every_command_stands_under_a_purpose():
    from hearthold.faces.cli.layout import PURPOSES

    assert set(COMMANDS) <= {name for names in PURPOSES.values() for name in names}


def test_first_lines_of_the_help_fit_on_a_line(capsys):
    cli.main(["--help"])
    assert "..." not in capsys.readouterr().out.replace("[ARGS]...", "")


def test_version(capsys):
    from hearthold import __version__

    assert cli.main(["--version"]) == Exit.DONE
    assert capsys.readouterr().out == f"hearthold {__version__}\n"


def test_help_loads_nothing_heavy():
    code = (
        "import sys\nfrom hearthold.faces.cli.main import main\nmain(['--help'])\n"
        f"print([m for m in {HEAVY!r} if m in sys.modules], file=sys.stderr)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60
    )
    assert done.stderr.strip() == "[]"


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["plna"], "No such command 'plna'. Did you mean 'plan'?"),
        (["plan"], "Missing argument 'FILE'."),
        (["check", "x", "--colour"], "No such option: --colour"),
        (
            ["plan", "x", "--month", "13"],
            "Invalid value for '--month': 13 is no month; write 1 to 12, or a name",
        ),
        (["plan", "x", "--month", "0"], "Invalid value for '--month': 0 is no month"),
        (["plan", "x", "--month", "ju"], "Invalid value for '--month': ju is no month"),
        (
            ["outage", "x", "--month", "Smarch"],
            "Smarch is no month; write 1 to 12, or a name such as January",
        ),
        (["plan", "x", "--fuel", "coal"], "Invalid value for '--fuel': 'coal' is not one of 'gasoline'"),
        (["rules", "no-such-rule"], "there is no rule 'no-such-rule'"),
        (["loads", "zeppelin"], 'no load of the catalogue contains "zeppelin"'),
        (["glossary", "zeppelin"], 'no name or meaning contains "zeppelin"'),
        (["schema", "/"], "/ is a folder; name the file to write."),
    ],
)
def test_misuse_is_told_and_ends_with_two(arguments, told, capsys):
    assert cli.main(arguments) == Exit.BAD_INPUT
    seen = capsys.readouterr()
    assert told in " ".join(seen.err.split())
    assert seen.out == ""
    assert "Traceback" not in seen.err


@pytest.mark.parametrize(
    ("text", "number"), [("1", 1), ("12", 12), ("January", 1), ("sept", 9), ("JUN", 6), ("may", 5), (3, 3)]
)
def test_a_month_is_a_number_or_a_name(text, number):
    assert month_of(text) == number


def test_a_bad_setting_is_told():
    done = hearthold("loads", "freezer", env={"HEARTHOLD_WIDTH": "wide"})
    assert done.returncode == Exit.BAD_INPUT
    assert "HEARTHOLD_WIDTH = 'wide' is not allowed" in done.stderr


def test_a_fault_of_our_own_is_one_message(monkeypatch, capsys):
    def broken(*_):
        raise ZeroDivisionError("a fault")

    monkeypatch.setattr("hearthold.faces.service.glossary", broken)
    assert cli.main(["glossary"]) == Exit.UNFINISHED
    told = capsys.readouterr().err
    assert "ZeroDivisionError: a fault" in told
    assert "Traceback" not in told
    with pytest.raises(ZeroDivisionError, match="a fault"):
        cli.main(["glossary", "--debug"])


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device to write to")
@pytest.mark.parametrize("arguments", [["rules"], ["rules", "--json"]])
def test_a_full_disk_is_told_in_plain_words(arguments):
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "hearthold", *arguments], stdout=full, stderr=subprocess.PIPE, text=True,
            timeout=60, check=False,
        )  # fmt: skip
    assert done.returncode == Exit.UNFINISHED
    assert done.stderr.startswith("hearthold: could not finish; the system says: No space left on device.")
    assert "Traceback" not in done.stderr


def test_debug_shows_the_traceback():
    done = hearthold("check", "no_such_file.toml", "--debug")
    assert "Traceback" in done.stderr
    assert done.returncode == 1


def test_the_reader_of_our_output_may_leave():
    command = f"{sys.executable} -m hearthold loads; echo $? >&2"
    done = subprocess.run(
        ["bash", "-c", f"({command}) | head -n 1"], capture_output=True, text=True, timeout=60, check=True
    )
    assert "Traceback" not in done.stderr
    assert "BrokenPipe" not in done.stderr
    assert int(done.stderr.split()[-1]) in (Exit.DONE, Exit.PIPE_CLOSED)


def test_a_closed_standard_output_ends_quietly():
    read, write = os.pipe()
    os.close(read)
    process = subprocess.run(
        [sys.executable, "-m", "hearthold", "loads"], stdout=write, stderr=subprocess.PIPE, text=True,
        timeout=60, check=False,
    )  # fmt: skip
    os.close(write)
    assert process.returncode == Exit.PIPE_CLOSED
    assert process.stderr == ""


def test_ctrl_c_ends_cleanly():
    process = subprocess.Popen(
        [sys.executable, "-m", "hearthold", "check", "-"], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
        stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    time.sleep(2.5)  # it now waits for standard input, on a busy machine too
    process.send_signal(signal.SIGINT)
    _, err = process.communicate(timeout=60)
    assert process.returncode == Exit.INTERRUPTED
    assert err.strip() == "Stopped; nothing was changed."


def test_ctrl_c_waits_for_no_thread():
    """A thread that never ends stands for outages that are still being run."""
    script = (
        "import threading; from hearthold.faces.cli import main as m; from hearthold.faces.cli.exits import Exit\n"
        "threading.Thread(target=threading.Event().wait).start(); m.main = lambda _: Exit.INTERRUPTED; m.run()"
    )
    done = subprocess.run([sys.executable, "-c", script], timeout=60, check=False)
    assert done.returncode == Exit.INTERRUPTED


@pytest.mark.parametrize("arguments", [["loads", "freezer"], ["glossary", "volt"], ["rules"]])
def test_lists_as_json(arguments, capsys):
    assert cli.main([*arguments, "--json"]) == Exit.DONE
    rows = json.loads(capsys.readouterr().out)
    assert rows
    assert all(isinstance(row, dict) for row in rows)


def test_the_catalogue_shows_the_voltage_of_the_house(capsys):
    """A lamp is made for either supply; a 240 V well pump is not sold for 230 V, 50 Hz under that name."""
    volts = {}
    for more in ([], ["--system", "split_120_240"], ["--system", "single_230"]):
        assert cli.main(["loads", *more]) == Exit.DONE
        lines = capsys.readouterr().out.splitlines()
        volts[more[-1] if more else ""] = {x.split()[0]: x.split()[-3] for x in lines if len(x.split()) > 4}
    assert volts[""]["modem_router"] == "120/230"
    assert volts["split_120_240"]["modem_router"] == "120"
    assert volts["single_230"]["modem_router"] == "230"
    assert "well_half_hp_three_wire" in volts["split_120_240"]
    assert not [kind for kind in volts["single_230"] if kind.startswith("well_half")]


@pytest.mark.parametrize("arguments", [["loads"], ["glossary"], ["rules"]])
def test_pages_are_plain_ascii_of_eighty_columns_in_a_pipe(arguments):
    done = hearthold(*arguments)
    assert done.returncode == Exit.DONE
    assert done.stdout.isprintable() or all(c.isprintable() or c == "\n" for c in done.stdout)
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert not [line for line in done.stdout.splitlines() if line != line.rstrip()]


def test_the_rule_list_has_no_gaps_and_begins_with_what_kills(capsys):
    assert cli.main(["rules"]) == Exit.DONE
    page = capsys.readouterr().out
    assert "{" not in page
    assert page.lstrip().startswith("Carbon monoxide")
    assert "A breaker too large for its wire (danger, 120/240 V only)" in page


def test_one_rule_in_full(capsys):
    from hearthold.rules.rows import rule_book

    rule_id = next(iter(rule_book()))
    assert cli.main(["rules", rule_id]) == Exit.DONE
    assert "Source:" in capsys.readouterr().out
