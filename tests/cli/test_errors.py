"""The command line answers every mistake with a line and an exit status, never with a traceback."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from publisher.cli.commands import commands
from publisher.cli.reporter import SpeakingGroup
from publisher.errors import OutputError, Place, Problem, UsageError
from tests.support.drivers import ROOT, publisher


def raising(error: BaseException) -> click.Group:
    """A group with one command that raises."""
    group = SpeakingGroup("publisher")

    @group.command()
    def fail() -> None:
        raise error

    return group


PROBLEMS = (Problem(Place("a.toml", 3, 4), "torn", "mend it"), Problem(Place("b"), "gone", "put"))


@pytest.mark.parametrize(("kind", "status"), [(OutputError, 1), (UsageError, 2)])
def test_every_problem_is_a_line(kind: type[OutputError], status: int) -> None:
    result = CliRunner().invoke(raising(kind(*PROBLEMS)), ["fail"])
    assert result.exit_code == status
    assert result.stderr == "a.toml:3:4: torn; mend it\nb: gone; put\n"
    assert result.stdout == ""


def test_mistake_of_the_program_is_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("PUBLISHER_DEBUG", raising=False)
    result = CliRunner().invoke(raising(KeyError("a\nb")), ["fail"])
    assert result.exit_code == 1
    (line,) = result.stderr.splitlines()
    assert "KeyError" in line
    assert "report this line" in line


def test_those_who_mend_the_program_can_see_more() -> None:
    environment = {"PUBLISHER_DEBUG": "1"}
    result = CliRunner(env=environment).invoke(raising(KeyError("a")), ["fail"])
    assert "Traceback" in result.stderr


def test_interruption_is_no_failure_of_the_program() -> None:
    result = CliRunner().invoke(raising(KeyboardInterrupt()), ["fail"])
    assert result.exit_code == 128 + signal.SIGINT
    assert len(result.stderr.splitlines()) == 1


@pytest.mark.parametrize(
    "words",
    [
        ["nonsense"],
        ["build", "--paper", "a3"],
        ["build", "--jobs", "0"],
        ["build", "--jobs", "many"],
        ["build", "--nonsense"],
        ["plan"],
        ["plan", "x", "--carry-columns", "7..4"],
        ["plan", "x", "--carry-columns", "some"],
        ["plan", "x", "--carry-columns", "1..99999999999999999999"],
        ["new"],
    ],
)
def test_wrong_call_is_told_with_status_2(words: list[str]) -> None:
    result = CliRunner().invoke(commands, words)
    assert result.exit_code == 2
    assert "Error: " in result.stderr
    assert result.stdout == ""


@pytest.mark.parametrize("command", ["", *sorted(commands.commands)])
def test_help_on_everything(command: str) -> None:
    result = CliRunner().invoke(commands, [*command.split(), "--help"])
    assert result.exit_code == 0
    assert result.stdout.startswith("Usage: ")
    assert result.stderr == ""


def test_installed_as_a_module(tmp_path: Path) -> None:
    done = publisher(tmp_path, "build", "nothing-here")
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.startswith("nothing-here: there is no such pattern; ")


def test_reader_that_leaves_early_is_no_failure_to_tell(tmp_path: Path) -> None:
    """`publisher --help | head -1`"""
    command = f"{sys.executable} -m publisher build --help | head -1"
    reading = os.popen(f"cd {Path(__file__).parents[2]} && {command} 2>&1")
    assert "Traceback" not in reading.read()
    reading.close()


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no disk that is always full")
@pytest.mark.parametrize("unbuffered", ["", "1"])
@pytest.mark.parametrize("words", ["knots --help", "knots", "knots --json"])
def test_words_that_find_no_room_are_no_mistake_of_the_program(
    tmp_path: Path, words: str, unbuffered: str
) -> None:
    """`publisher knots > list.txt` on a full disk."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": unbuffered}
    command = [sys.executable, "-m", "publisher", *words.split()]
    with Path("/dev/full").open("w") as full:
        told = subprocess.run(
            command, cwd=tmp_path, env=environment, stdout=full, stderr=subprocess.PIPE, text=True
        )
        wrong = [*command, "--nonsense"]
        unheard = subprocess.run(wrong, cwd=tmp_path, env=environment, stdout=full, stderr=full)
    assert told.returncode == 1
    assert told.stderr == (
        "publisher: what this call tells could not be written (no space left on device); "
        "see to where it goes, and call again\n"
    )
    assert unheard.returncode == 1
