"""Every error is one message; its exit code says whose turn it is."""

import pytest

from hearthold.errors import (
    CannotMeetError,
    Fault,
    HouseFileError,
    InputError,
    MissingExtraError,
    TableError,
)
from hearthold.faces.cli.exits import MEANINGS, Exit
from hearthold.faces.cli.messages import error_message, exit_code, unexpected_message

FAULT = Fault("farm.toml", 12, "load[3].start", "'9400 W'", '"W" is a unit of power.', 'Write "9400 VA".')


def test_a_fault_names_file_line_key_value_problem_and_remedy():
    assert error_message(HouseFileError((FAULT,))).splitlines() == [
        "farm.toml cannot be used: one fault.",
        "  farm.toml:12  load[3].start = '9400 W'",
        '    "W" is a unit of power. Write "9400 VA".',
    ]


def test_many_faults_are_counted_and_the_first_twenty_shown():
    message = error_message(HouseFileError((FAULT,) * 33))
    assert message.startswith("farm.toml cannot be used: 33 faults.")
    assert message.count("load[3].start") == 20
    assert message.endswith("... and 13 more; put these right first.")


def test_a_long_message_is_wrapped():
    lines = error_message(InputError("word " * 60), 60).splitlines()
    assert all(len(line) <= 60 for line in lines)
    assert lines[0].startswith("hearthold: word")


@pytest.mark.parametrize(
    ("problem", "code"),
    [
        (InputError("x"), Exit.BAD_INPUT),
        (HouseFileError((FAULT,)), Exit.BAD_INPUT),
        (TableError("x"), Exit.BAD_INPUT),
        (CannotMeetError("x"), Exit.UNFINISHED),
        (MissingExtraError("x"), Exit.UNFINISHED),
    ],
)
def test_exit_codes(problem, code):
    assert exit_code(problem) is code


def test_exit_codes_are_the_published_ones():
    assert {code.name: int(code) for code in Exit} == {
        "DONE": 0, "FINDINGS": 1, "BAD_INPUT": 2, "UNFINISHED": 3, "INTERRUPTED": 130, "PIPE_CLOSED": 141,
    }  # fmt: skip
    assert set(MEANINGS) == set(Exit)


def test_a_fault_of_our_own_says_how_to_report_it():
    message = unexpected_message(ZeroDivisionError("division by zero"))
    assert "ZeroDivisionError: division by zero" in message
    assert "--debug" in message
    assert "Traceback" not in message
