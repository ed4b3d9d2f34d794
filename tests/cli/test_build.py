"""`publisher build`: what is said where, and with which exit status."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from publisher.catalogue.build import build as building
from publisher.cli.commands import commands
from tests.support.drivers import COMMAND
from tests.support.stand_ins import StandIns, done, files_made, make_workshop, write, write_pattern
from tests.support.terminal import on_terminal

Build = Callable[..., Result]


@pytest.fixture
def build(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Build:
    """Call `publisher build` in a workshop of two patterns, with quick stages."""
    make_workshop(tmp_path, "heron", "tide")
    monkeypatch.chdir(tmp_path)
    begin = partial(building.begin, pipeline=StandIns(tmp_path / "log"))
    monkeypatch.setattr(building, "begin", begin)

    def call(*words: str) -> Result:
        slugs = sorted({path.stem for path in Path("patterns").glob("*.toml")} - {"house"})
        named = [word for word in words if word in slugs]
        return CliRunner().invoke(commands, ["build", *words, *([] if named else slugs)])

    return call


def test_books_are_put_where_they_belong(build: Build, tmp_path: Path) -> None:
    result = build("--edition", "booklet", "--edition", "handout", "--paper", "letter")
    assert (result.exit_code, result.stderr) == (0, "")
    assert {path.relative_to(tmp_path).as_posix() for path in tmp_path.glob("build/*/*.*")} == {
        *(f"build/{slug}/{slug}-1.0-booklet-letter.pdf" for slug in ("heron", "tide")),
        *(f"build/{slug}/{slug}-1.0-handout-letter.pdf" for slug in ("heron", "tide")),
        *(f"build/{slug}/plan.json" for slug in ("heron", "tide")),
        *(f"build/{slug}/cutting-list.csv" for slug in ("heron", "tide")),
        *(f"build/{slug}/picture.png" for slug in ("heron", "tide")),
    }
    assert "2 patterns: 2 made, 0 failed, 0 up to date" in result.stdout
    assert "build/tide/tide-1.0-booklet-letter.pdf" in result.stdout


def test_version_is_part_of_the_name(build: Build, tmp_path: Path) -> None:
    write_pattern(tmp_path, "tide", version="2.1.3")
    assert build("tide").exit_code == 0
    assert (tmp_path / "build/tide/tide-2.1.3-booklet-a4.pdf").exists()


def test_failure_is_status_1_and_the_others_are_made(build: Build, tmp_path: Path) -> None:
    write_pattern(tmp_path, "broken", plan="broken")
    result = build()
    assert result.exit_code == 1
    assert result.stderr == "patterns/broken.toml:3: the chart is torn; mend it\n"
    assert "broken: failed" in result.stdout
    assert "3 patterns: 2 made, 1 failed, 0 up to date" in result.stdout
    assert (tmp_path / "build/tide/plan.json").exists()


def test_problem_of_all_is_said_once(build: Build, tmp_path: Path) -> None:
    write(tmp_path / "templates/pages/chart.svg", "{{ wrong }}\n")
    result = build()
    assert result.exit_code == 1
    assert result.stderr == "templates/pages/chart.svg:1: wrong is not defined; mend the line\n"
    assert "2 failed" in result.stdout


def test_stop_leaves_the_rest(build: Build, tmp_path: Path) -> None:
    write_pattern(tmp_path, "a", read="broken")
    for slug in ("x", "y", "z"):
        write_pattern(tmp_path, slug)
    result = build("--stop", "--jobs", "1")
    assert result.exit_code == 1
    assert "1 failed" in result.stdout
    assert " not tried" in result.stdout
    assert not (tmp_path / "build/z").exists()
    assert "5 made" in build("--keep-going", "--jobs", "1").stdout


def test_why_says_what_has_changed(build: Build, tmp_path: Path) -> None:
    assert "tide booklet-a4: it has not been made yet" in build("--why").stdout
    assert "tide booklet-a4: nothing has changed" in build("--why").stdout
    write(tmp_path / "templates/pages/cover.svg", "<front>\n")
    told = build("--why").stdout
    assert "tide booklet-a4: template pages/cover.svg has changed" in told
    assert "tide companions: nothing has changed" in told


def test_summary_for_scripts(build: Build, tmp_path: Path) -> None:
    write_pattern(tmp_path, "broken", plan="broken")
    result = build("--json")
    told = json.loads(result.stdout)
    assert result.exit_code == 1
    assert told["failed"] == ["broken"]
    assert told["up_to_date"] == 0
    assert "build/tide/plan.json" in told["made"]
    (broken,) = (item for item in told["patterns"] if item["slug"] == "broken")
    assert broken["problems"] == [
        {
            "file": "patterns/broken.toml",
            "line": 3,
            "column": None,
            "message": "the chart is torn",
            "hint": "mend it",
        }
    ]
    again = json.loads(build("--json", "tide").stdout)
    assert again["made"] == []
    assert again["up_to_date"] == 1


def test_unknown_edition_is_a_wrong_call(build: Build, tmp_path: Path) -> None:
    result = build("--edition", "pocket", "--edition", "booklet")
    assert result.exit_code == 2
    assert result.stderr.startswith(
        "pocket: there is no such edition; choose at-the-bench, booklet, "
    )
    assert not (tmp_path / "build").exists()


def test_wrong_date_is_a_wrong_call(build: Build, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "yesterday")
    result = build()
    assert result.exit_code == 2
    assert result.stderr.startswith("SOURCE_DATE_EPOCH: 'yesterday' is no date; ")


def test_output_folder_that_is_none(build: Build, tmp_path: Path) -> None:
    write(tmp_path / "letter", "")
    result = build("--out", "letter")
    assert result.exit_code == 1
    assert result.stderr.startswith("letter: a file stands where a folder is needed")
    assert len(result.stderr.splitlines()) == 1


def test_workers_make_the_same_bytes(build: Build, tmp_path: Path) -> None:
    from publisher.catalogue.workshop import Workshop

    workshop = Workshop(tmp_path / "patterns", tmp_path / "templates", tmp_path / "build")
    for slug in "abcdefg":
        write_pattern(tmp_path, slug)
    assert build("--jobs", "1").exit_code == 0
    alone = files_made(workshop)
    done(workshop)
    assert build("--jobs", "4", "--out", "other").exit_code == 0
    assert files_made(Workshop(out=tmp_path / "other")) == alone


def seen_by_a_person(folder: Path, *words: str) -> tuple[str, int]:
    """What a person sees, and the exit status."""
    command = [sys.executable, "-c", COMMAND, *words]
    seen, status = on_terminal(command, folder, {"TERM": "xterm", "COLUMNS": "100"}, 30)
    return seen.decode(), status


def test_terminal_shows_progress_and_a_table(tmp_path: Path) -> None:
    make_workshop(tmp_path, "heron", "tide")
    write_pattern(tmp_path, "broken", plan="broken")
    seen, status = seen_by_a_person(tmp_path, "build", "heron", "tide", "broken")
    assert status == 1
    assert "━" in seen, "a bar"
    assert "3/3" in seen
    assert "1 failed" in seen
    assert "patterns/broken.toml:3: the chart is torn; mend it" in seen
    assert "what became of it" in seen, "a table"
    assert "3 patterns: 2 made, 1 failed, 0 up to date" in seen


def test_terminal_shows_a_folder_as_it_is_called(tmp_path: Path) -> None:
    make_workshop(tmp_path, "heron")
    seen, status = seen_by_a_person(tmp_path, "build", "heron", "--out", "for [/print] [red]")
    assert status == 0
    assert "[/print] [red]" in seen.replace("\r\n", "").replace("  ", "")


def test_pipe_shows_no_progress(build: Build) -> None:
    told = build().stdout
    assert "━" not in told
    assert "\x1b" not in told


def test_leftovers_are_told_and_removed_only_when_asked(build: Build, tmp_path: Path) -> None:
    build()
    write_pattern(tmp_path, "tide", version="2.0")
    told = build().stdout
    old = "build/tide/tide-1.0-booklet-a4.pdf"
    assert f"left over: {old} (its pattern has changed)\n" in told
    assert "`publisher build --prune` removes what is left over" in told
    assert Path(old).exists()
    assert json.loads(build("--json").stdout)["left_over"] == [old]
    assert f"removed {old}" in build("--prune").stdout
    assert not Path(old).exists()
    assert "left over" not in build().stdout
